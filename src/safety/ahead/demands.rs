//! What a pattern, or a row inside one, cannot do without, so that it is looked at only where a word of its rarest
//! demand stands. Which demand is taken for the rarest changes how long a text takes, and nothing of what is found.

use std::collections::BTreeMap;
use std::collections::HashSet;

use crate::safety::bits::Bits;
use crate::safety::bits::Few;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::QUESTION_END;
use crate::safety::parts::SENTENCE_END;
use crate::safety::parts::Span;
use crate::safety::wanting::Wanting;

/// How often words are met, in no unit: one of the commonest of all, one of the common, a short one, and others. The figures
/// were tried on everyday text until it was looked through fastest.
const COMMONEST: u64 = 40_000;
const COMMON: u64 = 2_000;
const SHORT: u64 = 60;
const RARE: u64 = 1;

/// Other words that are used, the most used first, one on each line: the n-th is met about one n-th as often as the first (Zipf's
/// law), as if a hundred others stood before it.
const USED: &str = include_str!("../sounds/meant.tsv");
const FIRST: u64 = 100_000;
const BEFORE: u64 = 100;

/// How often a demand is met from which on a row is looked at everywhere: to note at each of these words all the rows that
/// want it takes longer than to try them.
const EVERYWHERE: u64 = 60_000;

/// What counts for a row that demands nothing; more than all others together.
const NOTHING: u64 = 1 << 48;

/// The things are noted in their order, so that one which is noted twice was the last.
fn note(noted: &mut Vec<u32>, thing: u32) {
    if noted.last() != Some(&thing) {
        noted.push(thing);
    }
}

impl Few {
    /// Adds a number to some that are in order; it is not below the last of them.
    pub(in crate::safety) fn add(all: &mut Vec<Self>, number: u32) {
        let (place, bits) = (number / 64, 1 << (number % 64));
        match all.last_mut() {
            Some(last) if last.place == place => last.bits |= bits,
            _ => all.push(Self { place, bits }),
        }
    }
}

/// Finds what patterns and rows demand.
#[derive(Debug)]
pub(super) struct Demands<'a> {
    parts: &'a Parts,
    // How often a word is met, by its number.
    words: Vec<u64>,
    // The rarest part that each row of a choice demands, if any; and how often all rows up to one are met together.
    rarest: Vec<Option<Part>>,
    sums: Vec<u64>,
}

impl<'a> Demands<'a> {
    /// Looks at every row of every choice.
    pub(super) fn new(parts: &'a Parts, common: &str, commonest: &str) -> Self {
        let common: HashSet<&str> = common.split_whitespace().collect();
        let commonest: HashSet<&str> = commonest.split_whitespace().collect();
        let used: BTreeMap<&str, u64> = USED
            .lines()
            .zip(BEFORE..)
            .filter_map(|(row, place)| Some((row.split('\t').next()?, (FIRST / place).max(RARE))))
            .collect();
        let others = |word: &str| {
            let met = used.get(word).copied().unwrap_or(RARE);
            met.max(if word.len() < 4 { SHORT } else { RARE })
        };
        let met = |word: &str| match word.strip_suffix('*') {
            Some(stem) => {
                let words = used.range(stem..).take_while(|(word, _)| word.starts_with(stem));
                RARE + words.map(|(_, met)| met).sum::<u64>()
            }
            None if [SENTENCE_END, QUESTION_END].contains(&word) => NOTHING,
            None if commonest.contains(word) => COMMONEST,
            None if common.contains(word) => others(word).max(COMMON),
            None => others(word),
        };
        let mut demands = Self {
            parts,
            words: parts.lexicon.written.iter().map(|word| met(word)).collect(),
            rarest: Vec::new(),
            sums: vec![0],
        };
        let mut sum = 0;
        // What stands inside a row was read before it.
        for row in parts.all_rows() {
            let rarest = demands.all(*row).min_by_key(|(met, _)| *met);
            sum += rarest.map_or(NOTHING, |(met, _)| met);
            demands.sums.push(sum);
            demands.rarest.push(rarest.map(|(_, part)| part));
        }
        demands
    }

    /// What a pattern demands, the rarest first: a word of each list, and a row of each choice. Empty when every part
    /// may be left out.
    pub(super) fn of(&self, pattern: Span) -> Vec<Part> {
        let mut all: Vec<(u64, Part)> = self.all(pattern).collect();
        all.sort_by_key(|(met, _)| *met);
        all.into_iter().map(|(_, part)| part).collect()
    }

    /// What is wanted by which words: the rows, and patterns by the part that each is wanted by.
    pub(super) fn wanting(&self, patterns: &[Part]) -> Wanting {
        let mut of_words = vec![(Vec::new(), Vec::new()); self.words.len()];
        let mut everywhere = Bits::new(self.rarest.len());
        for (row, (rarest, sums)) in (0..).zip(self.rarest.iter().zip(self.sums.windows(2))) {
            match rarest {
                Some(part) if sums[1] - sums[0] < EVERYWHERE => {
                    self.each_word(*part, &mut |word| Few::add(&mut of_words[word as usize].1, row));
                }
                _ => everywhere.set(row),
            }
        }
        for (pattern, part) in (0..).zip(patterns) {
            self.each_word(*part, &mut |word| note(&mut of_words[word as usize].0, pattern));
        }
        let mut wanting = Wanting {
            everywhere,
            ..Wanting::default()
        };
        for (patterns, rows) in of_words {
            let before = (wanting.patterns.len(), wanting.rows.len());
            wanting.patterns.extend(patterns);
            wanting.rows.extend(rows);
            wanting.of_words.push((
                Span::new(before.0..wanting.patterns.len()),
                Span::new(before.1..wanting.rows.len()),
            ));
        }
        wanting
    }

    /// The parts of a row that cannot be left out, with how often they are met.
    fn all(&self, row: Span) -> impl Iterator<Item = (u64, Part)> {
        self.parts.row(row).iter().filter_map(|part| {
            let met = match part {
                Part::Words(list) => self
                    .parts
                    .list(*list)
                    .iter()
                    .map(|word| self.words[*word as usize])
                    .sum(),
                Part::Choice(choice) => {
                    let rows = choice.rows.range();
                    self.sums[rows.end] - self.sums[rows.start]
                }
                Part::Gap(_) | Part::Maybe(_) | Part::Start | Part::End => NOTHING,
            };
            (met < NOTHING).then_some((met, *part))
        })
    }

    /// The words of which one stands wherever a part matches; some more than once.
    fn each_word(&self, part: Part, take: &mut impl FnMut(u32)) {
        match part {
            Part::Words(list) => self.parts.list(list).iter().for_each(|word| take(*word)),
            Part::Choice(choice) => {
                for rarest in self.rarest[choice.rows.range()].iter().flatten() {
                    self.each_word(*rarest, take);
                }
            }
            Part::Gap(_) | Part::Maybe(_) | Part::Start | Part::End => {}
        }
    }
}
