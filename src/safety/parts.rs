//! The parts of all patterns in a few long lists. A book of thousands of patterns is built without a small box for
//! each part, and what many patterns say alike has one number, so that it is looked for once.

use std::ops::Range;

use serde::Deserialize;
use serde::Serialize;

use crate::safety::lexicon::Lexicon;

/// The words that stand for the end of a sentence where sentences are read together, and of a question. A word of a text
/// has no capitals.
pub(super) const SENTENCE_END: &str = "E";
pub(super) const QUESTION_END: &str = "Q";

/// Some neighbours in one of the lists.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub(super) struct Span {
    start: u32,
    end: u32,
}

impl Span {
    /// The span of a range; the lists of a book are far shorter than a `u32` can count.
    pub(super) fn new(range: Range<usize>) -> Self {
        let small = |place| u32::try_from(place).unwrap_or(u32::MAX);
        Self {
            start: small(range.start),
            end: small(range.end),
        }
    }

    /// The range of the span.
    pub(super) fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// What the span holds of a list.
    pub(super) fn of<T>(self, list: &[T]) -> &[T] {
        &list[self.range()]
    }
}

/// One part of a pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum Part {
    /// One word of a list, by the list's number.
    Words(u32),
    /// One of some rows.
    Choice(Choice),
    /// Up to so many words of any kind.
    Gap(u32),
    /// The beginning of a sentence.
    Start,
    /// The end of a sentence.
    End,
    /// A row that may be left out.
    Maybe(Span),
}

/// Rows to choose from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Choice {
    /// Where the rows are.
    pub rows: Span,
    /// The number of the class that it is, so that what many patterns share is looked at once.
    pub class: Option<u32>,
}

/// The lists: parts by rows, rows by choices, and words by lists of words.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct Parts {
    /// The words, with a number each.
    pub lexicon: Lexicon,
    /// How many classes there are.
    pub classes: u32,
    /// The parts of all rows.
    pub all: Vec<Part>,
    /// The rows of all choices.
    pub rows: Vec<Span>,
    /// The words of all lists.
    pub words: Vec<u32>,
    /// The lists.
    pub lists: Vec<Span>,
}

impl Parts {
    /// The parts of a row.
    pub(super) fn row(&self, row: Span) -> &[Part] {
        row.of(&self.all)
    }

    /// The rows of a choice.
    pub(super) fn rows(&self, choice: Choice) -> &[Span] {
        choice.rows.of(&self.rows)
    }

    /// Every row of every choice, by its number. What stands inside a row has a lower number.
    pub(super) fn all_rows(&self) -> &[Span] {
        &self.rows
    }

    /// The words of a list.
    pub(super) fn list(&self, list: u32) -> &[u32] {
        self.lists[list as usize].of(&self.words)
    }

    /// How many lists of words there are.
    pub(super) fn lists(&self) -> usize {
        self.lists.len()
    }
}
