//! Reads the table of weights and the kinds of words.

use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::StrDeserializer;

use super::Fault;
use super::read;
use crate::safety::level::Topic;
use crate::safety::sums::Sum;
use crate::safety::weighing::table::CLOSING;
use crate::safety::weighing::table::Marks;
use crate::safety::weighing::table::OPENING;
use crate::safety::weighing::table::Said;
use crate::safety::weighing::table::Seen;
use crate::safety::weighing::table::UNKNOWN;
use crate::safety::weighing::table::Weighing;
use crate::safety::weighing::table::bit;
use crate::safety::weighing::table::key;
use crate::safety::weighing::table::stem;

/// The row of the table for what the subjects of the sentence say, where they say that it is someone else.
const READ_AS_OTHER: &str = "=read-as-other";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct KindFile {
    kind: Vec<Kind>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Kind {
    name: String,
    words: String,
    /// The kind whose words have an s here.
    of: Option<String>,
}

/// Reads the table and the kinds of words.
pub(super) fn weighing() -> Result<Weighing, Fault> {
    let mut table = Weighing::default();
    table.words.insert("<", OPENING);
    table.words.insert(">", CLOSING);
    let mut next = CLOSING + 1;
    for row in include_str!("../patterns/weights.tsv").lines().skip(1) {
        let fault = || Fault::Weight(row.to_owned());
        let columns: Vec<&str> = row.split('\t').collect();
        let &[phrase, pause, stop, other, settled, topic] = &columns[..] else {
            return Err(fault());
        };
        // Hundredths.
        let weight = |column: &str| {
            column
                .parse::<i16>()
                .map(|weight| f32::from(weight) / 100.0)
                .map_err(|_| fault())
        };
        let danger = Sum(weight(pause)?, weight(stop)?);
        let said = Said {
            other: weight(other)?,
            settled: weight(settled)?,
            topic: match topic {
                "" => None,
                name => Some(topic_of(name).ok_or_else(fault)?),
            },
        };
        match phrase {
            "" => (table.base, table.base_said) = (danger, said),
            READ_AS_OTHER => table.read_as_other = said.other,
            _ => {
                let (words, apart) = numbers(phrase, &mut table, &mut next).ok_or_else(fault)?;
                add(&mut table, words, apart, danger, said);
            }
        }
    }
    table.shared = [OPENING, CLOSING]
        .map(|edge| {
            table
                .phrases
                .get(&key([edge, UNKNOWN, UNKNOWN], false))
                .map_or(0.0, |sum| sum.0)
        })
        .iter()
        .sum();
    name_kinds(&mut table, &read(include_str!("../patterns/kinds.toml"))?);
    Ok(table)
}

fn topic_of(name: &str) -> Option<Topic> {
    let name: StrDeserializer<'_, serde::de::value::Error> = name.into_deserializer();
    Topic::deserialize(name).ok()
}

/// The numbers of the words of a phrase, and whether it is a pair with something between. A new word has the next number.
fn numbers(phrase: &str, table: &mut Weighing, next: &mut u32) -> Option<([u32; 3], bool)> {
    let mut out = [UNKNOWN; 3];
    let mut apart = false;
    let mut places = out.iter_mut();
    for word in phrase.split(' ') {
        if word == "_" {
            apart = true;
            continue;
        }
        // A key holds so many numbers and no more.
        (*next < 1 << 20).then_some(())?;
        *places.next()? = *table.words.get_or_insert_with(word, || {
            *next += 1;
            *next - 1
        });
    }
    Some((out, apart))
}

/// Keeps what a phrase weighs and says, and marks it at its first word.
fn add(table: &mut Weighing, words: [u32; 3], apart: bool, danger: Sum, said: Said) {
    let most = words.into_iter().max().unwrap_or(UNKNOWN) as usize;
    if table.marks.len() <= most {
        table.marks.resize(most + 1, Marks::default());
    }
    if said != Said::default() {
        table.said.insert(key(words, apart), said);
    }
    if danger == Sum::default() {
        return;
    }
    table.phrases.insert(key(words, apart), danger);
    let [one, two, three] = words;
    let marks = &mut table.marks[one as usize];
    match (two, three, apart) {
        (UNKNOWN, ..) => marks.alone = danger,
        (_, UNKNOWN, false) => marks.pairs |= bit(two),
        (_, UNKNOWN, true) => marks.apart |= bit(two),
        _ => marks.triples |= bit(two ^ three.rotate_left(3)),
    }
    if words.contains(&OPENING) || words.contains(&CLOSING) {
        table.edge = table.edge.max(danger.0);
    }
}

fn name_kinds(table: &mut Weighing, file: &KindFile) {
    for kind in &file.kind {
        let number = |word: &str| table.words.get(word).copied().unwrap_or(UNKNOWN);
        let phrase = number(&format!("={}", kind.name));
        let written = kind.words.split_whitespace().map(str::to_owned);
        let owners = file
            .kind
            .iter()
            .filter(|other| kind.of.as_ref() == Some(&other.name));
        let owned = owners
            .flat_map(|owner| owner.words.split_whitespace())
            .map(|word| format!("{word}s"));
        for word in written.chain(owned) {
            let alone = table.words.get(stem(&word)).copied().unwrap_or(UNKNOWN);
            table.kinds.get_or_insert_with(&word, || Seen { phrase, alone });
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
        let table = weighing().unwrap();
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
