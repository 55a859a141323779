//! A list of words: written with blanks between them, in a file and in what the build makes of it, and looked up as a table.

use serde::Deserialize;
use serde::Deserializer;
use serde::Serialize;
use serde::Serializer;

use crate::safety::by_word::ByWord;

/// The list.
#[derive(Debug)]
pub(super) struct WordList {
    written: String,
    words: ByWord<()>,
}

impl WordList {
    /// Whether a word is in the list.
    pub(super) fn contains(&self, word: &str) -> bool {
        self.words.contains(word)
    }
}

impl<'de> Deserialize<'de> for WordList {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let written = String::deserialize(deserializer)?;
        let words = written.split_whitespace().map(|word| (word, ())).collect();
        Ok(Self { written, words })
    }
}

impl Serialize for WordList {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.written)
    }
}
