//! Every test of the built program, in one binary: one link, one place to look.

#![allow(
    clippy::unwrap_used,
    reason = "a test fails by it, and clippy takes what tests share for no test"
)]
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "figures for who asks, and why a test had nothing to do"
)]
#![allow(
    clippy::format_collect,
    clippy::format_push_string,
    reason = "short texts, where no speed is to be had"
)]

mod coach_laws;
mod coach_reference;
mod coach_sets;
mod craft;
mod dialogue;
mod dropping;
#[path = "reference/eight_weeks.rs"]
mod eight_weeks;
mod fuzzing;
mod hiding;
mod insight;
mod layers;
mod manual;
mod memory_image;
mod offline;
mod people;
mod phrases;
mod picture_browser;
mod picture_files;
mod picture_maps;
mod picture_place;
mod picture_terminal;
mod picture_words;
mod plain;
mod program;
mod python;
mod returning;
mod safety;
mod safety_answers;
mod safety_apart;
mod safety_beside;
mod safety_directory;
mod safety_grids;
mod safety_made;
mod safety_properties;
mod safety_public;
mod safety_readings;
mod safety_references;
mod safety_sounds;
mod safety_types;
mod safety_weighing;
mod screen_reader;
mod secrets;
mod sharing;
mod sharing_files;
mod sharing_paper;
mod sharing_terminal;
mod sitting;
mod store;
mod store_clock;
mod store_commands;
mod terminal;
mod trying;
mod voice;
mod voice_files;
mod voice_hear;
mod voice_microphone;
mod voice_model;
mod voice_server;
mod voice_sitting;
mod voice_speaker;
mod voice_whole;
