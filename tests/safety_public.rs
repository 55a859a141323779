//! Holds the screen against public text that is no danger: first names, the example sentences of `WordNet`, and those of
//! a dictionary of idioms; and beside the open lexicon on the same text.

// A test may fail by unwrapping in its own small functions too, and may print the figures it measures.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use wayfold::safety::Level;
use wayfold::safety::screen;

use crate::python;

/// What a reference script prints, line by line.
fn printed(script: &str, arguments: &[&str]) -> Vec<String> {
    python::text(&format!("reference/{script}"), arguments, &[])
        .lines()
        .map(str::to_owned)
        .collect()
}

#[test]
fn first_names_are_no_sign() {
    let names = printed("safety_names.py", &[]);
    assert!(names.len() >= 1_500, "{} names", names.len());
    let mut wrong = Vec::new();
    for name in &names {
        let lower = name.to_lowercase();
        for text in [
            name.clone(),
            lower.clone(),
            format!("my sister {name}"),
            format!("my brother {lower}"),
            format!("being patient with {name}"),
            format!("{name}, {name} and Sol"),
        ] {
            if screen(&text).level() >= Level::Pause {
                wrong.push(text);
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

/// The quoted examples of `WordNet`, as the Debian package holds them.
pub(crate) fn examples() -> BTreeSet<String> {
    let mut out = BTreeSet::new();
    for part in ["adj", "adv", "noun", "verb"] {
        let bytes = fs::read(Path::new("/usr/share/wordnet").join(format!("data.{part}")))
            .expect("WordNet is not here; run ./scripts/test");
        for row in String::from_utf8_lossy(&bytes).lines() {
            let Some((_, gloss)) = row.split_once('|') else {
                continue;
            };
            let quoted = gloss.split('"').skip(1).step_by(2);
            out.extend(quoted.filter(|text| text.len() >= 3).map(str::to_owned));
        }
    }
    out
}

#[test]
fn one_public_sentence_in_a_thousand_at_most_interrupts() {
    let all = examples();
    assert!(all.len() > 40_000, "{} sentences", all.len());
    let wrong: Vec<&String> = all
        .iter()
        .filter(|text| screen(text).level() >= Level::Pause)
        .collect();
    println!("{} of {} public sentences interrupt", wrong.len(), all.len());
    assert!(
        wrong.len() * 1_000 <= all.len(),
        "{} of {}: {wrong:#?}",
        wrong.len(),
        all.len()
    );
}

/// The example sentences of the idiom dictionary, each with the number of its entry.
fn idioms() -> Vec<(String, String)> {
    printed("safety_idioms.py", &[])
        .iter()
        .filter_map(|row| row.split_once('\t'))
        .map(|(entry, text)| (entry.to_owned(), text.to_owned()))
        .collect()
}

/// The entries whose examples do speak of danger; they were read one by one.
fn reviewed() -> BTreeSet<&'static str> {
    include_str!("data/safety/idioms-reviewed.tsv")
        .lines()
        .skip(1)
        .filter_map(|row| row.split_once('\t'))
        .map(|(entry, _)| entry)
        .collect()
}

/// The example sentences of the idiom dictionary that speak of no danger.
pub(crate) fn everyday_idioms() -> Vec<String> {
    let reviewed = reviewed();
    let all = idioms().into_iter();
    all.filter(|(entry, _)| !reviewed.contains(entry.as_str()))
        .map(|(_, text)| text)
        .collect()
}

#[test]
fn one_sentence_with_an_idiom_in_a_thousand_at_most_is_a_false_alarm() {
    let all = idioms();
    assert!(all.len() > 40_000, "{} sentences", all.len());
    let reviewed = reviewed();
    let stopped: Vec<&(String, String)> = all
        .iter()
        .filter(|(_, text)| screen(text).level() >= Level::Pause)
        .collect();
    let wrong: Vec<_> = stopped
        .iter()
        .filter(|(entry, _)| !reviewed.contains(entry.as_str()))
        .collect();
    println!(
        "{} of {} sentences with idioms interrupt, {} of them falsely",
        stopped.len(),
        all.len(),
        wrong.len()
    );
    assert!(wrong.len() * 1_000 <= all.len(), "{}: {wrong:#?}", wrong.len());
    // The list may not grow into a cover: what it lists is few, and each entry is there.
    assert!(reviewed.len() * 500 <= all.len(), "{} reviewed", reviewed.len());
    let entries: BTreeSet<&str> = all.iter().map(|(entry, _)| entry.as_str()).collect();
    assert!(reviewed.is_subset(&entries));
}

#[test]
fn fewer_public_sentences_interrupt_than_the_open_lexicon_would_stop() {
    // Its validated phrases of passive and active ideation and of self-injury, found as whole words.
    let phrases = printed("safety_lexicon.py", &["core"]);
    assert!(phrases.len() > 200, "{} phrases", phrases.len());
    let lexicon = aho_corasick::AhoCorasick::builder()
        .ascii_case_insensitive(true)
        .build(&phrases)
        .unwrap();
    let stops = |text: &str| {
        let apart = |at: Option<char>| at.is_none_or(|c| !c.is_alphanumeric() && c != '_');
        lexicon.find_overlapping_iter(text).any(|hit| {
            apart(text[..hit.start()].chars().next_back()) && apart(text[hit.end()..].chars().next())
        })
    };
    let texts: Vec<String> = examples()
        .into_iter()
        .chain(idioms().into_iter().map(|(_, text)| text))
        .collect();
    let theirs = texts.iter().filter(|text| stops(text)).count();
    let ours = texts
        .iter()
        .filter(|text| screen(text).level() >= Level::Pause)
        .count();
    println!(
        "of {} public sentences the lexicon's core stops {theirs}, the screen {ours}",
        texts.len()
    );
    assert!(theirs > 0);
    assert!(ours <= theirs, "the lexicon's core {theirs}, the screen {ours}");
}
