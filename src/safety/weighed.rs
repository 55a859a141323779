//! Findings by weight: the heaviest run of clauses in each sentence, in the light of what patterns saw in it.

use std::ops::Range;

use crate::safety::About;
use crate::safety::Finding;
use crate::safety::Level;
use crate::safety::answers::Answers;
use crate::safety::clauses;
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

/// A sentence by weight: where it is in the plain text and among its words, and its words as the table names them.
struct Sentence<'a> {
    text: Range<usize>,
    words: Range<usize>,
    seen: &'a [Seen],
    sums: &'a Sums,
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
) -> Vec<Finding> {
    let mut out = Vec::new();
    let mut seen: Vec<Seen> = Vec::new();
    let mut sums = Sums::default();
    let mut words = 0..0;
    for text in clauses::sentences(&plain.text) {
        seen.clear();
        words = words.end..plain.token_at(text.end) + 1;
        seen.extend(glossary.seen(words.clone()));
        if screen.weighing.sums(&seen, &mut sums) {
            let sentence = Sentence {
                text,
                words: words.clone(),
                seen: &seen,
                sums: &sums,
            };
            out.extend(heaviest(screen, plain, &sentence, found, forms, answers));
        }
    }
    out
}

fn heaviest(
    screen: &Screen,
    plain: &Plain,
    sentence: &Sentence,
    found: &[Match],
    forms: &[Match],
    answers: &Answers,
) -> Option<Finding> {
    let first = sentence.words.start;
    let among = |run: &Range<usize>| run.start - first..run.end - first;
    let place = |run: &Range<usize>| {
        let last = run.end - 1;
        plain.tokens[run.start].at - 1..plain.tokens[last].at + plain.word(last).len()
    };
    let (run, level, _) = runs::runs(plain, &sentence.words)
        .into_iter()
        .map(|run| {
            (
                screen.weighing.weigh(sentence.seen, sentence.sums, &among(&run)),
                run,
            )
        })
        .filter(|(weighed, _)| weighed.level > Level::None)
        .map(|(weighed, run)| {
            let place = place(&run);
            let answers = answers.within(&place);
            let level = context::lower(weighed.level, &place, &forms.iter().chain(&answers));
            (run, level, weighed.weight)
        })
        .max_by(|one, other| one.1.cmp(&other.1).then(one.2.total_cmp(&other.2)))?;
    let known = found
        .iter()
        .filter(|one| sentence.text.start < one.range.end && one.range.start < sentence.text.end)
        .max_by_key(|one| one.level);
    if level <= known.map_or(Level::None, |one| one.level) {
        return None;
    }
    let topic = known.map_or_else(
        || screen.weighing.topic(&sentence.seen[among(&run)]),
        |one| one.topic,
    );
    let about = if level == Level::Quiet {
        About::Me
    } else {
        whose::about(screen, plain, &place(&run), topic)
    };
    Some(Finding {
        group: weighing::NAME.to_owned(),
        level,
        topic,
        about,
        range: plain.tokens[run.start].start..plain.tokens[run.end - 1].end,
    })
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
            .map(|row| (row[0], row[1].parse().unwrap()))
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
