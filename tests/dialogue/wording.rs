//! Every line that people are shown, read once: short sentences, no pressure, and a reading grade of 6 or lower by an
//! outside reference.

use std::path::Path;
use std::path::PathBuf;

use crate::python;

/// Words that press, praise or judge. The list is the test's own, longer than the one that the checker has.
const UNWANTED: [&str; 29] = [
    "just",
    "should",
    "must",
    "ought",
    "you have to",
    "you need to",
    "simply",
    "obviously",
    "of course",
    "great",
    "amazing",
    "awesome",
    "excellent",
    "fantastic",
    "perfect",
    "well done",
    "good job",
    "good work",
    "congratulations",
    "proud",
    "failed",
    "failure",
    "fail",
    "lazy",
    "symptom",
    "disorder",
    "diagnosis",
    "patient's",
    "commit suicide",
];

/// The scripts' words, as files.
fn files() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue/en");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the words are there")
        .map(|file| file.expect("readable").path())
        .filter(|file| file.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    files.sort();
    files
}

/// Every line that is said, by file and name, with its placeholders filled by their fallback or by "this"; a choice
/// without the word to type.
fn lines() -> Vec<(String, String)> {
    let mut lines = Vec::new();
    for file in files() {
        let text = std::fs::read_to_string(&file).expect("readable");
        let table: toml::Table = text.parse().expect("TOML");
        let words = table["lines"].as_table().expect("a table of lines");
        for (name, line) in words.iter().filter(|(name, _)| !name.starts_with("words.")) {
            let line = filled(line.as_str().expect("text"));
            let said = line
                .split_once('|')
                .map_or(line.as_str(), |(_, label)| label)
                .trim()
                .to_owned();
            lines.push((
                format!("{} {name}", file.file_stem().expect("a name").to_string_lossy()),
                said,
            ));
        }
    }
    assert!(lines.len() > 100, "only {} lines were found", lines.len());
    lines
}

fn filled(line: &str) -> String {
    let mut filled = String::new();
    let mut rest = line;
    while let Some((before, after)) = rest.split_once('{') {
        let (inside, after) = after.split_once('}').expect("closed");
        filled.push_str(before);
        filled.push_str(inside.split_once('|').map_or("this", |(_, fallback)| fallback));
        rest = after;
    }
    filled + rest
}

#[test]
fn sentences_have_at_most_25_words() {
    for (name, line) in lines() {
        for sentence in line.split(['.', '?']) {
            let words = sentence.split_whitespace().count();
            assert!(words <= 25, "{name} has {words} words in a sentence: {line}");
        }
    }
}

#[test]
fn no_line_presses_praises_or_judges() {
    for (name, line) in lines() {
        assert!(!line.contains('!'), "{name}: {line}");
        let spaced = line
            .to_lowercase()
            .replace(|c: char| !c.is_alphanumeric() && c != '\'', " ");
        let spaced = format!(" {} ", spaced.split_whitespace().collect::<Vec<_>>().join(" "));
        for unwanted in UNWANTED {
            assert!(
                !spaced.contains(&format!(" {unwanted} ")),
                "{name} says {unwanted:?}: {line}"
            );
        }
    }
}

#[test]
fn every_line_reads_at_grade_6_or_lower() {
    // A line of fewer than five words, as most options are, has no grade worth the name: one long word would decide it.
    let mut lines = lines();
    lines.retain(|(_, line)| line.split_whitespace().count() >= 5);
    let texts: Vec<_> = lines.iter().map(|(_, line)| line).collect();
    let found = grades(&serde_json::to_string(&texts).expect("plain text"));
    assert_eq!(found.len(), lines.len());
    // The reference does tell lines apart: a sentence from a form scores far higher.
    let hard = "[\"Individuals experiencing considerable psychological difficulties necessitate appropriate intervention.\"]";
    assert!(grades(hard)[0] > 12.0);
    for ((name, line), grade) in lines.iter().zip(found) {
        assert!(grade <= 6.0, "{name} reads at grade {grade}: {line}");
    }
}

/// Flesch-Kincaid grades by textstat 0.7.3, run live.
fn grades(texts: &str) -> Vec<f64> {
    let grades = python::printed::<&str>("reference/dialogue_grade.py", &[], texts.as_bytes());
    serde_json::from_slice(&grades).expect("a list of grades")
}
