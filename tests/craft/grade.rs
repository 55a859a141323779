//! The reading grade beside another program's: how far the two agree over every line that is shipped.

use std::path::Path;

use wayfold::dialogue::HARDEST;
use wayfold::dialogue::grade;
use wayfold::dialogue::syllables;

use crate::python;

/// Every English line that is said, with its placeholders as a word and without the word to type.
pub(super) fn lines() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue/en");
    let mut lines = Vec::new();
    for file in std::fs::read_dir(folder).unwrap() {
        let text = std::fs::read_to_string(file.unwrap().path()).unwrap();
        let table: toml::Table = text.parse().unwrap();
        for (name, line) in table["lines"].as_table().unwrap() {
            if name.starts_with("words.") {
                continue;
            }
            let mut said = String::new();
            let mut depth = 0;
            for c in line.as_str().unwrap().chars() {
                match c {
                    '{' => depth += 1,
                    '}' => {
                        depth -= 1;
                        said.push_str("this");
                    }
                    c if depth == 0 => said.push(c),
                    _ => {}
                }
            }
            lines.push(
                said.split_once('|')
                    .map_or(said.as_str(), |(_, label)| label)
                    .trim()
                    .to_owned(),
            );
        }
    }
    lines
}

/// Grades and syllables by textstat 0.7.3, run live.
fn reference(texts: &[String]) -> Vec<(f64, usize)> {
    python::answer("reference/craft_grade.py", &[], &texts)
}

#[test]
fn the_grade_agrees_with_another_program_over_every_shipped_line() {
    let lines = lines();
    let theirs = reference(&lines);
    let ours: Vec<(f64, usize)> = lines
        .iter()
        .map(|line| (grade(line), line.split_whitespace().map(syllables).sum()))
        .collect();
    let long = |line: &String| line.split_whitespace().count() >= 5;
    let pairs: Vec<_> = lines
        .iter()
        .zip(ours.iter().zip(&theirs))
        .filter(|(line, _)| long(line))
        .collect();
    let count = pairs.len() as f64;
    let off: f64 = pairs
        .iter()
        .map(|(_, (ours, theirs))| (ours.0 - theirs.0).abs())
        .sum::<f64>()
        / count;
    let lean: f64 = pairs
        .iter()
        .map(|(_, (ours, theirs))| ours.0 - theirs.0)
        .sum::<f64>()
        / count;
    let same = pairs
        .iter()
        .filter(|(_, (ours, theirs))| (ours.0 > HARDEST) == (theirs.0 > HARDEST))
        .count();
    let missed: Vec<_> = pairs
        .iter()
        .filter(|(_, (ours, theirs))| theirs.0 > HARDEST && ours.0 <= HARDEST)
        .map(|(line, _)| line)
        .collect();
    let harder: Vec<_> = pairs
        .iter()
        .filter(|(_, (ours, _))| ours.0 > HARDEST)
        .map(|(line, (ours, theirs))| (ours, theirs, line))
        .collect();
    let syllables: (usize, usize) = pairs.iter().fold((0, 0), |sum, (_, (ours, theirs))| {
        (sum.0 + ours.1, sum.1 + theirs.1)
    });
    println!(
        "{count} lines: grades differ by {off:.2} on average (ours {lean:+.2}); the same side of {HARDEST} in {same}; \
         syllables ours {} theirs {}; {harder:#?}",
        syllables.0, syllables.1
    );
    assert!(
        missed.is_empty(),
        "the reference finds these hard and we do not: {missed:#?}"
    );
}
