//! What a misspelt word was meant to be. A word that is spelt rightly is left as it is; another is read as the most used word
//! that sounds like it ("voyces") or has two letters the other way round ("teh"), and is written much like it, among those that
//! matter here.

use std::cmp::Ordering;
use std::collections::HashMap;
use std::ops::RangeInclusive;
use std::sync::OnceLock;

use rphonetic::DoubleMetaphone;
use strsim::osa_distance;

use crate::safety::by_word::ByWord;
use crate::safety::quick::Quick;

/// Words that are spelt rightly, sorted, one on each line; `tests/reference/safety_sounds.py` makes them.
const RIGHT: &str = include_str!("sounds/words.txt");

/// The words that a misspelt one may stand for, the most used first, from the same script, with their codes by Double Metaphone
/// (Lawrence Philips, C/C++ Users Journal, June 2000).
const MEANT: &str = include_str!("sounds/meant.tsv");

/// The length of a code, in letters: long enough to tell all of a word.
const CODE: usize = 14;

/// The letters of a misspelt word: shorter ones sound like too much, longer ones are no words.
const LETTERS: RangeInclusive<usize> = 3..=14;

/// The words that a misspelt one may stand for.
#[derive(Debug)]
pub(super) struct Sounds {
    coder: DoubleMetaphone,
    meant: Vec<&'static str>,
    // Their places, by each of their codes.
    by_code: ByWord<Vec<u16>>,
    known: ByWord<u16>,
    // Their places by the first letter and the length, for what is starred.
    by_shape: OnceLock<HashMap<(u8, usize), Vec<u16>, Quick>>,
}

impl Sounds {
    /// Reads the list of words.
    pub(super) fn new() -> Self {
        let mut sounds = Self {
            coder: DoubleMetaphone::new(Some(CODE)),
            meant: Vec::new(),
            by_code: ByWord::default(),
            known: ByWord::default(),
            by_shape: OnceLock::new(),
        };
        for (row, place) in MEANT.lines().zip(0..) {
            let mut columns = row.split('\t');
            let word = columns.next().unwrap_or_default();
            sounds.meant.push(word);
            sounds.known.insert(word, place);
            for code in columns.filter(|code| !code.is_empty()) {
                sounds.by_code.get_or_insert_with(code, Vec::new).push(place);
            }
        }
        sounds
    }

    /// Whether a word is one that matters here.
    pub(super) fn matters(&self, word: &str) -> bool {
        self.known.contains(word)
    }

    /// Whether a word is spelt rightly.
    pub(super) fn is_right(&self, word: &str) -> bool {
        self.matters(word) || listed(word).is_some()
    }

    /// The most used word of the same length that a starred one fits, as `fits` says of the two. Its first letter is never starred.
    pub(super) fn starred(&self, word: &str, fits: impl Fn(&str) -> bool) -> Option<&'static str> {
        let by_shape = self.by_shape.get_or_init(|| {
            let mut by_shape: HashMap<_, Vec<_>, Quick> = HashMap::default();
            for (word, place) in self.meant.iter().zip(0..) {
                by_shape
                    .entry((word.as_bytes()[0], word.len()))
                    .or_default()
                    .push(place);
            }
            by_shape
        });
        let places = by_shape.get(&(*word.as_bytes().first()?, word.len()))?;
        places
            .iter()
            .map(|place| self.meant[usize::from(*place)])
            .find(|meant| fits(meant))
    }

    /// The word that a misspelt one stands for: the nearest in writing of those that sound like it or have two letters the other way round,
    /// where the more used is taken for nearer. `None` for words that are spelt rightly, and for what sounds like nothing.
    pub(super) fn meant(&self, word: &str) -> Option<&'static str> {
        if !LETTERS.contains(&word.len())
            || !word.bytes().all(|b| b.is_ascii_lowercase())
            || self.is_right(word)
        {
            return None;
        }
        // "savin" leaves out a letter that is not heard.
        if word.ends_with("in") {
            let whole = format!("{word}g");
            if let Some(found) = listed(&whole).or_else(|| self.nearest(&whole)) {
                return Some(found);
            }
        }
        self.nearest(word)
    }

    /// The place of the most used word that has two letters of another the other way round.
    fn swapped(&self, word: &str) -> Option<u16> {
        let mut letters = word.as_bytes().to_vec();
        let mut most_used: Option<u16> = None;
        for at in 1..letters.len() {
            letters.swap(at - 1, at);
            let place = str::from_utf8(&letters)
                .ok()
                .and_then(|word| self.known.get(word));
            most_used = most_used.into_iter().chain(place.copied()).min();
            letters.swap(at - 1, at);
        }
        most_used
    }

    /// The nearest in writing of the words that sound like another, or have two letters of it the other way round.
    fn nearest(&self, word: &str) -> Option<&'static str> {
        let furthest = match word.len() {
            ..5 => 1,
            5..7 => 2,
            _ => 3,
        };
        let codes = self.coder.double_metaphone(word);
        let (first, second) = (codes.primary(), codes.alternate());
        let places = |code: &str| self.by_code.get(code).into_iter().flatten();
        places(&first)
            .chain(places(&second).filter(|_| first != second))
            .copied()
            .chain(self.swapped(word))
            .filter_map(|place| {
                let meant = self.meant[usize::from(place)];
                let steps = osa_distance(word, meant);
                (steps <= furthest).then(|| (distance(word, meant, steps, place), meant))
            })
            .min_by(|one, other| one.0.total_cmp(&other.0))
            .map(|(_, meant)| meant)
    }
}

/// How far a word is from the one that it may stand for, in steps of writing: half a step more for each ten times that others are more used,
/// and a little more where even the first letter is another.
fn distance(word: &str, meant: &str, steps: usize, place: u16) -> f32 {
    let steps = u16::try_from(steps).map_or(f32::MAX, f32::from);
    let first = if word.as_bytes()[0] == meant.as_bytes()[0] {
        0.0
    } else {
        0.3
    };
    steps + first + 0.5 * f32::from(place + 1).log10()
}

/// A word as it stands in the sorted list.
fn listed(word: &str) -> Option<&'static str> {
    let mut within = RIGHT;
    while !within.is_empty() {
        // The line around the middle.
        let half = within.len() / 2;
        let start = within[..half].rfind('\n').map_or(0, |end| end + 1);
        let end = within[start..].find('\n').map_or(within.len(), |at| start + at);
        let found = &within[start..end];
        match word.cmp(found) {
            Ordering::Equal => return Some(found),
            Ordering::Less => within = &within[..start],
            Ordering::Greater => within = within.get(end + 1..).unwrap_or_default(),
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_of_the_list_is_found_and_nothing_else() {
        for word in RIGHT.lines() {
            assert_eq!(listed(word), Some(word));
            let longer = format!("{word}zq");
            assert_eq!(listed(&longer), None, "{longer}");
        }
        for other in ["A", "7", "a7", "zzz", "aa"] {
            assert_eq!(listed(other), None, "{other}");
        }
    }
}
