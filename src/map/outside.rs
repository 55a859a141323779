//! Events that come from outside: out of a backup, or from another device. Nobody here has looked at their words, so
//! they are not [`Event`]s yet, and the only way to make them so is through the screen.

use serde::Deserialize;
use serde_json::Value;
use zeroize::Zeroize;

use crate::map::Event;
use crate::map::Position;
use crate::map::What;
use crate::safety::Screened;
use crate::safety::Topic;
use crate::safety::Words;

/// An event as a file from outside tells it.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(transparent)]
pub struct Outside(Event);

impl Outside {
    /// Lets the event in: all its words are looked at, and those that the look gives back take their place. A saved
    /// place in a dialogue may hold words too; every text in it is looked at and stays as it is, since only the dialogue
    /// can read it.
    #[must_use]
    pub fn let_in(mut self, look: &mut impl FnMut(&str) -> Screened) -> Event {
        if let What::SittingAt { position, .. } = &self.0.what {
            look_into(position, look);
        }
        for words in words_of(&mut self.0.what) {
            *words = look(words.as_str()).into_words();
        }
        self.0
    }
}

/// Looks at every text in a saved place, one by one. Only what stands there as the topics of a safety message is left
/// out: these are names that the program wrote, and nothing that a person said.
fn look_into(position: &Position, look: &mut impl FnMut(&str) -> Screened) {
    let Ok(place) = serde_json::from_str(position.as_str()) else {
        drop(look(position.as_str()));
        return;
    };
    let mut open = vec![place];
    while let Some(value) = open.pop() {
        match value {
            Value::String(mut text) => {
                drop(look(&text));
                text.zeroize();
            }
            Value::Array(values) => open.extend(values),
            Value::Object(values) => {
                for (mut name, mut value) in values {
                    if let Value::Array(topics) = &mut value
                        && name == "topics"
                    {
                        topics.retain(|topic| Topic::deserialize(topic).is_err());
                    }
                    drop(look(&name));
                    name.zeroize();
                    open.push(value);
                }
            }
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
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
    use crate::safety::Level;
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

    /// The most urgent thing that is seen in a saved place.
    fn seen_in(position: &str) -> Level {
        let line = serde_json::json!({
            "id": "01980000-0000-7000-8000-000000000011", "at": "2026-03-14T09:30:00Z", "what": "sitting-at",
            "sitting": "01980000-0000-7000-8000-0000000000c9", "script": "first-map", "position": position,
        });
        let outside: Outside = serde_json::from_value(line).expect("a place");
        let mut level = Level::None;
        let event = outside.let_in(&mut |text| {
            let screened = screen(text);
            level = level.max(screened.level());
            screened
        });
        assert!(matches!(event.what, What::SittingAt { position: kept, .. } if kept.as_str() == position));
        level
    }

    /// As the dialogue saves a place: with these words waiting for a decision, and these texts in the list of topics.
    fn place(words: &str, topics: &[&str]) -> String {
        let frame = serde_json::json!({
            "script": "safety", "version": 1, "node": "stop", "phase": "waiting", "trail": [["open", 1], ["stop", 1]],
            "slots": {"level": {"number": 3}, "words": "flag"}, "met": "stop",
            "pending": {"words": words, "heard": false, "keep": true},
        });
        let watch = serde_json::json!({
            "quiet": {"quiets": 0}, "interrupted": true, "topics": topics, "distress": [7], "leaving": false,
        });
        serde_json::json!({"form": 1, "frames": [frame], "watch": watch}).to_string()
    }

    #[test]
    fn a_place_is_looked_at_for_what_was_said_and_not_for_the_names_of_topics() {
        let topics = [
            "suicide",
            "self-injury",
            "overdose",
            "harm-to-others",
            "abuse",
            "medical",
        ];
        assert_eq!(seen_in(&place("a cold kitchen", &topics)), Level::None);
        // What would be danger in words is danger wherever it stands, and so is a topic's name that somebody said.
        assert!(seen_in(&place("I want to \"kill myself\"", &topics)) >= Level::Stop);
        assert!(seen_in(&place("a cold kitchen", &["I want to kill myself"])) >= Level::Stop);
        assert_eq!(seen_in(&place("suicide", &topics)), screen("suicide").level());
        assert!(screen("suicide").level() > Level::None);
        for hidden in [
            r#"{"form": 1, "beside": {"I want to kill myself": 1}}"#,
            r#"[["I want to kill myself"]]"#,
            r#"{"topics": "I want to kill myself"}"#,
            "I want to kill myself {",
        ] {
            assert!(seen_in(hidden) >= Level::Stop, "{hidden}");
        }
    }
}
