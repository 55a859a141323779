//! Measures the screen on sets that were written apart: by authors who had not seen the patterns, and not read by those
//! who wrote the patterns. Prints the shares, and holds them to what was measured last.

// A test may fail by unwrapping in its own small functions too, and may print the figures it measures.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use wayfold::safety::About;
use wayfold::safety::Level;
use wayfold::safety::screen;

/// A row: the level and about as its author meant them, and what the screen said.
struct Row {
    meant: &'static str,
    other: bool,
    level: Level,
    about: Option<About>,
}

fn rows(file: &'static str) -> Vec<Row> {
    file.lines()
        .skip(1)
        .map(|line| {
            let mut parts = line.splitn(3, '\t');
            let (meant, about) = (parts.next().unwrap(), parts.next().unwrap());
            let seen = screen(parts.next().unwrap());
            Row {
                meant,
                other: about == "other",
                level: seen.level(),
                about: seen.about(),
            }
        })
        .collect()
}

/// How many of the rows of some levels are at a level or higher, and of how many.
fn reach(rows: &[Row], meant: &[&str], least: Level) -> (usize, usize) {
    let of: Vec<_> = rows.iter().filter(|row| meant.contains(&row.meant)).collect();
    (of.iter().filter(|row| row.level >= least).count(), of.len())
}

/// Shares of one set: urgent rows that interrupt, that reach stop, rows for a pause that interrupt, everyday rows that do, and
/// rows for the quiet line that reach stop.
fn shares(name: &str, rows: &[Row]) -> [(usize, usize); 5] {
    let urgent = ["emergency", "stop"];
    let shares = [
        reach(rows, &urgent, Level::Pause),
        reach(rows, &urgent, Level::Stop),
        reach(rows, &["pause"], Level::Pause),
        reach(rows, &["none"], Level::Pause),
        reach(rows, &["quiet"], Level::Stop),
    ];
    let heard: Vec<_> = rows
        .iter()
        .filter(|row| row.other && row.level >= Level::Pause)
        .collect();
    let right = heard.iter().filter(|row| row.about == Some(About::Other)).count();
    println!(
        "{name}: urgent interrupted {} of {}, at stop {} of {}, pause {} of {}, everyday {} of {}, quiet ones at stop {} of {}, about another {right} of {}",
        shares[0].0,
        shares[0].1,
        shares[1].0,
        shares[1].1,
        shares[2].0,
        shares[2].1,
        shares[3].0,
        shares[3].1,
        shares[4].0,
        shares[4].1,
        heard.len()
    );
    shares
}

fn per_hundred((part, whole): (usize, usize)) -> usize {
    part * 100 / whole
}

/// Holds a set to its shares: at least so many in a hundred of urgent rows interrupt, reach stop, and of rows for a pause
/// interrupt; and at most so many everyday rows do, and rows for the quiet line reach stop.
fn held(name: &str, rows: &[Row], least: [usize; 3], most: [usize; 2]) {
    let [interrupted, at_stop, paused, everyday, stopped] = shares(name, rows);
    let measured = [interrupted, at_stop, paused];
    let reached = measured
        .into_iter()
        .zip(least)
        .all(|(share, least)| per_hundred(share) >= least);
    assert!(reached, "{name}: {measured:?}, and not {least:?} in a hundred");
    let few = everyday.0 <= most[0] && stopped.0 <= most[1];
    assert!(
        few,
        "{name}: everyday {everyday:?}, quiet ones at stop {stopped:?}"
    );
}

/// All rows of some sets, after the shares of each were printed.
fn together(sets: &[(&str, &'static str)]) -> Vec<Row> {
    let read = |(name, file): &(&str, &'static str)| {
        let rows = rows(file);
        shares(name, &rows);
        rows
    };
    sets.iter().flat_map(read).collect()
}

/// A set by one author, and the shares that it is held to.
struct Set {
    name: &'static str,
    file: &'static str,
    least: [usize; 3],
    most: [usize; 2],
}

macro_rules! set {
    ($name:literal, $least:expr, $most:expr) => {
        Set {
            name: $name,
            file: include_str!(concat!("data/safety/apart/set-", $name, ".tsv")),
            least: $least,
            most: $most,
        }
    };
}

/// What each set is stands in `data/safety/README.md`.
const SETS: [Set; 15] = [
    // Plain sentences, and sentences as people enter them.
    set!("j", [98, 98, 97], [0, 0]),
    set!("m", [99, 99, 100], [2, 0]),
    // Fair mixtures: plain, misspelt, spoken; s has many rows of what is denied, mourned, long past or only spoken of.
    set!("n", [99, 98, 100], [2, 0]),
    set!("s", [100, 99, 96], [2, 2]),
    set!("y", [98, 96, 92], [3, 0]),
    // Strict testers' lists: plain, short, evenly spread over every kind of sign.
    set!("z", [98, 97, 98], [6, 0]),
    set!("e", [100, 98, 98], [3, 1]),
    // The same, each row by another person: typed, misspelt, masked, spoken, jotted; l with many denials, losses and pasts.
    set!("h", [95, 93, 97], [2, 0]),
    set!("l", [95, 93, 97], [1, 5]),
    // Short sentences, understatement, and what is jotted in two to twelve words.
    set!("v", [97, 97, 95], [3, 0]),
    set!("f", [96, 93, 88], [8, 1]),
    set!("g", [89, 86, 91], [0, 1]),
    // The quiet line and danger that looks like it (w, i); in every row something misspelt, masked or misheard.
    set!("w", [93, 88, 87], [2, 10]),
    set!("i", [93, 92, 93], [2, 20]),
    set!("x", [94, 92, 95], [3, 1]),
];

#[test]
fn each_set_is_heard_as_often_as_was_measured() {
    for set in SETS {
        held(set.name, &rows(set.file), set.least, set.most);
    }
}

#[test]
fn hard_sentences_by_other_authors_are_heard_as_often_as_was_measured() {
    let sets = [
        ("a", include_str!("data/safety/apart/set-a.tsv")),
        ("b", include_str!("data/safety/apart/set-b.tsv")),
        ("c", include_str!("data/safety/apart/set-c.tsv")),
    ];
    held("a, b and c", &together(&sets), [92, 90, 85], [6, 2]);
}

/// By authors who were told to leave out the sentence that everybody would write first.
#[test]
fn mixtures_in_less_usual_words_are_heard_as_often_as_was_measured() {
    let sets = [
        ("t", include_str!("data/safety/apart/set-t.tsv")),
        ("u", include_str!("data/safety/apart/set-u.tsv")),
    ];
    held("t and u", &together(&sets), [95, 93, 95], [3, 3]);
}

#[test]
fn entries_of_the_kinds_that_the_program_asks_for_seldom_interrupt() {
    for (name, file, most) in [
        ("k", include_str!("data/safety/apart/set-k.tsv"), 2),
        ("o", include_str!("data/safety/apart/set-o.tsv"), 11),
        ("p", include_str!("data/safety/apart/set-p.tsv"), 11),
        ("r, longer ones", include_str!("data/safety/apart/set-r.tsv"), 25),
    ] {
        let everyday = reach(&rows(file), &["none"], Level::Pause);
        println!("{name}: everyday {} of {}", everyday.0, everyday.1);
        assert!(everyday.0 <= most, "{name}: {everyday:?}");
    }
}

#[test]
fn everyday_talk_that_uses_the_words_of_danger_seldom_interrupts() {
    let rows = rows(include_str!("data/safety/apart/set-d.tsv"));
    let [.., everyday, stopped] = shares("d", &rows);
    assert!(everyday.0 <= 4 && stopped.0 <= 3, "{everyday:?}, {stopped:?}");
}
