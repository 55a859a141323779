//! What the person has said so far.
//!
//! What a person does is recorded as immutable [`Event`]s; the [`Map`] is a fold over them. So every past date can be
//! shown, two copies merge as a union, and nothing is ever edited in place.

pub(crate) mod compact;
mod event;
mod fold;
mod history;
mod json;
mod kept;
mod nouns;
mod outside;
mod things;

pub use event::Event;
pub use event::Position;
pub use event::What;
pub use fold::Map;
pub use history::History;
pub use json::EntryJson;
pub use json::LinkJson;
pub use json::LivedJson;
pub use json::LoopJson;
pub use json::MapJson;
pub use json::MomentJson;
pub use json::SCHEMA;
pub use json::StepJson;
pub use json::VERSION;
pub use json::WorkabilityJson;
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
pub use outside::Outside;
pub use things::Entry;
pub use things::Joined;
pub use things::Lived;
pub use things::Moment;
pub use things::OwnLine;
pub use things::Sitting;
pub use things::Step;
pub use things::Traced;
pub use things::Workability;
