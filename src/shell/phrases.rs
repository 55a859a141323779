//! What the program itself says, apart from its dialogues: one words file per language, as for the scripts.

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::Deserialize;

#[derive(Deserialize)]
struct WordsFile {
    lines: HashMap<String, String>,
}

/// The English words file, as it is written.
pub(crate) const WORDS: &str = include_str!("../../scripts/dialogue/en/shell.toml");

static ENGLISH: LazyLock<HashMap<String, String>> = LazyLock::new(|| {
    // A test reads the file and every name used, so a fault in it never gets this far.
    toml::from_str::<WordsFile>(WORDS)
        .map(|file| file.lines)
        .unwrap_or_default()
});

/// A phrase by its name. A name that is missing says its own name, so that nothing is ever silent.
pub(crate) fn phrase(name: &str) -> String {
    ENGLISH.get(name).cloned().unwrap_or_else(|| name.to_owned())
}

/// A phrase with its blanks filled: `{blank}` by the value named `blank`.
pub(crate) fn filled(name: &str, blanks: &[(&str, &str)]) -> String {
    let mut text = phrase(name);
    for (blank, value) in blanks {
        text = text.replace(&format!("{{{blank}}}"), value);
    }
    text
}
