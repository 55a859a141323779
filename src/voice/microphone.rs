//! The microphone: opened only when a person asks for it, listened to until they stop speaking, never recorded to
//! disk.

use std::time::Duration;

use super::Activity;
use super::Samples;
use super::VoiceError;

#[cfg(feature = "voice")]
mod device;
#[cfg(not(feature = "voice"))]
#[path = "microphone/missing.rs"]
mod device;

pub use device::Microphone;
pub use device::devices;

/// A microphone that the system offers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    /// The name to show.
    pub name: String,
    /// Whether it is the one that is used when none is named.
    pub default: bool,
}

/// How long to listen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Listening {
    /// The silence after speech that ends the listening; 1.5 to 8 s make sense.
    pub pause: Duration,
    /// The wait for a first word before giving up.
    pub patience: Duration,
    /// The longest recording.
    pub longest: Duration,
}

impl Default for Listening {
    /// A pause of 2.5 s, 20 s of patience, five minutes at most.
    fn default() -> Self {
        Self {
            pause: Duration::from_secs_f32(2.5),
            patience: Duration::from_secs(20),
            longest: Duration::from_mins(5),
        }
    }
}

/// How loud it is right now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Loudness from 0 (under -60 dB) to 1 (full scale), even steps in decibels.
    pub loudness: f32,
    /// Whether somebody has been heard to speak since the listening began.
    pub spoken: bool,
}

/// Why the listening ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// The person paused.
    Pause,
    /// The flag was raised.
    Stopped,
    /// The longest length was reached.
    Longest,
    /// Nobody spoke for as long as the patience lasted.
    Silence,
}

/// Who listens: tells speech from silence, and may use a lull to hear what was said so far.
pub(super) trait Listener {
    /// Where somebody speaks.
    fn spans(&mut self, sound: &[f32]) -> Result<Vec<std::ops::Range<usize>>, VoiceError>;

    /// How loud it is, about ten times a second.
    fn level(&mut self, level: Level);

    /// The person has been silent for a short while, and may or may not go on.
    fn lull(&mut self, samples: &Samples) -> Result<(), VoiceError>;

    /// The person went on after a lull.
    fn goes_on(&mut self);
}

/// A listener that only waits for the end.
pub(super) struct Waiting<'a> {
    pub(super) activity: &'a mut Activity,
    pub(super) on_level: &'a mut dyn FnMut(Level),
}

impl Listener for Waiting<'_> {
    fn spans(&mut self, sound: &[f32]) -> Result<Vec<std::ops::Range<usize>>, VoiceError> {
        self.activity.spans(sound)
    }

    fn level(&mut self, level: Level) {
        (self.on_level)(level);
    }

    fn lull(&mut self, _samples: &Samples) -> Result<(), VoiceError> {
        Ok(())
    }

    fn goes_on(&mut self) {}
}

/// Loudness from 0 to 1 of a stretch of sound: the root of the mean square, in decibels, over 60 dB.
fn loudness(block: &[f32]) -> f32 {
    let power: f32 = block.iter().map(|sample| sample * sample).sum::<f32>() / block.len().max(1) as f32;
    (power.max(1e-12).log10() * 10.0 / 60.0 + 1.0).clamp(0.0, 1.0)
}

/// Looks for the end of speech in the last part of a recording only, so that a long one costs no more than a short
/// one.
fn recent(samples: &Samples, pause: Duration) -> std::ops::Range<usize> {
    let length = samples.as_slice().len();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a pause is a few seconds"
    )]
    let window = ((pause.as_secs_f32() + 1.0) * Samples::RATE as f32) as usize;
    length.saturating_sub(window)..length
}

#[cfg(test)]
mod tests {
    use super::loudness;

    #[test]
    fn loudness_is_even_in_decibels() {
        assert!(loudness(&[]).abs() < 1e-6);
        assert!((loudness(&[1.0, -1.0]) - 1.0).abs() < 1e-6);
        assert!((loudness(&[0.1, -0.1]) - 2.0 / 3.0).abs() < 1e-4);
        assert!(loudness(&[0.0001; 10]).abs() < 1e-6);
    }
}
