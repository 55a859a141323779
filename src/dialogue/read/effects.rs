//! The part of reading that turns `do = [...]` into known effects, and notes which slots each reads and writes.

use std::ops::Range;

use toml::de::DeTable;

use super::Reader;
use super::Value;
use super::find;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::written::At;
use crate::dialogue::written::Effect;
use crate::dialogue::written::MomentSlots;
use crate::dialogue::written::StepSlots;
use crate::dialogue::written::TraceSlots;
use crate::dialogue::written::WrittenEffect;
use crate::map::Link;

/// The effects by the key that names them, with the other keys each knows.
const KNOWN: [(&str, &[&str]); 18] = [
    ("link", &["from", "to"]),
    ("unlink", &["from", "to"]),
    ("retire", &[]),
    ("restore", &[]),
    ("reword", &["words"]),
    ("move", &["field", "kind"]),
    ("trace", &["hook", "away", "relief", "cost", "back-to", "matters"]),
    (
        "step",
        &["act", "when", "serves", "confidence", "smaller-than", "into"],
    ),
    ("mark", &["as", "helpful", "in-the-way"]),
    ("moment", &["way", "showed-up", "did", "serves", "words"]),
    ("rate", &["now", "later"]),
    ("lived", &["importance", "closeness"]),
    ("set", &["number", "value"]),
    ("unhook", &["into"]),
    ("copy", &["to"]),
    ("forget", &[]),
    ("distress", &[]),
    ("said", &[]),
];

/// Reads the slots of one effect, and notes them.
struct Slots<'r, 't, 'v> {
    reader: &'r mut Reader<'t>,
    table: &'v DeTable<'v>,
    span: Range<usize>,
    reads: Vec<At<String>>,
    writes: Vec<At<String>>,
}

impl Reader<'_> {
    pub(super) fn effect(&mut self, table: &DeTable<'_>, span: &Range<usize>) -> Option<WrittenEffect> {
        let known = KNOWN.iter().find(|(name, _)| find(table, name).is_some());
        let Some((name, keys)) = known else {
            let effect = table
                .keys()
                .next()
                .map_or(String::new(), |key| key.get_ref().to_string());
            self.fault(span.clone(), FaultKind::UnknownEffect { effect });
            return None;
        };
        let keys: Vec<_> = keys.iter().copied().chain([*name]).collect();
        self.only(table, &keys);
        let mut slots = Slots {
            reader: self,
            table,
            span: span.clone(),
            reads: Vec::new(),
            writes: Vec::new(),
        };
        let effect = slots.effect(name)?;
        Some(WrittenEffect {
            effect,
            reads: slots.reads,
            writes: slots.writes,
        })
    }
}

impl Slots<'_, '_, '_> {
    fn effect(&mut self, name: &str) -> Option<Effect> {
        Some(match name {
            "link" => Effect::Link {
                link: self.link("link")?,
                from: self.read("from")?,
                to: self.read("to")?,
            },
            "unlink" => Effect::Unlink {
                link: self.link("unlink")?,
                from: self.read("from")?,
                to: self.read("to")?,
            },
            "retire" => Effect::Retire {
                entry: self.read("retire")?,
            },
            "restore" => Effect::Restore {
                entry: self.read("restore")?,
            },
            "reword" => Effect::Reword {
                entry: self.read("reword")?,
                words: self.read("words")?,
            },
            "move" => Effect::Move {
                entry: self.read("move")?,
                field: self.reader.field(self.table, &self.span, "field")?,
                kind: find(self.table, "kind").and_then(|kind| self.reader.kind(kind)),
            },
            "trace" => Effect::Trace(TraceSlots {
                hook: self.read("hook")?,
                away: self.read("away")?,
                relief: self.may_read("relief"),
                cost: self.may_read("cost"),
                back_to: self.may_read("back-to"),
                matters: self.may_read("matters"),
            }),
            "step" => Effect::Step(StepSlots {
                act: self.read("act")?,
                when: self.may_read("when"),
                serves: self.may_read("serves"),
                confidence: self.may_read("confidence"),
                smaller_than: self.may_read("smaller-than"),
                into: self.may_write("into"),
            }),
            "mark" => Effect::Mark {
                step: self.read("mark")?,
                mark: self.read("as")?,
                helpful: self.may_read("helpful"),
                in_the_way: self.may_read("in-the-way"),
            },
            "moment" => Effect::Moment(MomentSlots {
                way: self.read("way")?,
                showed_up: self.may_read("showed-up"),
                did: self.may_read("did"),
                serves: self.may_read("serves"),
                words: self.may_read("words"),
            }),
            "rate" => Effect::Rate {
                entry: self.read("rate")?,
                now: self.read("now")?,
                later: self.read("later")?,
            },
            "lived" => Effect::Lived {
                entry: self.read("lived")?,
                importance: self.read("importance")?,
                closeness: self.read("closeness")?,
            },
            "set" => Effect::Set {
                slot: self.write("set")?,
                number: find(self.table, "number").and_then(|number| self.reader.number("number", number)),
                value: find(self.table, "value")
                    .and_then(|value| self.reader.text("value", value))
                    .map(|at| at.value),
            },
            "unhook" => Effect::Unhook {
                thought: self.read("unhook")?,
                into: self.write("into")?,
            },
            "copy" => Effect::Copy {
                from: self.read("copy")?,
                to: self.write("to")?,
            },
            "forget" => Effect::Forget {
                slot: self.read("forget")?,
            },
            "distress" => Effect::Distress {
                slot: self.read("distress")?,
            },
            _ => Effect::Said { keep: self.said()? },
        })
    }

    fn find(&self, key: &str) -> Option<&Value<'_>> {
        find(self.table, key)
    }

    fn name(&mut self, key: &'static str) -> Option<At<String>> {
        let Some(value) = find(self.table, key) else {
            self.reader.fault(self.span.clone(), FaultKind::Missing { key });
            return None;
        };
        self.reader.slot(key, value)
    }

    fn read(&mut self, key: &'static str) -> Option<String> {
        let name = self.name(key)?;
        self.reads.push(name.clone());
        Some(name.value)
    }

    fn write(&mut self, key: &'static str) -> Option<String> {
        let name = self.name(key)?;
        self.writes.push(name.clone());
        Some(name.value)
    }

    fn may_read(&mut self, key: &'static str) -> Option<String> {
        self.find(key).is_some().then(|| self.read(key))?
    }

    fn may_write(&mut self, key: &'static str) -> Option<String> {
        self.find(key).is_some().then(|| self.write(key))?
    }

    fn said(&mut self) -> Option<bool> {
        let value = find(self.table, "said")?;
        match value.get_ref().as_str() {
            Some("keep") => Some(true),
            Some("drop") => Some(false),
            _ => {
                self.reader.wrong("said", value, "keep or drop");
                None
            }
        }
    }

    fn link(&mut self, key: &str) -> Option<Link> {
        let value = find(self.table, key)?;
        let link = match value.get_ref().as_str() {
            Some("pulls") => Link::Pulls,
            Some("costs-later") => Link::CostsLater,
            Some("serves") => Link::Serves,
            Some("same-behaviour") => Link::SameBehaviour,
            _ => {
                self.reader
                    .wrong(key, value, "pulls, costs-later, serves or same-behaviour");
                return None;
            }
        };
        Some(link)
    }
}
