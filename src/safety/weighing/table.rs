//! The table of weights as it is looked up: worked out from `patterns/weights.tsv` and `patterns/kinds.toml` when the program is
//! built (`ahead/weights.rs`).

use std::collections::HashMap;

use serde::Deserialize;
use serde::Serialize;

use crate::safety::by_word::ByWord;
use crate::safety::level::Topic;
use crate::safety::quick::Quick;
use crate::safety::quick::sorted;
use crate::safety::sums::Sum;

/// The number of a word that the table does not name.
pub(in crate::safety) const UNKNOWN: u32 = 0;
/// Those of the opening and the closing of a run.
pub(in crate::safety) const OPENING: u32 = 1;
pub(in crate::safety) const CLOSING: u32 = 2;

/// What a phrase says beside its danger: how much it weighs for being about someone else and for being settled, and the topic
/// that it speaks for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(in crate::safety) struct Said {
    /// What it weighs for being about someone else.
    pub other: f32,
    /// What it weighs for being settled.
    pub settled: f32,
    /// What it speaks of.
    pub topic: Option<Topic>,
}

/// Which phrases begin with a word, by one bit for each word that may follow: most are known to be none of the table's
/// without looking them up.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize)]
pub(in crate::safety) struct Marks {
    /// What the word weighs alone.
    pub alone: Sum,
    /// Which words follow it in pairs, in pairs with something between, and in triples.
    pub pairs: u128,
    /// See `pairs`.
    pub apart: u128,
    /// See `pairs`.
    pub triples: u128,
}

/// A word as it stands in phrases, and on its own where a kind of words stands for it in phrases.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize)]
pub(in crate::safety) struct Seen {
    /// Its number in phrases.
    pub phrase: u32,
    /// Its number where a kind stands in its place there.
    pub alone: u32,
}

/// The table of weights, ready to be looked up.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(in crate::safety) struct Weighing {
    /// Words of which a kind stands in phrases.
    pub kinds: ByWord<Seen>,
    /// The numbers of words.
    pub words: ByWord<u32>,
    /// The danger of phrases, by their keys. It is looked up for every word of a text, what else they say for a few: so the two
    /// stand apart.
    #[serde(serialize_with = "sorted")]
    pub phrases: HashMap<u64, Sum, Quick>,
    /// What else they say.
    #[serde(serialize_with = "sorted")]
    pub said: HashMap<u64, Said, Quick>,
    /// By the number of a word.
    pub marks: Vec<Marks>,
    /// The most that one phrase with the opening or closing of a run weighs.
    pub edge: f32,
    /// What its opening and its closing weigh.
    pub shared: f32,
    /// What every run weighs to begin with, and what it says.
    pub base: Sum,
    /// See `base`.
    pub base_said: Said,
    /// What it weighs that the subjects of a sentence say it is about someone else.
    pub read_as_other: f32,
}

/// A word's bit among those that may follow another.
pub(in crate::safety) fn bit(word: u32) -> u128 {
    1 << (word & 127)
}

/// The key of a phrase: the numbers of its words, and whether it is a pair with something between.
pub(in crate::safety) fn key(words: [u32; 3], apart: bool) -> u64 {
    let [one, two, three] = words.map(u64::from);
    one | two << 20 | three << 40 | u64::from(apart) << 63
}

/// A word without its common ending. The script that makes the table does the same.
pub(in crate::safety) fn stem(word: &str) -> &str {
    for ending in ["ing", "ed", "es", "s", "ly"] {
        if word.len() > ending.len() + 3
            && let Some(stem) = word.strip_suffix(ending)
        {
            return stem;
        }
    }
    word
}
