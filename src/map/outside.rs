//! Events that come from outside: out of a backup, or from another device. Nobody here has looked at their words, so
//! they are not [`Event`]s yet, and the only way to make them so is through the screen.

use serde::Deserialize;

use crate::map::Event;
use crate::map::What;
use crate::safety::Screened;
use crate::safety::Words;

/// An event as a file from outside tells it.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(transparent)]
pub struct Outside(Event);

impl Outside {
    /// Lets the event in: all its words are looked at, and those that the look gives back take their place. A saved
    /// place in a dialogue may hold words too; it is looked at whole and stays as it is, since only the dialogue can
    /// read it.
    #[must_use]
    pub fn let_in(mut self, look: &mut impl FnMut(&str) -> Screened) -> Event {
        if let What::SittingAt { position, .. } = &self.0.what {
            drop(look(position.as_str()));
        }
        for words in words_of(&mut self.0.what) {
            *words = look(words.as_str()).into_words();
        }
        self.0
    }
}

/// Every piece of a person's own words in what happened.
fn words_of(what: &mut What) -> Vec<&mut Words> {
    match what {
        What::EntryAdded { words, .. } | What::EntryReworded { words, .. } => vec![words],
        What::LoopTraced {
            relief,
            cost,
            matters,
            ..
        } => [relief, cost, matters].into_iter().flatten().collect(),
        What::MomentNoted { words, .. } => words.iter_mut().collect(),
        What::StepAdded { when, act, .. } => when.iter_mut().chain([act]).collect(),
        What::OwnLineAdded { name, number, .. } => vec![name, number],
        What::EntryMoved { .. }
        | What::EntryRetired { .. }
        | What::EntryRestored { .. }
        | What::Linked { .. }
        | What::Unlinked { .. }
        | What::StepMarked { .. }
        | What::WorkabilityRated { .. }
        | What::LivedRated { .. }
        | What::OwnLineRemoved { .. }
        | What::SettingChosen { .. }
        | What::SittingAt { .. }
        | What::SittingEnded { .. }
        | What::TakenBack { .. } => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use crate::safety::screen;

    use super::*;

    /// One event of every sort, written by hand as a file from outside would have it, with the words `w1`, `w2`, ...
    const LINES: &str = include_str!("../../tests/data/store/every-event.jsonl");

    #[test]
    fn every_word_of_every_sort_of_event_is_looked_at() {
        let mut seen = Vec::new();
        let mut sorts = std::collections::BTreeSet::new();
        for line in LINES.lines() {
            let value: serde_json::Value = serde_json::from_str(line).expect("JSON");
            sorts.insert(value["what"].as_str().expect("a sort").to_owned());
            let outside: Outside = serde_json::from_str(line).expect(line);
            let event = outside.let_in(&mut |text| {
                seen.push(text.to_owned());
                screen(text)
            });
            assert_eq!(
                serde_json::to_value(&event).expect("JSON"),
                value,
                "let in as it was"
            );
        }
        assert_eq!(sorts.len(), 19, "{sorts:?}");
        let all: Vec<_> = (1..=11).map(|number| format!("w{number}")).collect();
        assert_eq!(seen, all);
    }
}
