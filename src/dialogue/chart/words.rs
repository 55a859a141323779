//! Waits, effects and guards in the words in which they are written.

use super::Waits;
use crate::dialogue::guard::Counted;
use crate::dialogue::guard::Guard;
use crate::dialogue::guard::Order;
use crate::dialogue::guard::Quantity;
use crate::dialogue::guard::Test;
use crate::dialogue::program::Waiting;
use crate::dialogue::written::Effect;
use crate::dialogue::written::Source;
use crate::map::Field;
use crate::map::Link;
use crate::safety::Topic;

/// A wait, and more about it.
pub(super) fn wait(wait: Option<&Waiting>) -> (Waits, String) {
    match wait {
        None => (Waits::Nothing, String::new()),
        Some(Waiting::Press) => (Waits::Press, String::new()),
        Some(Waiting::Words) => (Waits::Words, String::new()),
        Some(Waiting::Entry { field, .. }) => (Waits::Entry, name(*field).to_owned()),
        Some(Waiting::Choose(choices)) => (Waits::Choose, format!("1 of {}", choices.len())),
        Some(Waiting::Pick { from, .. }) => (Waits::Pick, source(*from).to_owned()),
        Some(Waiting::Number { from, to }) => (Waits::Number, format!("{from} to {to}")),
        Some(Waiting::Deliberate { .. }) => (Waits::Deliberate, String::new()),
    }
}

/// An effect with the slots that matter most.
pub(super) fn effect(effect: &Effect) -> String {
    match effect {
        Effect::Link { link, from, to } => format!("{} {from} -> {to}", link_name(*link)),
        Effect::Unlink { link, from, to } => format!("unlink {} {from} -> {to}", link_name(*link)),
        Effect::Retire { entry } => format!("retire {entry}"),
        Effect::Restore { entry } => format!("restore {entry}"),
        Effect::Reword { entry, .. } => format!("reword {entry}"),
        Effect::Move { entry, field, .. } => format!("move {entry} to {}", name(*field)),
        Effect::Trace(slots) => format!("trace {} -> {}", slots.hook, slots.away),
        Effect::Step(slots) => format!("step {}", slots.act),
        Effect::Mark { step, mark, .. } => format!("mark {step} as {mark}"),
        Effect::Moment(slots) => format!("moment {}", slots.way),
        Effect::Rate { entry, .. } => format!("rate {entry}"),
        Effect::Lived { entry, .. } => format!("lived {entry}"),
        Effect::Set { slot, .. } => format!("set {slot}"),
        Effect::Unhook { thought, into } => format!("unhook {thought} into {into}"),
        Effect::Copy { from, to } => format!("copy {from} to {to}"),
        Effect::Forget { slot } => format!("forget {slot}"),
        Effect::Distress { slot } => format!("distress {slot}"),
        Effect::Said { keep: true } => "keep what was said".to_owned(),
        Effect::Said { keep: false } => "drop what was said".to_owned(),
    }
}

/// A guard.
pub(super) fn guard(guard: &Guard) -> String {
    guard.0.iter().map(test).collect::<Vec<_>>().join(" and ")
}

fn test(test: &Test) -> String {
    let not = |met: bool| if met { "" } else { "not " };
    match test {
        Test::Has { slot, set } => format!("{}has {slot}", not(*set)),
        Test::Interrupted(met) => format!("{}interrupted", not(*met)),
        Test::Topic { topic, met } => format!("{}topic {}", not(*met), topic_name(*topic)),
        Test::Compare { left, order, right } => format!("{} {} {right}", quantity(left), sign(*order)),
    }
}

fn topic_name(topic: Topic) -> &'static str {
    match topic {
        Topic::Suicide => "suicide",
        Topic::SelfInjury => "self-injury",
        Topic::Overdose => "overdose",
        Topic::HarmToOthers => "harm-to-others",
        Topic::Abuse => "abuse",
        Topic::Eating => "eating",
        Topic::Psychosis => "psychosis",
        Topic::Withdrawal => "withdrawal",
        Topic::Perinatal => "perinatal",
        Topic::Medical => "medical",
    }
}

fn quantity(quantity: &Quantity) -> String {
    match quantity {
        Quantity::Slot(slot) => slot.clone(),
        Quantity::Count(Counted::Field(field)) => format!("count.{}", name(*field)),
        Quantity::Count(Counted::Entries) => "count.entries".to_owned(),
        Quantity::Count(Counted::Loops) => "count.loops".to_owned(),
        Quantity::Count(Counted::Steps) => "count.steps".to_owned(),
        Quantity::Count(Counted::OpenSteps) => "count.open-steps".to_owned(),
        Quantity::Count(Counted::Moments) => "count.moments".to_owned(),
        Quantity::Distress => "distress".to_owned(),
        Quantity::DistressRise => "distress.rise".to_owned(),
    }
}

fn sign(order: Order) -> &'static str {
    match order {
        Order::Less => "<",
        Order::AtMost => "<=",
        Order::Equal => "=",
        Order::Unequal => "!=",
        Order::AtLeast => ">=",
        Order::More => ">",
    }
}

fn source(source: Source) -> &'static str {
    match source {
        Source::Field(field) => name(field),
        Source::Moves => "moves",
        Source::Steps => "steps",
        Source::OpenSteps => "open-steps",
    }
}

fn name(field: Field) -> &'static str {
    match field {
        Field::Matters => "matters",
        Field::Inner => "inner",
        Field::Away => "away",
        Field::Toward => "toward",
    }
}

fn link_name(link: Link) -> &'static str {
    match link {
        Link::Pulls => "pulls",
        Link::CostsLater => "costs-later",
        Link::Serves => "serves",
        Link::SameBehaviour => "same-behaviour",
    }
}
