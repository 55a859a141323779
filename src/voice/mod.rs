//! Turns what a person says into text on their own machine, and reads prompts aloud.
//!
//! The room knows nothing of maps or safety: what it hears is plain text that the shell screens before anything
//! else. It prints nothing, keeps no audio unless asked to, and wipes every sample after use. Without the feature
//! `voice` every part that needs the speech library answers [`VoiceError::NotBuilt`]; the rest works as ever.

// What only the speech library's users call is unused without it, and still compiled and tested.
#[cfg_attr(not(feature = "voice"), allow(dead_code))]
mod activity;
mod ear;
mod error;
#[cfg_attr(not(feature = "voice"), allow(dead_code))]
mod heard;
#[cfg_attr(not(feature = "voice"), allow(dead_code))]
mod microphone;
#[cfg_attr(not(feature = "voice"), allow(dead_code))]
mod quiet;
mod rate;
mod samples;
mod speaker;
mod split;
mod ssip;

/// Spoken commands and choices, matched against what a prompt accepts.
pub mod command;

/// Speech models: finding, listing, checking and installing them.
pub mod model;

/// Numbers as they are spoken.
pub mod numbers;

/// WAV files in and, when a person asks for it, out.
pub mod wav;

pub use activity::Activity;
pub use ear::During;
pub use ear::Ear;
pub use ear::Effort;
pub use ear::Hints;
pub use ear::Loading;
pub use ear::TakenDown;
pub use error::ModelFault;
pub use error::VoiceError;
pub use heard::Heard;
pub use microphone::Device;
pub use microphone::Ended;
pub use microphone::Level;
pub use microphone::Listening;
pub use microphone::Microphone;
pub use microphone::devices;
pub use samples::Samples;
pub use speaker::Line;
pub use speaker::Service;
pub use speaker::Speaker;
pub use speaker::Stopper;
pub use split::split_entries;

/// Whether this program was built with the speech library.
#[must_use]
pub const fn built() -> bool {
    cfg!(feature = "voice")
}
