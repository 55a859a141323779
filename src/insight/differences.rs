//! Two dates of a map side by side: what came, went, changed and moved.

use serde::Serialize;

use crate::map::EntryId;
use crate::map::Field;
use crate::map::Joined;
use crate::map::Link;
use crate::map::Map;
use crate::map::Mark;
use crate::map::StepId;

/// An entry in another field than before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Moved {
    /// The entry.
    pub entry: EntryId,
    /// Where it was.
    pub from: Field,
    /// Where it is.
    pub to: Field,
}

/// A join that came or went.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Tie {
    /// From this entry.
    pub from: EntryId,
    /// To this entry.
    pub to: EntryId,
    /// In this way.
    pub link: Link,
}

/// A step that was said to have gone another way than before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Marked {
    /// The step.
    pub step: StepId,
    /// How it had gone, if that had been said.
    pub from: Option<Mark>,
    /// How it went.
    pub to: Mark,
}

/// What differs between an earlier and a later map of the same person. Lists follow the order of the maps; an entry
/// can be both changed and moved.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Differences {
    /// Entries that are true in the later map and were not in the earlier: new, or restored.
    pub came: Vec<EntryId>,
    /// Entries that were true in the earlier map and are not in the later: retired, or taken back.
    pub went: Vec<EntryId>,
    /// Entries that are true in both, in other words.
    pub changed: Vec<EntryId>,
    /// Entries that are true in both, in another field.
    pub moved: Vec<Moved>,
    /// Entries that are true in both, in the same field, of another kind.
    pub other_kind: Vec<EntryId>,
    /// Joins that came.
    pub joined: Vec<Tie>,
    /// Joins that went.
    pub parted: Vec<Tie>,
    /// Steps that came.
    pub steps_came: Vec<StepId>,
    /// Steps that were marked, or marked otherwise.
    pub steps_marked: Vec<Marked>,
}

impl Differences {
    /// Whether nothing differs.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// Lays two maps side by side.
#[must_use]
pub fn differences(earlier: &Map, later: &Map) -> Differences {
    let mut found = Differences::default();
    for now in later.entries().iter().filter(|entry| entry.retired.is_none()) {
        let Some(before) = true_in(earlier, now.id) else {
            found.came.push(now.id);
            continue;
        };
        if before.words != now.words {
            found.changed.push(now.id);
        }
        if before.field != now.field {
            let (entry, from, to) = (now.id, before.field, now.field);
            found.moved.push(Moved { entry, from, to });
        } else if before.kind != now.kind {
            found.other_kind.push(now.id);
        }
    }
    let was_true = earlier.entries().iter().filter(|entry| entry.retired.is_none());
    let gone = was_true.filter(|entry| true_in(later, entry.id).is_none());
    found.went = gone.map(|entry| entry.id).collect();
    found.joined = only_in(later, earlier);
    found.parted = only_in(earlier, later);
    for step in later.steps() {
        let before = earlier.steps().iter().find(|one| one.id == step.id);
        if before.is_none() {
            found.steps_came.push(step.id);
        }
        let from = before.and_then(|step| step.mark).map(|(_, mark)| mark);
        if let Some((_, to)) = step.mark
            && from != Some(to)
        {
            let step = step.id;
            found.steps_marked.push(Marked { step, from, to });
        }
    }
    found
}

fn true_in(map: &Map, entry: EntryId) -> Option<&crate::map::Entry> {
    map.entry(entry).filter(|entry| entry.retired.is_none())
}

fn only_in(one: &Map, other: &Map) -> Vec<Tie> {
    let known: std::collections::HashSet<&Joined> = other.links().iter().collect();
    one.links()
        .iter()
        .filter(|joined| !known.contains(joined))
        .map(|joined| Tie {
            from: joined.from,
            to: joined.to,
            link: joined.link,
        })
        .collect()
}
