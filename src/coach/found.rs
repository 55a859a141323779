//! How a rule puts the question that it has come to.

use super::Doubt;
use super::Question;
use super::Split;
use crate::map::Field;

/// A question about a doubt, without a field that fits better.
pub(super) fn doubt(doubt: Doubt, sure: f32, line: &'static str) -> Question {
    Question {
        doubt,
        sure,
        fits: None,
        line,
        split: None,
    }
}

impl Question {
    /// The same, with the field that would fit.
    pub(super) fn fits(mut self, field: Field) -> Self {
        self.fits = Some(field);
        self
    }

    /// The same, with the two pieces.
    pub(super) fn in_two(mut self, split: Split) -> Self {
        self.split = Some(split);
        self
    }
}
