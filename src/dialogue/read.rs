//! From TOML to the written form. It reads on after a fault, so that everything wrong in a file is found at once;
//! a derived reader would stop at the first.

use std::ops::Range;

use toml::Spanned;
use toml::de::DeTable;
use toml::de::DeValue;

use crate::dialogue::fault::Fault;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::written::At;
use crate::dialogue::written::WrittenLines;
use crate::dialogue::written::WrittenScript;
use crate::language;

mod effects;
mod nodes;
mod values;
mod waits;

/// The most bytes that one file of a script may have.
pub(in crate::dialogue) const MOST_BYTES: usize = 512 * 1024;

/// The most nodes that one script may have: many times more than the longest sitting needs.
pub(in crate::dialogue) const MOST_NODES: usize = 500;

/// How often a question for entries is asked at most, when its node does not say.
const DEFAULT_MOST: u32 = 12;

/// A file as read: its script if it holds one, its lines if it holds any, and everything that was not understood.
pub(in crate::dialogue) struct Read {
    pub(in crate::dialogue) script: WrittenScript,
    pub(in crate::dialogue) lines: WrittenLines,
    pub(in crate::dialogue) faults: Vec<Fault>,
}

/// Reads one file: a flow, its words, or both.
pub(in crate::dialogue) fn read(file: &str, text: &str, flow: bool) -> Read {
    let plain = Some(text)
        .filter(|text| !flow && text.len() <= MOST_BYTES)
        .and_then(language::plain_rows);
    match plain {
        Some(rows) => Read {
            script: WrittenScript::default(),
            lines: rows.into_iter().map(written).collect(),
            faults: Vec::new(),
        },
        None => read_toml(file, text, flow),
    }
}

fn written(row: language::Row<'_>) -> (At<String>, At<String>) {
    let name = At {
        value: row.name.to_owned(),
        span: row.name_at,
    };
    let text = At {
        value: row.text.into_owned(),
        span: row.text_at,
    };
    (name, text)
}

fn read_toml(file: &str, text: &str, flow: bool) -> Read {
    let mut reader = Reader {
        file,
        text,
        faults: Vec::new(),
    };
    let mut script = WrittenScript::default();
    let mut lines = WrittenLines::new();
    if text.len() > MOST_BYTES {
        reader.fault(0..0, FaultKind::TooLarge { most: MOST_BYTES });
        return Read {
            script,
            lines,
            faults: reader.faults,
        };
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    for (span, said) in syntax(text, errors) {
        reader.fault(span, FaultKind::Syntax { said });
    }
    // After a syntax fault, what was recovered can be anything, and faults found in it would only confuse.
    if reader.faults.is_empty() {
        reader.file(table.get_ref(), flow, &mut script, &mut lines);
    }
    Read {
        script,
        lines,
        faults: reader.faults,
    }
}

/// What is no TOML, once a line. A bracket that is never closed makes nonsense of everything after it, so that then only
/// the bracket is reported, where it was opened.
fn syntax(text: &str, errors: Vec<toml::de::Error>) -> Vec<(Range<usize>, String)> {
    let mut found: Vec<(Range<usize>, String)> = errors
        .into_iter()
        .map(|error| (error.span().unwrap_or(0..0), error.message().to_owned()))
        .collect();
    found.sort_by_key(|(span, _)| span.start);
    let open = found.iter().find_map(|(_, said)| {
        let bracket = if said.starts_with("unclosed array") {
            '['
        } else {
            '{'
        };
        said.starts_with("unclosed").then(|| (bracket, said.clone()))
    });
    let first = found.first().map_or(0, |(span, _)| span.start);
    if let Some((bracket, said)) = open
        && let Some(at) = text.get(..first).and_then(|before| before.rfind(bracket))
    {
        return vec![(at..at + 1, said)];
    }
    found.dedup_by_key(|(span, _)| place(text, span.start).0);
    found
}

/// The place of a fault as line and column, from 1.
pub(in crate::dialogue) fn place(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
    (line, column)
}

struct Reader<'t> {
    file: &'t str,
    text: &'t str,
    faults: Vec<Fault>,
}

type Value<'t> = Spanned<DeValue<'t>>;

impl Reader<'_> {
    fn fault(&mut self, span: Range<usize>, what: FaultKind) {
        let (line, column) = place(self.text, span.start);
        self.faults.push(Fault {
            file: self.file.to_owned(),
            line,
            column,
            span,
            what,
        });
    }

    fn wrong(&mut self, key: &str, value: &Value<'_>, expected: &'static str) {
        self.fault(
            value.span(),
            FaultKind::WrongValue {
                key: key.to_owned(),
                expected,
            },
        );
    }

    fn file(
        &mut self,
        table: &DeTable<'_>,
        flow: bool,
        script: &mut WrittenScript,
        lines: &mut WrittenLines,
    ) {
        for (key, value) in table {
            match (key.get_ref().as_ref(), flow) {
                ("lines", _) => self.lines(value, lines),
                ("name", true) => {
                    script.name = self
                        .slot(key.get_ref(), value)
                        .map_or(String::new(), |at| at.value);
                }
                ("version", true) => script.version = self.number(key.get_ref(), value).unwrap_or(0),
                ("start", true) => script.start = self.text(key.get_ref(), value),
                ("needs", true) => script.needs = self.slots(key.get_ref(), value),
                ("node", true) => {
                    let nodes = self.tables("node", value);
                    if let Some((_, span)) = nodes.get(MOST_NODES) {
                        self.fault(span.clone(), FaultKind::TooManyNodes { most: MOST_NODES });
                    }
                    for node in nodes.into_iter().take(MOST_NODES) {
                        script.nodes.extend(self.node(node));
                    }
                }
                (unknown, _) => {
                    self.fault(
                        key.span(),
                        FaultKind::UnknownKey {
                            key: unknown.to_owned(),
                        },
                    );
                }
            }
        }
        if flow {
            for key in ["name", "version", "start", "node"] {
                if !table.keys().any(|there| there.get_ref() == key) {
                    self.fault(0..0, FaultKind::Missing { key });
                }
            }
        }
    }

    fn lines(&mut self, value: &Value<'_>, lines: &mut WrittenLines) {
        let Some(table) = value.get_ref().as_table() else {
            return self.wrong("lines", value, "a table of lines");
        };
        for (key, value) in table {
            if let Some(text) = self.text(key.get_ref(), value) {
                lines.push((
                    At {
                        value: key.get_ref().to_string(),
                        span: key.span(),
                    },
                    text,
                ));
            }
        }
    }
}

fn find<'v, 't>(table: &'v DeTable<'t>, key: &str) -> Option<&'v Value<'t>> {
    table
        .iter()
        .find(|(name, _)| name.get_ref() == key)
        .map(|(_, value)| value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_words_are_read_as_all_of_toml_is() {
        let told = |lines: &WrittenLines| -> Vec<_> {
            let each = |(name, text): &(At<String>, At<String>)| {
                (
                    name.value.clone(),
                    name.span.clone(),
                    text.value.clone(),
                    text.span.clone(),
                )
            };
            lines.iter().map(each).collect()
        };
        for file in [
            include_str!("../../scripts/dialogue/en/coach.toml"),
            include_str!("../../scripts/dialogue/en/common.toml"),
            include_str!("../../scripts/dialogue/en/first-map.toml"),
            include_str!("../../scripts/dialogue/en/safety.toml"),
            "[lines]\n\"b\" = \"Zwei \\\"Wörter\\\" — ein Satz.\"\n# A note.\n\n\"a\" = \"\"",
        ] {
            assert!(language::plain_rows(file).is_some(), "this file is plain");
            let (quick, long) = (
                read("words.toml", file, false),
                read_toml("words.toml", file, false),
            );
            assert!(long.faults.is_empty());
            assert_eq!(told(&quick.lines), told(&long.lines));
        }
    }
}
