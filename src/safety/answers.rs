//! Reads sentences together, for what one says of the other: a question that is answered with no, an act that is named
//! after it was denied, a death that is mourned in the next breath.
//!
//! Its patterns are looked for in the whole text, with a word for the end of each sentence. What matches is a form of
//! context, or a finding that only both sentences together make.

use std::cell::Cell;
use std::cell::OnceCell;
use std::ops::Range;

use crate::safety::clauses;
use crate::safety::context::Match;
use crate::safety::normalise::Plain;
use crate::safety::notation::QUESTION_END;
use crate::safety::notation::SENTENCE_END;
use crate::safety::patterns::Book;
use crate::safety::patterns::Effect;
use crate::safety::sight::Sight;

/// How far a form can reach back before its stretch, in bytes; no stretch is longer.
const REACH: usize = 1_300;

/// How many sentences away from a word that some pattern demands the rest of it can stand: none names more than three.
const AWAY: usize = 2;

/// How long the word for the end of a sentence is, with the space before it.
const MARK: usize = 2;

/// Neighbouring sentences with a word at the end of each, and one before the first.
struct Joined {
    text: String,
    // Where the space before each of these words is.
    ends: Vec<usize>,
    // Where the first sentence begins in the plain text.
    start: usize,
}

impl Joined {
    fn new(original: &str, plain: &Plain, sentences: &[Range<usize>]) -> Self {
        let mut joined = Self {
            text: String::new(),
            ends: Vec::new(),
            start: sentences.first().map_or(0, |first| first.start),
        };
        joined.end(SENTENCE_END);
        for sentence in sentences {
            joined.text.push_str(&plain.text[sentence.clone()]);
            let last = plain.token_at(sentence.end);
            let next = plain.tokens.get(last + 1);
            let between = plain.tokens[last].end..next.map_or(original.len(), |token| token.start);
            let asked = original.get(between).is_some_and(|between| between.contains('?'));
            joined.end(if asked { QUESTION_END } else { SENTENCE_END });
        }
        joined
    }

    fn end(&mut self, word: &str) {
        self.ends.push(self.text.len());
        self.text.push(' ');
        self.text.push_str(word);
    }

    /// Where a place is in the plain text, which has one letter for each of these words and none before the first.
    fn place(&self, at: usize) -> usize {
        let ends = self.ends.partition_point(|end| *end < at);
        self.start + at.saturating_sub(ends + 1)
    }
}

/// What the sentences of a text say of each other. Most texts hold nothing that it could matter for, and then the forms
/// are not looked for.
pub(super) struct Answers<'a> {
    book: &'a Book,
    // Groups are counted from here on.
    first: usize,
    original: &'a str,
    plain: &'a Plain,
    forms: OnceCell<Vec<Match>>,
    work: Cell<usize>,
}

impl<'a> Answers<'a> {
    pub(super) fn new(book: &'a Book, first: usize, original: &'a str, plain: &'a Plain) -> Self {
        Self {
            book,
            first,
            original,
            plain,
            forms: OnceCell::new(),
            work: Cell::new(0),
        }
    }

    /// What only sentences together make: findings, in their order.
    pub(super) fn found(&self) -> Vec<Match> {
        let finds = |effect: Effect| effect == Effect::Find;
        let mut found = self.matches(|word| self.book.wants_for(word, finds));
        found.retain(|one| finds(one.effect));
        found
    }

    /// The forms of context, in their order.
    pub(super) fn forms(&self) -> &[Match] {
        self.forms.get_or_init(|| {
            let mut forms = self.matches(|word| self.book.wants_for(word, Effect::is_form));
            forms.retain(|one| one.effect.is_form());
            forms
        })
    }

    /// The forms that can touch a stretch, of all in their order.
    pub(super) fn within(&self, stretch: &Range<usize>) -> &[Match] {
        let forms = self.forms();
        let first = forms.partition_point(|form| form.range.start + REACH < stretch.start);
        let last = forms.partition_point(|form| form.range.start < stretch.end);
        &forms[first..last]
    }

    /// The bytes in which patterns were looked for so far, pattern by pattern.
    pub(super) fn work(&self) -> usize {
        self.work.get()
    }

    fn matches(&self, wants: impl Fn(&str) -> bool) -> Vec<Match> {
        let sentences: Vec<Range<usize>> = clauses::sentences(&self.plain.text).collect();
        let mut out = Vec::new();
        let mut sight = None;
        let mut wanted = Vec::new();
        for some in worth_reading(self.plain, &sentences, wants) {
            let joined = Joined::new(self.original, self.plain, &sentences[some]);
            let sight = sight.get_or_insert_with(|| Sight::new(self.book));
            for stretch in clauses::stretches(&joined.text, &(0..joined.text.len())) {
                let text = &joined.text[stretch.clone()];
                sight.wanted(text, false, &mut wanted);
                self.work.set(self.work.get() + text.len() * wanted.len());
                for id in &wanted {
                    self.each_match(*id, &joined, &stretch, &mut out);
                }
            }
        }
        out.sort_by_key(|form: &Match| form.range.start);
        out
    }

    fn each_match(&self, id: u32, joined: &Joined, stretch: &Range<usize>, out: &mut Vec<Match>) {
        let pattern = &self.book.patterns[id as usize];
        let group = &self.book.groups[pattern.group];
        let Some(regex) = self.book.regex(pattern) else {
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
                range: joined.place(stretch.start + words.start)..joined.place(stretch.start + words.end),
            });
        }
    }
}

/// The runs of sentences, by their places, in which some pattern can match: near a word that it cannot do without.
fn worth_reading(
    plain: &Plain,
    sentences: &[Range<usize>],
    wants: impl Fn(&str) -> bool,
) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    for (at, sentence) in sentences.iter().enumerate() {
        if clauses::words(&plain.text[sentence.clone()]).any(&wants) {
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
