//! Every word and stem that a pattern names, with a number each, so that a word of a text is looked up once and
//! patterns are held against numbers only.

use std::collections::HashMap;

use serde::Deserialize;
use serde::Serialize;

use crate::safety::by_word::ByWord;
use crate::safety::quick::Quick;
use crate::safety::quick::sorted;

/// The words and stems, found by a word of a text.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct Lexicon {
    /// Every word and stem as patterns write it, by its number.
    pub written: Vec<String>,
    /// Their numbers.
    pub words: ByWord<u32>,
    /// By their first two letters, so that a word is held only against the one or two stems it may begin with.
    #[serde(serialize_with = "sorted")]
    pub stems: HashMap<[u8; 2], Vec<u32>, Quick>,
}

impl Lexicon {
    /// How many numbers were given.
    pub(super) fn len(&self) -> usize {
        self.written.len()
    }

    /// The word or stem as a pattern writes it.
    pub(super) fn written(&self, number: u32) -> &str {
        &self.written[number as usize]
    }

    /// The numbers of the word and the stems that a word of a text is one of.
    pub(super) fn each(&self, word: &str, mut take: impl FnMut(u32)) {
        if let Some(number) = self.words.get(word) {
            take(*number);
        }
        let two = first_two(word);
        let one = [two[0], 0];
        for key in [two, one].iter().take(if two == one { 1 } else { 2 }) {
            for number in self.stems.get(key).into_iter().flatten() {
                let stem = self.written(*number).trim_end_matches('*');
                if word.starts_with(stem) {
                    take(*number);
                }
            }
        }
    }
}

/// What a word begins with; a word of one letter has nothing for the second.
pub(super) fn first_two(word: &str) -> [u8; 2] {
    let mut bytes = word.bytes();
    [bytes.next(), bytes.next()].map(Option::unwrap_or_default)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_itself_and_every_stem_it_begins_with() {
        let mut lexicon = Lexicon::default();
        let written = ["kill", "kill*", "ki*", "k*", "kilo*", "k", "skill*"];
        let numbers = written.map(|word| lexicon.number(word));
        assert_eq!(numbers, written.map(|word| lexicon.number(word)));
        for (word, expected) in [
            ("kill", vec!["k*", "ki*", "kill", "kill*"]),
            ("killing", vec!["k*", "ki*", "kill*"]),
            ("k", vec!["k", "k*"]),
            ("skull", vec![]),
            ("", vec![]),
        ] {
            let mut found = Vec::new();
            lexicon.each(word, |number| found.push(lexicon.written(number)));
            found.sort_unstable();
            assert_eq!(found, expected, "{word}");
        }
    }
}
