//! Effects: what a node does with the answers in its slots. One that needs an unset slot is left out silently, since
//! every question can be skipped.

use uuid::Uuid;

use crate::coach;
use crate::dialogue::state::KEEPABLE;
use crate::dialogue::state::Value;
use crate::dialogue::step::Run;
use crate::dialogue::written::Effect;
use crate::dialogue::written::MomentSlots;
use crate::dialogue::written::StepSlots;
use crate::dialogue::written::TraceSlots;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Link;
use crate::map::Mark;
use crate::map::MomentId;
use crate::map::StepId;
use crate::map::TraceId;
use crate::map::Way;
use crate::map::What;
use crate::safety;
use crate::safety::Words;

impl Run<'_> {
    /// Carries out one effect.
    pub(in crate::dialogue) fn effect(&mut self, effect: &Effect) {
        // The `Option` only lets a missing slot leave the rest out.
        let _ = self.carry_out(effect);
    }

    fn carry_out(&mut self, effect: &Effect) -> Option<()> {
        match effect {
            Effect::Link { link, from, to } => self.join(*link, from, to, false),
            Effect::Unlink { link, from, to } => self.join(*link, from, to, true),
            Effect::Retire { entry } => {
                for entry in self.entries(entry) {
                    self.record(What::EntryRetired { entry });
                }
            }
            Effect::Restore { entry } => {
                for entry in self.entries(entry) {
                    self.record(What::EntryRestored { entry });
                }
            }
            Effect::Reword { entry, words } => {
                let (entry, words) = (self.entry(entry)?, self.words(words)?);
                self.record(What::EntryReworded { entry, words });
            }
            Effect::Move { entry, field, kind } => {
                for entry in self.entries(entry) {
                    self.record(What::EntryMoved {
                        entry,
                        field: *field,
                        kind: *kind,
                    });
                }
            }
            Effect::Trace(slots) => self.trace(slots)?,
            Effect::Step(slots) => self.small_step(slots)?,
            Effect::Mark {
                step,
                mark,
                helpful,
                in_the_way,
            } => {
                let (step, mark) = (self.step_id(step)?, self.chosen(mark).and_then(mark_named)?);
                let helpful = self.chosen_in(helpful.as_deref()).map(|chosen| chosen == "yes");
                let got_in_the_way = self.entry_in(in_the_way.as_deref());
                self.record(What::StepMarked {
                    step,
                    mark,
                    helpful,
                    got_in_the_way,
                });
            }
            Effect::Moment(slots) => self.moment(slots)?,
            Effect::Rate { entry, now, later } => {
                let (entry, now, later) = (self.entry(entry)?, self.number(now)?, self.number(later)?);
                self.record(What::WorkabilityRated { entry, now, later });
            }
            Effect::Lived {
                entry,
                importance,
                closeness,
            } => {
                let entry = self.entry(entry)?;
                let (importance, closeness) = (self.number(importance)?, self.number(closeness)?);
                self.record(What::LivedRated {
                    entry,
                    importance,
                    closeness,
                });
            }
            Effect::Set { slot, number, value } => {
                let value = value.clone().map(Value::Chosen);
                self.put(
                    slot,
                    value.unwrap_or_else(|| number.map_or(Value::Flag, Value::Number)),
                );
            }
            Effect::Unhook { thought, into } => {
                self.top()?.slots.remove(into);
                let unhooked = coach::unhooked(self.words(thought)?.as_str())?;
                self.put(into, Value::Words(safety::screen(&unhooked).into_words()));
            }
            Effect::Copy { from, to } => {
                let value = self.value(from)?.clone();
                self.put(to, value);
            }
            Effect::Forget { slot } => {
                self.top()?.slots.remove(slot);
            }
            Effect::Distress { slot } => {
                let distress = self.number(slot)?;
                self.state.watch.distress.push(distress);
            }
            Effect::Said { keep: true } => self.top()?.pending.as_mut()?.keep = true,
            // Dropped words are gone at once, so that no way leads back to them.
            Effect::Said { keep: false } => {
                let top = self.top()?;
                top.pending = None;
                top.slots.remove(KEEPABLE);
            }
        }
        Some(())
    }

    fn join(&mut self, link: Link, from: &str, to: &str, apart: bool) {
        for from in self.entries(from) {
            for to in self.entries(to) {
                if from != to {
                    self.record(if apart {
                        What::Unlinked { from, to, link }
                    } else {
                        What::Linked { from, to, link }
                    });
                }
            }
        }
    }

    fn trace(&mut self, slots: &TraceSlots) -> Option<()> {
        let (hook, away) = (self.entry(&slots.hook)?, self.entry(&slots.away)?);
        let relief = self.words_in(slots.relief.as_deref());
        let cost = self.words_in(slots.cost.as_deref());
        let back_to = self.entry_in(slots.back_to.as_deref());
        let matters = self.words_in(slots.matters.as_deref());
        let trace = TraceId(self.id());
        self.record(What::LoopTraced {
            trace,
            hook,
            away,
            relief,
            cost,
            back_to,
            matters,
        });
        Some(())
    }

    fn small_step(&mut self, slots: &StepSlots) -> Option<()> {
        let act = self.words(&slots.act)?;
        let when = self.words_in(slots.when.as_deref());
        let serves = slots
            .serves
            .as_ref()
            .map_or_else(Vec::new, |slot| self.entries(slot));
        let confidence = slots.confidence.as_ref().and_then(|slot| self.number(slot));
        let smaller_than = slots.smaller_than.as_ref().and_then(|slot| self.step_id(slot));
        let step = StepId(self.id());
        self.record(What::StepAdded {
            step,
            when,
            act,
            serves,
            confidence,
            smaller_than,
        });
        if let Some(into) = &slots.into {
            self.put(into, Value::Step(step));
        }
        Some(())
    }

    fn moment(&mut self, slots: &MomentSlots) -> Option<()> {
        let way = self.chosen(&slots.way).and_then(way_named)?;
        let showed_up = slots
            .showed_up
            .as_ref()
            .map_or_else(Vec::new, |slot| self.entries(slot));
        let did = slots
            .did
            .as_ref()
            .map_or_else(Vec::new, |slot| self.entries(slot));
        let serves = slots
            .serves
            .as_ref()
            .map_or_else(Vec::new, |slot| self.entries(slot));
        let words = self.words_in(slots.words.as_deref());
        let moment = MomentId(self.id());
        self.record(What::MomentNoted {
            moment,
            showed_up,
            did,
            way,
            serves,
            words,
        });
        Some(())
    }

    /// Puts a new entry onto the map.
    pub(in crate::dialogue) fn add(
        &mut self,
        field: Field,
        kind: Option<crate::map::Kind>,
        words: Words,
    ) -> EntryId {
        let entry = EntryId(self.id());
        self.record(What::EntryAdded {
            entry,
            field,
            kind,
            words,
        });
        entry
    }

    /// Puts a value into a slot of the script on top.
    pub(in crate::dialogue) fn put(&mut self, slot: &str, value: Value) {
        if let Some(top) = self.top() {
            top.slots.insert(slot.to_owned(), value);
        }
    }

    fn id(&mut self) -> Uuid {
        (self.ids)()
    }

    fn value(&self, slot: &str) -> Option<&Value> {
        self.state.top()?.slots.get(slot)
    }

    fn entries(&self, slot: &str) -> Vec<EntryId> {
        match self.value(slot) {
            Some(Value::Entries(entries)) => entries.clone(),
            _ => Vec::new(),
        }
    }

    fn entry(&self, slot: &str) -> Option<EntryId> {
        self.entries(slot).first().copied()
    }

    fn entry_in(&self, slot: Option<&str>) -> Option<EntryId> {
        self.entry(slot?)
    }

    fn words(&self, slot: &str) -> Option<Words> {
        match self.value(slot)? {
            Value::Words(words) => Some(words.clone()),
            // An entry can stand where words are asked for: a toward move as the act of a step.
            Value::Entries(entries) => entries
                .first()
                .and_then(|id| self.map.entry(*id))
                .map(|entry| entry.words.clone()),
            _ => None,
        }
    }

    fn words_in(&self, slot: Option<&str>) -> Option<Words> {
        self.words(slot?)
    }

    fn number(&self, slot: &str) -> Option<u8> {
        match self.value(slot)? {
            Value::Number(number) => Some(*number),
            _ => None,
        }
    }

    fn step_id(&self, slot: &str) -> Option<StepId> {
        match self.value(slot)? {
            Value::Step(step) => Some(*step),
            _ => None,
        }
    }

    fn chosen(&self, slot: &str) -> Option<&str> {
        match self.value(slot)? {
            Value::Chosen(chosen) => Some(chosen),
            _ => None,
        }
    }

    fn chosen_in(&self, slot: Option<&str>) -> Option<&str> {
        self.chosen(slot?)
    }
}

fn mark_named(name: &str) -> Option<Mark> {
    Some(match name {
        "done" => Mark::Done,
        "partly" => Mark::Partly,
        "not-yet" => Mark::NotYet,
        "let-go" => Mark::LetGo,
        _ => return None,
    })
}

fn way_named(name: &str) -> Option<Way> {
    Some(match name {
        "toward" => Way::Toward,
        "away" => Way::Away,
        "both" => Way::Both,
        "not-sure" => Way::NotSure,
        _ => return None,
    })
}
