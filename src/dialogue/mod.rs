//! From a written script to a checked program, and the pure step from one prompt to the next.
//!
//! A script is written in two files: the flow (nodes and where they lead) and the words of one language. Both are
//! read into their written form, checked by a list of passes that report every [`Fault`] at once, and become a
//! `Program`, in which a missing target cannot exist. [`step()`] then takes a state and an input and gives
//! the next state, what to show and record, and what it waits for. It touches no file, clock or screen; going back
//! means taking an earlier state.

mod accept;
mod chart;
mod check;
mod effect;
mod enter;
mod fault;
mod fill;
mod guard;
mod library;
mod program;
mod prompt;
mod proof;
mod read;
mod rehearsal;
mod state;
mod step;
mod talk;
mod written;

pub use chart::Chart;
pub use chart::Spot;
pub use chart::Taken;
pub use chart::Waits;
pub use chart::Way;
pub use fault::Fault;
pub use fault::FaultKind;
pub use fault::Manner;
pub use library::Library;
pub use prompt::recall;
pub use proof::HARDEST;
pub use proof::against;
pub use proof::grade;
pub use proof::proof;
pub use proof::proof_words;
pub use proof::syllables;
pub use rehearsal::Rehearsal;
pub use state::ResumeError;
pub use state::Resumed;
pub use state::State;
pub use step::step;
pub use talk::Input;
pub use talk::Offered;
pub use talk::Output;
pub use talk::Prompt;
pub use talk::Said;
pub use talk::Show;
pub use talk::Stepped;
pub use talk::Wait;
pub use talk::WrongInput;
