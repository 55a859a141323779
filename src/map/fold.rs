//! The fold: from events to the map as it stands.

use std::collections::BTreeMap;

use jiff::Timestamp;
use rustc_hash::FxHashSet;

use crate::map::Entry;
use crate::map::EntryId;
use crate::map::Event;
use crate::map::EventId;
use crate::map::Field;
use crate::map::Joined;
use crate::map::Lived;
use crate::map::Moment;
use crate::map::OwnLine;
use crate::map::Position;
use crate::map::Sitting;
use crate::map::SittingId;
use crate::map::Step;
use crate::map::Traced;
use crate::map::What;
use crate::map::Workability;
use crate::map::kept::Kept;

/// The map as it stands: the fold of events.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Map {
    entries: Kept<Entry>,
    links: Kept<Joined>,
    loops: Kept<Traced>,
    moments: Kept<Moment>,
    steps: Kept<Step>,
    workability: Vec<Workability>,
    lived: Vec<Lived>,
    own_lines: Kept<OwnLine>,
    settings: BTreeMap<String, String>,
    sittings: Kept<Sitting>,
}

impl Map {
    /// Folds events, which must come in the order of their identities. Events that were taken back do not count.
    /// The time taken grows linearly with their number.
    pub fn fold<'e>(events: impl IntoIterator<Item = &'e Event>) -> Self {
        let events: Vec<_> = events.into_iter().collect();
        let mut map = Self::default();
        let taken_back = map.make_room(&events);
        for event in events {
            if !taken_back.contains(&event.id) {
                map.take_in(event);
            }
        }
        map.settle();
        map
    }

    /// Makes room for what these events will add, so that nothing is moved about while they are taken in. Gives those
    /// that are taken back by others among them.
    fn make_room(&mut self, events: &[&Event]) -> FxHashSet<EventId> {
        let mut taken_back = FxHashSet::default();
        let [mut entries, mut links, mut loops, mut moments, mut steps] = [0; 5];
        for event in events {
            match event.what {
                What::TakenBack { event } => {
                    taken_back.insert(event);
                }
                What::EntryAdded { .. } => entries += 1,
                What::Linked { .. } => links += 1,
                What::LoopTraced { .. } => loops += 1,
                What::MomentNoted { .. } => moments += 1,
                What::StepAdded { .. } => steps += 1,
                // Of the others a person has few, or they change what is there.
                _ => {}
            }
        }
        self.entries.make_room(entries);
        self.links.make_room(links);
        self.loops.make_room(loops);
        self.moments.make_room(moments);
        self.steps.make_room(steps);
        taken_back
    }

    /// Takes in one event that is newer than all before it. Marks about things that are not there change nothing, and
    /// of two things with one identity the first stays.
    pub fn apply(&mut self, event: &Event) {
        self.take_in(event);
        self.settle();
    }

    /// Closes the gaps that unlinking, ending and removing leave.
    fn settle(&mut self) {
        self.links.settle();
        self.own_lines.settle();
        self.sittings.settle();
    }

    fn take_in(&mut self, event: &Event) {
        let at = event.at;
        match &event.what {
            What::EntryAdded {
                entry,
                field,
                kind,
                words,
            } => {
                let (id, field, kind) = (*entry, *field, *kind);
                self.entries.add(id, || Entry {
                    id,
                    field,
                    kind,
                    words: words.clone(),
                    added: at,
                    retired: None,
                });
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
                self.links.add(joined, || joined);
            }
            What::Unlinked { from, to, link } => {
                let joined = Joined {
                    from: *from,
                    to: *to,
                    link: *link,
                };
                self.links.let_go(joined);
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
                self.loops.add(*trace, || Traced {
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
            _ => self.take_in_told(event),
        }
    }

    /// Takes in what was told of days and steps, and what belongs to the program.
    fn take_in_told(&mut self, event: &Event) {
        let at = event.at;
        match &event.what {
            What::MomentNoted {
                moment,
                showed_up,
                did,
                way,
                serves,
                words,
            } => self.moments.add(*moment, || Moment {
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
            } => self.steps.add(*step, || Step {
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
            What::StepMarked { .. } => self.mark(event),
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
                self.own_lines.add(*line, || OwnLine {
                    id: *line,
                    name: name.clone(),
                    number: number.clone(),
                });
            }
            What::OwnLineRemoved { line } => self.own_lines.let_go(*line),
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
                self.stand_at(*sitting, script, place, at);
            }
            What::SittingEnded { sitting } => self.sittings.let_go(*sitting),
            What::EntryAdded { .. }
            | What::EntryReworded { .. }
            | What::EntryMoved { .. }
            | What::EntryRetired { .. }
            | What::EntryRestored { .. }
            | What::Linked { .. }
            | What::Unlinked { .. }
            | What::LoopTraced { .. }
            | What::TakenBack { .. } => {}
        }
    }

    fn mark(&mut self, event: &Event) {
        let What::StepMarked {
            step,
            mark,
            helpful,
            got_in_the_way,
        } = &event.what
        else {
            return;
        };
        if let Some(step) = self.steps.get_mut(*step) {
            step.mark = Some((event.at, *mark));
            step.helpful = helpful.or(step.helpful);
            step.got_in_the_way = got_in_the_way.or(step.got_in_the_way);
        }
    }

    fn stand_at(
        &mut self,
        id: SittingId,
        script: &str,
        place: (EventId, Position, Vec<EventId>),
        at: Timestamp,
    ) {
        if let Some(open) = self.sittings.get_mut(id) {
            open.places.push(place);
            open.at = at;
        } else {
            self.sittings.add(id, || Sitting {
                id,
                script: script.to_owned(),
                places: vec![place],
                at,
            });
        }
    }

    fn change(&mut self, entry: EntryId, change: impl FnOnce(&mut Entry)) {
        if let Some(entry) = self.entries.get_mut(entry) {
            change(entry);
        }
    }

    /// Every entry, retired ones too, in the order in which they came.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        self.entries.as_slice()
    }

    /// The entries of one field that are true today, in the order in which they came.
    pub fn field(&self, field: Field) -> impl Iterator<Item = &Entry> {
        self.entries
            .as_slice()
            .iter()
            .filter(move |entry| entry.field == field && entry.retired.is_none())
    }

    /// One entry, retired or not.
    #[must_use]
    pub fn entry(&self, id: EntryId) -> Option<&Entry> {
        self.entries.get(id)
    }

    /// Where an entry is among [`Self::entries`].
    #[must_use]
    pub fn place(&self, id: EntryId) -> Option<usize> {
        self.entries.place(id)
    }

    /// How entries are joined.
    #[must_use]
    pub fn links(&self) -> &[Joined] {
        self.links.as_slice()
    }

    /// The loops that the person followed, oldest first.
    #[must_use]
    pub fn loops(&self) -> &[Traced] {
        self.loops.as_slice()
    }

    /// The moments, oldest first.
    #[must_use]
    pub fn moments(&self) -> &[Moment] {
        self.moments.as_slice()
    }

    /// The steps, oldest first.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        self.steps.as_slice()
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
        self.own_lines.as_slice()
    }

    /// A choice about the program, when one was made.
    #[must_use]
    pub fn setting(&self, name: &str) -> Option<&str> {
        self.settings.get(name).map(String::as_str)
    }

    /// The sittings that have not ended, oldest first.
    #[must_use]
    pub fn sittings(&self) -> &[Sitting] {
        self.sittings.as_slice()
    }
}
