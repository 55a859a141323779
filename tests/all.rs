//! Every test of the built program, in one binary: one link, one place to look.

mod coach_laws;
mod coach_reference;
mod coach_sets;
mod craft;
mod dialogue;
#[path = "reference/eight_weeks.rs"]
mod eight_weeks;
mod hiding;
mod insight;
mod layers;
mod offline;
mod phrases;
mod picture_browser;
mod picture_files;
mod picture_maps;
mod picture_place;
mod picture_terminal;
mod picture_words;
mod program;
mod returning;
mod safety;
mod safety_directory;
mod safety_properties;
mod secrets;
mod sharing;
mod sharing_files;
mod sharing_paper;
mod sharing_terminal;
mod sitting;
mod store;
mod store_commands;
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
