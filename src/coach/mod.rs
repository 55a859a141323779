//! The entry check: one kind question when an entry seems to sit in the wrong field. The person always decides; a
//! wrong question is worse than none.

use crate::map::Field;
use crate::map::Kind;

/// Why a question is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
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

/// Considers one entry. `None` is the usual answer.
#[must_use]
pub fn consider(_field: Field, _text: &str) -> Option<Question> {
    None
}

/// The kind that an entry seems to be, for a field that has kinds.
#[must_use]
pub fn kind_of(_field: Field, _text: &str) -> Option<Kind> {
    None
}

/// A thought in its unhooking form, "I'm having the thought that ...", or `None` where that would not read well.
#[must_use]
pub fn unhooked(_thought: &str) -> Option<String> {
    None
}
