//! Adds to the parts of all patterns, and to their words.

use crate::safety::lexicon::Lexicon;
use crate::safety::lexicon::first_two;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;

impl Parts {
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

    /// Adds a list of words, which has the next number.
    pub(super) fn add_list(&mut self, words: &[u32]) -> u32 {
        let start = self.words.len();
        self.words.extend_from_slice(words);
        self.lists.push(Span::new(start..self.words.len()));
        u32::try_from(self.lists.len() - 1).unwrap_or(u32::MAX)
    }
}

impl Lexicon {
    /// The number of a word as a pattern writes it: a stem ends with `*`.
    pub(in crate::safety) fn number(&mut self, written: &str) -> u32 {
        let next = u32::try_from(self.written.len()).unwrap_or(u32::MAX);
        // A stem stands among the words too. Its `*` keeps it apart, since no word of a text has one.
        let number = *self.words.get_or_insert_with(written, || next);
        if number != next {
            return number;
        }
        self.written.push(written.to_owned());
        if let Some(stem) = written.strip_suffix('*') {
            self.stems.entry(first_two(stem)).or_default().push(number);
        }
        number
    }
}
