//! Every test of the built program, in one binary: one link, one place to look.

mod coach_laws;
mod coach_reference;
mod coach_sets;
mod dialogue;
mod safety;
