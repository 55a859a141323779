//! What is on the map: entries, joins, traced loops, moments, steps, and what was said of them.

use jiff::Timestamp;

use crate::map::EntryId;
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
use crate::map::kept::Keyed;
use crate::safety::Words;

/// One entry of the map.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its identity.
    pub id: EntryId,
    /// The field it is in.
    pub field: Field,
    /// Its kind, when known.
    pub kind: Option<Kind>,
    /// The person's words.
    pub words: Words,
    /// When it came onto the map.
    pub added: Timestamp,
    /// When it was retired, if it is.
    pub retired: Option<Timestamp>,
}

/// Two entries joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Joined {
    /// From this entry.
    pub from: EntryId,
    /// To this entry.
    pub to: EntryId,
    /// In this way.
    pub link: Link,
}

/// A loop that the person followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Traced {
    /// Its identity.
    pub id: TraceId,
    /// When.
    pub at: Timestamp,
    /// The inner entry at its start.
    pub hook: EntryId,
    /// The away move.
    pub away: EntryId,
    /// What it gives at once.
    pub relief: Option<Words>,
    /// What it costs later.
    pub cost: Option<Words>,
    /// The inner entry that the cost feeds.
    pub back_to: Option<EntryId>,
    /// Where what matters is in it.
    pub matters: Option<Words>,
}

/// Something the person noticed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moment {
    /// Its identity.
    pub id: MomentId,
    /// When it was noted.
    pub at: Timestamp,
    /// Inner entries that showed up.
    pub showed_up: Vec<EntryId>,
    /// What the person did.
    pub did: Vec<EntryId>,
    /// Which way it went.
    pub way: Way,
    /// For whom or what.
    pub serves: Vec<EntryId>,
    /// In the person's words.
    pub words: Option<Words>,
}

/// A small next step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its identity.
    pub id: StepId,
    /// When it was chosen.
    pub added: Timestamp,
    /// If: what sets it off.
    pub when: Option<Words>,
    /// Then: the act.
    pub act: Words,
    /// For whom or what.
    pub serves: Vec<EntryId>,
    /// How sure, 0 to 10.
    pub confidence: Option<u8>,
    /// The larger step it stands for.
    pub smaller_than: Option<StepId>,
    /// How it went, the latest mark with its time.
    pub mark: Option<(Timestamp, Mark)>,
    /// Whether it helped, when the person said so.
    pub helpful: Option<bool>,
    /// The inner entry that got in the way.
    pub got_in_the_way: Option<EntryId>,
}

/// How an away move works, said at one time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Workability {
    /// The away move.
    pub entry: EntryId,
    /// When it was said.
    pub at: Timestamp,
    /// How much it helps at once, 0 to 10.
    pub now: u8,
    /// How much it helps later, 0 to 10.
    pub later: u8,
}

/// How important something is and how close to it the person lived, said at one time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lived {
    /// The entry under what matters.
    pub entry: EntryId,
    /// When it was said.
    pub at: Timestamp,
    /// How important, 0 to 10.
    pub importance: u8,
    /// How close, 0 to 10.
    pub closeness: u8,
}

/// A person or line of the person's own, for the crisis list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnLine {
    /// Its identity.
    pub id: OwnLineId,
    /// Who.
    pub name: Words,
    /// How to reach them.
    pub number: Words,
}

/// A sitting that has not ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sitting {
    /// Its identity.
    pub id: SittingId,
    /// The script's name.
    pub script: String,
    /// The places it stood at, oldest first: the event, the place, and the events that led to it.
    pub places: Vec<(EventId, Position, Vec<EventId>)>,
    /// When it last moved.
    pub at: Timestamp,
}

macro_rules! keyed_by_id {
    ($($thing:ident: $id:ident),*) => {
        $(impl Keyed for $thing {
            type Key = $id;

            fn key(&self) -> $id {
                self.id
            }
        })*
    };
}

keyed_by_id!(Entry: EntryId, Traced: TraceId, Moment: MomentId, Step: StepId, OwnLine: OwnLineId, Sitting: SittingId);

impl Keyed for Joined {
    type Key = Self;

    fn key(&self) -> Self {
        *self
    }
}
