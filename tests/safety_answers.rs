//! Holds the screen to what neighbouring sentences say of each other, and to denials and everyday words beside
//! sentences that only look like them.

// A test may fail by unwrapping in its own small functions too, and may print the figures it measures.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use wayfold::safety::About;
use wayfold::safety::Level;
use wayfold::safety::groups;
use wayfold::safety::screen;

/// Invented rows: how they are meant, and the words. `past` is an act of long ago, `none` whatever does not interrupt.
fn rows(meant: &str) -> Vec<&'static str> {
    include_str!("data/safety/answers.tsv")
        .lines()
        .skip(1)
        .map(|row| row.split_once('\t').unwrap())
        .filter(|(level, _)| *level == meant)
        .map(|(_, text)| text)
        .collect()
}

fn failing(texts: Vec<&'static str>, holds: impl Fn(Level) -> bool) -> (Vec<&'static str>, usize) {
    let count = texts.len();
    let wrong: Vec<_> = texts
        .into_iter()
        .filter(|text| !holds(screen(text).level()))
        .collect();
    println!("{} of {count} otherwise", wrong.len());
    (wrong, count)
}

#[test]
fn understood_denials_and_bereavement_leave_the_quiet_line() {
    let (wrong, count) = failing(rows("quiet"), |level| level == Level::Quiet);
    assert!(count > 150 && wrong.is_empty(), "{wrong:#?}");
    let (wrong, _) = failing(rows("past"), |level| {
        level == Level::Quiet || level == Level::Pause
    });
    assert!(wrong.is_empty(), "{wrong:#?}");
    let (wrong, _) = failing(rows("none"), |level| level < Level::Pause);
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The bound follows what was measured: it holds it there.
#[test]
fn what_only_looks_like_a_denial_keeps_its_level() {
    let (mut missed, mut all) = (Vec::new(), 0);
    for (name, least) in [
        ("pause", Level::Pause),
        ("stop", Level::Stop),
        ("emergency", Level::Emergency),
    ] {
        let (wrong, count) = failing(rows(name), |level| level >= least);
        missed.extend(wrong);
        all += count;
    }
    assert!(
        all > 200 && missed.len() <= 6,
        "{} of {all}: {missed:#?}",
        missed.len()
    );
}

/// The bound follows what was measured: it holds it there.
#[test]
fn everyday_words_pass() {
    let texts: Vec<_> = include_str!("data/safety/passing.txt").lines().collect();
    let (wrong, count) = failing(texts, |level| level < Level::Pause);
    assert!(
        count > 200 && wrong.len() <= 7,
        "{} of {count}: {wrong:#?}",
        wrong.len()
    );
}

/// Sentences are read for their forms some dozens at a time. Wherever one of these reaches beside the words, they are
/// taken as they are alone.
#[test]
fn how_much_is_said_before_and_after_changes_no_level() {
    let neutral = "The beans are up. ";
    for meant in ["quiet", "past", "stop", "emergency"] {
        for text in rows(meant).into_iter().step_by(12) {
            let alone = screen(&format!("{neutral}{text} {neutral}")).level();
            for before in 26..36 {
                let long = format!("{}{text} {}", neutral.repeat(before), neutral.repeat(40));
                assert_eq!(screen(&long).level(), alone, "{text} after {before} sentences");
            }
        }
    }
}

#[test]
fn a_question_alone_is_not_lowered_and_its_answer_is_what_lowers_it() {
    let mut seen = 0;
    for text in rows("quiet") {
        let Some((question, answer)) = text.split_once("? ") else {
            continue;
        };
        let alone = screen(&format!("{question}?")).level();
        if alone < Level::Pause || answer.contains('?') {
            continue;
        }
        seen += 1;
        for other in ["Yes.", "I do not know.", "The beans are up.", "Not yet."] {
            let text = format!("{question}? {other}");
            assert!(screen(&text).level() >= alone, "{text}");
        }
        // What stands between takes the answer away from the question.
        let parted = format!("{question}? The beans are up. {answer}");
        assert!(screen(&parted).level() >= alone, "{parted}");
    }
    assert!(seen > 20, "only {seen} questions");
}

#[test]
fn a_denial_takes_nothing_from_what_stands_beside_it() {
    let dangers = rows("stop").into_iter().filter(|text| !text.contains('?'));
    let mut seen = 0;
    for danger in dangers.filter(|text| screen(text).level() >= Level::Stop) {
        seen += 1;
        for denial in [
            "Do I want to hurt anyone? No.",
            "Am I suicidal? No.",
            "My brother killed himself. I miss him.",
        ] {
            let text = format!("{denial} {danger}");
            assert!(screen(&text).level() >= Level::Stop, "{text}");
            let text = format!("{danger} {denial}");
            assert!(screen(&text).level() >= Level::Stop, "{text}");
        }
    }
    assert!(seen > 50, "only {seen} dangers");
}

/// A form that clears must not reach the sentences beside it that only look alike.
#[test]
fn what_a_clearing_group_leaves_alone_is_found() {
    let clears = groups().into_iter().filter(|group| group.effect == "clear");
    let left: Vec<_> = clears.flat_map(|group| group.ignore).collect();
    let lost: Vec<_> = left
        .iter()
        .filter(|text| screen(text).level() == Level::None)
        .collect();
    assert!(left.len() > 20 && lost.is_empty(), "{lost:#?}");
}

#[test]
fn answers_are_read_at_every_place_of_a_long_text() {
    let filler = "The beans are up and Odile painted the door. ";
    for times in [0, 20, 26, 27, 28, 60] {
        let before = filler.repeat(times);
        let text = format!("{before}Am I going to kill myself? No. {before}");
        assert_eq!(screen(&text).level(), Level::Quiet, "{times}");
        let text = format!("{before}Do I want to live? No. {before}");
        let seen = screen(&text);
        assert_eq!(seen.level(), Level::Pause, "{times}");
        assert_eq!(seen.about(), Some(About::Me));
        let place = seen.findings()[0].range.clone();
        assert_eq!(&text[place], "Do I want to live? No", "{times}");
    }
}
