//! Tables by words. Nearly every word is so short that its letters are one number, which is hashed and compared at once;
//! a table by strings takes several times as long, and every word of a text is looked up in some of these.

use std::collections::HashMap;

use serde::Deserialize;
use serde::Serialize;

use crate::safety::quick::Quick;
use crate::safety::quick::sorted;

/// The most letters that one number holds.
const SHORT: usize = 16;

/// A table by words, none of which holds a NUL.
#[derive(Debug, Serialize, Deserialize)]
#[serde(bound(serialize = "V: Serialize"))]
pub(super) struct ByWord<V> {
    #[serde(serialize_with = "sorted")]
    short: HashMap<u128, V, Quick>,
    #[serde(serialize_with = "sorted")]
    long: HashMap<String, V, Quick>,
}

impl<V> Default for ByWord<V> {
    fn default() -> Self {
        Self {
            short: HashMap::default(),
            long: HashMap::default(),
        }
    }
}

impl<V> ByWord<V> {
    /// What stands at a word.
    pub(super) fn get(&self, word: &str) -> Option<&V> {
        match packed(word) {
            Some(number) => self.short.get(&number),
            None => self.long.get(word),
        }
    }

    /// Whether anything stands at a word.
    pub(super) fn contains(&self, word: &str) -> bool {
        self.get(word).is_some()
    }

    /// Puts something at a word, in the place of what stood there.
    pub(super) fn insert(&mut self, word: &str, value: V) {
        match packed(word) {
            Some(number) => self.short.insert(number, value),
            None => self.long.insert(word.to_owned(), value),
        };
    }

    /// What stands at a word; it is made where nothing does.
    pub(super) fn get_or_insert_with(&mut self, word: &str, make: impl FnOnce() -> V) -> &mut V {
        match packed(word) {
            Some(number) => self.short.entry(number).or_insert_with(make),
            None => self.long.entry(word.to_owned()).or_insert_with(make),
        }
    }

    /// Makes room for so many more words.
    pub(super) fn reserve(&mut self, more: usize) {
        self.short.reserve(more);
    }
}

impl<'w, V> FromIterator<(&'w str, V)> for ByWord<V> {
    fn from_iter<I: IntoIterator<Item = (&'w str, V)>>(rows: I) -> Self {
        let rows = rows.into_iter();
        let mut table = Self::default();
        table.reserve(rows.size_hint().0);
        for (word, value) in rows {
            table.insert(word, value);
        }
        table
    }
}

/// The letters of a short word as one number: the first is the lowest byte. `None` for a longer one.
fn packed(word: &str) -> Option<u128> {
    let bytes = word.as_bytes();
    let length = bytes.len();
    // Two pieces of one width, which overlap where the word is shorter than both: there they say the same.
    let two =
        |first: u64, last: u64, width: usize| u128::from(first) | u128::from(last) << (8 * (length - width));
    Some(match length {
        0 => 0,
        1 => u128::from(bytes[0]),
        2..4 => {
            let number = |bytes: &[u8; 2]| u64::from(u16::from_le_bytes(*bytes));
            two(number(bytes.first_chunk()?), number(bytes.last_chunk()?), 2)
        }
        4..8 => {
            let number = |bytes: &[u8; 4]| u64::from(u32::from_le_bytes(*bytes));
            two(number(bytes.first_chunk()?), number(bytes.last_chunk()?), 4)
        }
        8..=SHORT => {
            let number = |bytes: &[u8; 8]| u64::from_le_bytes(*bytes);
            two(number(bytes.first_chunk()?), number(bytes.last_chunk()?), 8)
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_word_is_its_letters_in_a_row() {
        let letters = "abcdefghijklmnopqrstu";
        for length in 0..letters.len() {
            let word = &letters[..length];
            let mut bytes = [0; SHORT];
            let expected = (length <= SHORT).then(|| {
                bytes[..length].copy_from_slice(word.as_bytes());
                u128::from_le_bytes(bytes)
            });
            assert_eq!(packed(word), expected, "{word}");
        }
    }

    #[test]
    fn words_of_every_length_have_a_place_of_their_own() {
        let words: Vec<String> = (0..40).map(|length| "x".repeat(length)).collect();
        let table: ByWord<usize> = words.iter().map(|word| (word.as_str(), word.len())).collect();
        assert_eq!(table.short.len() + table.long.len(), words.len());
        for word in &words {
            assert_eq!(table.get(word), Some(&word.len()));
        }
        assert!(!table.contains("y") && !table.contains(&"y".repeat(20)));
    }
}
