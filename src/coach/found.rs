//! What a rule hands back when it sees a doubt, before it becomes a question.

use super::Doubt;
use super::Question;
use super::Split;
use crate::map::Field;

/// A doubt that a rule has seen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    pub(super) doubt: Doubt,
    pub(super) sure: f32,
    pub(super) fits: Option<Field>,
    pub(super) line: &'static str,
    pub(super) split: Option<Split>,
}

/// A doubt without a field that fits better.
pub(super) fn doubt(doubt: Doubt, sure: f32, line: &'static str) -> Found {
    Found {
        doubt,
        sure,
        fits: None,
        line,
        split: None,
    }
}

impl Found {
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

    pub(super) fn question(self) -> Question {
        let Self {
            doubt,
            sure,
            fits,
            line,
            split,
        } = self;
        Question {
            doubt,
            sure,
            fits,
            line,
            split,
        }
    }
}
