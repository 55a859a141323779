//! The parts of all patterns in a few long lists. A book of thousands of patterns is built without a small box for
//! each part, and what many patterns say alike has one number, so that it is looked for once.

use std::hash::BuildHasher;
use std::ops::Range;

use hashbrown::HashTable;
use hashbrown::hash_table::Entry;

use crate::safety::lexicon::Lexicon;
use crate::safety::quick::Quick;

/// Some neighbours in one of the lists.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Choice {
    /// Where the rows are.
    pub rows: Span,
    /// The number of the class that it is, so that what many patterns share is looked at once.
    pub class: Option<u32>,
}

/// The lists: parts by rows, rows by choices, and words by lists of words.
#[derive(Debug, Default)]
pub(super) struct Parts {
    /// The words, with a number each.
    pub lexicon: Lexicon,
    /// How many classes there are.
    pub classes: u32,
    all: Vec<Part>,
    rows: Vec<Span>,
    words: Vec<u32>,
    lists: Vec<Span>,
    // The numbers of the lists by their words.
    known: HashTable<u32>,
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

    /// Adds a row of parts.
    pub(super) fn add_row(&mut self, parts: impl IntoIterator<Item = Part>) -> Span {
        let start = self.all.len();
        self.all.extend(parts);
        Span::new(start..self.all.len())
    }

    /// Adds the rows of a choice.
    pub(super) fn add_rows(&mut self, rows: impl IntoIterator<Item = Span>) -> Span {
        let start = self.rows.len();
        self.rows.extend(rows);
        Span::new(start..self.rows.len())
    }

    /// The number of a list of words, which is added if no list is the same.
    pub(super) fn add_list(&mut self, words: &[u32]) -> u32 {
        let hash = |words: &[u32]| Quick::default().hash_one(words);
        let of = |list: &u32| self.lists[*list as usize].of(&self.words);
        match self
            .known
            .entry(hash(words), |list| of(list) == words, |list| hash(of(list)))
        {
            Entry::Occupied(known) => *known.get(),
            Entry::Vacant(free) => {
                let number = u32::try_from(self.lists.len()).unwrap_or(u32::MAX);
                free.insert(number);
                let start = self.words.len();
                self.words.extend_from_slice(words);
                self.lists.push(Span::new(start..self.words.len()));
                number
            }
        }
    }
}
