//! The entry check: one kind question when an entry seems to sit in the wrong field. The person always
//! decides; a wrong question is worse than none.
//!
//! An entry becomes words (`tokens`), words become clauses with a head (`head`), and the rules of the field
//! (`moves`, `inner`, `matters`) are asked in order; the first doubt is the question. What is inner and what
//! can be seen comes from WordNet's classes (`wordnet`, `sight`).

mod absence;
mod clause;
mod found;
mod goals;
mod head;
mod inner;
mod kinds;
mod lemma;
#[rustfmt::skip]
mod lists;
mod matters;
mod moves;
mod others;
mod outer;
mod phrase;
mod sight;
mod somebody;
mod split;
mod states;
mod things;
mod tokens;
#[rustfmt::skip]
mod trade;
mod unhook;
mod vague;
mod verdict;
mod wordnet;

use serde::Deserialize;
use serde::Serialize;

pub use lemma::lemma;
pub use lemma::lemmas;
pub use verdict::Answer;
pub use verdict::Verdict;
pub use wordnet::Part;
pub use wordnet::Senses;
pub use wordnet::Word;
pub use wordnet::look_up;

use crate::map::Field;
use crate::map::Kind;

/// Why a question is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Doubt {
    /// A move that no camera could see.
    Camera,
    /// A move that only says what is not done.
    Absence,
    /// A quality to stand for, among moves.
    Quality,
    /// A feeling as an aim.
    Feeling,
    /// What others should do.
    Others,
    /// A goal that ends, among what matters.
    Goal,
    /// A should.
    Should,
    /// Too big, or a label.
    Vague,
    /// Something outside, or an act, among what shows up inside.
    Outside,
}

/// One question about an entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Why it is asked.
    pub doubt: Doubt,
    /// How sure the check is, 0 to 1.
    pub sure: f32,
    /// The field that would fit better, where there is one.
    pub fits: Option<Field>,
    /// The line of the words file to ask.
    pub line: &'static str,
    /// The two pieces of an entry in which a cause is joined to a move.
    pub split: Option<Split>,
}

/// An entry in two pieces: what is done, and what shows up inside before it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Split {
    /// What is done.
    pub act: String,
    /// What shows up inside.
    pub inner: String,
}

/// Considers one entry. `None` is the usual answer. Bounded: the first 48 words are read, whatever the
/// length.
#[must_use]
pub fn consider(field: Field, text: &str) -> Option<Question> {
    let words = tokens::tokens(text);
    if says_nothing(&words) {
        return None;
    }
    let clauses = clause::clauses(&words);
    match field {
        Field::Matters => matters::consider(&words, &clauses),
        Field::Inner => inner::consider(&words, &clauses),
        Field::Away => moves::consider(text, &words, &clauses),
        Field::Toward => moves::consider(text, &words, &clauses).map(matters_instead),
    }
}

/// "I don't know", "not sure": an answer to leave in peace.
fn says_nothing(words: &[tokens::Token]) -> bool {
    const UNSURE: &[&str] = &["dunno", "idea", "idk", "know", "none", "sure"];
    let short = words.len() <= 3 && words.last().is_some_and(|w| UNSURE.contains(&w.text.as_str()));
    let denied = words
        .iter()
        .any(|w| matches!(w.text.as_str(), "don't" | "not" | "no"));
    words.is_empty() || short && (denied || words.len() == 1)
}

/// On the side where what matters stands below, people and qualities have a field to go to. The question is
/// the same.
fn matters_instead(found: Question) -> Question {
    match found.doubt {
        Doubt::Quality => found.fits(Field::Matters),
        Doubt::Outside if found.line == "coach.person-move" => found.fits(Field::Matters),
        _ => found,
    }
}

/// The kind that an entry seems to be, for a field that has kinds: a proposal.
#[must_use]
pub fn kind_of(field: Field, text: &str) -> Option<Kind> {
    let words = tokens::tokens(text);
    let clauses = clause::clauses(&words);
    match field {
        Field::Inner => kinds::inner(&words, &clauses),
        Field::Matters => kinds::matters(&clauses),
        Field::Away | Field::Toward => None,
    }
}

/// A thought in its unhooking form, "I'm having the thought that ...", or `None` where that would not read
/// well.
#[must_use]
pub fn unhooked(thought: &str) -> Option<String> {
    unhook::unhooked(thought)
}

/// An entry in its two pieces, where a cause is joined to a move: "I skip choir because I feel clumsy".
#[must_use]
pub fn pieces(text: &str) -> Option<Split> {
    split::pieces(text)
}
