//! Says what is worth looking at where a word stands: the patterns and the rows of choices that cannot do without it.

use serde::Deserialize;
use serde::Serialize;

use crate::safety::bits::Bits;
use crate::safety::bits::Few;
use crate::safety::parts::Span;

/// What is wanted by which words.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct Wanting {
    /// By the number of a word, what it wants of the lists below.
    pub of_words: Vec<(Span, Span)>,
    /// Patterns, by their numbers.
    pub patterns: Vec<u32>,
    /// Rows of choices, by their numbers.
    pub rows: Vec<Few>,
    /// The rows of choices that are looked at everywhere.
    pub everywhere: Bits,
}

impl Wanting {
    /// The patterns that demand a word, or another of the same list.
    pub(super) fn patterns(&self, word: u32) -> &[u32] {
        self.of_words[word as usize].0.of(&self.patterns)
    }

    /// The rows of choices that demand a word, or another of the same list.
    pub(super) fn rows(&self, word: u32) -> &[Few] {
        self.of_words[word as usize].1.of(&self.rows)
    }
}
