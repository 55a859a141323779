//! Events: what the person did, one fact each, never changed afterwards.

use std::fmt;

use jiff::Timestamp;
use serde::Deserialize;
use serde::Serialize;
use zeroize::Zeroize;

use crate::map::EntryId;
use crate::map::EventId;
use crate::map::Field;
use crate::map::Kind;
use crate::map::Link;
use crate::map::Mark;
use crate::map::MomentId;
use crate::map::OwnLineId;
use crate::map::SittingId;
use crate::map::StepId;
use crate::map::TraceId;
use crate::map::Way;
use crate::map::compact::with_mirror;
use crate::safety::Words;

/// Something that happened, at a time, under an identity that sorts by time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Event {
    /// The identity.
    pub id: EventId,
    /// When it was recorded.
    pub at: Timestamp,
    /// What happened.
    #[serde(flatten)]
    pub what: What,
}

with_mirror! {
    /// What happened.
    #[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
    #[serde(tag = "what", rename_all = "kebab-case")]
    pub enum What {
        /// An entry came onto the map.
        EntryAdded {
            /// The new entry.
            entry: EntryId,
            /// Its field.
            field: Field,
            /// Its kind, when known.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            kind: Option<Kind>,
            /// The person's own words.
            words: Words,
        },
        /// An entry got other words.
        EntryReworded {
            /// Which entry.
            entry: EntryId,
            /// The new words.
            words: Words,
        },
        /// An entry went to another field, or got another kind.
        EntryMoved {
            /// Which entry.
            entry: EntryId,
            /// The field it is in from now on.
            field: Field,
            /// The kind it has from now on.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            kind: Option<Kind>,
        },
        /// An entry is no longer true; it stays in the past.
        EntryRetired {
            /// Which entry.
            entry: EntryId,
        },
        /// A retired entry is true again.
        EntryRestored {
            /// Which entry.
            entry: EntryId,
        },
        /// Two entries were joined.
        Linked {
            /// From this entry.
            from: EntryId,
            /// To this entry.
            to: EntryId,
            /// In this way.
            link: Link,
        },
        /// Two entries were taken apart.
        Unlinked {
            /// From this entry.
            from: EntryId,
            /// To this entry.
            to: EntryId,
            /// In this way.
            link: Link,
        },
        /// One loop was followed: a hook, an away move, relief now, cost later, and back.
        LoopTraced {
            /// The trace.
            trace: TraceId,
            /// The inner entry at its start.
            hook: EntryId,
            /// The away move.
            away: EntryId,
            /// What the move gives at once.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            relief: Option<Words>,
            /// What it costs later.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            cost: Option<Words>,
            /// The inner entry that the cost feeds, where there is one.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            back_to: Option<EntryId>,
            /// Where what matters is in it, in the person's words.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            matters: Option<Words>,
        },
        /// The person noticed something.
        MomentNoted {
            /// The moment.
            moment: MomentId,
            /// Inner entries that showed up.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            showed_up: Vec<EntryId>,
            /// What the person did: entries of the away or toward field.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            did: Vec<EntryId>,
            /// Which way it went.
            way: Way,
            /// For whom or what.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            serves: Vec<EntryId>,
            /// The moment in the person's words, when they wrote it in a line.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            words: Option<Words>,
        },
        /// A small step was chosen.
        StepAdded {
            /// The step.
            step: StepId,
            /// If: the time, place or feeling that sets it off.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            when: Option<Words>,
            /// Then: the act.
            act: Words,
            /// For whom or what.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            serves: Vec<EntryId>,
            /// How sure the person is that they will do it, 0 to 10.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            confidence: Option<u8>,
            /// The larger step that this one stands for.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            smaller_than: Option<StepId>,
        },
        /// The person said how a step went.
        StepMarked {
            /// Which step.
            step: StepId,
            /// How it went.
            mark: Mark,
            /// Whether it helped, when the person said so.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            helpful: Option<bool>,
            /// The inner entry that got in the way.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            got_in_the_way: Option<EntryId>,
        },
        /// The person said how an away move works: now and later, 0 to 10 each.
        WorkabilityRated {
            /// The away move.
            entry: EntryId,
            /// How much it helps at once, 0 to 10.
            now: u8,
            /// How much it helps later, 0 to 10.
            later: u8,
        },
        /// The person said how important something is, and how close to it they lived, 0 to 10 each.
        LivedRated {
            /// The entry under what matters.
            entry: EntryId,
            /// How important, 0 to 10.
            importance: u8,
            /// How close the person lived to it, 0 to 10.
            closeness: u8,
        },
        /// A person or line of the person's own joined their crisis list.
        OwnLineAdded {
            /// The line.
            line: OwnLineId,
            /// Who.
            name: Words,
            /// The number, or another way to reach them.
            number: Words,
        },
        /// One of the person's own lines left the list.
        OwnLineRemoved {
            /// The line.
            line: OwnLineId,
        },
        /// A choice about the program itself; never a person's words.
        SettingChosen {
            /// Its name, from a fixed list.
            name: String,
            /// Its value, from a fixed list.
            value: String,
        },
        /// A sitting stands at a prompt.
        SittingAt {
            /// The sitting.
            sitting: SittingId,
            /// The script's name.
            script: String,
            /// The exact place.
            position: Position,
            /// The events that the answer to the prompt before this one made, so that going back can take them back.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            made: Vec<EventId>,
        },
        /// A sitting came to its end, or the person left it for good.
        SittingEnded {
            /// The sitting.
            sitting: SittingId,
        },
        /// The person went back: the event counts as never said.
        TakenBack {
            /// The event that no longer counts.
            event: EventId,
        },
    }
}

/// A saved place in a dialogue, as text that only the dialogue reads. It may hold words that wait for an answer, so
/// it is wiped when dropped and never shown by `Debug`.
#[derive(Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Position(String);

impl Position {
    /// Takes over a place that the dialogue wrote.
    #[must_use]
    pub fn new(saved: String) -> Self {
        Self(saved)
    }

    /// The text, for the dialogue to read.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Drop for Position {
    fn drop(&mut self) {
        self.0.zeroize();
    }
}

impl fmt::Debug for Position {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Position({} bytes)", self.0.len())
    }
}
