//! Reads the table of weights and the kinds of words.

use serde::Deserialize;

use super::CLOSING;
use super::Marks;
use super::OPENING;
use super::Said;
use super::Seen;
use super::UNKNOWN;
use super::Weighing;
use super::bit;
use super::key;
use super::stem;
use crate::safety::by_word::ByWord;
use crate::safety::groups::named;
use crate::safety::pieces::pieces;
use crate::safety::sums::Sum;

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

/// The words of the phrase before, and their numbers: rows are sorted, so most words stand where they stood in the row above,
/// and need not be looked up.
#[derive(Default)]
struct Last([(&'static str, u32); 3]);

impl Last {
    /// The numbers of the words of a phrase, and whether it is a pair with something between. A new word has the next number.
    fn numbers(&mut self, phrase: &'static str, known: &mut ByWord<u32>) -> Option<([u32; 3], bool)> {
        let mut out = [UNKNOWN; 3];
        let mut apart = false;
        let mut places = out.iter_mut().zip(&mut self.0);
        for word in pieces(phrase, b' ') {
            if word == "_" {
                apart = true;
                continue;
            }
            let (place, last) = places.next()?;
            if last.0 != word {
                let next = u32::try_from(known.len()).ok()? + 1;
                *last = (word, *known.get_or_insert_with(word, || next));
            }
            *place = last.1;
        }
        Some((out, apart))
    }
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
        table.marks.reserve(count / 4);
        let mut last = Last::default();
        for row in file.lines().skip(1) {
            let mut columns = pieces(row, b'\t');
            let mut next = || columns.next().ok_or_else(|| fault(row));
            let (phrase, pause, stop, other, settled, topic) =
                (next()?, next()?, next()?, next()?, next()?, next()?);
            // Hundredths: numbers with a point take several times as long to read.
            let weight = |column: &str| match column.parse::<i16>() {
                Ok(hundredths) => Ok(f32::from(hundredths) / 100.0),
                Err(_) => Err(fault(row)),
            };
            let danger = Sum(weight(pause)?, weight(stop)?);
            let said = Said {
                other: weight(other)?,
                settled: weight(settled)?,
                topic: match topic {
                    "" => None,
                    name => Some(named(name).ok_or_else(|| fault(row))?),
                },
            };
            match phrase {
                "" => (table.base, table.base_said) = (danger, said),
                READ_AS_OTHER => table.read_as_other = said.other,
                _ => {
                    let (words, apart) = last.numbers(phrase, &mut table.words).ok_or_else(|| fault(row))?;
                    table.add(words, apart, danger, said);
                }
            }
        }
        table.shared = [OPENING, CLOSING]
            .map(|edge| table.sum([edge, UNKNOWN, UNKNOWN], false).0)
            .iter()
            .sum();
        let kinds: KindFile =
            toml::from_str(include_str!("../patterns/kinds.toml")).map_err(|e| TableFault(e.to_string()))?;
        table.name_kinds(&kinds);
        Ok(table)
    }

    /// Keeps what a phrase weighs and says, and marks it at its first word.
    fn add(&mut self, words: [u32; 3], apart: bool, danger: Sum, said: Said) {
        self.marks
            .resize(self.marks.len().max(self.words.len() + 3), Marks::default());
        if said != Said::default() {
            self.said.insert(key(words, apart), said);
        }
        if danger == Sum::default() {
            return;
        }
        self.phrases.insert(key(words, apart), danger);
        let [one, two, three] = words;
        let marks = &mut self.marks[one as usize];
        match (two, three, apart) {
            (UNKNOWN, ..) => marks.alone = danger,
            (_, UNKNOWN, false) => marks.pairs |= bit(two),
            (_, UNKNOWN, true) => marks.apart |= bit(two),
            _ => marks.triples |= bit(two ^ three.rotate_left(3)),
        }
        if words.contains(&OPENING) || words.contains(&CLOSING) {
            self.edge = self.edge.max(danger.0);
        }
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
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use std::collections::HashMap;

    use super::*;

    #[test]
    fn every_word_of_the_table_has_a_number_of_its_own() {
        let table = Weighing::new().unwrap();
        let mut known = HashMap::from([(UNKNOWN, ""), (OPENING, "<"), (CLOSING, ">")]);
        for row in include_str!("../patterns/weights.tsv").lines().skip(2) {
            let (phrase, _) = row.split_once('\t').unwrap();
            for word in phrase.split(' ').filter(|word| *word != "_") {
                if let Some(number) = table.words.get(word) {
                    assert_eq!(*known.entry(*number).or_insert(word), word);
                }
            }
        }
        assert!(known.len() > 1_000, "{} words", known.len());
    }
}
