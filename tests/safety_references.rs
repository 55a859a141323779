//! Holds the screen beside published work: the disagreements with a negation package, each with its reason, and the
//! warning signs of a public leaflet, one by one.

// A test may fail by unwrapping in its own small functions too.
#![allow(clippy::unwrap_used)]

use wayfold::safety::Level;
use wayfold::safety::screen;

use crate::python;

/// The rows of the table: sentence, term, the package's reading, our level, the reason.
fn table() -> Vec<Vec<&'static str>> {
    include_str!("data/safety/negation.tsv")
        .lines()
        .skip(1)
        .map(|row| row.split('\t').collect())
        .collect()
}

fn level(name: &str) -> Level {
    serde_json::from_value(serde_json::json!(name)).unwrap()
}

#[test]
fn every_disagreement_about_negation_is_as_reviewed() {
    let rows = table();
    assert!(rows.len() >= 30);
    for row in &rows {
        assert_eq!(row.len(), 5, "{row:?}");
        assert!(!row[4].is_empty(), "a reason for {row:?}");
        assert_eq!(screen(row[0]).level(), level(row[3]), "{row:?}");
    }
    // What the package calls negated and the screen does not lower are the sentences that negation must not silence.
    let kept = rows
        .iter()
        .filter(|row| row[2] == "negated" && level(row[3]) >= Level::Pause);
    assert!(kept.count() >= 10);
}

#[test]
fn the_package_reads_the_table_as_it_says() {
    let asked: String = table()
        .iter()
        .map(|row| format!("{}\t{}\n", row[0], row[1]))
        .collect();
    let read = python::text::<&str>("reference/safety_negation.py", &[], asked.as_bytes());
    let ours: Vec<&str> = table().iter().map(|row| row[2]).collect();
    assert_eq!(read.lines().collect::<Vec<_>>(), ours);
}

#[test]
fn every_warning_sign_of_the_leaflet_is_at_least_quiet() {
    // NIMH, Warning Signs of Suicide (OM 22-4316), one own sentence a sign.
    for text in [
        "I keep talking about wanting to die",
        "I feel great guilt or shame",
        "I am a burden to others",
        "I feel so empty and hopeless",
        "I feel trapped and have no reason to live",
        "I am extremely sad and agitated and full of rage",
        "I feel unbearable emotional pain",
        "I feel unbearable physical pain",
        "I am making a plan and researching ways to die",
        "I am withdrawing from friends",
        "I am saying goodbye to my friends",
        "I am giving away important items",
        "I made a will",
        "I take dangerous risks and drive far too fast",
        "I have extreme mood swings",
        "I am eating or sleeping more",
        "I am using drugs or alcohol more often",
    ] {
        assert!(screen(text).level() >= Level::Quiet, "{text}");
    }
}
