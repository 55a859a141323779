//! Every test of the built program, in one binary: one link, one place to look.

#![allow(clippy::unwrap_used, reason = "in a test a failed unwrap is the answer")]

mod voice;
mod voice_files;
mod voice_hear;
mod voice_microphone;
mod voice_model;
mod voice_speaker;
