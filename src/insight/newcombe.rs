//! How sure the difference of two shares can be.

use serde::Serialize;

use crate::insight::wilson::Interval;
use crate::insight::wilson::wilson;

/// The difference of two shares.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Difference {
    /// The first share less the second, -1 to 1.
    pub difference: f64,
    /// Its 95 % interval, both ends -1 to 1.
    pub interval: Interval,
}

/// The share `a.0` of `a.1` less the share `b.0` of `b.1`, with its 95 % interval. `None` where [`wilson`] has none for
/// either.
///
/// Source: method 10 (hybrid score) of R. G. Newcombe, "Interval estimation for the difference between independent
/// proportions", Stat. Med. 17 (1998) 873-890.
#[must_use]
pub fn newcombe(a: (u64, u64), b: (u64, u64)) -> Option<Difference> {
    let (first, second) = (wilson(a.0, a.1)?, wilson(b.0, b.1)?);
    let share_a = a.0 as f64 / a.1 as f64;
    let share_b = b.0 as f64 / b.1 as f64;
    let difference = share_a - share_b;
    let low = difference - (share_a - first.low).hypot(second.high - share_b);
    let high = difference + (first.high - share_a).hypot(share_b - second.low);
    Some(Difference {
        difference,
        interval: Interval { low, high },
    })
}
