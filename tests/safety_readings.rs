//! Holds the screen to sentences with their exact level and whom they are about: subjects, names, quoted words, a question with
//! its answer, letters set apart or run together. All invented, each read by a person; small changes of how sentences are read
//! show here first.

// A test may fail by unwrapping in its own small functions too.
#![allow(clippy::unwrap_used)]

use wayfold::safety::About;
use wayfold::safety::Level;
use wayfold::safety::lesson;
use wayfold::safety::screen;

fn said(level: Level, about: Option<About>) -> String {
    let name = serde_json::to_value(level).unwrap();
    let about = match about {
        None => "-",
        Some(About::Me) => "self",
        Some(About::Other) => "other",
    };
    format!("{} {about}", name.as_str().unwrap())
}

#[test]
fn sentences_are_read_as_a_person_reads_them() {
    let rows = include_str!("data/safety/readings.tsv").lines().skip(1);
    let mut wrong = Vec::new();
    for row in rows {
        let (meant, text) = row.rsplit_once('\t').unwrap();
        let seen = screen(text);
        let read = said(seen.level(), seen.about());
        if read != meant.replace('\t', " ") {
            wrong.push(format!("{text:?} is {read}, and not {meant}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is found is found at its place in the original, whatever was set apart or run together there.
#[test]
fn a_finding_covers_all_that_was_written() {
    for text in [
        "k i l l m y s e l f",
        "k-i-l-l m-y-s-e-l-f",
        "Is life worth living? No.",
        "iwanttobedead",
    ] {
        let seen = screen(text);
        let whole = seen
            .findings()
            .iter()
            .any(|finding| finding.range.start == 0 && finding.range.end >= text.trim_end_matches('.').len());
        assert!(whole, "{text}: {:?}", seen.findings());
    }
}

#[test]
fn a_word_that_points_back_at_nothing_is_read_too() {
    for text in ["mine took all the pills", "of mine", "me", "my"] {
        let _ = screen(text);
    }
    assert_eq!(screen("mine took all the pills").level(), Level::Emergency);
}

/// The table of weights is made from these: whom a text is about by its subjects, with the words around the finding.
#[test]
fn a_lesson_tells_whom_words_are_about_and_what_stands_around_them() {
    let text = "The ferry was late. My cousin took all the pills on Sunday.";
    let (about, around) = lesson(text).about.unwrap();
    assert_eq!(about, About::Other);
    assert!(
        around.contains("my cousin took all the pills on sunday"),
        "{around}"
    );
    let (about, around) = lesson("I took all the pills").about.unwrap();
    assert_eq!((about, around.as_str()), (About::Me, "i took all the pills"));
    assert_eq!(lesson("The ferry was late.").about, None);
    // Quiet words are no danger to learn from.
    assert_eq!(lesson("I'm not suicidal").about, None);
}

#[test]
fn a_lesson_has_the_sentences_that_weight_may_lower() {
    let read = lesson("The ferry was late. She asked me about my suicide plan.");
    assert_eq!(
        read.sentences,
        ["the ferry was late", "she asked me about my suicide plan"]
    );
    assert!(
        !read.stops.is_empty() && read.stops.iter().all(|one| *one == read.sentences[1]),
        "{read:?}"
    );
    let emergency = lesson("I thought of suicide once. I have just taken an overdose.");
    assert!(
        emergency
            .sentences
            .iter()
            .all(|one| emergency.stops.contains(one)),
        "{emergency:?}"
    );
}
