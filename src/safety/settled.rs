//! What is denied, mourned, long past or only spoken of, in words that no form of context lists: by the weight of its sentence.
//! It lowers the stop message to a pause, and never further; whoever was read wrongly still sees whom to call. An emergency
//! is lowered only where next to nothing else can be meant.

use std::ops::Range;

use crate::safety::Level;
use crate::safety::answers::Answers;
use crate::safety::clauses;
use crate::safety::context;
use crate::safety::context::Match;
use crate::safety::glossary::Glossary;
use crate::safety::groups::Effect;
use crate::safety::plain::Plain;
use crate::safety::screen::Screen;

/// Lowers to a pause what calls for a stop, where its sentence weighs as told of another time or of no danger, and the next does
/// not take that back.
pub(super) fn settle(
    screen: &Screen,
    plain: &Plain,
    glossary: &Glossary,
    answers: &Answers,
    found: &mut [Match],
) {
    let lowered: Vec<usize> = (0..found.len())
        .filter(|at| {
            let one = &found[*at];
            can_settle(screen, one)
                && screen
                    .weighing
                    .is_settled(one.level, glossary.seen(words(plain, &one.range)))
                && !context::is_upheld(&one.range, answers.within(&one.range).iter())
                && !context::is_upheld(&one.range, context::within_reach(found, &one.range).iter())
        })
        .collect();
    for at in lowered {
        found[at].level = Level::Pause;
    }
}

/// Whether weight may lower a match at all: it leaves a negative that denies nothing, what two sentences say together, and misheard
/// words, whose sentences say something else.
pub(super) fn can_settle(screen: &Screen, one: &Match) -> bool {
    one.level >= Level::Stop
        && one.effect != Effect::Uphold
        && one.group < screen.book.patterns.groups.len()
        && !screen.group(one.group).spoken
}

/// The words of the sentences that a match stands in: what others say takes nothing from it.
pub(super) fn words(plain: &Plain, range: &Range<usize>) -> Range<usize> {
    let first = clauses::around(&plain.text, range.start);
    let last = clauses::around(&plain.text, range.end - 1);
    plain.token_at(first.start + 1)..plain.token_at(last.end.saturating_sub(1)) + 1
}
