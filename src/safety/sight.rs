//! Says which patterns can match in a stretch of words, before a regular expression is built or run for any of them.
//!
//! Building a regular expression takes a thousand times as long as trying it on a sentence, and a sentence with one
//! telling word in it is wanted by dozens of patterns of which none or few match. So a pattern is passed over where a
//! word that it demands is missing, which is known from the words that are there; and what is left is walked over
//! the words of the stretch with sets of places: all at once, in time that grows with the length of both. The regular
//! expression has the last word; tests hold that this one never denies what the expression finds.

use crate::safety::clauses::MOST_WORDS;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;
use crate::safety::patterns::Book;
use crate::safety::places::Memo;
use crate::safety::places::Places;

/// Looks at stretches, one after another. It is made once for a text, since the room that it works in is the same for
/// every stretch.
#[derive(Debug)]
pub(super) struct Sight<'a> {
    book: &'a Book,
    short: View<1>,
    // Made when a stretch of more words comes, which is seldom.
    long: Option<View<{ MOST_WORDS / 64 + 1 }>>,
}

impl<'a> Sight<'a> {
    /// Looks with the patterns of a book.
    pub(super) fn new(book: &'a Book) -> Self {
        Self {
            book,
            short: View::new(&book.parts),
            long: None,
        }
    }

    /// The patterns that can match in a stretch of at most [`MOST_WORDS`] words, in their order.
    pub(super) fn wanted(&mut self, stretch: &str, spoken: bool, out: &mut Vec<u32>) {
        // Every word has a space before it.
        if stretch.bytes().filter(|b| *b == b' ').count() < 64 {
            self.short.wanted(stretch, self.book, spoken, out);
        } else {
            self.long
                .get_or_insert_with(|| View::new(&self.book.parts))
                .wanted(stretch, self.book, spoken, out);
        }
    }
}

/// A stretch whose places fit into some number of blocks of 64.
#[derive(Debug)]
struct View<const BLOCKS: usize> {
    // One bit for every word of the lexicon, so that the many that are absent are passed over at once.
    named: Vec<u64>,
    // The words that are there, with their places.
    there: Vec<(u32, Places<BLOCKS>)>,
    all: Places<BLOCKS>,
    first: Places<BLOCKS>,
    last: Places<BLOCKS>,
    // Where a word of a list stands, and where a class can end that begins anywhere: what many patterns name is looked
    // for once.
    lists: Memo<BLOCKS>,
    classes: Memo<BLOCKS>,
}

impl<const BLOCKS: usize> View<BLOCKS> {
    fn new(parts: &Parts) -> Self {
        Self {
            named: vec![0; parts.lexicon.len() / 64 + 1],
            there: Vec::new(),
            all: Places::NONE,
            first: Places::NONE,
            last: Places::NONE,
            lists: Memo::new(parts.lists()),
            classes: Memo::new(parts.classes as usize),
        }
    }

    fn wanted(&mut self, stretch: &str, book: &Book, spoken: bool, out: &mut Vec<u32>) {
        out.clear();
        self.look(stretch, &book.parts);
        for at in 0..self.there.len() {
            for id in book.wanting(self.there[at].0) {
                let pattern = &book.patterns[*id as usize];
                if (spoken || !pattern.spoken) && self.meets(book.demands(pattern), &book.parts) {
                    out.push(*id);
                }
            }
        }
        out.sort_unstable();
        out.dedup();
        out.retain(|id| self.allows(book.patterns[*id as usize].row, &book.parts));
    }

    /// Takes up the words of a stretch.
    fn look(&mut self, stretch: &str, parts: &Parts) {
        for (number, _) in self.there.drain(..) {
            self.named[number as usize / 64] = 0;
        }
        self.lists.clear();
        self.classes.clear();
        self.all = Places::NONE;
        self.last = Places::NONE;
        let mut words = 0;
        for (place, word) in stretch.split_ascii_whitespace().enumerate() {
            parts.lexicon.each(word, |number| self.mark(number, place));
            self.all.add(place);
            words = place + 1;
        }
        self.all.add(words);
        self.first.add(0);
        self.last.add(words);
    }

    fn mark(&mut self, number: u32, place: usize) {
        if !self.names(number) {
            self.named[number as usize / 64] |= 1 << (number % 64);
            self.there.push((number, Places::NONE));
        }
        if let Some((_, places)) = self.there.iter_mut().rev().find(|(other, _)| *other == number) {
            places.add(place);
        }
    }

    /// Whether of each list at least one word is there.
    fn meets(&mut self, demands: &[u32], parts: &Parts) -> bool {
        demands.iter().all(|list| !self.list(*list, parts).is_empty())
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

    fn after_rows(&mut self, rows: &[Span], from: Places<BLOCKS>, parts: &Parts) -> Places<BLOCKS> {
        rows.iter()
            .fold(Places::NONE, |at, row| at.or(self.after_row(*row, from, parts)))
    }

    /// The places where a part can end that begins at one of some places.
    fn after(&mut self, part: Part, from: Places<BLOCKS>, parts: &Parts) -> Places<BLOCKS> {
        match part {
            Part::Words(list) => self.list(list, parts).and(from).next(),
            Part::Choice(choice) => {
                let rows = parts.rows(choice);
                let Some(class) = choice.class else {
                    return self.after_rows(rows, from, parts);
                };
                let any = match self.classes.get(class) {
                    Some(known) => known,
                    None => {
                        let any = self.after_rows(rows, self.all, parts);
                        self.classes.set(class, any);
                        any
                    }
                };
                if any.is_empty() || from == self.all {
                    any
                } else {
                    self.after_rows(rows, from, parts)
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
        let words = parts.list(list).iter().filter(|word| self.names(**word));
        let places = words.fold(Places::NONE, |at, word| at.or(self.places(*word)));
        self.lists.set(list, places);
        places
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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;
    use crate::safety::screen::Screen;

    /// Whether the patterns that are wanted are those that the walk allows, had it gone over each of them.
    fn agrees<const BLOCKS: usize>(view: &mut View<BLOCKS>, stretch: &str) -> bool {
        let book = &Screen::shipped().unwrap().book;
        let mut wanted = Vec::new();
        view.wanted(stretch, book, true, &mut wanted);
        let row = |id: &u32| book.patterns[*id as usize].row;
        let ids = 0..u32::try_from(book.patterns.len()).unwrap();
        let allowed: Vec<u32> = ids.filter(|id| view.allows(row(id), &book.parts)).collect();
        wanted == allowed
    }

    fn words() -> Vec<&'static str> {
        let groups = &Screen::shipped().unwrap().book.groups;
        let examples = groups
            .iter()
            .flat_map(|group| group.finds.iter().chain(&group.ignore));
        examples.flat_map(|text| text.split(' ')).collect()
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
            let parts = &Screen::shipped().unwrap().book.parts;
            prop_assert!(agrees(&mut View::<1>::new(parts), &stretch), "{stretch}");
            prop_assert!(agrees(&mut View::<10>::new(parts), &stretch), "{stretch}");
        }
    }
}
