//! Says which patterns can match in a stretch of words, before a regular expression is built or run for any of them.
//!
//! Building a regular expression takes a thousand times as long as trying it on a sentence, and a sentence with one
//! telling word in it is wanted by dozens of patterns of which none or few match. So a pattern is passed over where a
//! word that it demands is missing, which is known from the words that are there; and what is left is walked over
//! the words of the stretch with sets of places: all at once, in time that grows with the length of both. The regular
//! expression has the last word; tests hold that this one never denies what the expression finds.

use crate::safety::bits::Bits;
use crate::safety::clauses::MOST_WORDS;
use crate::safety::parts::Choice;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;
use crate::safety::patterns::Patterns;
use crate::safety::places::Memo;
use crate::safety::places::Places;

/// Looks at stretches, one after another. It is made once for a text, since the room that it works in is the same for
/// every stretch.
#[derive(Debug)]
pub(super) struct Sight<'a> {
    patterns: &'a Patterns,
    stretch: Stretch,
    short: View<1>,
    // Made when a stretch of more words comes, which is seldom.
    long: Option<View<{ MOST_WORDS / 64 + 1 }>>,
}

impl<'a> Sight<'a> {
    /// Looks with the patterns of a book.
    pub(super) fn new(patterns: &'a Patterns) -> Self {
        Self {
            patterns,
            stretch: Stretch::default(),
            short: View::new(patterns),
            long: None,
        }
    }

    /// The patterns that can match in a stretch of at most [`MOST_WORDS`] words, in their order.
    pub(super) fn wanted(&mut self, stretch: &str, spoken: bool, out: &mut Vec<u32>) {
        self.stretch.clear();
        for word in stretch.split_ascii_whitespace() {
            let numbers = &mut self.stretch.numbers;
            self.patterns
                .parts
                .lexicon
                .each(word, |number| numbers.push(number));
            self.stretch.end_word();
        }
        self.look(spoken, out);
    }

    /// The same where it is known already which words and stems of the book each word is one of.
    pub(super) fn wanted_of<'n>(
        &mut self,
        words: impl Iterator<Item = &'n [u32]>,
        spoken: bool,
        out: &mut Vec<u32>,
    ) {
        self.stretch.clear();
        for numbers in words {
            self.stretch.numbers.extend_from_slice(numbers);
            self.stretch.end_word();
        }
        self.look(spoken, out);
    }

    fn look(&mut self, spoken: bool, out: &mut Vec<u32>) {
        if self.stretch.ends.len() < 64 {
            self.short.wanted(&self.stretch, self.patterns, spoken, out);
        } else {
            self.long.get_or_insert_with(|| View::new(self.patterns)).wanted(
                &self.stretch,
                self.patterns,
                spoken,
                out,
            );
        }
    }
}

/// The words of a stretch, each as the words and stems of the book that it is one of.
#[derive(Debug, Default)]
struct Stretch {
    numbers: Vec<u32>,
    // Where the numbers of each word end.
    ends: Vec<usize>,
}

impl Stretch {
    fn clear(&mut self) {
        self.numbers.clear();
        self.ends.clear();
    }

    fn end_word(&mut self) {
        self.ends.push(self.numbers.len());
    }

    fn words(&self) -> impl Iterator<Item = &[u32]> {
        let mut start = 0;
        self.ends.iter().map(move |end| {
            let word = &self.numbers[start..*end];
            start = *end;
            word
        })
    }
}

/// A stretch whose places fit into some number of blocks of 64.
#[derive(Debug)]
struct View<const BLOCKS: usize> {
    // Every word of the lexicon that is there, so that the many that are absent are passed over at once.
    named: Bits,
    // The words that are there, with their places; and for every word its place among these, counted from 1.
    there: Vec<(u32, Places<BLOCKS>)>,
    places: Vec<u32>,
    // The rows of choices that a word is there for, so that of long choices only these are tried.
    open: Bits,
    all: Places<BLOCKS>,
    first: Places<BLOCKS>,
    last: Places<BLOCKS>,
    // Where a word of a list stands, and where a class can end that begins anywhere: what many patterns name is looked
    // for once.
    lists: Memo<BLOCKS>,
    classes: Memo<BLOCKS>,
}

impl<const BLOCKS: usize> View<BLOCKS> {
    fn new(patterns: &Patterns) -> Self {
        let parts = &patterns.parts;
        Self {
            named: Bits::new(parts.lexicon.len()),
            there: Vec::new(),
            places: vec![0; parts.lexicon.len()],
            open: Bits::new(parts.all_rows().len()),
            all: Places::NONE,
            first: Places::NONE,
            last: Places::NONE,
            lists: Memo::new(parts.lists()),
            classes: Memo::new(parts.classes as usize),
        }
    }

    fn wanted(&mut self, stretch: &Stretch, patterns: &Patterns, spoken: bool, out: &mut Vec<u32>) {
        out.clear();
        self.look(stretch, patterns);
        for at in 0..self.there.len() {
            for id in patterns.wanting.patterns(self.there[at].0) {
                let pattern = &patterns.rows[*id as usize];
                if (spoken || !pattern.spoken) && self.meets(patterns.demands(pattern), &patterns.parts) {
                    out.push(*id);
                }
            }
        }
        out.sort_unstable();
        out.dedup();
        out.retain(|id| self.allows(patterns.rows[*id as usize].row, &patterns.parts));
    }

    /// Takes up the words of a stretch.
    fn look(&mut self, stretch: &Stretch, patterns: &Patterns) {
        for (number, _) in self.there.drain(..) {
            self.named.unset(number);
            self.places[number as usize] = 0;
        }
        self.lists.clear();
        self.classes.clear();
        self.all = Places::NONE;
        self.last = Places::NONE;
        let words = stretch.ends.len();
        for (place, numbers) in stretch.words().enumerate() {
            for number in numbers {
                self.mark(*number, place);
            }
            self.all.add(place);
        }
        self.all.add(words);
        self.first.add(0);
        self.last.add(words);
        self.open.copy(&patterns.wanting.everywhere);
        for (number, _) in &self.there {
            self.open.set_all(patterns.wanting.rows(*number));
        }
    }

    fn mark(&mut self, number: u32, place: usize) {
        let at = &mut self.places[number as usize];
        if *at == 0 {
            self.named.set(number);
            self.there.push((number, Places::NONE));
            // A stretch has far fewer words than this can count.
            *at = u32::try_from(self.there.len()).unwrap_or(1);
        }
        self.there[*at as usize - 1].1.add(place);
    }

    /// Whether of each list a word is there, and of each choice a row that a word is there for.
    fn meets(&mut self, demands: &[Part], parts: &Parts) -> bool {
        demands.iter().all(|part| match part {
            Part::Words(list) => !self.list(*list, parts).is_empty(),
            Part::Choice(choice) => self.open.first(choice.rows.range()).is_some(),
            Part::Gap(_) | Part::Maybe(_) | Part::Start | Part::End => true,
        })
    }

    /// Whether a pattern can match somewhere in the stretch.
    fn allows(&mut self, pattern: Span, parts: &Parts) -> bool {
        !self.after_row(pattern, self.all, parts).is_empty()
    }

    fn after_row(&mut self, row: Span, from: Places<BLOCKS>, parts: &Parts) -> Places<BLOCKS> {
        let mut at = from;
        for part in parts.row(row) {
            at = self.after(*part, at, parts);
            if at.is_empty() {
                break;
            }
        }
        at
    }

    fn after_rows(&mut self, choice: Choice, from: Places<BLOCKS>, parts: &Parts) -> Places<BLOCKS> {
        let mut rows = choice.rows.range();
        let mut at = Places::NONE;
        while let Some(row) = self.open.first(rows.clone()) {
            at = at.or(self.after_row(parts.all_rows()[row], from, parts));
            rows.start = row + 1;
        }
        at
    }

    /// The places where a part can end that begins at one of some places.
    fn after(&mut self, part: Part, from: Places<BLOCKS>, parts: &Parts) -> Places<BLOCKS> {
        match part {
            Part::Words(list) => self.list(list, parts).and(from).next(),
            Part::Choice(choice) => {
                let Some(class) = choice.class else {
                    return self.after_rows(choice, from, parts);
                };
                let any = if let Some(known) = self.classes.get(class) {
                    known
                } else {
                    let any = self.after_rows(choice, self.all, parts);
                    self.classes.set(class, any);
                    any
                };
                if any.is_empty() || from == self.all {
                    any
                } else {
                    self.after_rows(choice, from, parts)
                }
            }
            Part::Gap(most) => {
                let (mut out, mut at) = (from, from);
                for _ in 0..most {
                    at = at.next().and(self.all);
                    out = out.or(at);
                }
                out
            }
            Part::Start => from.and(self.first),
            Part::End => from.and(self.last),
            Part::Maybe(inner) => from.or(self.after_row(inner, from, parts)),
        }
    }

    /// The places of the words of a list.
    fn list(&mut self, list: u32, parts: &Parts) -> Places<BLOCKS> {
        if let Some(known) = self.lists.get(list) {
            return known;
        }
        let words = parts.list(list).iter().filter(|word| self.named.has(**word));
        let places = words.fold(Places::NONE, |at, word| at.or(self.places(*word)));
        self.lists.set(list, places);
        places
    }

    fn places(&self, number: u32) -> Places<BLOCKS> {
        let at = self.places[number as usize].checked_sub(1);
        at.map_or(Places::NONE, |at| self.there[at as usize].1)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use std::sync::LazyLock;

    use proptest::prelude::*;

    use super::*;
    use crate::safety::screen::Screen;

    /// Whether the patterns that are wanted are those that the walk allows, had it gone over each of them.
    fn agrees<const BLOCKS: usize>(view: &mut View<BLOCKS>, words: &str) -> bool {
        let patterns = &Screen::shipped().unwrap().book.patterns;
        let mut stretch = Stretch::default();
        for word in words.split(' ') {
            patterns
                .parts
                .lexicon
                .each(word, |number| stretch.numbers.push(number));
            stretch.end_word();
        }
        let mut wanted = Vec::new();
        view.wanted(&stretch, patterns, true, &mut wanted);
        let row = |id: &u32| patterns.rows[*id as usize].row;
        // Now with every row of every choice.
        view.classes.clear();
        (0..u32::try_from(patterns.parts.all_rows().len()).unwrap()).for_each(|row| view.open.set(row));
        let ids = 0..u32::try_from(patterns.rows.len()).unwrap();
        let allowed: Vec<u32> = ids.filter(|id| view.allows(row(id), &patterns.parts)).collect();
        wanted == allowed
    }

    fn words() -> &'static [String] {
        static WORDS: LazyLock<Vec<String>> = LazyLock::new(|| {
            let examples = crate::safety::groups();
            let examples = examples
                .iter()
                .flat_map(|group| group.finds.iter().chain(&group.ignore));
            examples
                .flat_map(|text| text.split(' '))
                .map(str::to_owned)
                .collect()
        });
        &WORDS
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn no_pattern_that_can_match_is_passed_over(
            pieces in prop::collection::vec((0..words().len(), 1_usize..9), 1..7),
        ) {
            let words = words();
            let mut stretch = String::new();
            for (start, length) in pieces {
                for word in words[start..].iter().take(length) {
                    let word: String = word.chars().filter(char::is_ascii_alphanumeric).collect();
                    stretch.push(' ');
                    stretch.push_str(&word.to_lowercase());
                }
            }
            let patterns = &Screen::shipped().unwrap().book.patterns;
            prop_assert!(agrees(&mut View::<1>::new(patterns), &stretch), "{stretch}");
            prop_assert!(agrees(&mut View::<10>::new(patterns), &stretch), "{stretch}");
        }
    }
}
