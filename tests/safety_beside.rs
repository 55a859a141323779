//! Holds that nothing beside them silences what people say of their own death outright: no word that any pattern knows, no
//! everyday sentence, no example of a form that lowers. Such forms are many and wide; these tests look at all of them.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use wayfold::safety::Level;
use wayfold::safety::groups;
use wayfold::safety::screen;

/// Every word in the files of patterns.
fn words() -> BTreeSet<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/safety/patterns");
    let files = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path());
    let texts = files
        .filter(|path| path.extension().is_some_and(|kind| kind == "toml"))
        .map(|path| fs::read_to_string(path).unwrap());
    let is_word = |word: &str| word.len() > 2 && word.bytes().all(|byte| byte.is_ascii_lowercase());
    texts
        .flat_map(|text| {
            let words = text.split(|sign: char| !sign.is_ascii_alphanumeric());
            words
                .filter(|word| is_word(word))
                .map(str::to_owned)
                .collect::<Vec<_>>()
        })
        .collect()
}

/// Rows of everyday text from the sets that the weighing is taught by.
fn everyday() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/safety/taught");
    let mut files: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().path())
        .collect();
    files.sort();
    let texts = files.iter().map(|path| fs::read_to_string(path).unwrap());
    texts
        .flat_map(|text| {
            let rows = text.lines().skip(1).filter(|row| row.starts_with("none\t"));
            let text = |row: &str| {
                row.rsplit('\t')
                    .next()
                    .unwrap()
                    .trim_end_matches(['.', '?', '!'])
                    .to_owned()
            };
            rows.map(text).collect::<Vec<_>>()
        })
        .collect()
}

/// What stays below its level of sentences put together from frames, each with the level that it calls for, and parts.
fn below(frames: &[(Level, &str)], parts: impl IntoIterator<Item = String>) -> Vec<String> {
    let mut out = Vec::new();
    for part in parts {
        for (level, frame) in frames {
            let text = frame.replace("{}", &part);
            if screen(&text).level() < *level {
                out.push(text);
            }
        }
    }
    out
}

#[test]
fn no_word_of_the_patterns_silences_danger_said_outright() {
    let words = words();
    assert!(words.len() > 5_000, "only {} words", words.len());
    let frames = [
        (Level::Pause, "my {} makes me want to die"),
        (Level::Stop, "the {} and I want to kill myself"),
        (Level::Stop, "{}, I want to kill myself"),
        (Level::Stop, "I want to kill myself {}"),
        (Level::Stop, "{}, I took all my pills"),
        (Level::Stop, "I bought a rope to hang myself with, {}"),
        (Level::Pause, "my husband hits me and the {}"),
    ];
    // The one manner of speaking among them, and how it is misspelt.
    let spellings = ["laffin", "laughing"].map(|word| format!("I want to kill myself {word}"));
    assert_eq!(below(&frames, words), spellings);
}

#[test]
fn no_everyday_sentence_silences_a_wish_to_die() {
    let all = everyday();
    assert!(all.len() > 10_000, "only {} rows", all.len());
    let stride = if std::env::var_os("WAYFOLD_LONG").is_some() {
        1
    } else {
        9
    };
    let frames = [
        (Level::Stop, "{} and I want to kill myself"),
        (Level::Stop, "{}. I am going to end my life tonight"),
        (Level::Pause, "I want to die because {}"),
        (Level::Pause, "I have just taken an overdose. {}"),
    ];
    let some: Vec<_> = all.into_iter().step_by(stride).collect();
    let (count, lost) = (some.len() * frames.len(), below(&frames, some));
    // "She's slower, I didn't say, I want to die" is read as a denial, since commas say too little.
    assert!(
        lost.len() * 10_000 <= count,
        "{} of {count}: {lost:#?}",
        lost.len()
    );
}

#[test]
fn no_example_of_a_form_that_lowers_silences_a_wish_to_die_beside_it() {
    let lowers = |effect: &str| matches!(effect, "clear" | "quieten" | "soften" | "ease");
    let examples = groups()
        .into_iter()
        .filter(|group| lowers(group.effect))
        .flat_map(|group| group.finds);
    let frames = [
        (Level::Stop, "{}, and now I want to kill myself"),
        (Level::Stop, "I am going to end my life tonight. {}"),
        (Level::Pause, "I have just taken an overdose. {}"),
    ];
    let examples: Vec<_> = examples
        .map(|text| text.trim_end_matches('?').to_owned())
        .collect();
    assert!(examples.len() > 100, "only {} examples", examples.len());
    assert_eq!(below(&frames, examples), Vec::<String>::new());
}
