//! Findings by weight: the heaviest run of clauses in each sentence, and short sentences together, in the light of what patterns
//! saw in them.

use std::cell::Cell;
use std::mem;
use std::ops::Range;

use crate::safety::About;
use crate::safety::Finding;
use crate::safety::Level;
use crate::safety::answers::Answers;
use crate::safety::context;
use crate::safety::context::Match;
use crate::safety::glossary::Glossary;
use crate::safety::plain::Plain;
use crate::safety::runs;
use crate::safety::screen::Screen;
use crate::safety::sums::Sums;
use crate::safety::weighing;
use crate::safety::weighing::Seen;
use crate::safety::whose;

/// How many words are added up at a time: so few that small numbers are not lost in large sums.
const AT_A_TIME: usize = 1_000;

/// What every look at some words needs.
struct Look<'a> {
    screen: &'a Screen,
    plain: &'a Plain,
    // Both in the order in which they begin.
    found: &'a [Match],
    forms: &'a [Match],
    answers: &'a Answers<'a>,
    // How many of these were gone over.
    work: Cell<usize>,
    // The words that were added up, and as the table names them.
    first: usize,
    seen: Vec<Seen>,
    sums: Sums,
}

/// What the weighing finds where the patterns found less. A denial, a bereavement or a far past that a pattern saw
/// holds for it as for every other finding.
pub(super) fn findings(
    screen: &Screen,
    plain: &Plain,
    glossary: &Glossary,
    found: &[Match],
    forms: &[Match],
    answers: &Answers,
    work: &mut usize,
) -> Vec<Finding> {
    let mut look = Look {
        screen,
        plain,
        found,
        forms,
        answers,
        work: Cell::new(0),
        first: 0,
        seen: Vec::new(),
        sums: Sums::default(),
    };
    let sentences = &plain.sentences;
    let mut out = Vec::new();
    let (mut from, mut to) = (0, 0);
    // Where the findings of the words that are added up begin.
    let mut here = 0;
    while to < sentences.len() {
        let carried = from..to;
        // Of the words before them some are carried.
        let nearby = mem::replace(&mut here, out.len());
        look.first = sentences[from].words.start;
        to += sentences[to..]
            .partition_point(|one| one.words.end <= look.first + AT_A_TIME)
            .max(1);
        look.add_up(glossary, look.first..sentences[to - 1].words.end);
        for one in &sentences[carried.end..to] {
            if look.can_weigh(&one.words, 0) {
                out.extend(look.heaviest(&one.words, runs::runs(plain, &one.words)));
            }
        }
        for run in runs::together(&sentences[from..to]) {
            if run.end > sentences[carried.end].words.start && look.can_weigh(&run, run.len()) {
                out.extend(look.beside(&out[nearby..], &run));
            }
        }
        from += runs::carried(&sentences[from..to]);
    }
    *work += look.work.get();
    out
}

impl Look<'_> {
    /// The matches within reach of a place, counted as work.
    fn near<'m>(&self, matches: &'m [Match], place: &Range<usize>) -> &'m [Match] {
        let near = context::within_reach(matches, place);
        self.work.set(self.work.get() + near.len());
        near
    }

    fn add_up(&mut self, glossary: &Glossary, words: Range<usize>) {
        self.seen.clear();
        self.seen.extend(glossary.seen(words));
        self.screen.weighing.sums(&self.seen, &mut self.sums);
    }

    fn among(&self, run: &Range<usize>) -> Range<usize> {
        run.start - self.first..run.end - self.first
    }

    fn can_weigh(&self, words: &Range<usize>, fewest: usize) -> bool {
        let weighing = &self.screen.weighing;
        weighing.can_weigh(&self.sums, &self.among(words), fewest)
    }

    /// Sentences together, where nothing as heavy was found in any of them or in fewer of them.
    fn beside(&self, nearby: &[Finding], run: &Range<usize>) -> Option<Finding> {
        let finding = self.heaviest(run, vec![run.clone()])?;
        let within =
            |one: &&Finding| finding.range.start < one.range.end && one.range.start < finding.range.end;
        let known = nearby.iter().filter(within).map(|one| one.level).max();
        (Some(finding.level) > known).then_some(finding)
    }

    /// The heaviest of some runs of the same words, where that is more than patterns found in them.
    fn heaviest(&self, words: &Range<usize>, runs: Vec<Range<usize>>) -> Option<Finding> {
        let Self { screen, plain, .. } = *self;
        let (run, level, _) = runs
            .into_iter()
            .map(|run| {
                let weighed = screen.weighing.weigh(&self.seen, &self.sums, &self.among(&run));
                (weighed, run)
            })
            .filter(|(weighed, _)| weighed.level > Level::None)
            .map(|(weighed, run)| {
                let place = plain.place(&run);
                let answers = self.answers.within(&place);
                let level = context::lower(weighed.level, &place, self.near(self.forms, &place), &answers);
                (run, level, weighed.weight)
            })
            .max_by(|one, other| one.1.cmp(&other.1).then(one.2.total_cmp(&other.2)))?;
        let whole = plain.place(words);
        let known = self
            .near(self.found, &whole)
            .iter()
            .filter(|one| whole.start < one.range.end && one.range.start < whole.end)
            .max_by_key(|one| one.level);
        if level <= known.map_or(Level::None, |one| one.level) {
            return None;
        }
        let topic = known.map_or_else(
            || screen.weighing.topic(&self.seen[self.among(&run)]),
            |one| one.topic,
        );
        let about = if level == Level::Quiet {
            About::Me
        } else {
            whose::about(screen, plain, &plain.place(&run), topic)
        };
        Some(Finding {
            group: weighing::NAME.to_owned(),
            level,
            topic,
            about,
            range: plain.tokens[run.start].start..plain.tokens[run.end - 1].end,
        })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use std::collections::HashMap;

    use super::*;

    /// Adds up the rows of the table one by one, for words that are no kinds and are their own stems.
    fn by_hand(words: &[&str]) -> f32 {
        let table: HashMap<&str, f32> = include_str!("patterns/weights.tsv")
            .lines()
            .skip(1)
            .map(|row| row.split('\t').collect::<Vec<_>>())
            .map(|row| (row[0], row[1].parse::<f32>().unwrap() / 100.0))
            .collect();
        let weight = |phrase: String| table.get(phrase.as_str()).copied().unwrap_or(0.0);
        let all = [&["<"], words, &[">"]].concat();
        let mut sum = 0.0;
        for (at, word) in all.iter().enumerate() {
            sum += weight((*word).to_owned());
            let next = |further: usize| all.get(at + further);
            if let Some(two) = next(1) {
                sum += weight(format!("{word} {two}"));
            }
            if let (Some(two), Some(three)) = (next(1), next(2)) {
                sum += weight(format!("{word} {two} {three}")) + weight(format!("{word} _ {three}"));
            }
            if let Some(four) = next(3) {
                sum += weight(format!("{word} _ {four}"));
            }
        }
        let length = f32::from(u16::try_from(words.len().max(5)).unwrap()) / 10.0;
        table[""] + sum / length.powf(0.7)
    }

    #[test]
    fn a_run_weighs_what_its_rows_add_up_to() {
        let screen = Screen::shipped().unwrap();
        let text = "i cannot go on and no one would be sad if i was not alive";
        let words: Vec<&str> = text.split(' ').collect();
        let seen: Vec<Seen> = words.iter().map(|word| screen.weighing.see(word)).collect();
        let mut sums = Sums::default();
        screen.weighing.sums(&seen, &mut sums);
        for start in 0..words.len() {
            for end in start + 1..=words.len() {
                let weighed = screen.weighing.weigh(&seen, &sums, &(start..end));
                let expected = by_hand(&words[start..end]);
                assert!(
                    (weighed.weight - expected).abs() < 0.01,
                    "{:?}: {} and not {expected}",
                    &words[start..end],
                    weighed.weight
                );
            }
        }
    }
}
