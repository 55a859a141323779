//! Every test of the built program, in one binary: one link, one place to look.
mod safety;
mod safety_directory;
mod safety_properties;
