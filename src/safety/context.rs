//! Weighs what stands around a match: manners of speaking, understood denials, bereavement, time, means at hand.
//! Context lowers only in the forms that the pattern files list: a denial or a loss to the quiet line, an old act to a
//! pause, and a manner of speaking ("dying to see you") or an everyday thing beside a doubtful word to nothing.

use std::ops::Range;

use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::groups::Effect;
use crate::safety::own::Own;
use crate::safety::patterns::Patterns;
use crate::safety::patterns::Side;

/// How far apart two signs may stand to be read together, in bytes of the plain text.
const NEAR: usize = 260;

/// How near an everyday thing must stand to take a doubtful finding away, in bytes of the plain text.
const BESIDE: usize = 45;

/// How far a match can reach from where it begins, in bytes: two signs of a stretch each, and the words between.
const REACH: usize = 3_000;

/// A match of any group, before it is weighed.
#[derive(Clone, Debug)]
pub(super) struct Match {
    /// The group's place in the book, or in that of answers, counted on from the last of the book.
    pub group: usize,
    /// What a match of the group does.
    pub effect: Effect,
    /// What it is about.
    pub topic: Topic,
    /// The level before context.
    pub level: Level,
    /// Whether an everyday thing beside it takes it away.
    pub doubtful: bool,
    /// Whether it lowers nothing that the person who writes says of themselves.
    pub told: bool,
    /// Whether the person who writes is in its words.
    pub own: Own,
    /// Where in the plain text.
    pub range: Range<usize>,
}

/// The findings among the matches of a stretch, with the level that context leaves them: other matches, and the forms in
/// which neighbouring sentences answer each other.
pub(super) fn weigh(matches: &[Match], answers: &[Match]) -> Vec<Match> {
    let all = || matches.iter().chain(answers);
    let context = |effect: Effect| all().filter(move |other| other.effect == effect);
    // A denial that is none ("I can't say I don't ...") keeps forms near it from lowering and clearing.
    let stands = |form: &Match, one: &Match| !is_kept_from(form, one.level, matches, answers);
    matches
        .iter()
        .filter(|one| {
            matches!(
                one.effect,
                Effect::Find | Effect::Raise | Effect::Uphold | Effect::Sign
            )
        })
        .filter(|one| {
            // What a denial or an idiom cannot undo is found, even where a manner of speaking overlaps it.
            one.effect == Effect::Uphold
                || !all()
                    .filter(|form| clears(form, one))
                    .any(|form| stands(form, one))
        })
        .filter(|one| !one.doubtful || !context(Effect::Ease).any(|thing| beside(&thing.range, &one.range)))
        .map(|one| {
            let mut level = one.level;
            let lowers = |effect: Effect| {
                one.effect != Effect::Uphold
                    && context(effect).any(|form| {
                        !(form.told && one.own == Own::Outright)
                            && touches(&form.range, &one.range)
                            && stands(form, one)
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

/// Whether a form that clears takes a match away. What people say of their own death outright is no manner of speaking because
/// a word before it is ("the game is up, I will kill myself").
fn clears(form: &Match, one: &Match) -> bool {
    let holds = if form.told {
        one.own == Own::No
    } else {
        one.own != Own::Outright || form.range.end >= one.range.end
    };
    form.effect == Effect::Clear && holds && touches(&form.range, &one.range)
}

/// The level that forms of context, and neighbouring sentences, leave to words in a range of the plain text that no pattern
/// names. A manner of speaking clears them, a denial or bereavement quiets them, and an act of some time ago holds them at a
/// pause.
pub(super) fn lower(level: Level, range: &Range<usize>, forms: &[Match], answers: &[Match]) -> Level {
    let lowers = |effect: Effect| {
        forms.iter().chain(answers).any(|form| {
            form.effect == effect
                && !(form.told && form.own == Own::Outright)
                && touches(&form.range, range)
                && !is_kept_from(form, level, forms, answers)
        })
    };
    if lowers(Effect::Clear) {
        Level::None
    } else if lowers(Effect::Quieten) {
        level.min(Level::Quiet)
    } else if lowers(Effect::Soften) {
        level.min(Level::Pause)
    } else {
        level
    }
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

/// Words that leave no doubt, whatever is named beside them.
const PLAIN: [&str; 33] = [
    "dead",
    "die",
    "died",
    "dies",
    "dying",
    "death",
    "alive",
    "suicide",
    "suicidal",
    "kill",
    "killing",
    "killed",
    "myself",
    "himself",
    "herself",
    "overdose",
    "overdosed",
    "overdosing",
    "noose",
    "bleeding",
    "goodbye",
    "funeral",
    "swallowed",
    "pill",
    "pills",
    "tablet",
    "tablets",
    "capsules",
    "paracetamol",
    "ibuprofen",
    "codeine",
    "insulin",
    "antidepressants",
];

/// Whether words are plain enough to stand beside everyday things.
pub(super) fn plain(words: &str) -> bool {
    words.split(' ').any(|word| PLAIN.contains(&word))
}

/// Puts signs together that stand near each other, whichever comes first, and drops those that stand alone. A sign that
/// a denial has lowered counts no more.
pub(super) fn join(patterns: &Patterns, found: &mut Vec<Match>) {
    let danger = |one: &Match| one.effect != Effect::Sign && one.topic == Topic::Suicide;
    let mut parts: Vec<&Match> = found
        .iter()
        .filter(|one| one.level >= Level::Pause && (one.effect == Effect::Sign || danger(one)))
        .collect();
    parts.sort_by_key(|one| (one.range.start, one.range.end));
    let on = |side: &Side, one: &Match| {
        if one.effect == Effect::Sign {
            side.signs.contains(&one.group)
        } else {
            side.any && one.effect != Effect::Raise
        }
    };
    let mut joined: Vec<Match> = Vec::new();
    for (index, one) in parts.iter().enumerate() {
        for other in parts[index + 1..]
            .iter()
            .take_while(|other| other.range.start <= one.range.end + NEAR)
            .filter(|other| other.range.start >= one.range.end)
        {
            for join in &patterns.joins {
                let [left, right] = &join.sides;
                let both = on(left, one) && on(right, other) || on(right, one) && on(left, other);
                let known = |known: &Match| known.group == join.group && known.range.start == one.range.start;
                if both && !joined.iter().rev().take(8).any(known) {
                    let group = &patterns.groups[join.group];
                    // A sign that is told as long past softens the whole; a finding counts whatever its own level.
                    let level = [one, other]
                        .iter()
                        .filter(|part| part.effect == Effect::Sign)
                        .fold(group.level, |level, part| level.min(part.level));
                    joined.push(Match {
                        group: join.group,
                        effect: Effect::Find,
                        topic: group.topic,
                        level,
                        doubtful: false,
                        told: false,
                        own: one.own.max(other.own),
                        range: one.range.start..other.range.end,
                    });
                }
            }
        }
    }
    found.retain(|one| one.effect != Effect::Sign);
    found.extend(joined);
}

/// Those of some matches, in the order in which they begin, that can touch a place or what touches it.
pub(super) fn within_reach<'m>(matches: &'m [Match], place: &Range<usize>) -> &'m [Match] {
    let first = matches.partition_point(|one| one.range.start + REACH < place.start);
    let end = matches.partition_point(|one| one.range.start < place.end + REACH);
    &matches[first..end.max(first)]
}

/// Whether two matches stand so near each other that signs are put together.
pub(super) fn near(one: &Range<usize>, other: &Range<usize>) -> bool {
    one.start <= other.end + NEAR && other.start <= one.end + NEAR
}

fn beside(thing: &Range<usize>, one: &Range<usize>) -> bool {
    thing.start < one.end + BESIDE && one.start < thing.end + BESIDE
}

/// Whether a form does not hold for words of a level because of what stands on it. Where that calls for a pause itself, a form that
/// leaves a pause still holds; not so for an emergency ("years ago, and again tonight"), nor where the next sentence takes the
/// form back.
fn is_kept_from(form: &Match, level: Level, beside: &[Match], answers: &[Match]) -> bool {
    is_upheld(&form.range, answers.iter())
        || beside.iter().any(|kept| {
            kept.effect == Effect::Uphold
                && touches(&kept.range, &form.range)
                && (form.effect != Effect::Soften || level == Level::Emergency || kept.level > Level::Pause)
        })
}

/// Whether a negative that denies nothing, or what takes a denial back, stands on some words.
pub(super) fn is_upheld<'m>(range: &Range<usize>, mut forms: impl Iterator<Item = &'m Match>) -> bool {
    forms.any(|form| form.effect == Effect::Uphold && touches(&form.range, range))
}

fn touches(form: &Range<usize>, one: &Range<usize>) -> bool {
    form.start < one.end && one.start < form.end
}
