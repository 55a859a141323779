//! What the person has said so far.
//!
//! What a person does is recorded as immutable [`Event`]s; the [`Map`] is a fold over them. So every past date can be
//! shown, two copies merge as a union, and nothing is ever edited in place.

mod event;
mod fold;
mod history;
mod nouns;

pub use event::Event;
pub use event::Position;
pub use event::What;
pub use fold::Entry;
pub use fold::Joined;
pub use fold::Lived;
pub use fold::Map;
pub use fold::Moment;
pub use fold::OwnLine;
pub use fold::Sitting;
pub use fold::Step;
pub use fold::Traced;
pub use fold::Workability;
pub use history::History;
pub use nouns::EntryId;
pub use nouns::EventId;
pub use nouns::Field;
pub use nouns::Kind;
pub use nouns::Link;
pub use nouns::Mark;
pub use nouns::MomentId;
pub use nouns::OwnLineId;
pub use nouns::SittingId;
pub use nouns::StepId;
pub use nouns::TraceId;
pub use nouns::Way;
