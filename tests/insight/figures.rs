//! Intervals and trends against published values and against statsmodels, pymannkendall and scipy.

use proptest::prelude::*;
use serde::Deserialize;
use wayfold::insight::mann_kendall;
use wayfold::insight::newcombe;
use wayfold::insight::wilson;

use crate::insight::reference::answers;
use crate::insight::reference::close;

/// To the four places that were printed.
fn printed(found: f64, printed: f64) -> bool {
    (found - printed).abs() < 0.000_05 + 1e-12
}

#[test]
fn wilson_gives_the_published_intervals() {
    // Newcombe 1998, Stat. Med. 17:857, Table I for the first four (cited from memory); the others by statsmodels.
    let table = [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
        (7, 10, 0.3968, 0.8922),
        (12, 20, 0.3866, 0.7812),
        (5, 5, 0.5655, 1.0),
    ];
    for (part, whole, low, high) in table {
        let found = wilson(part, whole).unwrap();
        assert!(printed(found.low, low), "{part}/{whole}: {found:?}");
        assert!(printed(found.high, high), "{part}/{whole}: {found:?}");
    }
    assert_eq!(wilson(0, 0), None);
    assert_eq!(wilson(3, 2), None);
}

#[test]
fn newcombe_gives_the_published_intervals() {
    // Newcombe 1998, Stat. Med. 17:873, Table II, method 10 (cited from memory).
    let table = [
        ((56, 70), (48, 80), 0.0524, 0.3339),
        ((9, 10), (3, 10), 0.1705, 0.8090),
        ((0, 10), (0, 10), -0.2775, 0.2775),
    ];
    for (a, b, low, high) in table {
        let found = newcombe(a, b).unwrap();
        assert!(printed(found.interval.low, low), "{a:?} {b:?}: {found:?}");
        assert!(printed(found.interval.high, high), "{a:?} {b:?}: {found:?}");
    }
    assert_eq!(newcombe((0, 0), (1, 2)), None);
}

#[test]
fn intervals_agree_with_statsmodels() {
    let mut shares = Vec::new();
    for whole in [1_u64, 2, 3, 7, 10, 11, 29, 100, 5_000, 100_000] {
        for tenth in 0..=10 {
            shares.push((whole * tenth / 10, whole));
        }
    }
    let theirs: Vec<(f64, f64)> = answers("wilson", &shares);
    for (share, theirs) in shares.iter().zip(&theirs) {
        let ours = wilson(share.0, share.1).unwrap();
        assert!(
            close(ours.low, theirs.0) && close(ours.high, theirs.1),
            "{share:?}: {ours:?} {theirs:?}"
        );
    }
    let pairs: Vec<_> = shares.iter().zip(shares.iter().rev()).collect();
    let theirs: Vec<(f64, f64)> = answers("newcombe", &pairs);
    for ((a, b), theirs) in pairs.iter().zip(&theirs) {
        let ours = newcombe(**a, **b).unwrap().interval;
        assert!(
            close(ours.low, theirs.0) && close(ours.high, theirs.1),
            "{a:?} {b:?}: {ours:?} {theirs:?}"
        );
    }
}

#[test]
fn trend_gives_the_published_values() {
    // EPA QA/G-9 (2000), the Mann-Kendall example: S = 6, one-sided chance .1167, slope 1.125.
    let found = mann_kendall(&[5.0, 6.0, 11.0, 8.0, 10.0]).unwrap();
    assert_eq!(found.s, 6);
    assert!(printed(found.one_sided, 0.1167));
    assert!(close(found.slope, 1.125));
    assert!(found.exact);
    // Helsel and Hirsch, Statistical Methods in Water Resources: S = 21, variance 125, z 1.789, slope .1875.
    let values = [1.22, 2.20, 4.80, 1.28, 1.97, 1.46, 2.64, 2.34, 4.84, 2.96];
    let found = mann_kendall(&values).unwrap();
    assert_eq!(found.s, 21);
    assert!(close(found.variance, 125.0));
    assert!((found.z - 1.789).abs() < 0.000_5);
    assert!((found.slope - 0.1875).abs() < 0.000_5, "{}", found.slope);
}

#[test]
fn the_least_s_that_is_rare_is_the_published_one() {
    // The one-sided 5 % critical values of S for 4 to 10 values (Kendall's table, as in Gilbert 1987, Table A18; cited
    // from memory).
    for (n, critical) in (4..=10).zip([6_i64, 8, 11, 13, 16, 18, 21]) {
        let chance_of = |s: i64| {
            // An ascending series has the highest S; each swap of neighbours, bubble by bubble, takes two from it.
            let mut values: Vec<f64> = (0..n).map(f64::from).collect();
            let mut swaps = (i64::from(n * (n - 1) / 2) - s) / 2;
            'done: for end in (1..values.len()).rev() {
                for place in 0..end {
                    if swaps == 0 {
                        break 'done;
                    }
                    if values[place] < values[place + 1] {
                        values.swap(place, place + 1);
                        swaps -= 1;
                    }
                }
            }
            let found = mann_kendall(&values).unwrap();
            assert_eq!(found.s, s);
            found.one_sided
        };
        assert!(chance_of(critical) <= 0.05, "n = {n}");
        assert!(chance_of(critical - 2) > 0.05, "n = {n}");
    }
}

#[derive(Deserialize)]
struct TheirTrend {
    s: i64,
    variance: f64,
    z: f64,
    two_sided: f64,
    slope: f64,
    their_slope: f64,
}

/// Series of whole numbers with many ties, as counts by week are; always the same ones.
fn series(length: usize, number: usize) -> Vec<f64> {
    let mut state = (length * 1_000 + number) as u64 + 1;
    (0..length)
        .map(|_| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            ((state >> 33) % 7) as f64
        })
        .collect()
}

#[test]
fn trends_agree_with_pymannkendall_and_scipy() {
    let all: Vec<Vec<f64>> = (3..40)
        .flat_map(|length| (0..5).map(move |number| series(length, number)))
        .collect();
    let theirs: Vec<TheirTrend> = answers("trend", &all);
    for (values, theirs) in all.iter().zip(&theirs) {
        let ours = mann_kendall(values).unwrap();
        assert_eq!(ours.s, theirs.s, "{values:?}");
        assert!(close(ours.variance, theirs.variance), "{values:?}");
        assert!(close(ours.z, theirs.z), "{values:?}");
        assert!(close(ours.slope, theirs.slope), "{values:?}");
        assert!(close(ours.slope, theirs.their_slope), "{values:?}");
        if !ours.exact {
            assert!(close(ours.two_sided, theirs.two_sided), "{values:?} {ours:?}");
        }
    }
}

#[test]
fn exact_chances_agree_with_counting_every_order() {
    let all: Vec<Vec<f64>> = (2..8)
        .flat_map(|length| (0..12).map(move |number| series(length, number)))
        .collect();
    let theirs: Vec<(f64, f64)> = answers("chances", &all);
    for (values, theirs) in all.iter().zip(&theirs) {
        let ours = mann_kendall(values).unwrap();
        assert!(close(ours.one_sided, theirs.0), "{values:?}: {ours:?} {theirs:?}");
        assert!(close(ours.two_sided, theirs.1), "{values:?}: {ours:?} {theirs:?}");
    }
    // Without ties, up to ten values, scipy counts too.
    let all: Vec<Vec<f64>> = (3..=10_u32)
        .flat_map(|n| {
            (1..n)
                .filter(move |step| (1..=*step).filter(|d| n % d == 0 && step % d == 0).count() == 1)
                .map(move |step| (0..n).map(|i| f64::from(i * step % n)).collect())
        })
        .collect();
    let theirs: Vec<f64> = answers("kendall", &all);
    for (values, theirs) in all.iter().zip(&theirs) {
        let ours = mann_kendall(values).unwrap();
        assert!(close(ours.two_sided, *theirs), "{values:?}: {ours:?} {theirs}");
    }
}

#[test]
fn no_trend_without_values() {
    assert_eq!(mann_kendall(&[]), None);
    assert_eq!(mann_kendall(&[1.0]), None);
    assert_eq!(mann_kendall(&[1.0, f64::NAN]), None);
    let flat = mann_kendall(&[2.0; 6]).unwrap();
    assert_eq!((flat.s, flat.z, flat.slope), (0, 0.0, 0.0));
    assert!(close(flat.two_sided, 1.0));
}

proptest! {
    #[test]
    fn an_interval_holds_the_share(whole in 1_u64..10_000, part in 0_u64..10_000) {
        let part = part % (whole + 1);
        let found = wilson(part, whole).unwrap();
        let share = part as f64 / whole as f64;
        prop_assert!(0.0 <= found.low && found.low <= share && share <= found.high && found.high <= 1.0);
        // The other way round is the mirror image.
        let mirrored = wilson(whole - part, whole).unwrap();
        prop_assert!(close(mirrored.low, 1.0 - found.high) && close(mirrored.high, 1.0 - found.low));
    }

    #[test]
    fn a_series_turned_round_has_the_trend_turned_round(values in prop::collection::vec(0_i32..9, 2..20)) {
        let values: Vec<f64> = values.into_iter().map(f64::from).collect();
        let backward: Vec<f64> = values.iter().rev().copied().collect();
        let (one, other) = (mann_kendall(&values).unwrap(), mann_kendall(&backward).unwrap());
        prop_assert_eq!(one.s, -other.s);
        prop_assert!(close(one.slope, -other.slope));
        prop_assert!(close(one.two_sided, other.two_sided));
        prop_assert!(one.two_sided <= 1.0 + 1e-12 && one.one_sided > 0.0);
    }
}
