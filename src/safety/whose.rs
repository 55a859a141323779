//! Whom a finding is about: what its sentence says by its subjects, weighed with the words around it.

use std::ops::Range;

use crate::safety::About;
use crate::safety::Topic;
use crate::safety::clauses;
use crate::safety::plain::Plain;
use crate::safety::reading::Reading;
use crate::safety::screen::Screen;
use crate::safety::weighing::Seen;

/// How many words before and after a finding are weighed.
const BEFORE: usize = 30;
const AFTER: usize = 15;

/// Whom the words in `range` of the plain text are about.
pub(super) fn about(screen: &Screen, plain: &Plain, range: &Range<usize>, topic: Topic) -> About {
    let reading = reading(screen, plain, range);
    if reading.is_outright_of_another(topic) {
        return About::Other;
    }
    let seen: Vec<Seen> = around(plain, range)
        .map(|at| screen.weighing.see(plain.word(at)))
        .collect();
    screen.weighing.whose(&seen, reading.about(topic))
}

/// Whom they are about by the subjects of their sentence alone.
pub(super) fn read(screen: &Screen, plain: &Plain, range: &Range<usize>, topic: Topic) -> About {
    reading(screen, plain, range).about(topic)
}

fn reading<'a>(screen: &'a Screen, plain: &'a Plain, range: &Range<usize>) -> Reading<'a> {
    let sentence = clauses::around(&plain.text, range.start);
    Reading::new(&screen.people, plain, range, &sentence)
}

/// The words that are weighed.
pub(super) fn around(plain: &Plain, range: &Range<usize>) -> Range<usize> {
    let first = plain.token_at(range.start + 1);
    let last = plain.token_at(range.end.saturating_sub(1));
    first.saturating_sub(BEFORE)..(last + 1 + AFTER).min(plain.tokens.len())
}
