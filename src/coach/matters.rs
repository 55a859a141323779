//! The check of what matters: whom and what a person wants to stand for. Persons, animals, places, nature,
//! faith, qualities and things one does all belong; feelings as aims, goals that end, and what others should
//! do are asked about.

use super::Doubt;
use super::Question;
use super::absence;
use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::found::doubt;
use super::goals;
use super::lists;
use super::others;
use super::phrase::noun_phrase;
use super::sight;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;
use crate::map::Field;

/// The doubt about something under what matters, if there is one.
pub(super) fn consider(words: &[Token], clauses: &[Clause<'_>]) -> Option<Question> {
    let first = clauses.first()?;
    owed(first)
        .or_else(|| others_doing(first))
        .or_else(|| absent(first))
        .or_else(|| goals::goal(first))
        .or_else(|| feeling(first))
        .or_else(|| means(first))
        .or_else(|| planned_act(words, clauses))
}

/// A should: "I should be tidier".
fn owed(clause: &Clause<'_>) -> Option<Question> {
    (clause.owed && !clause.done && clause.mine()).then(|| doubt(Doubt::Should, 0.85, "coach.should"))
}

/// What others should do, feel or give: "everyone thanks me", "my twins to be content", "being admired",
/// "approval".
fn others_doing(clause: &Clause<'_>) -> Option<Question> {
    let approval = matches!(clause.shape, Shape::Thing(at) if clause.words[at].among(lists::APPROVAL) && !clause.has("self"));
    let courted = matches!(
        clause.verb(),
        Some((
            _,
            "have" | "get" | "win" | "gain" | "earn" | "need" | "want" | "receive"
        ))
    ) && clause.words.last().is_some_and(|w| w.among(lists::APPROVAL));
    (courted
        || others::others_act(clause)
        || others::others_made_to(clause)
        || matches!(clause.subject, Subject::Anyone) && clause.text(1) == "to"
        || others::done_to_me(clause)
        || approval
        || others::wished_of(clause))
    .then(|| doubt(Doubt::Others, 0.85, "coach.others-matters"))
}

/// What is not to be: "stop sulking", "never be late", "not being shy", "no drama".
fn absent(clause: &Clause<'_>) -> Option<Question> {
    let found = absence::absent(clause)?;
    if found.doubt == Doubt::Feeling {
        return Some(doubt(Doubt::Feeling, 0.75, "coach.feeling-matters"));
    }
    Some(doubt(Doubt::Absence, 0.8, "coach.absence-matters"))
}

/// Words of a good state that are as much a way to be as a feeling: "being strong", "being open".
const WAYS_TO_BE: &[&str] = &[
    "alive",
    "balanced",
    "best",
    "better",
    "brave",
    "braver",
    "cheerful",
    "enough",
    "fearless",
    "free",
    "good",
    "great",
    "grounded",
    "hopeful",
    "inspired",
    "lighter",
    "loved",
    "open",
    "optimistic",
    "positive",
    "proud",
    "safe",
    "strong",
    "stronger",
];

/// Nouns of a good state that are as much something to stand for: "joy", "peace".
const WAYS_TO_LIVE: &[&str] = &[
    "clarity",
    "energy",
    "enthusiasm",
    "fulfilment",
    "fulfillment",
    "joy",
    "optimism",
    "peace",
    "pleasure",
    "positivity",
    "pride",
];

/// Feelings that get in the way, by themselves among what matters.
const HEAVY: &[&str] = &[
    "anger",
    "anxiety",
    "boredom",
    "depression",
    "despair",
    "dread",
    "fear",
    "grief",
    "guilt",
    "jealousy",
    "loneliness",
    "misery",
    "nervousness",
    "panic",
    "rage",
    "sadness",
    "shame",
    "stress",
    "worry",
];

/// A feeling as what is lived for: "to be content", "calm", "feeling confident"; or one that is here: "my
/// anxiety". Common practice: feelings come and go, a direction stays.
fn feeling(clause: &Clause<'_>) -> Option<Question> {
    if !clause.mine() {
        return None;
    }
    let next = |at: usize| clause.text(at + 1);
    let asked = match clause.shape {
        Shape::Being(Some(at)) | Shape::Such(at) => {
            let word = &clause.words[at];
            let aim = word.among(lists::AIM_FELT) && !WAYS_TO_BE.contains(&word.text.as_str());
            let alone = clause.words.len() == at + 1 && matches!(word.text.as_str(), "safe" | "enough");
            let heavy = word.among(lists::FELT) && !sight::is_good_trait(word);
            aim || alone || heavy || word.is("stress") && next(at) == "free"
        }
        Shape::Act(at) => match clause.words[at].base() {
            "feel" => true,
            "stay" | "get" | "become" | "keep" => {
                !matches!(
                    next(at),
                    "strong" | "positive" | "safe" | "good" | "better" | "open" | "fine"
                ) && clause.word(at + 1).is_some_and(|w| w.among(lists::AIM_FELT))
            }
            "find" | "have" | "want" | "gain" | "build" => {
                noun_phrase(clause.words, at + 1).is_some_and(|(head, _)| is_good_state(clause, head))
            }
            "relax" | "calm" => clause.words.len() <= at + 2,
            "enjoy" => next(at) == "myself",
            _ => false,
        },
        Shape::Thing(at) => {
            let heavy = HEAVY.contains(&clause.words[at].singular()) && clause.words.len() <= 3;
            heavy || is_good_state(clause, at)
        }
        _ => false,
    };
    asked.then(|| doubt(Doubt::Feeling, 0.8, "coach.feeling-matters"))
}

/// "Confidence", "calm", and not "joy", which one can also stand for.
fn is_good_state(clause: &Clause<'_>, at: usize) -> bool {
    let word = &clause.words[at];
    word.among(lists::AIM_NOUNS)
        && !clause.words[..at].iter().any(|w| w.text.ends_with("'s"))
        && !WAYS_TO_LIVE.contains(&word.text.as_str())
        || clause.has("peace") && (clause.has("inner") || clause.has("mind"))
}

/// A means: "money", "status". What is it for?
fn means(clause: &Clause<'_>) -> Option<Question> {
    if let Some((verb, "have" | "make" | "earn" | "get")) = clause.verb()
        && clause.words.last().is_some_and(|w| w.among(lists::MEANS))
        && clause.words.len() <= verb + 4
    {
        return Some(doubt(Doubt::Vague, 0.7, "coach.means"));
    }
    let Shape::Thing(at) = clause.shape else {
        return None;
    };
    let word = &clause.words[at];
    ((word.among(lists::MEANS) || word.is("everything") || word.is("stuff"))
        && clause.words.len() <= 3
        && clause.mine())
    .then(|| doubt(Doubt::Vague, 0.7, "coach.means"))
}

/// An act with its time or place, or one that was done: "go to choir every Monday", "rang my sister". What it
/// serves is what matters. Things one does in general ("singing", "walking my dog") belong and are left
/// alone.
fn planned_act(words: &[Token], clauses: &[Clause<'_>]) -> Option<Question> {
    let first = clauses.first()?;
    let (at, base) = first.verb()?;
    if !first.mine()
        || first.negated
        || sight::unseen_act(first, at)
        || first.words[at].form() == Some(Form::Ing) && !words.iter().any(|w| w.among(lists::WAYS))
    {
        return None;
    }
    let verb = first.words[at].verb.as_ref()?;
    let timed = words.iter().any(|w| w.among(lists::WAYS))
        || words.windows(2).any(|w| {
            w[0].is("at") && w[1].text.bytes().all(|b| b.is_ascii_digit())
                || matches!(w[0].text.as_str(), "a" | "per")
                    && matches!(w[1].text.as_str(), "week" | "day" | "month")
        });
    let concrete = matches!(
        base,
        "go" | "ring"
            | "call"
            | "phone"
            | "text"
            | "email"
            | "walk"
            | "drive"
            | "clean"
            | "wash"
            | "tidy"
            | "book"
            | "visit"
            | "send"
            | "attend"
            | "post"
            | "hoover"
            | "vacuum"
            | "mow"
            | "meet"
            | "cook"
            | "bake"
            | "read"
            | "watch"
            | "drink"
            | "swim"
            | "jog"
            | "cycle"
            | "take"
            | "buy"
            | "bring"
            | "feed"
            | "water"
            | "pick"
            | "sit"
            | "eat"
    );
    let special = first
        .words
        .iter()
        .skip(at + 1)
        .any(|w| matches!(w.text.as_str(), "my" | "the" | "a" | "to" | "her" | "his" | "for"));
    let visible = !matches!(
        verb.senses.first,
        class::V_STATIVE | class::V_EMOTION | class::V_COGNITION
    ) || concrete;
    let past = verb.form == Form::Past
        && first.words.len() > at + 1
        && !first.modal
        && first.words[at]
            .adjective
            .is_none_or(|often| often <= verb.senses.often);
    let ing_timed = verb.form == Form::Ing
        && timed
        && concrete
        && matches!(base, "go" | "call" | "ring" | "phone" | "attend" | "visit");
    let found = visible
        && (past
            || verb.form == Form::Bare && timed
            || verb.form == Form::Bare && concrete && special && first.subject != Subject::Me
            || ing_timed
            || first.subject == Subject::Me && timed);
    found.then(|| doubt(Doubt::Outside, 0.7, "coach.outside-matters").fits(Field::Toward))
}
