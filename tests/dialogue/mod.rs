//! The dialogue, from written scripts to whole sittings.

mod checking;
mod doubt;
mod effects;
mod hostile;
mod interrupt;
mod places;
pub(crate) mod player;
mod resume;
mod sitting;
mod walks;
mod wording;
