//! Every test of the built program, in one binary: one link, one place to look.

mod coach_laws;
mod coach_reference;
mod coach_sets;
mod dialogue;
mod layers;
mod picture_browser;
mod picture_files;
mod picture_maps;
mod picture_place;
mod picture_terminal;
mod picture_words;
mod program;
mod safety;
mod safety_directory;
mod safety_properties;
mod sitting;
mod store;
mod terminal;
mod voice;
mod voice_files;
mod voice_hear;
mod voice_microphone;
mod voice_model;
#[cfg(feature = "voice")]
mod voice_server;
#[cfg(feature = "voice")]
mod voice_sitting;
mod voice_speaker;
