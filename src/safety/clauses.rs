//! Cuts the plain form into sentences, and sentences that never end (speech, or no punctuation) into overlapping
//! stretches, so that looking at them takes time in proportion to their length.

use std::ops::Range;

/// The longest stretch looked at in one piece, in bytes of the plain form.
const LONGEST: usize = 1_200;

/// The most words a stretch can hold: every word has a space before it.
pub(super) const MOST_WORDS: usize = LONGEST / 2;

/// How far one stretch reaches into the next, in bytes; longer than any pattern's ordinary match.
const OVERLAP: usize = 400;

/// The sentence around a place in the plain text.
pub(super) fn sentence(text: &str, at: usize) -> Range<usize> {
    let start = text[..at].rfind('\n').map_or(0, |line| line + 1);
    let end = text[at..].find('\n').map_or(text.len(), |line| at + line);
    start..end
}

/// The part of the sentence around a place that is near enough to say whom a finding there is about.
pub(super) fn around(text: &str, at: usize) -> Range<usize> {
    let from = text[..at.saturating_sub(LONGEST)].rfind(' ').unwrap_or(0);
    let until = text[text.len().min(at + LONGEST)..]
        .find([' ', '\n'])
        .map_or(text.len(), |end| at + LONGEST + end);
    let inner = sentence(&text[from..until], at - from);
    from + inner.start..from + inner.end
}

/// The sentences of a plain text that hold any word, in order.
pub(super) fn sentences(text: &str) -> impl Iterator<Item = Range<usize>> + '_ {
    let mut start = 0;
    text.split('\n').filter_map(move |row| {
        let sentence = start..start + row.len();
        start = sentence.end + 1;
        (!row.is_empty()).then_some(sentence)
    })
}

/// Whether a sentence is so short that it is one stretch, at most so many bytes long.
pub(super) fn is_short(length: usize) -> bool {
    length <= LONGEST
}

/// The stretches of a sentence; each begins with the space before a word.
pub(super) fn stretches(text: &str, sentence: &Range<usize>) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let mut start = sentence.start;
    while !is_short(sentence.end - start) {
        let end = space_before(text, start..start + LONGEST)
            .filter(|end| *end > start + OVERLAP)
            .unwrap_or(start + LONGEST);
        out.push(start..end);
        // Where a word without end reaches over the overlap, the next stretch begins right after it.
        start = space_before(text, start..end - OVERLAP)
            .filter(|next| *next > start)
            .or_else(|| {
                text.get(end - OVERLAP..end)?
                    .find(' ')
                    .map(|after| end - OVERLAP + after)
            })
            .filter(|next| *next > start)
            .unwrap_or(end);
    }
    out.push(start..sentence.end);
    out
}

/// The last space in a range, which is all that is looked through: a word without end would be gone over again and again.
fn space_before(text: &str, range: Range<usize>) -> Option<usize> {
    let space = text[range.clone()].rfind(' ')?;
    Some(range.start + space)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stretch_begins_before_a_word_and_ends_after_one() {
        let text = " plum and pear and a quince".repeat(200);
        let stretches = stretches(&text, &(0..text.len()));
        assert!(stretches.len() > 3);
        let at_a_word = |at: usize| at == text.len() || text.as_bytes()[at] == b' ';
        for range in &stretches {
            assert!(at_a_word(range.start) && at_a_word(range.end), "{range:?}");
            assert!(range.len() <= LONGEST);
        }
        for pair in stretches.windows(2) {
            let shared = pair[0].end - pair[1].start;
            assert!((OVERLAP..OVERLAP + 10).contains(&shared), "{shared}");
        }
        assert_eq!(
            (stretches[0].start, stretches[stretches.len() - 1].end),
            (0, text.len())
        );
    }

    #[test]
    fn what_is_near_a_place_is_whole_words_for_as_far_before_it_as_after() {
        let text = " plum".repeat(1_000);
        assert_eq!(around(&text, 2_502), 1_300..3_705);
        assert_eq!(around(&text, 2), 0..1_205);
        assert_eq!(around(&text, 4_998), 3_795..5_000);
    }
}
