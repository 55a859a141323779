//! How words of danger are spelt, misspelt and hidden: worked out from `patterns/spelling.toml` and `sounds/meant.tsv` when the
//! program is built
//! (`ahead/spellings.rs`).

use serde::Deserialize;
use serde::Serialize;

use crate::safety::by_word::ByWord;

/// Words that belong together, found by the last of them.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Phrase {
    /// The words before the last, each with a space before it.
    pub before: String,
    /// How many these are.
    pub words: usize,
    /// What they say together.
    pub says: String,
}

/// What is known of spellings.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Spellings {
    /// Words of danger, whose masks are undone.
    pub guarded: Vec<String>,
    /// What joined or masked text is made of.
    pub known: ByWord<()>,
    /// What slips and short forms say, by their place in `says`: many slips are of one word.
    pub fixes: ByWord<u32>,
    /// What they say.
    pub says: Vec<String>,
    /// Words that together say another.
    pub phrases: ByWord<Vec<Phrase>>,
    /// What a word says that loses its sense when its apostrophe is dropped.
    pub before_apostrophe: ByWord<String>,
    /// Words of which nothing is undone: most words of a text, which are found at once.
    pub as_is: ByWord<()>,
}

impl Spellings {
    /// What a slip or a short form says.
    pub(super) fn fix(&self, word: &str) -> Option<&String> {
        self.fixes.get(word).map(|place| &self.says[*place as usize])
    }
}
