//! Words that have been through the screen. There is no other way to make them, so a function that takes [`Words`]
//! cannot be handed text that nobody looked at.

use std::fmt;

use serde::Deserialize;
use serde::Serialize;
use zeroize::Zeroize;

/// A person's own words after [`crate::safety::screen()`]. Wiped from memory when dropped, and never shown by `Debug`,
/// so that they cannot reach a log or a panic message.
///
/// Reading them back with serde is for records that were screened before they were sealed; text from anywhere else
/// goes through [`crate::safety::screen()`].
#[derive(Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Words(String);

impl Words {
    pub(in crate::safety) fn screened(text: &str) -> Self {
        Self(text.to_owned())
    }

    /// The text as the person wrote it.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Drop for Words {
    fn drop(&mut self) {
        self.0.zeroize();
    }
}

impl fmt::Debug for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Words({} bytes)", self.0.len())
    }
}
