//! The plain form of a text, on which all other stages look: lower-case ASCII words with one space before each, a line break
//! after each sentence, and for every word the place in the original that it stands for.

use std::ops::Range;

use crate::safety::clauses;

/// A word of the plain form.
#[allow(clippy::struct_excessive_bools, reason = "each says one thing about the word")]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Token {
    /// Where the word begins in the plain text, after its space.
    pub at: usize,
    /// Where it begins in the original, in bytes.
    pub start: usize,
    /// Where it ends in the original, in bytes.
    pub end: usize,
    /// Whether only a hyphen or point, with no space, stands before it.
    pub glued: bool,
    /// Whether a comma, colon, bracket or dash stands before it.
    pub parted: bool,
    /// Whether it begins with a capital letter in the original.
    pub capital: bool,
    /// Whether a letter of it is of another script, and was read by its look.
    pub foreign: bool,
}

/// A sentence that holds any word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Sentence {
    /// Where it is in the plain text, without its line break.
    pub place: Range<usize>,
    /// Its words.
    pub words: Range<usize>,
}

/// The plain form of a text.
#[derive(Clone, Debug, Default)]
pub(super) struct Plain {
    /// Words with one space before each; a line break after each sentence.
    pub text: String,
    /// The words, in order.
    pub tokens: Vec<Token>,
    /// The sentences, in order, once all of the text is there.
    pub sentences: Vec<Sentence>,
}

impl Plain {
    /// The index of the word that holds a place in the plain text.
    pub(super) fn token_at(&self, at: usize) -> usize {
        self.tokens
            .partition_point(|token| token.at <= at)
            .saturating_sub(1)
    }

    /// The first word at a place in the plain text or after it, sought on from a word that stands before it and not far away.
    pub(super) fn first_from(&self, word: usize, at: usize) -> usize {
        let before = self.tokens[word..].iter().take_while(|token| token.at < at);
        word + before.count()
    }

    /// The words in a stretch of the plain text, where it begins before a word and ends after one. They are sought on from a
    /// word before them.
    pub(super) fn whole_words(&self, word: usize, stretch: &Range<usize>) -> Option<Range<usize>> {
        let ends = |at: usize| matches!(self.text.as_bytes().get(at), None | Some(b' ' | b'\n'));
        let whole = ends(stretch.start) && ends(stretch.end) && stretch.start + 1 < stretch.end;
        let first = self.first_from(word, stretch.start);
        whole.then(|| first..self.first_from(first, stretch.end))
    }

    /// A word of the plain text.
    pub(super) fn word(&self, index: usize) -> &str {
        // What stands before the next word is its space, and the end of a sentence before that; the last has nothing after it
        // but perhaps that.
        let next = self
            .tokens
            .get(index + 1)
            .map_or(self.text.len(), |next| next.at - 1);
        let word = &self.text[self.tokens[index].at..next];
        word.strip_suffix('\n').unwrap_or(word)
    }

    /// Names the sentences of a text that is all there.
    pub(super) fn find_sentences(&mut self) {
        let mut words = 0..0;
        let sentences = clauses::sentences(&self.text).map(|place| {
            words = words.end..self.first_from(words.end, place.end);
            Sentence {
                place,
                words: words.clone(),
            }
        });
        self.sentences = sentences.collect();
    }

    /// Where some words stand in the plain text, the space before them included.
    pub(super) fn place(&self, words: &Range<usize>) -> Range<usize> {
        let last = words.end - 1;
        self.tokens[words.start].at - 1..self.tokens[last].at + self.word(last).len()
    }

    /// Adds a word that stands for a place in the original.
    pub(super) fn push(&mut self, word: &str, token: Token) {
        self.text.push(' ');
        self.tokens.push(Token {
            at: self.text.len(),
            ..token
        });
        self.text.push_str(word);
    }

    /// Ends the sentence, where there is one.
    pub(super) fn end_sentence(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with('\n') {
            self.text.push('\n');
        }
    }
}
