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
    for one in found.iter_mut().filter(|one| can_settle(screen, one)) {
        if screen
            .weighing
            .is_settled(one.level, glossary.seen(words(plain, &one.range)))
            && !context::is_upheld(&one.range, answers.within(&one.range).iter())
        {
            one.level = Level::Pause;
        }
    }
}

/// Whether weight may lower a match at all: it leaves a negative that denies nothing, and misheard words, whose sentences say something
/// else.
pub(super) fn can_settle(screen: &Screen, one: &Match) -> bool {
    one.level >= Level::Stop && one.effect != Effect::Uphold && !screen.group(one.group).spoken
}

/// The words of the sentence around a match: what other sentences say takes nothing from it.
pub(super) fn words(plain: &Plain, range: &Range<usize>) -> Range<usize> {
    let sentence = clauses::around(&plain.text, range.start);
    plain.token_at(sentence.start + 1)..plain.token_at(sentence.end.saturating_sub(1)) + 1
}
