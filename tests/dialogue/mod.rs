//! The dialogue, from written scripts to whole sittings.

mod player;
mod sitting;
