//! Every phrase that the shell names is in its words file, and the file says each one once.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use regex::Regex;

use crate::layers::files_below;

fn phrases() -> BTreeMap<String, toml::Value> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue/en/shell.toml");
    let read: toml::Table = toml::from_str(&fs::read_to_string(file).unwrap()).unwrap();
    read["lines"].as_table().unwrap().clone().into_iter().collect()
}

#[test]
fn every_phrase_that_is_named_is_there() {
    let phrases = phrases();
    let named = Regex::new(r#"\b(?:phrase|filled)\(\s*"([a-z0-9.-]+)""#).unwrap();
    let mut seen = 0;
    for file in files_below(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src/shell")) {
        for found in named.captures_iter(&fs::read_to_string(&file).unwrap()) {
            seen += 1;
            assert!(
                phrases.contains_key(&found[1]),
                "{} names {}",
                file.display(),
                &found[1]
            );
        }
    }
    assert!(seen > 100, "only {seen} names were seen");
}
