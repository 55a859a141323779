//! How like danger the words of a sentence are: a plain sum over words and short phrases, for what no pattern names.
//!
//! The table of weights was learned from invented sentences and public everyday text (`tests/data/safety/README.md`),
//! and can be read row by row. A run of clauses is weighed by adding the weights of its words, pairs, triples, and
//! pairs with a word or two between, and dividing by a power of its length, so that long talk weighs no more than
//! short.

use std::collections::HashMap;
use std::hash::BuildHasherDefault;
use std::hash::Hasher;

use serde::Deserialize;

use crate::safety::Level;
use crate::safety::Topic;

/// The name by which findings of the weighing go.
pub(super) const NAME: &str = "weighed-words";

/// From what weight on a run calls for a pause, and for a stop. Chosen by leaving authors out in turn, so that few
/// everyday sentences reach them: the shares are in `tests/data/safety/README.md`.
const PAUSE: f32 = 2.0;
const STOP: f32 = 2.0;

/// A run of fewer words is divided as if it had these many: a word or two are too little to go by.
const FEWEST: u16 = 5;

/// The power of the length that a sum is divided by, with ten words as one.
const POWER: f32 = 0.7;

/// The number of a word that the table does not name.
const UNKNOWN: u32 = 0;
const OPENING: u32 = 1;
const CLOSING: u32 = 2;

/// What the weighing makes of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Weighed {
    /// The level that the weight calls for, before context.
    pub level: Level,
    /// The weight for interrupting.
    pub weight: f32,
}

/// Two weights, and the topic that a phrase speaks for.
#[derive(Clone, Copy, Debug, Default)]
struct Weight {
    pause: f32,
    stop: f32,
    topic: Option<Topic>,
}

/// A word as it stands in phrases, and on its own where a kind of words stands for it in phrases.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Seen {
    phrase: u32,
    alone: u32,
}

/// The table of weights, ready to be looked up.
#[derive(Debug, Default)]
pub(super) struct Weighing {
    kinds: HashMap<String, Seen, Quick>,
    words: HashMap<String, u32, Quick>,
    phrases: HashMap<u64, Weight, Quick>,
    // By the number of a word: the most that phrases of which it is the rarest word can add.
    most: Vec<f32>,
    base: Weight,
    enough: f32,
}

/// Why the table could not be read; only a fault in the shipped files can cause it, and a test reads them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct TableFault(pub String);

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
    pub(super) fn new() -> Result<Self, TableFault> {
        let fault = |row: &str| TableFault(row.to_owned());
        let mut table = Self::default();
        table.words.insert("<".to_owned(), OPENING);
        table.words.insert(">".to_owned(), CLOSING);
        let mut rows: Vec<([u32; 3], u64, f32)> = Vec::new();
        for row in include_str!("patterns/weights.tsv").lines().skip(1) {
            let mut columns = row.split('\t');
            let (Some(phrase), Some(pause), Some(stop), topic) =
                (columns.next(), columns.next(), columns.next(), columns.next())
            else {
                return Err(fault(row));
            };
            let weight = Weight {
                pause: pause.parse().map_err(|_| fault(row))?,
                stop: stop.parse().map_err(|_| fault(row))?,
                topic: match topic {
                    None | Some("") => None,
                    Some(name) => Some(topic_named(name).ok_or_else(|| fault(row))?),
                },
            };
            if phrase.is_empty() {
                table.base = weight;
                continue;
            }
            let (words, apart) = table.numbers(phrase).ok_or_else(|| fault(row))?;
            let key = key(words, apart);
            table.phrases.insert(key, weight);
            rows.push((words, key, weight.pause));
        }
        let kinds: KindFile =
            toml::from_str(include_str!("patterns/kinds.toml")).map_err(|e| TableFault(e.to_string()))?;
        table.name_kinds(&kinds);
        table.bound(&rows);
        Ok(table)
    }

    /// The numbers of the words of a phrase, and whether it is a pair with something between.
    fn numbers(&mut self, phrase: &str) -> Option<([u32; 3], bool)> {
        let mut out = [UNKNOWN; 3];
        let apart = phrase.contains(" _ ");
        let words = phrase.split(' ').filter(|word| *word != "_");
        let mut places = out.iter_mut();
        for word in words {
            let next = u32::try_from(self.words.len()).ok()? + 1;
            *places.next()? = *self.words.entry(word.to_owned()).or_insert(next);
        }
        Some((out, apart))
    }

    fn name_kinds(&mut self, file: &KindFile) {
        let number = |word: &str| self.words.get(word).copied().unwrap_or(UNKNOWN);
        for kind in &file.kind {
            let phrase = number(&format!("={}", kind.name));
            for word in kind.words.split_whitespace() {
                let alone = number(stem(word));
                self.kinds
                    .entry(word.to_owned())
                    .or_insert(Seen { phrase, alone });
            }
        }
    }

    /// Works out the most that each word can add, so that sentences that cannot reach a pause are passed over.
    fn bound(&mut self, rows: &[([u32; 3], u64, f32)]) {
        let count = self.words.len() + 3;
        let mut often = vec![0_u32; count];
        for (words, _, _) in rows {
            for word in words.iter().filter(|word| **word > CLOSING) {
                often[*word as usize] += 1;
            }
        }
        // A word has one place for each shape of phrase and each position in it.
        let mut best = vec![[0.0_f32; 8]; count];
        for (words, key, weight) in rows.iter().filter(|row| row.2 > 0.0) {
            let length = words.iter().filter(|word| **word != UNKNOWN).count();
            let Some((position, word)) = words[..length]
                .iter()
                .enumerate()
                .filter(|(_, word)| **word > CLOSING)
                .min_by_key(|(_, word)| often[**word as usize])
            else {
                continue;
            };
            let shape = match (length, key >> 63) {
                (1, _) => 0,
                (2, 0) => 1 + position,
                (2, _) => 3 + position,
                _ => 5 + position,
            };
            let most = &mut best[*word as usize][shape];
            *most = most.max(*weight);
        }
        // Two pairs with something between can end at the same word: one word apart, and two.
        self.most = best
            .iter()
            .map(|most| most.iter().sum::<f32>() + most[3] + most[4])
            .collect();
        // By Cauchy's inequality a run of n words adds at most the root of n times that of the sum of the squares; with
        // the length it is divided by, that is greatest for the shortest run.
        let widest = f32::from(FEWEST).sqrt() / scale(usize::from(FEWEST));
        let enough = (PAUSE - self.base.pause) / widest;
        self.enough = enough.max(0.0).powi(2);
    }

    /// A word of the plain form as the table names it.
    pub(super) fn see(&self, word: &str) -> Seen {
        if let Some(seen) = self.kinds.get(word) {
            return *seen;
        }
        let phrase = if word.bytes().all(|b| b.is_ascii_digit()) {
            self.words.get("=n")
        } else {
            self.words.get(stem(word))
        };
        Seen {
            phrase: phrase.copied().unwrap_or(UNKNOWN),
            alone: UNKNOWN,
        }
    }

    /// Whether some words could weigh enough, as far as each of them tells by itself.
    pub(super) fn may_weigh(&self, words: &[Seen]) -> bool {
        let most = |number: u32| self.most.get(number as usize).copied().unwrap_or(0.0);
        let squares = words
            .iter()
            .map(|word| (most(word.phrase) + most(word.alone)).powi(2));
        squares.sum::<f32>() >= self.enough
    }

    /// Weighs one run of words.
    pub(super) fn weigh(&self, words: &[Seen]) -> Weighed {
        let (mut pause, mut stop) = (0.0, 0.0);
        self.each(words, |weight| {
            pause += weight.pause;
            stop += weight.stop;
        });
        let scale = scale(words.len());
        let (pause, stop) = (self.base.pause + pause / scale, self.base.stop + stop / scale);
        let level = match (pause >= PAUSE, stop >= STOP) {
            (false, _) => Level::None,
            (true, false) => Level::Pause,
            (true, true) => Level::Stop,
        };
        Weighed { level, weight: pause }
    }

    /// What most of the telling phrases of a run are about; suicide where they do not say.
    pub(super) fn topic(&self, words: &[Seen]) -> Topic {
        let mut sums: Vec<(Topic, f32)> = vec![(Topic::Suicide, f32::MIN_POSITIVE)];
        self.each(words, |weight| {
            let Some(topic) = weight.topic else { return };
            match sums.iter_mut().find(|(known, _)| *known == topic) {
                Some((_, sum)) => *sum += weight.pause,
                None => sums.push((topic, weight.pause)),
            }
        });
        sums.into_iter()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map_or(Topic::Suicide, |(topic, _)| topic)
    }

    /// Every phrase of a run that the table names.
    fn each(&self, words: &[Seen], mut take: impl FnMut(&Weight)) {
        let mut give = |words: [u32; 3], apart: bool| {
            if let Some(weight) = self.phrases.get(&key(words, apart)) {
                take(weight);
            }
        };
        let at = |place: usize| match place {
            0 => OPENING,
            place => words.get(place - 1).map_or(CLOSING, |word| word.phrase),
        };
        for word in words.iter().filter(|word| word.alone != UNKNOWN) {
            give([word.alone, UNKNOWN, UNKNOWN], false);
        }
        let end = words.len() + 2;
        for place in 0..end {
            let one = at(place);
            if one == UNKNOWN {
                continue;
            }
            give([one, UNKNOWN, UNKNOWN], false);
            let [two, three, four] = [1, 2, 3].map(|further| {
                if place + further < end {
                    at(place + further)
                } else {
                    UNKNOWN
                }
            });
            if two != UNKNOWN {
                give([one, two, UNKNOWN], false);
                if three != UNKNOWN {
                    give([one, two, three], false);
                }
            }
            for other in [three, four].into_iter().filter(|word| *word != UNKNOWN) {
                give([one, other, UNKNOWN], true);
            }
        }
    }
}

fn topic_named(name: &str) -> Option<Topic> {
    let name: serde::de::value::StrDeserializer<'_, serde::de::value::Error> =
        serde::de::IntoDeserializer::into_deserializer(name);
    Topic::deserialize(name).ok()
}

/// What the sum of a run is divided by.
fn scale(words: usize) -> f32 {
    let words = u16::try_from(words).unwrap_or(u16::MAX).max(FEWEST);
    (f32::from(words) / 10.0).powf(POWER)
}

fn key(words: [u32; 3], apart: bool) -> u64 {
    let [one, two, three] = words.map(u64::from);
    one | two << 20 | three << 40 | u64::from(apart) << 63
}

/// A word without its common ending. The script that makes the table does the same.
fn stem(word: &str) -> &str {
    for ending in ["ing", "ed", "es", "s", "ly"] {
        if word.len() > ending.len() + 3
            && let Some(stem) = word.strip_suffix(ending)
        {
            return stem;
        }
    }
    word
}

type Quick = BuildHasherDefault<QuickHasher>;

/// A hash for words and numbers that nobody outside can choose at will: the table is ours, and only looked up.
#[derive(Debug, Default)]
struct QuickHasher(u64);

impl Hasher for QuickHasher {
    fn finish(&self) -> u64 {
        self.0 ^ self.0 >> 29
    }

    fn write(&mut self, bytes: &[u8]) {
        for eight in bytes.chunks(8) {
            let mut word = [0; 8];
            word[..eight.len()].copy_from_slice(eight);
            self.write_u64(u64::from_le_bytes(word));
        }
    }

    fn write_u8(&mut self, byte: u8) {
        self.write_u64(u64::from(byte));
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(5) ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }
}
