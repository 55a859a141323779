//! Reads sentences together, for what one says of the other: a question that is answered with no, an act that is named
//! after it was denied, a death that is mourned in the next breath.
//!
//! Its patterns are looked for in the whole text, with a word for the end of each sentence. What matches is a form of
//! context, or a finding that only both sentences together make.

use std::cell::Cell;
use std::cell::RefCell;
use std::iter;
use std::ops::Range;

use crate::safety::book::Book;
use crate::safety::clauses;
use crate::safety::context::Match;
use crate::safety::glossary::Glossary;
use crate::safety::groups::Effect;
use crate::safety::own;
use crate::safety::parts::QUESTION_END;
use crate::safety::parts::SENTENCE_END;
use crate::safety::people::People;
use crate::safety::plain::Plain;
use crate::safety::plain::Sentence;
use crate::safety::sight::Sight;

/// How far a form can reach back before its stretch, in bytes; no stretch is longer.
const REACH: usize = 1_300;

/// How many sentences away from a word that some pattern demands the rest of it can stand: none names more than three.
const AWAY: usize = 2;

/// How many sentences are read for their forms at once, beside those around them.
const BLOCK: usize = 32;

/// How long the word for the end of a sentence is, with the space before it.
const MARK: usize = 2;

/// Neighbouring sentences with a word at the end of each, and one before the first.
struct Joined {
    text: String,
    // Where the space before each word is, and which word of the text it is; none for the end of a sentence.
    words: Vec<(usize, Option<usize>)>,
    // Where the space before each end of a sentence is.
    ends: Vec<usize>,
    // Where the first sentence begins in the plain text.
    start: usize,
}

impl Joined {
    fn new(original: &str, plain: &Plain, sentences: &[Sentence]) -> Self {
        let mut joined = Self {
            text: String::new(),
            words: Vec::new(),
            ends: Vec::new(),
            start: sentences.first().map_or(0, |first| first.place.start),
        };
        joined.end(SENTENCE_END);
        for Sentence { place, words } in sentences {
            let before = joined.text.len();
            let at = |word: usize| before + plain.tokens[word].at - 1 - place.start;
            joined
                .words
                .extend(words.clone().map(|word| (at(word), Some(word))));
            joined.text.push_str(&plain.text[place.clone()]);
            joined.end(end(original, plain, words));
        }
        joined
    }

    fn end(&mut self, word: &str) {
        self.words.push((self.text.len(), None));
        self.ends.push(self.text.len());
        self.text.push(' ');
        self.text.push_str(word);
    }

    /// The words of a stretch that begins before a word, with their numbers in the book for answers.
    fn numbers<'n>(
        &'n self,
        stretch: &Range<usize>,
        glossary: &'n Glossary,
        ends: &'n Ends,
    ) -> impl Iterator<Item = &'n [u32]> {
        let first = self.words.partition_point(|(at, _)| *at < stretch.start);
        let end = self.words.partition_point(|(at, _)| *at < stretch.end);
        self.words[first..end].iter().map(move |(at, word)| match word {
            Some(word) => glossary.in_answers(*word),
            None => ends.of(&self.text[at + 1..]),
        })
    }

    /// Where a place is in the plain text, which has one letter for each of these words and none before the first.
    fn place(&self, at: usize) -> usize {
        let ends = self.ends.partition_point(|end| *end < at);
        self.start + at.saturating_sub(ends + 1)
    }
}

/// The word for the end of a sentence, by what stands behind it in the original.
fn end(original: &str, plain: &Plain, words: &Range<usize>) -> &'static str {
    let after = plain
        .tokens
        .get(words.end)
        .map_or(original.len(), |token| token.start);
    let between = plain.tokens[words.end - 1].end..after;
    let asked = original.get(between).is_some_and(|between| between.contains('?'));
    if asked { QUESTION_END } else { SENTENCE_END }
}

/// The numbers, in the book for answers, of the words that end sentences.
struct Ends {
    of_any: Vec<u32>,
    of_question: Vec<u32>,
}

impl Ends {
    fn new(book: &Book) -> Self {
        let numbers = |word: &str| {
            let mut numbers = Vec::new();
            book.patterns
                .parts
                .lexicon
                .each(word, |number| numbers.push(number));
            numbers
        };
        Self {
            of_any: numbers(SENTENCE_END),
            of_question: numbers(QUESTION_END),
        }
    }

    /// The numbers of the one that a text begins with.
    fn of(&self, text: &str) -> &[u32] {
        if text.starts_with(QUESTION_END) {
            &self.of_question
        } else {
            &self.of_any
        }
    }
}

/// What the sentences of a text say of each other. Most texts hold nothing that it could matter for, and then the forms
/// are not looked for.
pub(super) struct Answers<'a> {
    book: &'a Book,
    // Groups are counted from here on.
    first: usize,
    people: &'a People,
    original: &'a str,
    plain: &'a Plain,
    glossary: &'a Glossary,
    // The forms that were looked for last, with the sentences that they are of.
    last: RefCell<(Range<usize>, Vec<Match>)>,
    work: Cell<usize>,
}

impl<'a> Answers<'a> {
    pub(super) fn new(
        book: &'a Book,
        first: usize,
        people: &'a People,
        original: &'a str,
        plain: &'a Plain,
        glossary: &'a Glossary,
    ) -> Self {
        Self {
            book,
            first,
            people,
            original,
            plain,
            glossary,
            last: RefCell::default(),
            work: Cell::new(0),
        }
    }

    /// What only sentences together make: findings, in their order.
    pub(super) fn found(&self) -> Vec<Match> {
        let mut found = self.matches(0..self.plain.sentences.len(), |words| self.glossary.finds(words));
        found.retain(|one| one.effect == Effect::Find);
        found
    }

    /// The forms that can touch a stretch of a sentence, or of a few, and those that can touch these, in their order.
    pub(super) fn within(&self, stretch: &Range<usize>) -> Vec<Match> {
        let sentences = &self.plain.sentences;
        let at = sentences.partition_point(|sentence| sentence.place.end <= stretch.start);
        // Some sentences that are weighed together may stand in two blocks.
        let to = sentences
            .partition_point(|sentence| sentence.place.start < stretch.end)
            .div_ceil(BLOCK)
            * BLOCK;
        let from = at / BLOCK * BLOCK;
        let near = from.saturating_sub(2 * AWAY)..(to + 2 * AWAY).min(sentences.len());
        let mut last = self.last.borrow_mut();
        if last.0 != near {
            let mut forms = self.matches(near.clone(), |words| self.glossary.forms(words));
            forms.retain(|one| one.effect.is_form());
            *last = (near, forms);
        }
        let forms = &last.1;
        let first = forms.partition_point(|form| form.range.start + 2 * REACH < stretch.start);
        let end = forms.partition_point(|form| form.range.start < stretch.end + REACH);
        forms[first..end].to_vec()
    }

    /// The bytes in which patterns were looked for so far, pattern by pattern.
    pub(super) fn work(&self) -> usize {
        self.work.get()
    }

    fn matches(&self, sentences: Range<usize>, wants: impl Fn(Range<usize>) -> bool) -> Vec<Match> {
        let sentences = &self.plain.sentences[sentences];
        let mut out = Vec::new();
        let mut room = None;
        let mut wanted = Vec::new();
        for some in worth_reading(sentences, wants) {
            let some = &sentences[some];
            let (sight, ends) =
                room.get_or_insert_with(|| (Sight::new(&self.book.patterns), Ends::new(self.book)));
            // Most often nothing is wanted in any of it, which is known without joining it.
            let length: usize = some.iter().map(|one| one.place.len() + MARK).sum();
            if clauses::is_short(MARK + length) {
                sight.wanted_of(self.numbers(some, ends), false, &mut wanted);
                if !wanted.is_empty() {
                    let joined = Joined::new(self.original, self.plain, some);
                    self.each_match(&wanted, &joined, &(0..joined.text.len()), &mut out);
                }
                continue;
            }
            let joined = Joined::new(self.original, self.plain, some);
            for stretch in clauses::stretches(&joined.text, &(0..joined.text.len())) {
                let text = &joined.text[stretch.clone()];
                if text.starts_with(' ') {
                    let words = joined.numbers(&stretch, self.glossary, ends);
                    sight.wanted_of(words, false, &mut wanted);
                } else {
                    sight.wanted(text, false, &mut wanted);
                }
                self.each_match(&wanted, &joined, &stretch, &mut out);
            }
        }
        out.sort_by_key(|form: &Match| form.range.start);
        out
    }

    /// The words of some sentences and of their ends, with their numbers in the book.
    fn numbers<'n>(&'n self, sentences: &'n [Sentence], ends: &'n Ends) -> impl Iterator<Item = &'n [u32]> {
        let first = iter::once(ends.of(SENTENCE_END));
        first.chain(sentences.iter().flat_map(move |Sentence { words, .. }| {
            let end = ends.of(end(self.original, self.plain, words));
            words
                .clone()
                .map(|word| self.glossary.in_answers(word))
                .chain(iter::once(end))
        }))
    }

    /// Adds the matches of some patterns in a stretch.
    fn each_match(&self, wanted: &[u32], joined: &Joined, stretch: &Range<usize>, out: &mut Vec<Match>) {
        self.work.set(self.work.get() + stretch.len() * wanted.len());
        for id in wanted {
            self.matches_of(*id, joined, stretch, out);
        }
    }

    fn matches_of(&self, id: u32, joined: &Joined, stretch: &Range<usize>, out: &mut Vec<Match>) {
        let pattern = &self.book.patterns.rows[id as usize];
        let group = &self.book.patterns.groups[pattern.group];
        let Some(regex) = self.book.regex(id) else {
            return;
        };
        let text = &joined.text[stretch.clone()];
        let mut from = 0;
        while let Some(found) = regex.find_at(text, from) {
            let words = without_ends(&found);
            // The end of one sentence is the beginning of the next.
            from = words.end;
            out.push(Match {
                group: self.first + pattern.group,
                effect: group.effect,
                topic: group.topic,
                level: group.level,
                doubtful: false,
                told: group.told,
                own: own::own(self.people, text, &words, group.topic),
                range: joined.place(stretch.start + words.start)..joined.place(stretch.start + words.end),
            });
        }
    }
}

/// The runs of sentences, by their places, in which some pattern can match: near a word that it cannot do without.
fn worth_reading(sentences: &[Sentence], wants: impl Fn(Range<usize>) -> bool) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    for (at, sentence) in sentences.iter().enumerate() {
        if wants(sentence.words.clone()) {
            let (start, end) = (at.saturating_sub(AWAY), (at + AWAY + 1).min(sentences.len()));
            match runs.last_mut() {
                Some(last) if last.end >= start => last.end = end,
                _ => runs.push(start..end),
            }
        }
    }
    runs
}

/// Where a match is without the ends of sentences around it.
fn without_ends(found: &regex::Match) -> Range<usize> {
    let (mut start, mut end) = (found.start(), found.end());
    let is_end = |letter: char| letter.is_ascii_uppercase();
    if found.as_str().trim_start().starts_with(is_end) {
        start += MARK;
    }
    if found.as_str().ends_with(is_end) {
        end -= MARK;
    }
    start..end
}
