//! Every test of the built program, in one binary: one link, one place to look.
mod safety;
