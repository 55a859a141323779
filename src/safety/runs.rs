//! Cuts a sentence of the plain form into clauses, and names every run of whole clauses, so that ordinary talk beside
//! words of danger takes nothing from their weight; and names the runs of short sentences that are weighed together.

use std::ops::Range;

use crate::safety::plain::Plain;
use crate::safety::plain::Sentence;

/// How many words a run can hold; a longer clause is cut into pieces half as long.
pub(super) const LONGEST: usize = 48;

/// How many words sentences that are taken together can hold. What people write in haste falls into sentences of a few words
/// each, none of which says enough.
const TOGETHER: usize = 24;

/// Every run of whole clauses among some words of one sentence, without the joining word at its front. All are places
/// of words; their number grows with the number of words, since no run is longer than [`LONGEST`].
pub(super) fn runs(plain: &Plain, words: &Range<usize>) -> Vec<Range<usize>> {
    let clauses = clauses(plain, words);
    let mut out = Vec::with_capacity(clauses.len());
    for (first, clause) in clauses.iter().enumerate() {
        let joined = clause.len() > 1 && joins(plain.word(clause.start));
        let start = clause.start + usize::from(joined);
        let within = |last: &&Range<usize>| last.end - start <= LONGEST;
        out.extend(
            clauses[first..]
                .iter()
                .take_while(within)
                .map(|last| start..last.end),
        );
    }
    out
}

/// Every run of two or more whole sentences that are short enough to be taken together. Given and told by their words' places.
pub(super) fn together(sentences: &[Sentence]) -> impl Iterator<Item = Range<usize>> + '_ {
    sentences.iter().enumerate().flat_map(|(at, first)| {
        sentences[at + 1..]
            .iter()
            .map(|last| first.words.start..last.words.end)
            .take_while(|run| run.len() <= TOGETHER)
    })
}

/// From where on sentences can be taken together with the one that follows the last of them.
pub(super) fn carried(sentences: &[Sentence]) -> usize {
    let end = sentences.last().map_or(0, |last| last.words.end);
    sentences.partition_point(|one| end - one.words.start >= TOGETHER)
}

/// The clauses of a sentence; a joining word stands at the front of its clause.
fn clauses(plain: &Plain, words: &Range<usize>) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let mut start = words.start;
    for at in words.start + 1..words.end {
        let (before, token) = (plain.tokens[at - 1], plain.tokens[at]);
        // An abbreviation written out is one word of the original, and no place to cut.
        if before.start != token.start && (token.parted || joins(plain.word(at))) {
            push(start..at, &mut out);
            start = at;
        }
    }
    push(start..words.end, &mut out);
    out
}

fn push(clause: Range<usize>, out: &mut Vec<Range<usize>>) {
    if clause.len() <= LONGEST {
        out.push(clause);
        return;
    }
    let pieces = clause.clone().step_by(LONGEST / 2);
    out.extend(pieces.map(|start| start..clause.end.min(start + LONGEST / 2)));
}

/// Whether a word joins one clause to another. A run does not begin with one.
fn joins(word: &str) -> bool {
    matches!(
        word,
        "although"
            | "and"
            | "anyway"
            | "because"
            | "but"
            | "coz"
            | "cos"
            | "cus"
            | "cuz"
            | "however"
            | "or"
            | "plus"
            | "so"
            | "still"
            | "then"
            | "though"
            | "unless"
            | "while"
            | "yet"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sentences<const N: usize>(words: [Range<usize>; N]) -> [Sentence; N] {
        words.map(|words| Sentence { place: 0..0, words })
    }

    #[test]
    fn short_sentences_are_taken_together_and_long_ones_are_not() {
        let sentences = sentences([0..4, 4..14, 14..24, 24..25, 25..50, 50..52]);
        let all: Vec<_> = together(&sentences).collect();
        assert_eq!(all, [0..14, 0..24, 4..24, 4..25, 14..25]);
    }

    #[test]
    fn what_can_be_taken_together_with_a_next_sentence_is_carried() {
        let short = sentences([0..4, 4..14, 14..24]);
        assert_eq!(carried(&short), 1, "23 words and more are too many");
        assert_eq!(carried(&short[..2]), 0);
        assert_eq!(carried(&sentences([0..2, 2..26])), 2);
        assert_eq!(carried(&[]), 0);
    }
}
