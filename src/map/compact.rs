//! Events in as few bytes as they need, for the fair copy of a store alone: what is kept for years is JSON.
//!
//! The form (postcard) does not say what its parts mean. Whoever adds a sort of event, or a part to one, raises
//! [`FORM`], so that a copy of another form is passed over; a test notices when it was forgotten.

use jiff::Timestamp;
use jiff::fmt::serde::timestamp::nanosecond;
use serde::Deserialize;
use serde::Serialize;
use serde::Serializer;

use crate::map::EntryId;
use crate::map::Event;
use crate::map::EventId;
use crate::map::Field;
use crate::map::Kind;
use crate::map::Link;
use crate::map::Mark;
use crate::map::MomentId;
use crate::map::OwnLineId;
use crate::map::Position;
use crate::map::SittingId;
use crate::map::StepId;
use crate::map::TraceId;
use crate::map::Way;
use crate::map::What;
use crate::safety::Words;

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
    #[serde(with = "Compact")]
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
    Compact::serialize(what, serializer)
}

/// [`What`] once more: every part in its place, with no names beside it.
#[derive(Serialize, Deserialize)]
#[serde(remote = "What")]
enum Compact {
    EntryAdded {
        entry: EntryId,
        field: Field,
        kind: Option<Kind>,
        words: Words,
    },
    EntryReworded {
        entry: EntryId,
        words: Words,
    },
    EntryMoved {
        entry: EntryId,
        field: Field,
        kind: Option<Kind>,
    },
    EntryRetired {
        entry: EntryId,
    },
    EntryRestored {
        entry: EntryId,
    },
    Linked {
        from: EntryId,
        to: EntryId,
        link: Link,
    },
    Unlinked {
        from: EntryId,
        to: EntryId,
        link: Link,
    },
    LoopTraced {
        trace: TraceId,
        hook: EntryId,
        away: EntryId,
        relief: Option<Words>,
        cost: Option<Words>,
        back_to: Option<EntryId>,
        matters: Option<Words>,
    },
    MomentNoted {
        moment: MomentId,
        showed_up: Vec<EntryId>,
        did: Vec<EntryId>,
        way: Way,
        serves: Vec<EntryId>,
        words: Option<Words>,
    },
    StepAdded {
        step: StepId,
        when: Option<Words>,
        act: Words,
        serves: Vec<EntryId>,
        confidence: Option<u8>,
        smaller_than: Option<StepId>,
    },
    StepMarked {
        step: StepId,
        mark: Mark,
        helpful: Option<bool>,
        got_in_the_way: Option<EntryId>,
    },
    WorkabilityRated {
        entry: EntryId,
        now: u8,
        later: u8,
    },
    LivedRated {
        entry: EntryId,
        importance: u8,
        closeness: u8,
    },
    OwnLineAdded {
        line: OwnLineId,
        name: Words,
        number: Words,
    },
    OwnLineRemoved {
        line: OwnLineId,
    },
    SettingChosen {
        name: String,
        value: String,
    },
    SittingAt {
        sitting: SittingId,
        script: String,
        position: Position,
        made: Vec<EventId>,
    },
    SittingEnded {
        sitting: SittingId,
    },
    TakenBack {
        event: EventId,
    },
}
