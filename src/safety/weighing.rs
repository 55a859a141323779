//! How like danger the words of a sentence are: a plain sum over words and short phrases, for what no pattern names.
//!
//! The table of weights was learned from invented sentences and public everyday text (`tests/data/safety/README.md`),
//! and can be read row by row. A run of clauses, or of short sentences, is weighed by adding the weights of its words, pairs, triples, and
//! pairs with a word or two between, and dividing by a power of its length, so that long talk weighs no more than
//! short.

pub(super) mod table;

use std::ops::Range;

use crate::safety::About;
use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::sums::Sum;
use crate::safety::sums::Sums;
use crate::safety::weighing::table::CLOSING;
use crate::safety::weighing::table::OPENING;
use crate::safety::weighing::table::Said;
pub(super) use crate::safety::weighing::table::Seen;
use crate::safety::weighing::table::UNKNOWN;
pub(super) use crate::safety::weighing::table::Weighing;
use crate::safety::weighing::table::bit;
use crate::safety::weighing::table::key;
use crate::safety::weighing::table::stem;

/// The name by which findings of the weighing go.
pub(super) const NAME: &str = "weighed-words";

/// From what weight on a run calls for a pause, and for a stop. Chosen so that at most one public sentence in a thousand
/// interrupts wrongly (`tests/safety_public.rs`); what is missed at that stands in `tests/data/safety/README.md`.
const PAUSE: f32 = 1.4;
const STOP: f32 = 0.3;

/// From what weight on words are about someone else. A little below the even point: there, of authors whom the table was not
/// taught by, 94 in 100 sentences about another were told as such, and 98 about the writer.
const OTHER: f32 = -0.2;

/// From what weight on a sentence is settled: told as denied, mourned, long past or only spoken of. Of authors whom the table
/// was not taught by this takes the stop message from two in three of such texts that patterns stop at, and from one dangerous text
/// in some 200, which keeps a pause. For an emergency it takes more.
const SETTLED: f32 = 0.4;
const SETTLED_EMERGENCY: f32 = 0.9;

/// A sentence of fewer words is divided as if it had these many: a few words settle little.
const FEWEST_SETTLED: u16 = 10;

/// A run of fewer words is divided as if it had these many: a word or two are too little to go by.
const FEWEST: u16 = 5;

/// The power of the length that a sum is divided by, with ten words as one.
const POWER: f32 = 0.7;

/// What the weighing makes of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Weighed {
    /// The level that the weight calls for, before context.
    pub level: Level,
    /// The weight for interrupting.
    pub weight: f32,
}

impl Weighing {
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

    /// Adds up what stands inside some sentences once, so that each run of their words is weighed in a few steps.
    pub(super) fn sums(&self, words: &[Seen], sums: &mut Sums) {
        sums.clear();
        for (place, word) in words.iter().enumerate() {
            sums.push(self.reach(*word, &words[place + 1..]));
        }
    }

    /// Whether any run of at least so many among some of the words that were added up can weigh enough.
    pub(super) fn can_weigh(&self, sums: &Sums, words: &Range<usize>, fewest: usize) -> bool {
        // Eight phrases stand at the edges of a run beside its opening and closing, which all runs share.
        sums.most(words) + self.shared + 9.0 * self.edge >= (PAUSE - self.base.0) * scale(fewest, FEWEST)
    }

    /// What the phrases weigh that begin with a word, by how many words further they may end.
    fn reach(&self, word: Seen, next: &[Seen]) -> [Sum; 4] {
        let mut sum = self.sum([word.alone, UNKNOWN, UNKNOWN], false);
        let one = word.phrase;
        if one == UNKNOWN {
            return [sum; 4];
        }
        let marks = &self.marks[one as usize];
        let [two, three, four] = [0, 1, 2].map(|at| next.get(at).map_or(UNKNOWN, |word| word.phrase));
        sum += marks.alone;
        let first = sum;
        if two != UNKNOWN && marks.pairs & bit(two) != 0 {
            sum += self.sum([one, two, UNKNOWN], false);
        }
        let second = sum;
        if two != UNKNOWN && three != UNKNOWN && marks.triples & bit(two ^ three.rotate_left(3)) != 0 {
            sum += self.sum([one, two, three], false);
        }
        if three != UNKNOWN && marks.apart & bit(three) != 0 {
            sum += self.sum([one, three, UNKNOWN], true);
        }
        let third = sum;
        if four != UNKNOWN && marks.apart & bit(four) != 0 {
            sum += self.sum([one, four, UNKNOWN], true);
        }
        [first, second, third, sum]
    }

    /// Weighs one run of the words that were added up.
    pub(super) fn weigh(&self, words: &[Seen], sums: &Sums, run: &Range<usize>) -> Weighed {
        let mut sum = sums.within(run);
        self.each_at_edges(&words[run.clone()], |weight| sum += *weight);
        let scale = scale(run.len(), FEWEST);
        let (pause, stop) = (self.base.0 + sum.0 / scale, self.base.1 + sum.1 / scale);
        let level = match (pause >= PAUSE, stop >= STOP) {
            (false, _) => Level::None,
            (true, false) => Level::Pause,
            (true, true) => Level::Stop,
        };
        Weighed { level, weight: pause }
    }

    fn sum(&self, words: [u32; 3], apart: bool) -> Sum {
        if words[0] == UNKNOWN {
            return Sum::default();
        }
        self.phrases.get(&key(words, apart)).copied().unwrap_or_default()
    }

    /// Every phrase that holds the opening or the closing of a run.
    fn each_at_edges(&self, words: &[Seen], mut take: impl FnMut(&Sum)) {
        let mut give = |words: [u32; 3], apart: bool| {
            if let Some(weight) = self.phrases.get(&key(words, apart)) {
                take(weight);
            }
        };
        let known = |word: Option<&Seen>| word.map(|word| word.phrase).filter(|word| *word != UNKNOWN);
        let from_end = |back: usize| known(words.len().checked_sub(back).and_then(|at| words.get(at)));
        give([OPENING, UNKNOWN, UNKNOWN], false);
        give([CLOSING, UNKNOWN, UNKNOWN], false);
        if words.len() == 1 || words.len() == 2 {
            give([OPENING, CLOSING, UNKNOWN], true);
        }
        if let Some(first) = known(words.first()) {
            give([OPENING, first, UNKNOWN], false);
            match known(words.get(1)) {
                Some(second) => give([OPENING, first, second], false),
                None if words.len() == 1 => give([OPENING, first, CLOSING], false),
                None => {}
            }
        }
        if let Some(last) = from_end(1) {
            give([last, CLOSING, UNKNOWN], false);
            if let Some(before) = from_end(2) {
                give([before, last, CLOSING], false);
            }
        }
        for (front, back) in [(1, 2), (2, 3)] {
            if let Some(word) = known(words.get(front)) {
                give([OPENING, word, UNKNOWN], true);
            }
            if let Some(word) = from_end(back) {
                give([word, CLOSING, UNKNOWN], true);
            }
        }
    }

    /// What most of the telling phrases of a run are about; suicide where they do not say.
    pub(super) fn topic(&self, words: &[Seen]) -> Topic {
        let mut sums: Vec<(Topic, f32)> = vec![(Topic::Suicide, f32::MIN_POSITIVE)];
        each_inside(words, |phrase| {
            let Some(topic) = self.said.get(&phrase).and_then(|said| said.topic) else {
                return;
            };
            let weight = self.phrases.get(&phrase).map_or(0.0, |weight| weight.0);
            match sums.iter_mut().find(|(known, _)| *known == topic) {
                Some((_, sum)) => *sum += weight,
                None => sums.push((topic, weight)),
            }
        });
        sums.into_iter()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map_or(Topic::Suicide, |(topic, _)| topic)
    }

    /// Whom words are about, after what their subjects were read as.
    pub(super) fn whose(&self, words: &[Seen], read: About) -> About {
        let mut sum = self.base_said.other + self.all_said(words, |said| said.other);
        if read == About::Other {
            sum += self.read_as_other;
        }
        if sum >= OTHER { About::Other } else { About::Me }
    }

    /// Whether a sentence tells of what is denied, mourned, long past or only spoken of, for a finding of a level.
    pub(super) fn is_settled(&self, level: Level, words: impl Iterator<Item = Seen>) -> bool {
        let least = if level == Level::Emergency {
            SETTLED_EMERGENCY
        } else {
            SETTLED
        };
        let words: Vec<Seen> = words.collect();
        let sum = self.all_said(&words, |said| said.settled);
        self.base_said.settled + sum / scale(words.len(), FEWEST_SETTLED) >= least
    }

    /// What the phrases inside a run say of something, added up.
    fn all_said(&self, words: &[Seen], of: impl Fn(&Said) -> f32) -> f32 {
        let mut sum = 0.0;
        each_inside(words, |phrase| sum += self.said.get(&phrase).map_or(0.0, &of));
        sum
    }
}

/// Every phrase that can stand inside a run.
fn each_inside(words: &[Seen], mut take: impl FnMut(u64)) {
    let mut give = |words: [u32; 3], apart: bool| take(key(words, apart));
    for (place, word) in words.iter().enumerate() {
        give([word.alone, UNKNOWN, UNKNOWN], false);
        let one = word.phrase;
        if one == UNKNOWN {
            continue;
        }
        give([one, UNKNOWN, UNKNOWN], false);
        let known = |further: usize| {
            words
                .get(place + further)
                .map(|word| word.phrase)
                .filter(|word| *word != UNKNOWN)
        };
        let [two, three, four] = [1, 2, 3].map(known);
        if let Some(two) = two {
            give([one, two, UNKNOWN], false);
            if let Some(three) = three {
                give([one, two, three], false);
            }
        }
        for apart in [three, four].into_iter().flatten() {
            give([one, apart, UNKNOWN], true);
        }
    }
}

/// What the sum of a run is divided by, a short one as if it had some more words.
fn scale(words: usize, fewest: u16) -> f32 {
    let words = u16::try_from(words).unwrap_or(u16::MAX).max(fewest);
    (f32::from(words) / 10.0).powf(POWER)
}
