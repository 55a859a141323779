//! Weighs what stands around a match: manners of speaking, understood denials, bereavement, time, means at hand.
//! Context lowers only in the forms listed in `patterns/context.toml`, and never takes suicidal words to nothing.

use std::ops::Range;

use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::patterns::Effect;

/// A match of any group, before it is weighed.
#[derive(Clone, Debug)]
pub(super) struct Match {
    /// The group's place in the book.
    pub group: usize,
    /// What a match of the group does.
    pub effect: Effect,
    /// What it is about.
    pub topic: Topic,
    /// The level before context.
    pub level: Level,
    /// Where in the plain text.
    pub range: Range<usize>,
}

/// The findings among the matches of a stretch, with the level that context leaves them.
pub(super) fn weigh(matches: &[Match]) -> Vec<Match> {
    let context = |effect: Effect| matches.iter().filter(move |other| other.effect == effect);
    matches
        .iter()
        .filter(|one| matches!(one.effect, Effect::Find | Effect::Raise | Effect::Uphold))
        .filter(|one| {
            // What a denial or an idiom cannot undo stands, even where a manner of speaking overlaps it.
            one.effect == Effect::Uphold
                || !context(Effect::Clear).any(|form| touches(&form.range, &one.range))
        })
        .map(|one| {
            let mut level = one.level;
            // A denial that is none ("I can't say I don't ...") keeps every form near it from lowering.
            let lowers = |effect: Effect| {
                one.effect != Effect::Uphold
                    && context(effect).any(|form| {
                        touches(&form.range, &one.range)
                            && !context(Effect::Uphold).any(|kept| touches(&kept.range, &form.range))
                    })
            };
            if lowers(Effect::Soften) {
                level = level.min(Level::Pause);
            }
            if lowers(Effect::Quieten) {
                level = level.min(Level::Quiet);
            }
            Match { level, ..one.clone() }
        })
        .collect()
}

/// Lifts suicidal findings to stop where the same text speaks of means at hand, and drops the means that stand alone.
pub(super) fn raise(findings: &mut Vec<Match>) {
    let means = findings.iter().any(|one| one.effect == Effect::Raise);
    if !means {
        return;
    }
    let danger =
        |one: &Match| one.effect != Effect::Raise && one.level >= Level::Pause && one.topic == Topic::Suicide;
    if findings.iter().any(danger) {
        for one in findings
            .iter_mut()
            .filter(|one| danger(one) || one.effect == Effect::Raise)
        {
            one.level = one.level.max(Level::Stop);
        }
    } else {
        findings.retain(|one| one.effect != Effect::Raise);
    }
}

fn touches(form: &Range<usize>, one: &Range<usize>) -> bool {
    form.start < one.end && one.start < form.end
}
