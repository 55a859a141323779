//! What followed what, against the published tables and statsmodels.

use wayfold::insight::Did;
use wayfold::insight::adjusted_residuals;
use wayfold::insight::followed;
use wayfold::map::Field;
use wayfold::map::Way;

use crate::insight::made::Told;
use crate::insight::made::day;
use crate::insight::made::id;
use crate::insight::reference::answers;
use crate::insight::reference::close;

/// The 75 codes of Bakeman and Quera, Sequential Analysis and Observational Methods for the Behavioral Sciences (2011),
/// p. 159, as given in the documentation of the R package `LagSequential`.
const CODES: &str = "214334342144541345322141252123314414133315211314123345523352544231552213333";

/// The table of Griffin and Gottman, "Statistical methods for analyzing family interaction", in Patterson (ed.), Family
/// Social Interaction (1990), p. 137, as given in the same place. Rows and columns: H+ Ho H- W+ Wo W-.
const FAMILY: [[u64; 6]; 6] = [
    [0, 0, 0, 0, 2, 2],
    [0, 10, 5, 5, 60, 20],
    [0, 9, 2, 1, 3, 0],
    [0, 3, 0, 1, 5, 0],
    [3, 54, 6, 2, 24, 8],
    [1, 24, 2, 1, 3, 12],
];

/// How often each of the codes 1 to 5 was followed by each.
fn transitions() -> Vec<Vec<u64>> {
    let codes: Vec<usize> = CODES.bytes().map(|code| usize::from(code - b'1')).collect();
    assert_eq!(codes.len(), 75);
    let mut table = vec![vec![0; 5]; 5];
    for pair in codes.windows(2) {
        table[pair[0]][pair[1]] += 1;
    }
    table
}

/// The formula once more, without the rule that few counts say nothing: the published tables have expected counts
/// under 5, so only cells of a table folded to two by two can be asked for.
fn folded(table: &[Vec<u64>], row: usize, column: usize) -> Vec<Vec<u64>> {
    let mut folded = vec![vec![0; 2]; 2];
    for (r, line) in table.iter().enumerate() {
        for (c, count) in line.iter().enumerate() {
            folded[usize::from(r != row)][usize::from(c != column)] += count;
        }
    }
    folded
}

#[test]
fn the_published_residuals_come_out() {
    // A cell's adjusted residual is the same when all other rows, and all other columns, are put together.
    let family: Vec<Vec<u64>> = FAMILY.iter().map(|row| row.to_vec()).collect();
    let cell = |table: &[Vec<u64>], row: usize, column: usize| {
        adjusted_residuals(&folded(table, row, column)).map(|residuals| residuals[0][0])
    };
    // Griffin and Gottman 1990, p. 137: Ho -> Wo.
    assert!((cell(&family, 1, 4).unwrap() - 6.257).abs() < 0.000_5);
    // Bakeman and Quera 2011, p. 159: 3 -> 3. The other three printed there have an expected count under 5.
    let table = transitions();
    assert!((cell(&table, 2, 2).unwrap() - 2.32).abs() < 0.005);
    for (row, column) in [(1, 0), (4, 1), (1, 3)] {
        assert_eq!(cell(&table, row, column), None);
    }
}

#[test]
fn the_other_published_residuals_come_out_of_statsmodels_on_our_table() {
    // The three that our rule keeps back: the same table, counted by the same code, given to statsmodels.
    let theirs: Vec<Vec<Vec<f64>>> = answers("residuals", &[transitions()]);
    for (row, column, printed) in [(1, 0, 2.14), (4, 1, 2.90), (2, 2, 2.32), (1, 3, -2.10)] {
        assert!(
            (theirs[0][row][column] - printed).abs() < 0.005,
            "{row} -> {column}"
        );
    }
}

#[test]
fn residuals_agree_with_statsmodels() {
    let mut tables = Vec::new();
    for size in 2..6_u64 {
        for salt in 0..10_u64 {
            let count = |row: u64, column: u64| 20 + (row * 31 + column * 17 + salt * 7) % 23;
            let table: Vec<Vec<u64>> = (0..size)
                .map(|row| (0..=size).map(|column| count(row, column)).collect())
                .collect();
            tables.push(table);
        }
    }
    let theirs: Vec<Vec<Vec<f64>>> = answers("residuals", &tables);
    for (table, theirs) in tables.iter().zip(&theirs) {
        let ours = adjusted_residuals(table).unwrap();
        for (ours, theirs) in ours.iter().flatten().zip(theirs.iter().flatten()) {
            assert!(close(*ours, *theirs));
        }
    }
}

#[test]
fn few_counts_give_no_residuals() {
    assert_eq!(adjusted_residuals(&[]), None);
    assert_eq!(adjusted_residuals(&[vec![50, 50]]), None);
    assert_eq!(adjusted_residuals(&[vec![50], vec![50]]), None);
    assert_eq!(adjusted_residuals(&[vec![0, 0], vec![0, 0]]), None);
    assert_eq!(adjusted_residuals(&[vec![50, 50], vec![50]]), None);
    // Expected counts of exactly 5 are enough; the first row of the second table expects 4.5.
    assert!(adjusted_residuals(&[vec![5, 5], vec![5, 5]]).is_some());
    assert_eq!(adjusted_residuals(&[vec![4, 5], vec![5, 4], vec![5, 5]]), None);
}

#[test]
fn what_followed_is_counted() {
    let mut told = Told::default();
    told.moment(&[1], &[10, 10], Way::Away, &[])
        .moment(&[2, 1], &[11], Way::Toward, &[])
        .moment(&[2], &[11], Way::Both, &[])
        .moment(&[2], &[], Way::NotSure, &[])
        .moment(&[], &[12], Way::Toward, &[]);
    let found = followed(told.map().moments());
    assert_eq!(
        found.iter().map(|one| one.hook).collect::<Vec<_>>(),
        [id(2), id(1)]
    );
    let ways = found[0].ways;
    assert_eq!(
        (ways.moments, ways.toward, ways.away, ways.both, ways.not_sure),
        (3, 1, 0, 1, 1)
    );
    let did: Vec<_> = found[1]
        .did
        .iter()
        .map(|did| (did.entry, did.times, did.residual))
        .collect();
    // The same move twice in one moment counts once.
    assert_eq!(did, [(id(10), 1, None), (id(11), 1, None)]);
    assert_eq!(found[0].did[0].times, 2);
}

#[test]
fn residuals_are_there_when_every_cell_has_enough() {
    let mut told = Told::default();
    for _ in 0..8 {
        told.moment(&[1], &[10], Way::Away, &[])
            .moment(&[2], &[11], Way::Toward, &[]);
    }
    for _ in 0..2 {
        told.moment(&[1], &[11], Way::Away, &[])
            .moment(&[2], &[10], Way::Toward, &[]);
    }
    // A hook after which nothing was done, and a move that no hook went before, take no part.
    told.moment(&[3], &[], Way::NotSure, &[])
        .moment(&[], &[12], Way::NotSure, &[]);
    let found = followed(told.map().moments());
    let expected = adjusted_residuals(&[vec![8, 2], vec![2, 8]]).unwrap();
    assert_eq!(found[0].did[0].residual, Some(expected[0][0]));
    assert_eq!(found[0].did[1].residual, Some(expected[0][1]));
    assert_eq!((found[2].hook, found[2].did.len()), (id(3), 0));
    // One less, and there are none.
    told.events.pop();
    let mut fewer = told.events;
    fewer.remove(0);
    let found = followed(wayfold::map::Map::fold(&fewer).moments());
    assert!(
        found
            .iter()
            .flat_map(|one| &one.did)
            .all(|did| did.residual.is_none())
    );
}

#[test]
fn three_deviations_in_either_direction_stand_out() {
    let stands_out = |residual| {
        let (entry, times) = (id(11), 9);
        let did = Did {
            entry,
            times,
            residual,
        };
        did.stands_out()
    };
    let residuals = [None, Some(2.9), Some(3.0), Some(-2.9), Some(-3.0)];
    assert_eq!(
        residuals.map(stands_out),
        [None, None, Some(true), None, Some(false)]
    );
}

/// The look back over so many moments of each of two hooks with each of two moves, as a screen shows it.
fn screen_of(counts: [[u32; 2]; 2]) -> String {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "a tight jaw")
        .entry(2, Field::Inner, "it is too late")
        .entry(11, Field::Away, "sorted the post")
        .entry(12, Field::Away, "went to bed at six");
    for (hook, row) in (1..).zip(counts) {
        for (did, count) in (11..).zip(row) {
            for _ in 0..count {
                told.moment(&[hook], &[did], Way::Away, &[]);
            }
        }
    }
    let map = told.map();
    let asked = wayfold::insight::Asked {
        since: None,
        until: day(100),
        zone: jiff::tz::TimeZone::UTC,
    };
    let look = wayfold::insight::look_back(&map, &asked);
    let page = wayfold::page::lookback(&map, &look, &wayfold::page::SheetOptions::default());
    let screen = wayfold::picture::terminal::Screen {
        columns: 80,
        unicode: false,
        colour: false,
        plain: true,
    };
    let drawn = wayfold::picture::terminal::draw(&page, &screen);
    drawn.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_followed_a_hook_is_told_in_words_that_need_no_statistics() {
    // Residuals 4.47 and -4.47, from the formula by hand: (30 - 20) / sqrt(20 * 0.5 * 0.5).
    let wide = screen_of([[30, 10], [10, 30]]);
    for part in [
        "a tight jaw (sorted the post, 30 times, more than with the rest; went to bed at six, 10 times, less than with the rest)",
        "Where it says more or less, luck alone would seldom make a gap so wide.",
    ] {
        assert!(wide.contains(part), "{part}: {wide}");
    }
    // Residual 1.34: nothing stands out, and no number of the statistics is shown.
    let narrow = screen_of([[23, 17], [17, 23]]);
    assert!(
        narrow.contains("None of these stands out from the rest."),
        "{narrow}"
    );
    assert!(
        !narrow.contains("than with the rest") && !narrow.contains("1.34"),
        "{narrow}"
    );
    // An expected count under 5: the same shares, and nothing is claimed.
    let few = screen_of([[6, 2], [2, 6]]);
    assert!(few.contains("sorted the post, 6 times;"), "{few}");
    assert!(few.contains("These are too few to say"), "{few}");
    let once = screen_of([[1, 0], [0, 0]]);
    assert!(once.contains("a tight jaw (sorted the post, once)"), "{once}");
}
