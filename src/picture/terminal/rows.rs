//! Rows of text with their ink, all in one piece of memory: a large map has thousands.

use crate::picture::terminal::ink::Ink;

/// Rows, in their order.
#[derive(Debug, Default)]
pub(in crate::picture::terminal) struct Rows {
    text: String,
    /// Where each row ends in the text, and its ink.
    ends: Vec<(usize, Ink)>,
}

impl Rows {
    /// Adds a row, put together from pieces.
    pub(in crate::picture::terminal) fn push(&mut self, ink: Ink, pieces: &[&str]) {
        self.text.extend(pieces.iter().copied());
        self.ends.push((self.text.len(), ink));
    }

    /// How many there are.
    pub(in crate::picture::terminal) fn len(&self) -> usize {
        self.ends.len()
    }

    /// The text of all rows together.
    pub(in crate::picture::terminal) fn text(&self) -> &str {
        &self.text
    }

    /// The rows, each with its ink.
    pub(in crate::picture::terminal) fn iter(&self) -> impl Iterator<Item = (&str, Ink)> {
        let mut start = 0;
        self.ends.iter().map(move |(end, ink)| {
            let row = &self.text[start..*end];
            start = *end;
            (row, *ink)
        })
    }
}
