//! The part of reading that turns a node's one wait into its form.

use std::ops::Range;

use toml::de::DeTable;

use super::DEFAULT_MOST;
use super::Reader;
use super::Value;
use super::find;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::written::At;
use crate::dialogue::written::Source;
use crate::dialogue::written::WaitForm;
use crate::dialogue::written::WrittenOption;
use crate::map::Field;
use crate::map::Kind;

impl Reader<'_> {
    pub(super) fn wait(
        &mut self,
        name: &str,
        value: &Value<'_>,
        into: &mut Option<At<String>>,
        most: &mut Option<u32>,
    ) -> Option<WaitForm> {
        match name {
            "press" => {
                if !self.flag(name, value) {
                    self.wrong(name, value, "true");
                }
                return Some(WaitForm::Press);
            }
            "choose" => return Some(WaitForm::Choose(self.options(value))),
            "deliberate" => return self.text(name, value).map(|word| WaitForm::Deliberate { word }),
            _ => {}
        }
        let Some(table) = value.get_ref().as_table() else {
            self.wrong(name, value, "a table");
            return None;
        };
        if let Some(slot) = find(table, "into") {
            *into = self.slot("into", slot);
        }
        if let Some(number) = find(table, "most") {
            *most = self.number("most", number);
        }
        match name {
            "words" => {
                self.only(table, &["into", "most"]);
                Some(WaitForm::Words)
            }
            "entry" => {
                self.only(table, &["field", "kind", "into", "most"]);
                let field = self.field(table, &value.span(), "field");
                let kind = find(table, "kind").and_then(|kind| self.kind(kind));
                most.get_or_insert(DEFAULT_MOST);
                field.map(|field| WaitForm::Entry { field, kind })
            }
            "pick" => {
                self.only(table, &["from", "many", "into", "new", "words", "most"]);
                let many = find(table, "many").is_some_and(|many| self.flag("many", many));
                let new = find(table, "new").and_then(|_| self.field(table, &value.span(), "new"));
                let words = find(table, "words").and_then(|words| self.slot("words", words));
                self.source(table, &value.span()).map(|from| WaitForm::Pick {
                    from,
                    many,
                    new,
                    words,
                })
            }
            _ => {
                self.only(table, &["into", "from", "to", "most"]);
                let from = find(table, "from").map_or(Some(0), |from| self.number("from", from))?;
                let to = find(table, "to").map_or(Some(10), |to| self.number("to", to))?;
                if from >= to {
                    self.fault(value.span(), FaultKind::EmptyRange);
                }
                Some(WaitForm::Number { from, to })
            }
        }
    }

    fn options(&mut self, value: &Value<'_>) -> Vec<WrittenOption> {
        let mut options = Vec::new();
        for (table, span) in self.tables("choose", value) {
            self.only(table, &["say", "go", "set"]);
            let say = self.needed(table, &span, "say");
            let go = find(table, "go").and_then(|go| self.text("go", go));
            let set = find(table, "set")
                .and_then(|set| self.text("set", set))
                .map(|at| at.value);
            options.extend(say.map(|say| WrittenOption { say, go, set }));
        }
        if options.is_empty() {
            self.fault(value.span(), FaultKind::NoOption);
        }
        options
    }

    fn source(&mut self, table: &DeTable<'_>, span: &Range<usize>) -> Option<Source> {
        let at = self.needed(table, span, "from")?;
        match at.value.as_str() {
            "moves" => Some(Source::Moves),
            "steps" => Some(Source::Steps),
            "open-steps" => Some(Source::OpenSteps),
            _ => self.field(table, span, "from").map(Source::Field),
        }
    }

    pub(super) fn field(
        &mut self,
        table: &DeTable<'_>,
        span: &Range<usize>,
        key: &'static str,
    ) -> Option<Field> {
        let at = self.needed(table, span, key)?;
        match at.value.as_str() {
            "matters" => Some(Field::Matters),
            "inner" => Some(Field::Inner),
            "away" => Some(Field::Away),
            "toward" => Some(Field::Toward),
            _ => {
                let expected = "matters, inner, away or toward";
                self.fault(
                    at.span,
                    FaultKind::WrongValue {
                        key: key.to_owned(),
                        expected,
                    },
                );
                None
            }
        }
    }

    pub(super) fn kind(&mut self, value: &Value<'_>) -> Option<Kind> {
        let kind = match value.get_ref().as_str() {
            Some("person") => Kind::Person,
            Some("quality") => Kind::Quality,
            Some("activity") => Kind::Activity,
            Some("thought") => Kind::Thought,
            Some("feeling") => Kind::Feeling,
            Some("body") => Kind::Body,
            Some("urge") => Kind::Urge,
            Some("memory") => Kind::Memory,
            _ => {
                self.wrong("kind", value, "a kind of entry");
                return None;
            }
        };
        Some(kind)
    }
}
