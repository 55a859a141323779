//! The kind that an entry seems to be: a proposal that the person can change. Source: the exercise's own
//! division of what shows up inside (thoughts, feelings, the body, urges, memories); common practice.

use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::lists;
use super::phrase::is_person;
use super::sight;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;
use super::wordnet::mark;
use crate::map::Kind;

/// The kind of what shows up inside, most telling sign first.
pub(super) fn inner(words: &[Token], clauses: &[Clause<'_>]) -> Option<Kind> {
    let first = clauses.first()?;
    recalled(words)
        .or_else(|| pulled(words, first))
        .or_else(|| said(words, first))
        .or_else(|| felt_in_body(words, first))
        .or_else(|| felt(words, first))
        .or_else(|| thought(words, first))
}

/// "Memory of the fire", "when I was eight", "flashbacks".
pub(super) fn recalled(words: &[Token]) -> Option<Kind> {
    let word = words
        .iter()
        .any(|w| w.among(lists::RECALLS) && !w.is("childhood"));
    let then = words.windows(3).any(|w| {
        w[0].is("when") && (w[1].is("i") || w[1].is("we")) && matches!(w[2].text.as_str(), "was" | "were")
    });
    let day = words.windows(2).any(|w| {
        matches!(w[0].text.as_str(), "that" | "the") && matches!(w[1].text.as_str(), "day" | "night" | "time")
    }) && !words.iter().any(|w| w.is("all"));
    (word || then || day && words.first().is_some_and(|w| w.among(lists::OWN))).then_some(Kind::Memory)
}

/// "Urge to bolt", "want to hide", "craving a cigarette", "need to check".
fn pulled(words: &[Token], clause: &Clause<'_>) -> Option<Kind> {
    let named = words.iter().take(4).any(|w| {
        matches!(
            w.text.as_str(),
            "urge"
                | "urges"
                | "craving"
                | "cravings"
                | "crave"
                | "impulse"
                | "temptation"
                | "compulsion"
                | "tempted"
                | "itching"
        )
    });
    let wants = words.windows(2).take(4).any(|w| {
        matches!(
            w[0].text.as_str(),
            "want" | "wanting" | "need" | "needing" | "pull" | "longing" | "desperate" | "dying"
        ) && (w[1].is("to") || w[1].is("for") && !w[0].is("need"))
            || w[0].is("wanna")
    });
    let like = words
        .windows(3)
        .take(3)
        .any(|w| w[0].base() == "feel" && w[1].is("like") && w[2].form() == Some(Form::Ing));
    let other = matches!(
        clause.subject,
        Subject::Them | Subject::Anyone | Subject::Named(_)
    );
    ((named || wants || like) && !clause.negated && !other).then_some(Kind::Urge)
}

/// A full sentence about oneself or others, or one that a mind says: "nobody wants me here", "I feel that I
/// am in the way".
fn said(words: &[Token], clause: &Clause<'_>) -> Option<Kind> {
    let that = words
        .windows(2)
        .any(|w| w[0].base() == "feel" && (w[1].is("that") || w[1].is("like") || w[1].is("as")))
        && words
            .iter()
            .skip(2)
            .any(|w| w.among(lists::FIRST) || w.among(lists::ANYONE) || w.among(lists::THEM) || w.is("a"));
    let named = words.iter().take(3).any(|w| {
        matches!(w.singular(), "thought" | "belief" | "idea" | "story" | "critic")
            || matches!(w.text.as_str(), "thinking" | "think" | "what-if")
    });
    let asks = words
        .first()
        .is_some_and(|w| matches!(w.text.as_str(), "what" | "why" | "who" | "how"));
    let judged = clause.owed || clause.modal && clause.finite;
    let somebody = match clause.subject {
        Subject::Anyone | Subject::Them => true,
        // "My boss hates me" is a thought; "my hands shake" is not.
        Subject::Named(at) => {
            let word = &clause.words[at];
            let body = word.noun.as_ref().is_some_and(|n| n.senses.first == class::BODY);
            clause.finite && !body && !word.among(lists::MIND) && !word.among(lists::BODY_WORDS)
        }
        Subject::Unsaid | Subject::Me => false,
    };
    (that || named || asks || judged || somebody).then_some(Kind::Thought)
}

/// Verbs of the body by itself.
const SHOWN: &[&str] = &[
    "ache",
    "blush",
    "breathe",
    "faint",
    "hyperventilate",
    "shake",
    "shiver",
    "sweat",
    "throb",
    "tingle",
    "tremble",
    "twitch",
    "vomit",
    "yawn",
];

/// "Tight jaw", "my hands shake", "headache", "can't breathe".
fn felt_in_body(words: &[Token], clause: &Clause<'_>) -> Option<Kind> {
    let part = words.iter().any(|w| {
        w.among(lists::BODY_WORDS)
            && !w.is("pressure")
            && !w.is("pain")
            && !w.is("numb")
            && !w.is("tense")
            && !w.is("cold")
            || w.noun.as_ref().is_some_and(|n| {
                n.mostly(class::BODY)
                    && n.senses.share >= 5
                    && !matches!(n.lemma.as_str(), "heart" | "head" | "back")
                    || n.marked(mark::SENSED) && !n.mostly(class::FEELING)
            })
            || matches!(w.text.as_str(), "heart" | "head" | "back") && words.len() > 1 && !clause.has("voice")
            || w.marks & mark::ADJ_BODY != 0
                && w.marks & mark::ADJ_FELT == 0
                && w.noun.is_none()
                && w.verb.is_none()
    });
    let alone =
        words.len() == 1 && words[0].among(lists::BODY_WORDS) && !words[0].is("numb") && !words[0].is("cold");
    let act = clause.verb().is_some_and(|(_, base)| SHOWN.contains(&base));
    let broken = clause.has("broken") || words.iter().any(|w| w.is("up"));
    ((part && !broken) || alone || act).then_some(Kind::Body)
}

/// "Anxious", "guilt about mum", "I feel stupid", "numb".
fn felt(words: &[Token], clause: &Clause<'_>) -> Option<Kind> {
    let yes = match clause.shape {
        Shape::Such(at) | Shape::Being(Some(at)) => {
            sight::is_felt(&clause.words[at])
                && !matches!(
                    clause.text(at),
                    "stupid" | "useless" | "worthless" | "inadequate" | "unworthy" | "unloved" | "low"
                )
                || clause.text(at) == "low"
                || clause.words[at].among(lists::FELT) && matches!(clause.shape, Shape::Such(_))
        }
        Shape::Act(at) => {
            clause.words[at].base() == "feel"
                || matches!(
                    clause.words[at].base(),
                    "dread"
                        | "fear"
                        | "hate"
                        | "panic"
                        | "worry"
                        | "grieve"
                        | "miss"
                        | "love"
                        | "resent"
                        | "envy"
                        | "regret"
                )
        }
        Shape::Thing(at) => {
            clause.words[at].noun.as_ref().is_some_and(sight::is_feeling)
                || clause.words[..=at].iter().any(|w| w.is("feeling"))
                || clause.words[at].singular() == "sense"
        }
        _ => false,
    };
    (yes || words.len() <= 2
        && words
            .iter()
            .any(|w| w.noun.as_ref().is_some_and(sight::is_feeling) || w.among(lists::FELT)))
    .then_some(Kind::Feeling)
}

/// Any other sentence with a subject or a denial.
fn thought(words: &[Token], clause: &Clause<'_>) -> Option<Kind> {
    (clause.finite
        || clause.negated
        || clause.owed
        || words.len() >= 4
        || matches!(clause.shape, Shape::Being(Some(_))))
    .then_some(Kind::Thought)
}

/// The kind of what matters.
pub(super) fn matters(clauses: &[Clause<'_>]) -> Option<Kind> {
    let first = clauses.first()?;
    match first.shape {
        Shape::Thing(at) => {
            let word = &first.words[at];
            let noun = word.noun.as_ref();
            if is_person(word)
                || noun.is_some_and(|n| n.mostly(class::ANIMAL))
                || noun.is_none() && first.text(0) == "my"
                || word.is("god")
            {
                Some(Kind::Person)
            } else if sight::is_good_quality(word)
                || noun.is_some_and(|n| {
                    matches!(
                        n.senses.first,
                        class::ATTRIBUTE | class::FEELING | class::STATE | class::MOTIVE
                    ) && n.senses.share >= 4
                })
            {
                Some(Kind::Quality)
            } else if noun.is_some_and(|n| matches!(n.senses.first, class::ACT | class::EVENT | class::TALK))
            {
                Some(Kind::Activity)
            } else {
                None
            }
        }
        Shape::Being(_) | Shape::Such(_) => Some(Kind::Quality),
        Shape::Act(at)
            if matches!(
                first.words[at].base(),
                "care" | "love" | "stay" | "give" | "trust" | "forgive" | "accept" | "respect"
            ) =>
        {
            Some(Kind::Quality)
        }
        Shape::Act(_) => Some(Kind::Activity),
        Shape::Nothing => None,
    }
}
