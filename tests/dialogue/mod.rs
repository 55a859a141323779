//! The dialogue, from written scripts to whole sittings.

mod checking;
mod doubt;
mod interrupt;
mod places;
mod player;
mod sitting;
mod walks;
mod wording;
