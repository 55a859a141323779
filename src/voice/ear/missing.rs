//! The ear of a program that was built without the speech library.

use std::path::Path;

use super::Effort;
use super::Hints;
use crate::voice::Activity;
use crate::voice::Heard;
use crate::voice::Samples;
use crate::voice::VoiceError;

/// A loaded speech model. Without the feature `voice` there never is one.
#[derive(Debug)]
pub struct Ear(Activity);

impl Ear {
    /// Answers that there is no speech library.
    ///
    /// # Errors
    /// `NotBuilt`, always.
    pub fn load_with(_model: &Path, _activity: &Path, _effort: Effort) -> Result<Self, VoiceError> {
        Err(VoiceError::NotBuilt)
    }

    /// The part that tells speech from silence, for [`crate::voice::Microphone::listen`].
    pub fn activity(&mut self) -> &mut Activity {
        &mut self.0
    }

    /// Changes nothing: there is no speech library.
    pub fn set_effort(&mut self, _effort: Effort) {}

    #[expect(clippy::unused_self, reason = "the same face as with the library")]
    pub(super) fn words(&mut self, _samples: &Samples, _hints: &Hints) -> Result<Heard, VoiceError> {
        Err(VoiceError::NotBuilt)
    }
}
