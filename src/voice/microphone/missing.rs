//! The microphone of a program that was built without the speech library.

use std::sync::atomic::AtomicBool;

use super::Device;
use super::Ended;
use super::Level;
use super::Listener;
use super::Listening;
use crate::voice::Activity;
use crate::voice::Samples;
use crate::voice::VoiceError;

/// An open microphone. Without the feature `voice` there never is one.
#[derive(Debug)]
pub struct Microphone(());

/// Answers that there is no speech library.
///
/// # Errors
/// `NotBuilt`, always.
pub fn devices() -> Result<Vec<Device>, VoiceError> {
    Err(VoiceError::NotBuilt)
}

impl Microphone {
    /// Answers that there is no speech library.
    ///
    /// # Errors
    /// `NotBuilt`, always.
    pub fn open() -> Result<Self, VoiceError> {
        Err(VoiceError::NotBuilt)
    }

    /// The name to show.
    #[must_use]
    pub fn name(&self) -> &'static str {
        ""
    }

    /// Answers that there is no speech library.
    ///
    /// # Errors
    /// `NotBuilt`, always.
    pub fn listen(
        &self,
        _settings: &Listening,
        _activity: &mut Activity,
        _on_level: &mut dyn FnMut(Level),
        _stop: &AtomicBool,
    ) -> Result<(Samples, Ended), VoiceError> {
        Err(VoiceError::NotBuilt)
    }

    #[expect(clippy::unused_self, reason = "the same face as with the library")]
    pub(in crate::voice) fn run(
        &self,
        _settings: &Listening,
        _listener: &mut dyn Listener,
        _stop: &AtomicBool,
    ) -> Result<(Samples, Ended), VoiceError> {
        Err(VoiceError::NotBuilt)
    }
}
