//! Holds the screen to the examples that each group of patterns carries, and to itself under masks and additions.

// A test may fail by unwrapping in its own small functions too, and may print the figures it measures.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use wayfold::safety::About;
use wayfold::safety::Level;
use wayfold::safety::groups;
use wayfold::safety::screen;
use wayfold::safety::screen_spoken;

#[test]
fn every_group_finds_what_it_says_it_finds() {
    let mut missed = Vec::new();
    for group in groups() {
        for text in &group.finds {
            let seen = if group.spoken {
                screen_spoken(text, "")
            } else {
                screen(text)
            };
            // A form of context has no level of its own; what it must do is seen in the level that is left.
            let right = match group.effect {
                "find" | "uphold" => seen.level() >= group.level,
                "raise" | "sign" => true,
                "soften" => seen.level() == Level::Pause || seen.level() == Level::Quiet,
                "quieten" => seen.level() == Level::Quiet,
                _ => seen.level() == Level::None,
            };
            if !right {
                missed.push(format!(
                    "{}: {text:?} is {:?} {:?}",
                    group.name,
                    seen.level(),
                    seen.findings()
                ));
            }
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn every_pattern_compiles() {
    assert_eq!(wayfold::safety::uncompiled(), Vec::<String>::new());
}

/// The rows of the fresh sets: a level, whom it is about, and the words. All invented; each set was written after the
/// patterns were frozen, measured once, and has served as a regression set since.
fn fresh() -> Vec<(&'static str, &'static str, &'static str)> {
    [
        include_str!("data/safety/fresh-1.tsv"),
        include_str!("data/safety/fresh-2.tsv"),
        include_str!("data/safety/fresh-3.tsv"),
        include_str!("data/safety/fresh-4.tsv"),
        include_str!("data/safety/fresh-5.tsv"),
        include_str!("data/safety/fresh-6.tsv"),
    ]
    .iter()
    .flat_map(|file| file.lines().skip(1))
    .map(|row| {
        let mut parts = row.splitn(3, '\t');
        (
            parts.next().unwrap(),
            parts.next().unwrap(),
            parts.next().unwrap(),
        )
    })
    .collect()
}

/// The rows of some levels for which something does not hold, and how many rows there are.
fn failing(levels: &[&str], holds: impl Fn(&str) -> bool) -> (Vec<&'static str>, usize) {
    let rows: Vec<_> = fresh()
        .into_iter()
        .filter(|row| levels.contains(&row.0))
        .map(|row| row.2)
        .collect();
    let count = rows.len();
    (rows.into_iter().filter(|text| !holds(text)).collect(), count)
}

#[test]
fn fresh_dangers_stop() {
    let (missed, count) = failing(&["emergency", "stop"], |text| screen(text).level() >= Level::Stop);
    assert!(
        missed.len() * 100 <= count * 2,
        "{} of {count}: {missed:#?}",
        missed.len()
    );
}

#[test]
fn fresh_pauses_interrupt() {
    let (missed, count) = failing(&["pause"], |text| screen(text).level() >= Level::Pause);
    assert!(
        missed.len() * 100 <= count * 2,
        "{} of {count}: {missed:#?}",
        missed.len()
    );
}

#[test]
fn fresh_denials_and_bereavements_never_stop_and_are_never_silent() {
    let (wrong, count) = failing(&["quiet"], |text| screen(text).level() == Level::Quiet);
    assert!(count > 30 && wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn fresh_everyday_sentences_pass() {
    let (wrong, count) = failing(&["none"], |text| screen(text).level() < Level::Pause);
    assert!(
        wrong.len() * 1000 <= count * 15,
        "{} of {count}: {wrong:#?}",
        wrong.len()
    );
}

#[test]
fn fresh_sentences_about_others_are_read_as_such() {
    let rows: Vec<_> = fresh().into_iter().filter(|row| row.1 == "other").collect();
    let wrong: Vec<_> = rows
        .iter()
        .filter(|row| screen(row.2).about() != Some(About::Other))
        .collect();
    assert!(wrong.len() * 10 <= rows.len(), "{wrong:#?}");
}

#[test]
fn what_a_group_leaves_alone_does_not_interrupt() {
    let wrong: Vec<_> = groups()
        .into_iter()
        .filter(|group| group.effect == "find" && !group.spoken)
        .flat_map(|group| group.ignore)
        .filter(|text| screen(text).level() >= Level::Pause)
        .collect();
    assert_eq!(wrong, Vec::<String>::new());
}
