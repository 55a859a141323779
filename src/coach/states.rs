//! States among moves: a quality to stand for, a feeling as an aim, a label, or a mood that no camera sees.

use super::Doubt;
use super::Question;
use super::clause::Clause;
use super::clause::Shape;
use super::found::doubt;
use super::lists;
use super::phrase::is_person;
use super::phrase::noun_phrase;
use super::sight;
use super::tokens::Token;
use super::wordnet::mark;
use crate::map::Field;

/// Verbs that join the writer to a word for how they are.
const LIKE_BE: &[&str] = &[
    "act", "appear", "become", "get", "grow", "keep", "look", "remain", "seem", "show", "stay",
];

/// Words that make a person noun a way to be.
const BETTER: &[&str] = &[
    "best", "better", "good", "great", "more", "nice", "nicer", "proper", "real",
];

/// "Be" and what follows: a quality, a feeling, a label.
pub(super) fn as_being(clause: &Clause<'_>) -> Option<Question> {
    let at = match clause.shape {
        Shape::Being(Some(at)) | Shape::Such(at) => at,
        Shape::Being(None) => {
            let next = clause.text(clause.from + 1);
            if next == "at" && matches!(clause.text(clause.from + 2), "peace" | "ease") {
                return Some(doubt(Doubt::Feeling, 0.75, "coach.feeling"));
            }
            return (!clause.done && (next == "there" || next == "myself")).then(quality);
        }
        Shape::Act(at) if LIKE_BE.contains(&clause.words[at].base()) => at + 1,
        _ => return None,
    };
    let at = match noun_phrase(clause.words, at) {
        Some((head, _)) if clause.words[at].among(lists::OWN) => head,
        // "Become more confident".
        _ if clause.words.get(at).is_some_and(|w| w.is("more") || w.is("less"))
            && clause.words.len() > at + 1 =>
        {
            at + 1
        }
        _ => at,
    };
    if !clause.mine() {
        return None;
    }
    let word = clause.word(at)?;
    let was = clause.done && clause.words.len() > at + 1;
    let behind = clause.words.get(clause.from + 1..at).unwrap_or_default();
    let less = clause
        .words
        .get(clause.from..at)
        .unwrap_or_default()
        .iter()
        .any(|w| w.is("less"));
    let named = !matches!(clause.shape, Shape::Act(verb) if clause.words[verb].base() != "become");
    if named && let Some(found) = as_someone(clause, at, word, behind) {
        return Some(found);
    }
    if less && (sight::is_felt(word) || word.among(lists::AIM_FELT))
        || word.among(lists::AIM_FELT) && !(word.is("good") && clause.word(at + 1).is_some())
    {
        if matches!(
            word.text.as_str(),
            "better" | "good" | "strong" | "stronger" | "great"
        ) {
            return Some(doubt(Doubt::Vague, 0.6, "coach.vague"));
        }
        return (!was).then(|| doubt(Doubt::Feeling, 0.8, "coach.feeling"));
    }
    if sight::is_bad_trait(word) {
        return Some(doubt(Doubt::Vague, 0.7, "coach.label"));
    }
    if sight::is_good_trait(word) || word.is("present") {
        return if less {
            Some(doubt(Doubt::Vague, 0.6, "coach.label"))
        } else {
            (!was).then(quality)
        };
    }
    let hard_on_myself =
        word.is("hard") && clause.text(at + 1) == "on" && clause.words.iter().any(|w| w.among(lists::SELF));
    if sight::is_felt(word) || hard_on_myself {
        return Some(camera(0.8));
    }
    None
}

/// "Be a good aunt" names a quality; "being a hermit" is a label.
fn as_someone(clause: &Clause<'_>, at: usize, word: &Token, behind: &[Token]) -> Option<Question> {
    let label = || Some(doubt(Doubt::Vague, 0.6, "coach.label"));
    let article = behind.iter().any(|w| w.is("a") || w.is("an"));
    let unknown = word.noun.is_none() && word.adjective.is_none() && word.verb.is_none();
    if unknown && article && clause.words.len() == at + 1 {
        return label();
    }
    let a_trait = word.among(lists::GOOD_TRAITS) && behind.iter().all(|w| !w.among(lists::OWN));
    let person =
        word.noun.is_some() && !matches!(clause.shape, Shape::Such(_)) && is_person(word) && !a_trait;
    if !person && word.singular() != "person" {
        return None;
    }
    let good = behind
        .iter()
        .any(|w| sight::is_good_trait(w) || BETTER.contains(&w.text.as_str()));
    let scorned =
        word.noun.as_ref().is_some_and(|n| n.marked(mark::SCORNED)) || behind.iter().any(sight::is_bad_trait);
    if good || !scorned && word.among(lists::ROLES) {
        Some(quality())
    } else {
        label()
    }
}

/// "Act with courage", "live with kindness": a quality with a verb that shows nothing by itself.
pub(super) fn quality_act(clause: &Clause<'_>) -> Option<Question> {
    if clause.words.len() == 1 && clause.words[0].among(lists::QUALITIES) {
        return Some(quality());
    }
    let (at, base) = clause.verb()?;
    let with = matches!(clause.text(at + 1), "with" | "from" | "out");
    let quality_last = clause.words.last().is_some_and(sight::is_good_quality);
    (matches!(
        base,
        "act" | "live" | "lead" | "behave" | "show" | "have" | "practise" | "practice"
    ) && (with || clause.words.len() <= at + 3 && base != "act")
        && quality_last
        && clause.mine()
        && !clause.done)
        .then(quality)
}

pub(super) fn quality() -> Question {
    doubt(Doubt::Quality, 0.8, "coach.quality")
}

pub(super) fn camera(sure: f32) -> Question {
    doubt(Doubt::Camera, sure, "coach.camera").fits(Field::Inner)
}

/// Words of a good state that are too wide for a feeling.
const WIDE: &[&str] = &["better", "fine", "good", "great", "safe", "strong", "stronger"];

/// Verbs of getting a good feeling: "build confidence".
const GAIN: &[&str] = &[
    "achieve", "boost", "build", "develop", "find", "gain", "have", "improve", "increase", "need", "raise",
    "regain", "want",
];

/// Verbs of getting rid of a bad one: "manage my anxiety".
const LESSEN: &[&str] = &[
    "beat", "calm", "conquer", "control", "cure", "ease", "lessen", "lose", "lower", "manage", "overcome",
    "reduce", "settle", "soothe",
];

/// A feeling as the aim of a move: "feel less shy", "stay calm", "calm down", "get more self-belief".
/// Common practice: a feeling comes and goes and cannot be done.
pub(super) fn feeling_act(clause: &Clause<'_>) -> Option<Question> {
    let (at, base) = clause.verb()?;
    if !clause.mine() {
        return None;
    }
    let rest = clause.words.get(at + 1..).unwrap_or_default();
    let next = clause.text(at + 1);
    let says = |words: &[&str]| rest.iter().any(|w| words.contains(&w.text.as_str()));
    let felt_noun = |w: &Token| w.is("nerves") || w.noun.as_ref().is_some_and(sight::is_feeling);
    let object = noun_phrase(clause.words, at + 1).map(|(head, _)| &clause.words[head]);
    let aims = match base {
        "have" | "get" if matches!(next, "less" | "fewer") => object.is_some_and(felt_noun),
        "get" if next == "rid" => rest.iter().skip(2).any(felt_noun),
        "feel" => aims_to_feel(clause, rest),
        "stay" | "remain" | "keep" | "become" | "get" if rest.len() <= 3 => {
            let state = rest
                .first()
                .is_some_and(|w| w.among(lists::AIM_FELT) && !WIDE.contains(&next));
            state || rest.iter().take(2).any(|w| w.among(lists::AIM_NOUNS))
        }
        "calm" | "cheer" | "chill" if rest.len() <= 1 => {
            (rest.is_empty() || rest.len() == 1 && says(&["down", "out", "up"])) && !clause.done
        }
        "relax" | "unwind" => rest.is_empty() && !clause.done || next == "more",
        "worry" | "stress" | "panic" | "care" => next == "less",
        _ if GAIN.contains(&base) => object.is_some_and(|w| w.among(lists::AIM_NOUNS)),
        _ if LESSEN.contains(&base) => {
            object.is_some_and(|w| felt_noun(w) && !matches!(w.text.as_str(), "temper" | "interest"))
        }
        _ => false,
    };
    aims.then(|| doubt(Doubt::Feeling, 0.85, "coach.feeling"))
}

/// "Feel less shy", "feel closer to her", "want to feel like myself": not "feel ashamed", which is there
/// already.
fn aims_to_feel(clause: &Clause<'_>, rest: &[Token]) -> bool {
    let closer = rest
        .first()
        .is_some_and(|w| w.text.ends_with("er") && w.adjective.is_some());
    let more = rest
        .iter()
        .any(|w| ["better", "less", "more"].contains(&w.text.as_str()));
    let good = rest
        .iter()
        .any(|w| w.among(lists::AIM_FELT) || w.among(lists::AIM_NOUNS));
    let at_ease = rest
        .windows(2)
        .any(|w| w[0].is("at") && ["ease", "home", "peace"].contains(&w[1].text.as_str()));
    at_ease || clause.wished || clause.modal || closer || more || good && !rest.iter().any(|w| w.is("like"))
}
