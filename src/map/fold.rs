//! The fold: from events to the map as it stands.

use std::collections::BTreeMap;
use std::collections::HashMap;
use std::collections::HashSet;

use jiff::Timestamp;

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

/// The map as it stands: the fold of events.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Map {
    entries: Vec<Entry>,
    place_of: HashMap<EntryId, usize>,
    links: Vec<Joined>,
    loops: Vec<Traced>,
    moments: Vec<Moment>,
    steps: Vec<Step>,
    workability: Vec<Workability>,
    lived: Vec<Lived>,
    own_lines: Vec<OwnLine>,
    settings: BTreeMap<String, String>,
    sittings: Vec<Sitting>,
}

impl Map {
    /// Folds events, which must come in the order of their identities. Events that were taken back do not count.
    pub fn fold<'e>(events: impl IntoIterator<Item = &'e Event>) -> Self {
        let events: Vec<_> = events.into_iter().collect();
        let taken_back: HashSet<EventId> = events
            .iter()
            .filter_map(|event| match event.what {
                What::TakenBack { event } => Some(event),
                _ => None,
            })
            .collect();
        let mut map = Self::default();
        for event in events {
            if !taken_back.contains(&event.id) {
                map.apply(event);
            }
        }
        map
    }

    /// Takes in one event that is newer than all before it. Marks about things that are not there change nothing.
    pub fn apply(&mut self, event: &Event) {
        let at = event.at;
        match &event.what {
            What::EntryAdded {
                entry,
                field,
                kind,
                words,
            } => {
                if !self.place_of.contains_key(entry) {
                    self.place_of.insert(*entry, self.entries.len());
                    let (id, field, kind, words) = (*entry, *field, *kind, words.clone());
                    self.entries.push(Entry {
                        id,
                        field,
                        kind,
                        words,
                        added: at,
                        retired: None,
                    });
                }
            }
            What::EntryReworded { entry, words } => self.change(*entry, |e| e.words = words.clone()),
            What::EntryMoved { entry, field, kind } => self.change(*entry, |e| {
                e.field = *field;
                e.kind = *kind;
            }),
            What::EntryRetired { entry } => self.change(*entry, |e| e.retired = Some(at)),
            What::EntryRestored { entry } => self.change(*entry, |e| e.retired = None),
            What::Linked { from, to, link } => {
                let joined = Joined {
                    from: *from,
                    to: *to,
                    link: *link,
                };
                if !self.links.contains(&joined) {
                    self.links.push(joined);
                }
            }
            What::Unlinked { from, to, link } => {
                let joined = Joined {
                    from: *from,
                    to: *to,
                    link: *link,
                };
                self.links.retain(|one| *one != joined);
            }
            What::LoopTraced {
                trace,
                hook,
                away,
                relief,
                cost,
                back_to,
                matters,
            } => {
                self.loops.push(Traced {
                    id: *trace,
                    at,
                    hook: *hook,
                    away: *away,
                    relief: relief.clone(),
                    cost: cost.clone(),
                    back_to: *back_to,
                    matters: matters.clone(),
                });
            }
            What::MomentNoted {
                moment,
                showed_up,
                did,
                way,
                serves,
                words,
            } => self.moments.push(Moment {
                id: *moment,
                at,
                showed_up: showed_up.clone(),
                did: did.clone(),
                way: *way,
                serves: serves.clone(),
                words: words.clone(),
            }),
            What::StepAdded {
                step,
                when,
                act,
                serves,
                confidence,
                smaller_than,
            } => self.steps.push(Step {
                id: *step,
                added: at,
                when: when.clone(),
                act: act.clone(),
                serves: serves.clone(),
                confidence: *confidence,
                smaller_than: *smaller_than,
                mark: None,
                helpful: None,
                got_in_the_way: None,
            }),
            What::StepMarked {
                step,
                mark,
                helpful,
                got_in_the_way,
            } => {
                if let Some(step) = self.steps.iter_mut().find(|one| one.id == *step) {
                    step.mark = Some((at, *mark));
                    step.helpful = helpful.or(step.helpful);
                    step.got_in_the_way = got_in_the_way.or(step.got_in_the_way);
                }
            }
            What::WorkabilityRated { entry, now, later } => {
                self.workability.push(Workability {
                    entry: *entry,
                    at,
                    now: *now,
                    later: *later,
                });
            }
            What::LivedRated {
                entry,
                importance,
                closeness,
            } => {
                let (importance, closeness) = (*importance, *closeness);
                self.lived.push(Lived {
                    entry: *entry,
                    at,
                    importance,
                    closeness,
                });
            }
            What::OwnLineAdded { line, name, number } => {
                self.own_lines.push(OwnLine {
                    id: *line,
                    name: name.clone(),
                    number: number.clone(),
                });
            }
            What::OwnLineRemoved { line } => self.own_lines.retain(|one| one.id != *line),
            What::SettingChosen { name, value } => {
                self.settings.insert(name.clone(), value.clone());
            }
            What::SittingAt {
                sitting,
                script,
                position,
                made,
            } => {
                let place = (event.id, position.clone(), made.clone());
                if let Some(open) = self.sittings.iter_mut().find(|one| one.id == *sitting) {
                    open.places.push(place);
                    open.at = at;
                } else {
                    let (id, script) = (*sitting, script.clone());
                    self.sittings.push(Sitting {
                        id,
                        script,
                        places: vec![place],
                        at,
                    });
                }
            }
            What::SittingEnded { sitting } => self.sittings.retain(|one| one.id != *sitting),
            What::TakenBack { .. } => {}
        }
    }

    fn change(&mut self, entry: EntryId, change: impl FnOnce(&mut Entry)) {
        if let Some(place) = self.place_of.get(&entry) {
            change(&mut self.entries[*place]);
        }
    }

    /// Every entry, retired ones too, in the order in which they came.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The entries of one field that are true today, in the order in which they came.
    pub fn field(&self, field: Field) -> impl Iterator<Item = &Entry> {
        self.entries
            .iter()
            .filter(move |entry| entry.field == field && entry.retired.is_none())
    }

    /// One entry, retired or not.
    #[must_use]
    pub fn entry(&self, id: EntryId) -> Option<&Entry> {
        self.place_of.get(&id).map(|place| &self.entries[*place])
    }

    /// How entries are joined.
    #[must_use]
    pub fn links(&self) -> &[Joined] {
        &self.links
    }

    /// The loops that the person followed, oldest first.
    #[must_use]
    pub fn loops(&self) -> &[Traced] {
        &self.loops
    }

    /// The moments, oldest first.
    #[must_use]
    pub fn moments(&self) -> &[Moment] {
        &self.moments
    }

    /// The steps, oldest first.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// What was said of how away moves work, oldest first.
    #[must_use]
    pub fn workability(&self) -> &[Workability] {
        &self.workability
    }

    /// What was said of how things that matter were lived, oldest first.
    #[must_use]
    pub fn lived(&self) -> &[Lived] {
        &self.lived
    }

    /// The person's own lines for hard days.
    #[must_use]
    pub fn own_lines(&self) -> &[OwnLine] {
        &self.own_lines
    }

    /// A choice about the program, when one was made.
    #[must_use]
    pub fn setting(&self, name: &str) -> Option<&str> {
        self.settings.get(name).map(String::as_str)
    }

    /// The sittings that have not ended, oldest first.
    #[must_use]
    pub fn sittings(&self) -> &[Sitting] {
        &self.sittings
    }
}
