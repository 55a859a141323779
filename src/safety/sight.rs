//! Says which patterns can match in a stretch of words, before a regular expression is built or run for any of them.
//!
//! Building a regular expression takes a thousand times as long as trying it on a sentence, and a sentence with one
//! telling word in it is wanted by dozens of patterns of which none or few match. So a pattern is first walked over
//! the words of the stretch with sets of places: all at once, in time that grows with the length of both. The regular
//! expression has the last word; a test holds that this one never denies what the expression finds.

use std::cell::Cell;
use std::collections::HashMap;

use crate::safety::clauses::MOST_WORDS;
use crate::safety::notation::Part;

/// Every word and stem that a pattern names, with a number each.
#[derive(Debug, Default)]
pub(super) struct Lexicon {
    words: HashMap<String, u32>,
    // By their first letter, so that a word is held only against the few stems it may begin with.
    stems: HashMap<u8, Vec<(String, u32)>>,
    count: u32,
    /// How many classes there are.
    pub classes: usize,
}

impl Lexicon {
    /// The number of a word as a pattern writes it: a stem ends with `*`.
    pub(super) fn number(&mut self, written: &str) -> u32 {
        let known = match written.strip_suffix('*') {
            Some(stem) => self
                .stems(stem)
                .iter()
                .find(|(other, _)| other == stem)
                .map(|(_, number)| *number),
            None => self.words.get(written).copied(),
        };
        known.unwrap_or_else(|| self.add(written))
    }

    fn add(&mut self, written: &str) -> u32 {
        let number = self.count;
        self.count += 1;
        match written.strip_suffix('*') {
            Some(stem) => {
                let first = stem.bytes().next().unwrap_or_default();
                self.stems
                    .entry(first)
                    .or_default()
                    .push((stem.to_owned(), number));
            }
            None => {
                self.words.insert(written.to_owned(), number);
            }
        }
        number
    }

    /// The stems that begin with the same letter as a word.
    fn stems(&self, word: &str) -> &[(String, u32)] {
        word.bytes()
            .next()
            .and_then(|first| self.stems.get(&first))
            .map_or(&[], Vec::as_slice)
    }
}

/// The words of one stretch, ready for patterns to be walked over.
#[derive(Debug)]
pub(super) enum Sight {
    /// A stretch whose places fit into one block: nearly every sentence.
    Short(View<1>),
    /// A stretch of any length that is looked at in one piece.
    Long(Box<View<{ MOST_WORDS / 64 + 1 }>>),
}

impl Sight {
    /// Looks at a stretch of at most [`MOST_WORDS`] words.
    pub(super) fn new(stretch: &str, lexicon: &Lexicon) -> Self {
        if stretch.split_ascii_whitespace().count() < 64 {
            Self::Short(View::new(stretch, lexicon))
        } else {
            Self::Long(Box::new(View::new(stretch, lexicon)))
        }
    }

    /// Whether a pattern can match somewhere in the stretch.
    pub(super) fn allows(&self, pattern: &[Part]) -> bool {
        match self {
            Self::Short(view) => view.allows(pattern),
            Self::Long(view) => view.allows(pattern),
        }
    }
}

/// A set of places among the words of a stretch: before the first word is 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Places<const BLOCKS: usize>([u64; BLOCKS]);

impl<const BLOCKS: usize> Places<BLOCKS> {
    const NONE: Self = Self([0; BLOCKS]);

    fn add(&mut self, place: usize) {
        self.0[place / 64] |= 1 << (place % 64);
    }

    fn is_empty(self) -> bool {
        self.0.iter().fold(0, |all, block| all | block) == 0
    }

    fn and(mut self, other: Self) -> Self {
        for (block, with) in self.0.iter_mut().zip(other.0) {
            *block &= with;
        }
        self
    }

    fn or(mut self, other: Self) -> Self {
        for (block, with) in self.0.iter_mut().zip(other.0) {
            *block |= with;
        }
        self
    }

    /// The same places, each one word further.
    fn next(mut self) -> Self {
        let mut carried = 0;
        for block in &mut self.0 {
            let over = *block >> 63;
            *block = *block << 1 | carried;
            carried = over;
        }
        self
    }
}

/// A stretch whose places fit into some number of blocks of 64.
#[derive(Debug)]
pub(super) struct View<const BLOCKS: usize> {
    // One bit for every word of the lexicon, so that the many that are absent are passed over at once.
    named: Vec<u64>,
    // The words that are there, with their places.
    there: Vec<(u32, Places<BLOCKS>)>,
    all: Places<BLOCKS>,
    first: Places<BLOCKS>,
    last: Places<BLOCKS>,
    // Where a class can end that begins anywhere, once it has been asked for.
    classes: Vec<Cell<Option<Places<BLOCKS>>>>,
}

impl<const BLOCKS: usize> View<BLOCKS> {
    fn new(stretch: &str, lexicon: &Lexicon) -> Self {
        let mut view = Self {
            named: vec![0; lexicon.count as usize / 64 + 1],
            there: Vec::new(),
            all: Places::NONE,
            first: Places::NONE,
            last: Places::NONE,
            classes: vec![Cell::new(None); lexicon.classes],
        };
        view.all.add(0);
        view.first.add(0);
        let mut words = 0;
        for (place, word) in stretch.split_ascii_whitespace().enumerate() {
            if let Some(number) = lexicon.words.get(word) {
                view.mark(*number, place);
            }
            for (stem, number) in lexicon.stems(word) {
                if word.starts_with(stem.as_str()) {
                    view.mark(*number, place);
                }
            }
            view.all.add(place + 1);
            words = place + 1;
        }
        view.last.add(words);
        view
    }

    fn mark(&mut self, number: u32, place: usize) {
        self.named[number as usize / 64] |= 1 << (number % 64);
        let known = self.there.iter().position(|(other, _)| *other == number);
        let index = known.unwrap_or_else(|| {
            self.there.push((number, Places::NONE));
            self.there.len() - 1
        });
        self.there[index].1.add(place);
    }

    fn allows(&self, pattern: &[Part]) -> bool {
        !self.after_row(pattern, self.all).is_empty()
    }

    fn after_row(&self, row: &[Part], from: Places<BLOCKS>) -> Places<BLOCKS> {
        let mut at = from;
        for part in row {
            at = self.after(part, at);
            if at.is_empty() {
                break;
            }
        }
        at
    }

    fn after_rows(&self, rows: &[Vec<Part>], from: Places<BLOCKS>) -> Places<BLOCKS> {
        let mut at = Places::NONE;
        for row in rows {
            at = at.or(self.after_row(row, from));
        }
        at
    }

    /// The places where a part can end that begins at one of some places.
    fn after(&self, part: &Part, from: Places<BLOCKS>) -> Places<BLOCKS> {
        match part {
            Part::Words(words) => {
                let mut at = Places::NONE;
                for word in words.iter().filter(|word| self.names(word.number)) {
                    at = at.or(self.places(word.number));
                }
                at.and(from).next()
            }
            Part::Choice(choice) => match choice.class.and_then(|class| self.classes.get(class)) {
                Some(seen) => {
                    // What many patterns name and the stretch does not hold is found out once.
                    let any = seen
                        .get()
                        .unwrap_or_else(|| self.after_rows(&choice.rows, self.all));
                    seen.set(Some(any));
                    if any.is_empty() || from == self.all {
                        any
                    } else {
                        self.after_rows(&choice.rows, from)
                    }
                }
                None => self.after_rows(&choice.rows, from),
            },
            Part::Gap(most) => {
                let (mut out, mut at) = (from, from);
                for _ in 0..*most {
                    at = at.next().and(self.all);
                    out = out.or(at);
                }
                out
            }
            Part::Start => from.and(self.first),
            Part::End => from.and(self.last),
            Part::Maybe(inner) => from.or(self.after(inner, from)),
        }
    }

    fn names(&self, number: u32) -> bool {
        self.named[number as usize / 64] >> (number % 64) & 1 == 1
    }

    fn places(&self, number: u32) -> Places<BLOCKS> {
        self.there
            .iter()
            .find(|(other, _)| *other == number)
            .map_or(Places::NONE, |(_, places)| *places)
    }
}
