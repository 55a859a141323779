//! How sure a share can be: the Wilson interval of a proportion.

use serde::Serialize;

/// The normal quantile for 95 % of the middle.
pub(in crate::insight) const Z95: f64 = 1.959_963_984_540_054;

/// From a low to a high end.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    /// The low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
}

/// The 95 % interval of the share `part` of `whole`, both ends 0 to 1. `None` when `whole` is 0 or smaller than
/// `part`.
///
/// Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212; method 3 of R. G. Newcombe, Stat. Med. 17 (1998)
/// 857-872.
#[must_use]
pub fn wilson(part: u64, whole: u64) -> Option<Interval> {
    if whole == 0 || part > whole {
        return None;
    }
    let (part, whole) = (part as f64, whole as f64);
    let share = part / whole;
    let square = Z95 * Z95;
    let middle = part + square / 2.0;
    let half = Z95 * (whole * share * (1.0 - share) + square / 4.0).sqrt();
    // At the ends the exact value is 0 or 1, which rounding would miss by a hair.
    let low = if part == 0.0 {
        0.0
    } else {
        (middle - half) / (whole + square)
    };
    let high = if part >= whole {
        1.0
    } else {
        (middle + half) / (whole + square)
    };
    Some(Interval { low, high })
}
