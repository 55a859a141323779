//! Holds by type and by reading the source that words come out of the screen and from nowhere else.

// A test may fail by unwrapping in its own small functions too.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::Path;
use std::path::PathBuf;

use serde::de::DeserializeOwned;
use wayfold::safety::Screened;
use wayfold::safety::screen;

/// Both ways of being ambiguous apply to a type that can be read back, so that naming the function would not compile.
trait UnreadableByOneWay<Way> {
    fn holds() {}
}

struct Readable;

impl<T> UnreadableByOneWay<()> for T {}

impl<T: DeserializeOwned> UnreadableByOneWay<Readable> for T {}

#[test]
fn what_the_screen_found_cannot_be_read_back_from_a_file() {
    <Screened as UnreadableByOneWay<_>>::holds();
}

#[test]
fn words_do_not_show_themselves() {
    let seen = screen("the grey ferry");
    assert_eq!(format!("{:?}", seen.words()), "Words(14 bytes)");
    assert!(!format!("{seen:?}").contains("ferry"));
}

fn sources(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, out);
        } else if path.extension().is_some_and(|end| end == "rs") {
            out.push(path);
        }
    }
}

/// The files below src, other than a given one, whose text holds a piece.
fn holding(piece: &str, but: &[&str]) -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut all = Vec::new();
    sources(&root, &mut all);
    assert!(all.len() > 40, "the sources are there to be read");
    all.retain(|path| !but.iter().any(|name| path.ends_with(name)));
    all.retain(|path| fs::read_to_string(path).unwrap().contains(piece));
    all
}

#[test]
fn words_are_made_by_the_screen_alone() {
    let none = Vec::<PathBuf>::new();
    assert_eq!(holding("Words::screened", &["safety/mod.rs"]), none);
    assert_eq!(holding("Screened {\n        words", &["safety/mod.rs"]), none);
    let made = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/safety/mod.rs")).unwrap();
    assert_eq!(
        made.matches("Words::screened(").count(),
        2,
        "typed words and spoken words"
    );
}

#[test]
fn a_sitting_takes_nothing_but_what_was_screened() {
    let talk =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/dialogue/talk.rs")).unwrap();
    let input = talk
        .split("pub enum Input")
        .nth(1)
        .unwrap()
        .split("\n}")
        .next()
        .unwrap();
    for line in input.lines().filter(|line| line.contains('(')) {
        assert!(
            !line.contains("String") && !line.contains("&str") || line.trim().starts_with("//"),
            "an input holds plain text: {line}"
        );
    }
    assert!(input.contains("Answer(Screened)") && input.contains("Heard(Screened)"));
}
