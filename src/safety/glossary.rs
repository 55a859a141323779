//! What every word of a text is to the books and to the weighing: looked up once for each word, however often it stands
//! there and whoever asks.

use std::ops::Range;

use crate::safety::by_word::ByWord;
use crate::safety::groups::Effect;
use crate::safety::parts::Span;
use crate::safety::patterns::Patterns;
use crate::safety::plain::Plain;
use crate::safety::weighing::Seen;
use crate::safety::weighing::Weighing;

/// What one word is.
#[derive(Clone, Copy, Debug)]
struct Word {
    /// The words and stems of each book that it is one of, among the numbers of all.
    numbers: Span,
    in_answers: Span,
    /// The word as the weighing names it.
    seen: Seen,
    /// Whether something that only sentences together make is looked for by it, and whether a form of context is.
    finds: bool,
    forms: bool,
}

/// The words of a text.
#[derive(Debug, Default)]
pub(super) struct Glossary {
    // For each word of the text, which of the words that differ it is.
    which: Vec<u32>,
    words: Vec<Word>,
    numbers: Vec<u32>,
}

impl Glossary {
    /// Looks up the words of a text: in the book that is looked for sentence by sentence, in that for sentences read
    /// together, and in the table of weights.
    pub(super) fn new(
        plain: &Plain,
        (patterns, answers): (&Patterns, &Patterns),
        weighing: &Weighing,
    ) -> Self {
        let mut glossary = Self {
            which: Vec::with_capacity(plain.tokens.len()),
            ..Self::default()
        };
        let mut known: ByWord<u32> = ByWord::default();
        for at in 0..plain.tokens.len() {
            let word = plain.word(at);
            let which = *known.get_or_insert_with(word, || {
                let mut numbers = |of: &Patterns| {
                    let all = &mut glossary.numbers;
                    let from = all.len();
                    of.parts.lexicon.each(word, |number| all.push(number));
                    Span::new(from..all.len())
                };
                let (numbers, in_answers) = (numbers(patterns), numbers(answers));
                let known = in_answers.of(&glossary.numbers);
                glossary.words.push(Word {
                    numbers,
                    in_answers,
                    seen: weighing.see(word),
                    finds: answers.wants_for(known, |effect| effect == Effect::Find),
                    forms: answers.wants_for(known, Effect::is_form),
                });
                u32::try_from(glossary.words.len() - 1).unwrap_or(u32::MAX)
            });
            glossary.which.push(which);
        }
        glossary
    }

    fn word(&self, at: usize) -> &Word {
        &self.words[self.which[at] as usize]
    }

    /// The words and stems of the book that a word of the text is one of.
    pub(super) fn numbers(&self, at: usize) -> &[u32] {
        self.word(at).numbers.of(&self.numbers)
    }

    /// Those of the book for sentences read together.
    pub(super) fn in_answers(&self, at: usize) -> &[u32] {
        self.word(at).in_answers.of(&self.numbers)
    }

    /// Some words as the weighing names them.
    pub(super) fn seen(&self, words: Range<usize>) -> impl Iterator<Item = Seen> {
        words.map(|at| self.word(at).seen)
    }

    /// Whether something that only sentences together make is looked for by one of some words.
    pub(super) fn finds(&self, mut words: Range<usize>) -> bool {
        words.any(|at| self.word(at).finds)
    }

    /// Whether a form of context over sentences is looked for by one of some words.
    pub(super) fn forms(&self, mut words: Range<usize>) -> bool {
        words.any(|at| self.word(at).forms)
    }
}
