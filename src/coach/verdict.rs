//! The check's answer as one line of JSON, for the trial of the check on lines of text.

use serde::Deserialize;
use serde::Serialize;

use super::Doubt;
use super::Question;
use super::consider;
use crate::map::Field;

/// Whether a question is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Answer {
    /// The entry is left alone.
    Ok,
    /// One question is asked.
    Question,
}

/// The answer for one line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Verdict {
    /// The number of the line, from 1.
    pub line: usize,
    /// Whether a question is asked.
    pub verdict: Answer,
    /// Why, where one is asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<Doubt>,
    /// The field that would fit better, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fits: Option<Field>,
    /// How sure the check is, 0 to 1; 0 where nothing is asked.
    pub sure: f32,
}

impl Verdict {
    /// The verdict on one line of text.
    #[must_use]
    pub fn on(line: usize, field: Field, text: &str) -> Self {
        match consider(field, text) {
            None => Self {
                line,
                verdict: Answer::Ok,
                kind: None,
                fits: None,
                sure: 0.0,
            },
            Some(Question {
                doubt, sure, fits, ..
            }) => Self {
                line,
                verdict: Answer::Question,
                kind: Some(doubt),
                fits,
                sure,
            },
        }
    }
}
