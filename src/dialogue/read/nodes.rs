//! A node: its words, what it waits for, what it does, and where it leads.

use std::ops::Range;

use toml::de::DeTable;

use super::Reader;
use super::Value;
use crate::dialogue::Show;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::guard::Guard;
use crate::dialogue::written::At;
use crate::dialogue::written::WrittenBranch;
use crate::dialogue::written::WrittenNode;

impl Reader<'_> {
    pub(super) fn node(&mut self, (table, span): (&DeTable<'_>, Range<usize>)) -> Option<WrittenNode> {
        let mut node = WrittenNode {
            name: At {
                value: String::new(),
                span: span.clone(),
            },
            say: Vec::new(),
            again: Vec::new(),
            show: None,
            of: None,
            ask: None,
            ask_again: None,
            wait: None,
            into: None,
            most: None,
            effects: Vec::new(),
            call: None,
            give: Vec::new(),
            leave: false,
            end: false,
            when: Vec::new(),
            go: None,
            done: None,
            skip: None,
        };
        let mut named = false;
        for (key, value) in table {
            let name = key.get_ref().as_ref();
            match name {
                "name" => {
                    named = true;
                    node.name = self.text(name, value)?;
                }
                "say" => node.say = self.texts(name, value),
                "again" => node.again = self.texts(name, value),
                "show" => node.show = self.show(value),
                "of" => node.of = self.slot(name, value),
                "ask" => node.ask = self.text(name, value),
                "ask-again" => node.ask_again = self.text(name, value),
                "into" => node.into = self.slot(name, value),
                "most" => node.most = self.number(name, value),
                "do" => {
                    for (effect, span) in self.tables(name, value) {
                        node.effects.extend(self.effect(effect, &span));
                    }
                }
                "call" => node.call = self.text(name, value),
                "give" => node.give = self.give(value),
                "leave" => node.leave = self.flag(name, value),
                "end" => node.end = self.flag(name, value),
                "when" => node.when = self.branches(value),
                "go" => node.go = self.text(name, value),
                "done" => node.done = self.text(name, value),
                "skip" => node.skip = self.text(name, value),
                "press" | "words" | "entry" | "choose" | "pick" | "number" | "deliberate" => {
                    if node.wait.is_some() {
                        self.fault(
                            key.span(),
                            FaultKind::TwoWaits {
                                wait: name.to_owned(),
                            },
                        );
                    }
                    node.wait = self
                        .wait(name, value, &mut node.into, &mut node.most)
                        .or(node.wait);
                }
                unknown => self.fault(
                    key.span(),
                    FaultKind::UnknownKey {
                        key: unknown.to_owned(),
                    },
                ),
            }
        }
        if !named {
            self.fault(span, FaultKind::Missing { key: "name" });
            return None;
        }
        Some(node)
    }

    fn branches(&mut self, value: &Value<'_>) -> Vec<WrittenBranch> {
        let mut branches = Vec::new();
        for (table, span) in self.tables("when", value) {
            let guard = self
                .needed(table, &span, "if")
                .and_then(|at| match Guard::parse(&at.value) {
                    Ok(guard) => Some(At {
                        value: guard,
                        span: at.span,
                    }),
                    Err(part) => {
                        self.fault(at.span, FaultKind::Guard { part });
                        None
                    }
                });
            let go = self.needed(table, &span, "go");
            self.only(table, &["if", "go"]);
            if let (Some(guard), Some(go)) = (guard, go) {
                branches.push(WrittenBranch { guard, go });
            }
        }
        branches
    }

    fn give(&mut self, value: &Value<'_>) -> Vec<(At<String>, At<String>)> {
        let Some(table) = value.get_ref().as_table() else {
            self.wrong("give", value, "a table of slots");
            return Vec::new();
        };
        let mut given = Vec::new();
        for (key, value) in table {
            let there = At {
                value: key.get_ref().to_string(),
                span: key.span(),
            };
            if let Some(here) = self.slot(key.get_ref(), value) {
                given.push((there, here));
            }
        }
        given
    }

    fn show(&mut self, value: &Value<'_>) -> Option<Show> {
        let show = match value.get_ref().as_str() {
            Some("map") => Show::Map,
            Some("loops") => Show::Loops,
            Some("steps") => Show::Steps,
            Some("numbers") => Show::Numbers,
            Some("hiding") => Show::Hiding,
            Some("fitting") => Show::Fitting(None),
            Some("helped") => Show::Helped(None),
            Some("changes") => Show::Changes,
            _ => {
                self.wrong(
                    "show",
                    value,
                    "map, loops, steps, numbers, hiding, fitting, helped or changes",
                );
                return None;
            }
        };
        Some(show)
    }
}
