//! Going through nodes: arriving, saying, carrying out effects, leading on, until something must be waited for.

use crate::dialogue::Output;
use crate::dialogue::Show;
use crate::dialogue::guard::Guard;
use crate::dialogue::guard::Quantity;
use crate::dialogue::guard::Test;
use crate::dialogue::program::Node;
use crate::dialogue::program::Program;
use crate::dialogue::program::Target;
use crate::dialogue::program::Waiting;
use crate::dialogue::state::Frame;
use crate::dialogue::state::Phase;
use crate::dialogue::state::Value;
use crate::dialogue::step::Run;
use crate::map::EntryId;

impl<'a> Run<'a> {
    /// Enters the node at which the frame on top stands.
    pub(in crate::dialogue) fn enter_here(&mut self) {
        if let Some((_, place)) = self.here() {
            self.run(Target::Node(place));
        }
    }

    /// Goes on after facts were recorded: to this node, or to where the present node leads.
    pub(in crate::dialogue) fn go_on(&mut self, to: Option<&str>) {
        match (self.here(), to) {
            (Some((program, _)), Some(to)) => match program.places.get(to) {
                Some(place) => self.run(Target::Node(*place)),
                None => self.run(Target::Onward),
            },
            _ => self.run(Target::Onward),
        }
    }

    /// Carries out the effects of the present node, then goes on to the target; first of all to recording, if there
    /// is anything to record.
    pub(in crate::dialogue) fn answered(&mut self, target: Target) {
        let Some((program, place)) = self.here() else {
            return;
        };
        for effect in &program.nodes[place].effects {
            self.effect(effect);
        }
        self.record_or_run(target);
    }

    /// Goes on to the target, after recording if there is anything to record.
    pub(in crate::dialogue) fn record_or_run(&mut self, target: Target) {
        let Some((program, _)) = self.here() else { return };
        if !self.recorded {
            return self.run(target);
        }
        let to = match target {
            Target::Node(place) => Some(program.nodes[place].name.clone()),
            Target::Onward | Target::End => None,
        };
        self.phase(Phase::Recording(to));
    }

    /// Goes through nodes until something must be waited for.
    pub(in crate::dialogue) fn run(&mut self, mut target: Target) {
        loop {
            let Some((program, place)) = self.here() else {
                return;
            };
            target = match target {
                Target::Node(to) => match self.arrive(program, to) {
                    Some(next) => next,
                    None => return,
                },
                Target::Onward => match self.onward(&program.nodes[place]) {
                    Some(next) => next,
                    None => return,
                },
                Target::End => match self.close() {
                    Some(next) => next,
                    None => return,
                },
            };
        }
    }

    /// The program on top and the place of the node at which it stands.
    pub(in crate::dialogue) fn here(&self) -> Option<(&'a Program, usize)> {
        let frame = self.state.top()?;
        let program = &self.library.script(&frame.script)?.program;
        Some((program, *program.places.get(&frame.node)?))
    }

    fn arrive(&mut self, program: &'a Program, place: usize) -> Option<Target> {
        let node = &program.nodes[place];
        let visits = self.top()?.visit(&node.name);
        self.phase(Phase::Fresh);
        let nothing_to_pick = match &node.wait {
            Some(Waiting::Pick {
                from,
                new: None,
                words: None,
                ..
            }) => self.look().pickable(*from).is_empty(),
            _ => false,
        };
        if nothing_to_pick || node.most.is_some_and(|most| visits > most) {
            return Some(node.done);
        }
        for line in if visits > 1 { &node.again } else { &node.say } {
            self.say(line);
        }
        let about = self.about(node);
        let show = node.show.map(|show| match show {
            Show::Fitting(_) => Show::Fitting(about),
            Show::Helped(_) => Show::Helped(about),
            other => other,
        });
        self.outputs.extend(show.map(Output::Show));
        if node.wait.is_some() {
            self.phase(Phase::Waiting);
            return None;
        }
        for effect in &node.effects {
            self.effect(effect);
        }
        if self.recorded {
            self.phase(Phase::Recording(None));
            return None;
        }
        Some(Target::Onward)
    }

    /// The entry that the shown part of a node is about.
    fn about(&self, node: &Node) -> Option<EntryId> {
        match self.state.top()?.slots.get(node.of.as_ref()?)? {
            Value::Entries(entries) => entries.first().copied(),
            _ => None,
        }
    }

    fn onward(&mut self, node: &'a Node) -> Option<Target> {
        if node.leave {
            self.state.watch.leaving = true;
        }
        if let Some(call) = &node.call
            && self.top().is_some_and(|top| top.phase != Phase::Called)
        {
            let mut frame = Frame::at_start(self.library, &call.script)?;
            let top = self.top()?;
            top.phase = Phase::Called;
            for (there, here) in &call.give {
                if let Some(value) = top.slots.get(here) {
                    frame.slots.insert(there.clone(), value.clone());
                }
            }
            self.state.frames.push(frame);
            let (_, start) = self.here()?;
            return Some(Target::Node(start));
        }
        let open = node
            .when
            .iter()
            .find(|(guard, _)| self.holds(guard))
            .map(|(_, place)| Target::Node(*place));
        Some(open.unwrap_or(node.go))
    }

    /// Ends the script on top. What was below goes on: a call leads on, an interrupted question is asked again or
    /// gets the words that were kept.
    fn close(&mut self) -> Option<Target> {
        if self.state.frames.len() <= 1 {
            self.phase(Phase::Over);
            self.outputs.push(Output::Ended);
            return None;
        }
        let ended = self.state.frames.pop()?;
        if self.top()?.phase == Phase::Called {
            return Some(Target::Onward);
        }
        if let Some(pending) = ended.pending.filter(|pending| pending.keep) {
            // Words that do not fit the question after all are let go, as the question is asked again.
            let _ = self.take(pending.words, pending.heard);
        }
        None
    }

    fn holds(&self, guard: &Guard) -> bool {
        guard.0.iter().all(|test| match test {
            Test::Interrupted(wanted) => self.state.watch.interrupted == *wanted,
            Test::Topic { topic, met } => self.state.watch.topics.contains(topic) == *met,
            Test::Has { slot, set } => {
                self.state.top().is_some_and(|top| top.slots.contains_key(slot)) == *set
            }
            Test::Compare { left, order, right } => {
                self.quantity(left).is_some_and(|left| order.holds(left, *right))
            }
        })
    }

    fn quantity(&self, quantity: &Quantity) -> Option<i64> {
        let distress = &self.state.watch.distress;
        match quantity {
            Quantity::Slot(slot) => match self.state.top()?.slots.get(slot)? {
                Value::Number(number) => Some(i64::from(*number)),
                Value::Entries(entries) => i64::try_from(entries.len()).ok(),
                _ => None,
            },
            Quantity::Count(what) => i64::try_from(self.look().count(*what)).ok(),
            Quantity::Distress => distress.last().map(|last| i64::from(*last)),
            Quantity::DistressRise => match (distress.first(), distress.last()) {
                (Some(first), Some(last)) => Some(i64::from(*last) - i64::from(*first)),
                _ => None,
            },
        }
    }
}
