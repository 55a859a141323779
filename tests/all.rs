//! Every test of the built program, in one binary: one link, one place to look.

mod picture_browser;
mod picture_files;
mod picture_maps;
mod picture_place;
mod picture_terminal;
mod picture_words;
