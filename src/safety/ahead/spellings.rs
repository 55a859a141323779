//! Reads the file of spellings, and works out the slips of each word of danger.

use std::collections::BTreeMap;
use std::collections::HashSet;

use serde::Deserialize;

use super::Fault;
use super::read;
use super::slips::slips;
use crate::safety::by_word::ByWord;
use crate::safety::spellings::Phrase;
use crate::safety::spellings::Spellings;

/// The words that a misspelt one may stand for.
const MEANT: &str = include_str!("../sounds/meant.tsv");

/// The spelling file.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    guarded: String,
    slipped: String,
    masked: String,
    glue: String,
    not_slips: String,
    says: BTreeMap<String, String>,
    pairs: BTreeMap<String, String>,
    before_apostrophe: BTreeMap<String, String>,
}

/// What is known of spellings.
pub(super) fn spellings() -> Result<Spellings, Fault> {
    let file: File = read(include_str!("../patterns/spelling.toml"))?;
    let guarded: Vec<String> = file.guarded.split_whitespace().map(str::to_owned).collect();
    let all = [&file.guarded, &file.masked, &file.glue];
    let all = all.into_iter().flat_map(|words| words.split_whitespace());
    let known: ByWord<()> = all.map(|word| (word, ())).collect();
    let (fixes, says) = fixes(&file, &known);
    let mut phrases: ByWord<Vec<Phrase>> = ByWord::default();
    // The longest first, since a shorter one can be the end of it.
    let mut pairs: Vec<_> = file.pairs.iter().collect();
    pairs.sort_by_key(|(phrase, _)| std::cmp::Reverse(phrase.len()));
    for (phrase, says) in pairs {
        if let Some((before, last)) = phrase.rsplit_once(' ') {
            phrases.get_or_insert_with(last, Vec::new).push(Phrase {
                before: format!(" {before}"),
                words: before.split(' ').count(),
                says: says.clone(),
            });
        }
    }
    let masked = file.masked.split_whitespace().map(str::to_owned);
    let cut = file.before_apostrophe.iter();
    let meant = MEANT.lines().filter_map(|row| row.split('\t').next());
    let untouched = |word: &&str| !phrases.contains(word) && !fixes.contains(word);
    let as_is = meant.filter(untouched).map(|word| (word, ())).collect();
    Ok(Spellings {
        guarded: guarded.into_iter().chain(masked).collect(),
        known,
        fixes,
        says,
        phrases,
        before_apostrophe: cut.map(|(word, says)| (word.as_str(), says.clone())).collect(),
        as_is,
    })
}

/// What slips and short forms say.
fn fixes(file: &File, known: &ByWord<()>) -> (ByWord<u32>, Vec<String>) {
    let real: HashSet<&str> = [&file.not_slips, &file.slipped]
        .into_iter()
        .flat_map(|words| words.split_whitespace())
        .collect();
    let mut fixes = ByWord::default();
    let mut says: Vec<String> = Vec::new();
    let mut place = |of: &str| {
        says.push(of.to_owned());
        u32::try_from(says.len() - 1).unwrap_or(u32::MAX)
    };
    let slipping = file
        .guarded
        .split_whitespace()
        .chain(file.slipped.split_whitespace());
    for word in slipping {
        let says = place(word);
        for slip in slips(word) {
            if !known.contains(&slip) && !real.contains(slip.as_str()) {
                fixes.get_or_insert_with(&slip, || says);
            }
        }
    }
    for (word, meaning) in &file.says {
        fixes.insert(word, place(meaning));
    }
    (fixes, says)
}
