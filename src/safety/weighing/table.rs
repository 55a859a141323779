//! Reads the table of weights and the kinds of words.

use serde::Deserialize;

use super::CLOSING;
use super::Marks;
use super::OPENING;
use super::Seen;
use super::UNKNOWN;
use super::Weighing;
use super::Weight;
use super::bit;
use super::key;
use super::stem;
use crate::safety::groups::named;
use crate::safety::pieces::pieces;

/// The row of the table for what the subjects of the sentence say, where they say that it is someone else.
const READ_AS_OTHER: &str = "=read-as-other";

/// Why the table could not be read; only a fault in the shipped files can cause it, and a test reads them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::safety) struct TableFault(pub String);

#[derive(Deserialize)]
struct KindFile {
    kind: Vec<Kind>,
}

#[derive(Deserialize)]
struct Kind {
    name: String,
    words: String,
}

impl Weighing {
    /// Reads the table and the kinds of words.
    pub(in crate::safety) fn new() -> Result<Self, TableFault> {
        let fault = |row: &str| TableFault(row.to_owned());
        let mut table = Self::default();
        table.words.insert("<", OPENING);
        table.words.insert(">", CLOSING);
        // Room for every row at once: a table that grows as it is read is copied over and over.
        let file = include_str!("../patterns/weights.tsv");
        let count = file.bytes().filter(|b| *b == b'\n').count();
        table.phrases.reserve(count);
        table.words.reserve(count / 4);
        let mut rows: Vec<([u32; 3], bool, f32)> = Vec::with_capacity(count);
        for row in file.lines().skip(1) {
            let mut columns = pieces(row, b'\t');
            let (Some(phrase), Some(pause), Some(stop), Some(other), topic) = (
                columns.next(),
                columns.next(),
                columns.next(),
                columns.next(),
                columns.next(),
            ) else {
                return Err(fault(row));
            };
            let weight = Weight {
                pause: pause.parse().map_err(|_| fault(row))?,
                stop: stop.parse().map_err(|_| fault(row))?,
                other: other.parse().map_err(|_| fault(row))?,
                topic: match topic {
                    None | Some("") => None,
                    Some(name) => Some(named(name).ok_or_else(|| fault(row))?),
                },
            };
            if phrase.is_empty() {
                table.base = weight;
                continue;
            }
            if phrase == READ_AS_OTHER {
                table.read_as_other = weight.other;
                continue;
            }
            let (words, apart) = table.numbers(phrase).ok_or_else(|| fault(row))?;
            table.phrases.insert(key(words, apart), weight);
            rows.push((words, apart, weight.pause));
        }
        let kinds: KindFile =
            toml::from_str(include_str!("../patterns/kinds.toml")).map_err(|e| TableFault(e.to_string()))?;
        table.name_kinds(&kinds);
        table.mark(&rows);
        Ok(table)
    }

    /// The numbers of the words of a phrase, and whether it is a pair with something between.
    fn numbers(&mut self, phrase: &'static str) -> Option<([u32; 3], bool)> {
        let mut out = [UNKNOWN; 3];
        let mut apart = false;
        let mut places = out.iter_mut();
        for word in pieces(phrase, b' ') {
            if word == "_" {
                apart = true;
                continue;
            }
            let next = u32::try_from(self.words.len()).ok()? + 1;
            *places.next()? = *self.words.get_or_insert_with(word, || next);
        }
        Some((out, apart))
    }

    fn name_kinds(&mut self, file: &KindFile) {
        let number = |word: &str| self.words.get(word).copied().unwrap_or(UNKNOWN);
        for kind in &file.kind {
            let phrase = number(&format!("={}", kind.name));
            for word in kind.words.split_whitespace() {
                let alone = number(stem(word));
                self.kinds.get_or_insert_with(word, || Seen { phrase, alone });
            }
        }
    }

    /// Marks at its first word each phrase that is in the table, and the most that the edges of a run can add.
    fn mark(&mut self, rows: &[([u32; 3], bool, f32)]) {
        self.marks = vec![Marks::default(); self.words.len() + 3];
        for (words, apart, weight) in rows {
            let [one, two, three] = *words;
            let alone = self.sum([one, UNKNOWN, UNKNOWN], false);
            let marks = &mut self.marks[one as usize];
            match (two, three, apart) {
                (UNKNOWN, ..) => marks.alone = alone,
                (_, UNKNOWN, false) => marks.pairs |= bit(two),
                (_, UNKNOWN, true) => marks.apart |= bit(two),
                _ => marks.triples |= bit(two ^ three.rotate_left(3)),
            }
            if words.contains(&OPENING) || words.contains(&CLOSING) {
                self.edge = self.edge.max(*weight);
            }
        }
    }
}
