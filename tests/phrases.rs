//! Every phrase that the program names is in its words files, and none is there that nobody names.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use regex::Regex;
use wayfold::language;

use crate::layers::files_below;

/// The lines of both words files, by name; TOML itself refuses a name that is there twice.
fn lines() -> BTreeMap<String, String> {
    let mut lines = BTreeMap::new();
    for file in [language::SHELL_WORDS, language::PAGE_WORDS] {
        let read: toml::Table = file.parse().unwrap();
        for (name, line) in read["lines"].as_table().unwrap() {
            let before = lines.insert(name.clone(), line.as_str().unwrap().to_owned());
            assert_eq!(before, None, "{name} is in both files");
        }
    }
    lines
}

/// The source of the rooms that say something, comments left aside.
fn sources() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let files = ["shell", "page", "picture"]
        .iter()
        .flat_map(|room| files_below(&root.join(room)));
    files
        .map(|file| {
            let text = fs::read_to_string(&file).unwrap();
            let code: Vec<_> = text
                .lines()
                .filter(|line| !line.trim_start().starts_with("//"))
                .collect();
            (file.display().to_string(), code.join("\n"))
        })
        .collect()
}

#[test]
fn every_phrase_that_is_named_is_there() {
    let lines = lines();
    let named = Regex::new(r#"\b(phrase|filled|line|counted)\(\s*"([a-z0-9.-]+)""#).unwrap();
    let mut seen = 0;
    for (file, text) in sources() {
        for found in named.captures_iter(&text) {
            seen += 1;
            let (how, name) = (&found[1], &found[2]);
            let there = if how == "counted" {
                lines.contains_key(&format!("{name}[other]"))
            } else {
                lines.contains_key(name)
            };
            assert!(there, "{file} has {how}({name})");
        }
    }
    assert!(seen > 150, "only {seen} names were seen");
}

#[test]
fn what_is_said_as_it_stands_has_no_blank_to_fill() {
    let lines = lines();
    let said = Regex::new(r#"\bphrase\(\s*"([a-z0-9.-]+)""#).unwrap();
    let mut seen = 0;
    for (file, text) in sources() {
        for found in said.captures_iter(&text) {
            seen += 1;
            let line = &lines[&found[1]];
            assert!(!line.contains('{'), "{file} says {line}");
        }
    }
    assert!(seen > 100, "only {seen} were seen");
}

#[test]
fn every_phrase_is_named_somewhere() {
    // Names are also chosen first and said later, or made from a part; so every piece of text in the source counts.
    let text: String = sources().into_iter().map(|(_, text)| text).collect();
    let pieces = Regex::new(r#""([a-z0-9.-]+)""#).unwrap();
    let named: BTreeSet<&str> = pieces
        .captures_iter(&text)
        .map(|found| found.get(1).unwrap().as_str())
        .collect();
    let made = ["check.o", "hide.", "stopped.", "fault.", "play.", "open."];
    for name in lines().keys() {
        let stem = name.split_once('[').map_or(name.as_str(), |(stem, _)| stem);
        let is_made = made.iter().any(|part| stem.starts_with(part));
        assert!(named.contains(stem) || is_made, "nobody says {name}");
    }
}

#[test]
fn every_number_has_each_form_of_english_and_no_other() {
    let lines = lines();
    let forms = language::forms("en");
    let mut seen = 0;
    for name in lines.keys() {
        let Some((stem, form)) = name.split_once('[') else {
            continue;
        };
        seen += 1;
        assert!(forms.contains(&form.trim_end_matches(']')), "{name}");
        for form in &forms {
            assert!(
                lines.contains_key(&format!("{stem}[{form}]")),
                "{stem} has no {form}"
            );
        }
    }
    assert!(seen > 40, "only {seen} were seen");
    // What is counted has its number in braces; without a form beside it, a word would be wrong for one of something.
    for (name, line) in &lines {
        let counts = line.contains("{count} ") && !name.contains('[');
        assert!(
            !counts,
            "{name} has a number, and one form for all numbers: {line}"
        );
    }
}
