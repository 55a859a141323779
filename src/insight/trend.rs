//! Whether counts by week rise or fall, asked in a way that few weeks and odd weeks cannot fool.

use serde::Serialize;

/// Up to this many values, the chance is counted exactly.
pub const EXACT_UP_TO: usize = 10;

/// The Mann-Kendall test and the Theil-Sen slope of a series.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Trend {
    /// How many values there are, 2 or more.
    pub values: usize,
    /// Kendall's S: pairs in which the later value is higher, less those in which it is lower.
    pub s: i64,
    /// The variance of S if there were no trend, with the correction for ties.
    pub variance: f64,
    /// S over its standard deviation, one nearer to 0 first (continuity correction); 0 when all values are equal.
    pub z: f64,
    /// The chance of an S at least as far from 0, in its direction, if there were no trend; 0 to 1.
    pub one_sided: f64,
    /// The chance of an S at least as far from 0, in either direction, if there were no trend; 0 to 1.
    pub two_sided: f64,
    /// Whether the chances are exact. They are for up to [`EXACT_UP_TO`] values, else from the normal distribution.
    pub exact: bool,
    /// The Theil-Sen slope: the median of the slopes of all pairs, in units of the values a step.
    pub slope: f64,
}

/// The trend of evenly spaced values, oldest first. `None` for fewer than two values, or one that is no number.
///
/// Source: H. B. Mann, Econometrica 13 (1945) 245-259; M. G. Kendall, Rank Correlation Methods (1975); P. K. Sen, J. Am.
/// Stat. Assoc. 63 (1968) 1379-1389. The exact chances hold with ties too: over the orders of a set with repeats, the
/// inversions are counted by the Gaussian multinomial coefficient (P. A. `MacMahon`, Am. J. Math. 35 (1913) 281-322).
#[must_use]
pub fn mann_kendall(values: &[f64]) -> Option<Trend> {
    if values.len() < 2 || values.iter().any(|value| !value.is_finite()) {
        return None;
    }
    let n = values.len();
    let mut s = 0_i64;
    let mut slopes = Vec::with_capacity(n * (n - 1) / 2);
    for (later, after) in values.iter().enumerate() {
        for (earlier, before) in values[..later].iter().enumerate() {
            s += i64::from(after > before) - i64::from(after < before);
            slopes.push((after - before) / (later - earlier) as f64);
        }
    }
    let ties = tie_sizes(values);
    let weight = |count: usize| (count * (count - 1) * (2 * count + 5)) as f64;
    let variance = (weight(n) - ties.iter().map(|&size| weight(size)).sum::<f64>()) / 18.0;
    let z = if s == 0 || variance <= 0.0 {
        0.0
    } else {
        (s - s.signum()) as f64 / variance.sqrt()
    };
    let exact = n <= EXACT_UP_TO;
    let (one_sided, two_sided) = if exact {
        exact_chances(&ties, s)
    } else {
        let tail = 0.5 * libm::erfc(z.abs() / std::f64::consts::SQRT_2);
        (tail, 2.0 * tail)
    };
    Some(Trend {
        values: n,
        s,
        variance,
        z,
        one_sided,
        two_sided,
        exact,
        slope: median(&mut slopes),
    })
}

/// How many values share each distinct value.
fn tie_sizes(values: &[f64]) -> Vec<usize> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    // Sorted, so "not higher than the next" means equal; zero and minus zero stand side by side and count as equal.
    sorted.chunk_by(|a, b| a >= b).map(<[f64]>::len).collect()
}

/// The chances of an S at least as far from 0, one-sided and two-sided.
fn exact_chances(ties: &[usize], s: i64) -> (f64, f64) {
    let inversions = inversion_counts(ties);
    let all: f64 = inversions.iter().sum();
    // With i inversions among the pairs that differ, S is their number less twice i, and the distribution is
    // symmetric; so a high S is a low i.
    let pairs_that_differ = (0_i64..)
        .zip(&inversions)
        .map(|(pairs, _)| pairs)
        .last()
        .unwrap_or(0);
    let far: f64 = inversions
        .iter()
        .zip(0_i64..)
        .filter(|(_, i)| pairs_that_differ - 2 * i >= s.abs())
        .map(|(count, _)| count)
        .sum();
    let one_sided = far / all;
    let two_sided = if s == 0 { 1.0 } else { 2.0 * one_sided };
    (one_sided, two_sided)
}

/// For each number of inversions, how many orders of a set with these tie sizes have it.
fn inversion_counts(ties: &[usize]) -> Vec<f64> {
    let mut counts = vec![1.0];
    let mut before = 0;
    for &size in ties {
        counts = product(&counts, &gaussian_binomial(before, size));
        before += size;
    }
    counts
}

/// The coefficients of the Gaussian binomial "a + b choose a": how many ways there are to lay `a` values among `b`
/// others with each number of inversions.
fn gaussian_binomial(a: usize, b: usize) -> Vec<f64> {
    // Row by row: the last value is either one of the `b`, or one of the `a` and inverted with all `b`.
    let mut row: Vec<Vec<f64>> = vec![vec![1.0]; a + 1];
    for others in 1..=b {
        for own in 1..=a {
            let mut sum = vec![0.0; own * others + 1];
            for (place, count) in row[own].iter().enumerate() {
                sum[place] += count;
            }
            for (place, count) in row[own - 1].iter().enumerate() {
                sum[place + others] += count;
            }
            row[own] = sum;
        }
    }
    row.swap_remove(a)
}

fn product(a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut product = vec![0.0; a.len() + b.len() - 1];
    for (i, x) in a.iter().enumerate() {
        for (j, y) in b.iter().enumerate() {
            product[i + j] += x * y;
        }
    }
    product
}

fn median(values: &mut [f64]) -> f64 {
    let middle = values.len() / 2;
    let even = values.len().is_multiple_of(2);
    let (below, at, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    if even {
        let before = below.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        f64::midpoint(before, *at)
    } else {
        *at
    }
}
