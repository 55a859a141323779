//! The map as stable, documented JSON: what `wayfold map --as json` prints, and from which every number of a look back
//! can be recounted. Its shape is described in `map.schema.json` beside this file; a change that breaks readers
//! raises [`VERSION`].

use jiff::Timestamp;
use serde::Serialize;

use crate::map::Entry;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Kind;
use crate::map::Link;
use crate::map::Map;
use crate::map::Mark;
use crate::map::Moment;
use crate::map::MomentId;
use crate::map::Step;
use crate::map::StepId;
use crate::map::TraceId;
use crate::map::Traced;
use crate::map::Way;
use crate::safety::Words;

/// The version of the form.
pub const VERSION: u32 = 1;

/// The JSON Schema (draft 2020-12) of the form.
pub const SCHEMA: &str = include_str!("map.schema.json");

/// The whole map, retired entries too, in the order in which things came. It borrows the person's words.
#[derive(Debug, Serialize)]
pub struct MapJson<'m> {
    /// [`VERSION`].
    pub version: u32,
    /// When this was made.
    pub made: Timestamp,
    /// The entries.
    pub entries: Vec<EntryJson<'m>>,
    /// How entries are joined.
    pub links: Vec<LinkJson>,
    /// The loops that the person followed.
    pub loops: Vec<LoopJson<'m>>,
    /// The small steps.
    pub steps: Vec<StepJson<'m>>,
    /// The moments.
    pub moments: Vec<MomentJson<'m>>,
    /// How away moves work.
    pub workability: Vec<WorkabilityJson>,
    /// How important things are, and how close the person lived to them.
    pub lived: Vec<LivedJson>,
}

/// One entry.
#[derive(Debug, Serialize)]
pub struct EntryJson<'m> {
    /// Its identity.
    pub id: EntryId,
    /// Its field.
    pub field: Field,
    /// Its kind, when known.
    pub kind: Option<Kind>,
    /// The person's words.
    pub text: &'m str,
    /// When it came onto the map.
    pub added: Timestamp,
    /// When it was retired, if it is.
    pub retired: Option<Timestamp>,
}

/// Two entries joined.
#[derive(Debug, Serialize)]
pub struct LinkJson {
    /// From this entry.
    pub from: EntryId,
    /// To this entry.
    pub to: EntryId,
    /// In this way.
    pub kind: Link,
}

/// A loop that the person followed.
#[derive(Debug, Serialize)]
pub struct LoopJson<'m> {
    /// Its identity.
    pub id: TraceId,
    /// When it was followed.
    pub at: Timestamp,
    /// The inner entry at its start.
    pub hook: EntryId,
    /// The away move.
    pub away: EntryId,
    /// What it gives at once.
    pub relief: Option<&'m str>,
    /// What it costs later.
    pub cost: Option<&'m str>,
    /// The inner entry that the cost feeds.
    pub back_to: Option<EntryId>,
    /// Where what matters is in it.
    pub matters: Option<&'m str>,
}

/// A small step.
#[derive(Debug, Serialize)]
pub struct StepJson<'m> {
    /// Its identity.
    pub id: StepId,
    /// When it was chosen.
    pub added: Timestamp,
    /// If: what sets it off.
    pub when: Option<&'m str>,
    /// Then: the act.
    pub act: &'m str,
    /// For whom or what.
    pub serves: &'m [EntryId],
    /// How sure the person was, 0 to 10.
    pub confidence: Option<u8>,
    /// The larger step that it stands for.
    pub smaller_than: Option<StepId>,
    /// How it went, when that was said.
    pub mark: Option<Mark>,
    /// When that was said.
    pub marked: Option<Timestamp>,
    /// Whether it helped, when that was said.
    pub helpful: Option<bool>,
    /// The inner entry that got in the way.
    pub got_in_the_way: Option<EntryId>,
}

/// A moment.
#[derive(Debug, Serialize)]
pub struct MomentJson<'m> {
    /// Its identity.
    pub id: MomentId,
    /// When it was noted.
    pub at: Timestamp,
    /// Inner entries that showed up.
    pub showed_up: &'m [EntryId],
    /// What the person did.
    pub did: &'m [EntryId],
    /// Which way it went, as the person judged it.
    pub way: Way,
    /// For whom or what.
    pub serves: &'m [EntryId],
    /// In the person's words.
    pub text: Option<&'m str>,
}

/// How an away move works, said at one time.
#[derive(Debug, Serialize)]
pub struct WorkabilityJson {
    /// The away move.
    pub entry: EntryId,
    /// When it was said.
    pub at: Timestamp,
    /// How much it helps at once, 0 to 10.
    pub now: u8,
    /// How much it helps later, 0 to 10.
    pub later: u8,
}

/// How something was lived, said at one time.
#[derive(Debug, Serialize)]
pub struct LivedJson {
    /// The entry under what matters.
    pub entry: EntryId,
    /// When it was said.
    pub at: Timestamp,
    /// How important, 0 to 10.
    pub importance: u8,
    /// How close, 0 to 10.
    pub closeness: u8,
}

impl<'m> MapJson<'m> {
    /// Puts a map into this form. `made` is the time to write into it; no clock is read.
    #[must_use]
    pub fn of(map: &'m Map, made: Timestamp) -> Self {
        Self {
            version: VERSION,
            made,
            entries: map.entries().iter().map(EntryJson::of).collect(),
            links: map
                .links()
                .iter()
                .map(|joined| LinkJson {
                    from: joined.from,
                    to: joined.to,
                    kind: joined.link,
                })
                .collect(),
            loops: map.loops().iter().map(LoopJson::of).collect(),
            steps: map.steps().iter().map(StepJson::of).collect(),
            moments: map.moments().iter().map(MomentJson::of).collect(),
            workability: map
                .workability()
                .iter()
                .map(|said| WorkabilityJson {
                    entry: said.entry,
                    at: said.at,
                    now: said.now,
                    later: said.later,
                })
                .collect(),
            lived: map
                .lived()
                .iter()
                .map(|said| LivedJson {
                    entry: said.entry,
                    at: said.at,
                    importance: said.importance,
                    closeness: said.closeness,
                })
                .collect(),
        }
    }
}

impl<'m> EntryJson<'m> {
    fn of(entry: &'m Entry) -> Self {
        Self {
            id: entry.id,
            field: entry.field,
            kind: entry.kind,
            text: entry.words.as_str(),
            added: entry.added,
            retired: entry.retired,
        }
    }
}

impl<'m> LoopJson<'m> {
    fn of(traced: &'m Traced) -> Self {
        Self {
            id: traced.id,
            at: traced.at,
            hook: traced.hook,
            away: traced.away,
            relief: traced.relief.as_ref().map(Words::as_str),
            cost: traced.cost.as_ref().map(Words::as_str),
            back_to: traced.back_to,
            matters: traced.matters.as_ref().map(Words::as_str),
        }
    }
}

impl<'m> StepJson<'m> {
    fn of(step: &'m Step) -> Self {
        Self {
            id: step.id,
            added: step.added,
            when: step.when.as_ref().map(Words::as_str),
            act: step.act.as_str(),
            serves: &step.serves,
            confidence: step.confidence,
            smaller_than: step.smaller_than,
            mark: step.mark.map(|(_, mark)| mark),
            marked: step.mark.map(|(at, _)| at),
            helpful: step.helpful,
            got_in_the_way: step.got_in_the_way,
        }
    }
}

impl<'m> MomentJson<'m> {
    fn of(moment: &'m Moment) -> Self {
        Self {
            id: moment.id,
            at: moment.at,
            showed_up: &moment.showed_up,
            did: &moment.did,
            way: moment.way,
            serves: &moment.serves,
            text: moment.words.as_ref().map(Words::as_str),
        }
    }
}
