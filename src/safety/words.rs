//! Words that have been through the screen. There is no other way to make them, so a function that takes [`Words`]
//! cannot be handed text that nobody looked at.

use std::fmt;
use std::sync::Arc;

use serde::Deserialize;
use serde::Deserializer;
use serde::Serialize;
use serde::Serializer;
use serde::de::Visitor;
use zeroize::Zeroize;

/// A person's own words after [`crate::safety::screen()`]. Wiped from memory when dropped, and never shown by `Debug`,
/// so that they cannot reach a log or a panic message.
///
/// Reading them back with serde is for records that were screened before they were sealed; text from anywhere else
/// goes through [`crate::safety::screen()`].
///
/// A clone shares the text, which stays as it is for good.
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Words(Arc<str>);

impl Words {
    pub(in crate::safety) fn screened(text: &str) -> Self {
        Self(text.into())
    }

    /// The text as the person wrote it.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Drop for Words {
    fn drop(&mut self) {
        // The last one wipes it. Of two that are dropped at the same moment neither may know that it is the last; then the
        // memory is wiped as it is given back.
        if let Some(text) = Arc::get_mut(&mut self.0) {
            text.zeroize();
        }
    }
}

impl Serialize for Words {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Words {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Text;
        impl Visitor<'_> for Text {
            type Value = Words;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("words")
            }

            fn visit_str<E>(self, text: &str) -> Result<Words, E> {
                Ok(Words(text.into()))
            }
        }
        deserializer.deserialize_str(Text)
    }
}

impl fmt::Debug for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Words({} bytes)", self.0.len())
    }
}
