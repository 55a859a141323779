//! The dialogue, from written scripts to whole sittings.

mod checking;
mod interrupt;
mod player;
mod sitting;
mod wording;
