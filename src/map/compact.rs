//! Events in as few bytes as they need, for the fair copy of a store alone: what is kept for years is JSON.
//!
//! The form (postcard) does not say what its parts mean. Whoever adds a sort of event, or a part to one, raises
//! [`FORM`], so that a copy of another form is passed over; a test notices when it was forgotten.

use jiff::Timestamp;
use jiff::fmt::serde::timestamp::nanosecond;
use serde::Deserialize;
use serde::Serialize;
use serde::Serializer;

use crate::map::Event;
use crate::map::EventId;
use crate::map::What;
use crate::map::event::Mirror;

/// The form that this program writes and reads.
pub(crate) const FORM: u8 = 1;

/// An event to write.
#[derive(Serialize)]
pub(crate) struct Written<'e> {
    id: EventId,
    #[serde(with = "nanosecond::required")]
    at: Timestamp,
    #[serde(serialize_with = "write_what")]
    what: &'e What,
}

/// An event that was read.
#[derive(Deserialize)]
pub(crate) struct Read {
    id: EventId,
    #[serde(with = "nanosecond::required")]
    at: Timestamp,
    #[serde(with = "Mirror")]
    what: What,
}

impl<'e> From<&'e Event> for Written<'e> {
    fn from(event: &'e Event) -> Self {
        Self {
            id: event.id,
            at: event.at,
            what: &event.what,
        }
    }
}

impl From<Read> for Event {
    fn from(Read { id, at, what }: Read) -> Self {
        Self { id, at, what }
    }
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands over a reference to the field"
)]
fn write_what<S: Serializer>(what: &&What, serializer: S) -> Result<S::Ok, S::Error> {
    Mirror::serialize(what, serializer)
}

/// Defines [`What`], and a mirror of it for this form: every part in its place, with no names beside it.
macro_rules! with_mirror {
    (
        $(#[$of_all:meta])*
        pub enum What {
            $(
                $(#[$of_sort:meta])*
                $sort:ident {
                    $($(#[$of_part:meta])* $part:ident: $kind:ty,)*
                },
            )*
        }
    ) => {
        $(#[$of_all])*
        pub enum What {
            $($(#[$of_sort])* $sort { $($(#[$of_part])* $part: $kind,)* },)*
        }

        #[derive(Serialize, Deserialize)]
        #[serde(remote = "What")]
        pub(in crate::map) enum Mirror {
            $($sort { $($part: $kind,)* },)*
        }
    };
}

pub(in crate::map) use with_mirror;
