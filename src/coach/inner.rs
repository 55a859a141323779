//! The check of what shows up inside. Nearly everything a person writes here belongs: thoughts of any form,
//! feelings, the body, urges, memories. Only what plainly stands outside is asked about, and any inner word
//! silences the check.

use super::Doubt;
use super::Question;
use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::found::doubt;
use super::kinds;
use super::lists;
use super::outer;
use super::phrase::is_person;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;
use super::wordnet::mark;
use crate::map::Field;

/// Single words that name a whole weather of feelings: which part of it, and where?
const BUNDLES: &[&str] = &[
    "baggage",
    "burnout",
    "drama",
    "everything",
    "issues",
    "life",
    "negativity",
    "pressure",
    "problems",
    "stress",
    "stuff",
    "trauma",
];

/// Oneself, but for "me", which others may do things to.
const SELF: &[&str] = &["myself", "oneself", "yourself"];

/// The doubt about an inner entry, if there is one.
pub(super) fn consider(words: &[Token], clauses: &[Clause<'_>]) -> Option<Question> {
    let first = clauses.first()?;
    if let Some(found) = lacking(first)
        .or_else(|| bundle(words))
        .or_else(|| quality(first))
    {
        return Some(found);
    }
    if words
        .iter()
        .enumerate()
        .any(|(at, word)| is_inner_word(word) && !describes_the_world(words, at))
        && !(words.len() > 1
            && clauses.len() == 1
            && (called_in_sick(words) || weather(words) || at_the_nails(words)))
        || kinds::recalled(words).is_some()
    {
        return None;
    }
    if words.iter().take(2).any(|w| {
        matches!(
            w.text.as_str(),
            "if" | "when" | "maybe" | "perhaps" | "what" | "who" | "why" | "like" | "stop" | "oh" | "i'm"
        )
    }) {
        return None;
    }
    if clauses
        .iter()
        .any(|c| c.modal || c.owed || c.wished || c.negated && !(c.text(0) == "not" && c.text(1) == "enough"))
    {
        return None;
    }
    outer::others_act(first)
        .or_else(|| outer::my_act(first, clauses))
        .or_else(|| outer::outside_thing(words, first))
}

/// "Lack of drive": what is missing cannot show up; something else is there.
fn lacking(clause: &Clause<'_>) -> Option<Question> {
    let Shape::Thing(at) = clause.shape else {
        return None;
    };
    let lacks =
        matches!(clause.words[at].singular(), "lack" | "absence" | "shortage") && clause.text(at + 1) == "of";
    lacks.then(|| doubt(Doubt::Absence, 0.75, "coach.lack"))
}

/// "Stress" alone: ask which part of it.
fn bundle(words: &[Token]) -> Option<Question> {
    let (last, before) = words.split_last()?;
    (lists::among(BUNDLES, &last.text) && before.iter().all(|w| w.among(lists::OWN)))
        .then(|| doubt(Doubt::Vague, 0.65, "coach.bundle"))
}

/// A quality to stand for, among what shows up: "being fair", "be a good mum", "kindness".
fn quality(clause: &Clause<'_>) -> Option<Question> {
    let found = || doubt(Doubt::Quality, 0.8, "coach.quality-inner").fits(Field::Matters);
    if clause.negated || clause.owed || clause.modal || clause.subject != Subject::Unsaid || clause.finite {
        return None;
    }
    match clause.shape {
        Shape::Being(Some(at)) => {
            let word = &clause.words[at];
            let behind = clause.words.get(clause.from..at).unwrap_or_default();
            let degree = behind
                .iter()
                .any(|w| matches!(w.text.as_str(), "too" | "not" | "so"));
            let good = word.among(lists::GOOD_TRAITS)
                && !matches!(word.text.as_str(), "vulnerable" | "sensitive" | "open" | "real")
                || (is_person(word) || word.is("person"))
                    && behind.iter().any(|w| {
                        matches!(w.text.as_str(), "good" | "better" | "great") || w.among(lists::GOOD_TRAITS)
                    });
            (good && !degree && !matches!(clause.text(clause.from), "am" | "is" | "was")).then(found)
        }
        Shape::Thing(at) if clause.words.len() <= 2 && at + 1 == clause.words.len() => {
            let word = &clause.words[at];
            (matches!(
                word.singular(),
                "kindness"
                    | "honesty"
                    | "patience"
                    | "courage"
                    | "generosity"
                    | "loyalty"
                    | "fairness"
                    | "compassion"
                    | "creativity"
                    | "integrity"
                    | "respect"
                    | "bravery"
                    | "humility"
                    | "gentleness"
                    | "reliability"
                    | "openness"
            ))
            .then(found)
        }
        _ => None,
    }
}

/// "An empty bank account", "an angry email": the adjective is of the thing and not of the writer.
fn describes_the_world(words: &[Token], at: usize) -> bool {
    words[at].adjective.is_some()
        && words.iter().skip(at + 1).take(2).any(|w| {
            w.among(lists::OUTSIDE)
                || w.noun
                    .as_ref()
                    .is_some_and(|n| n.mostly(class::POSSESSION) || n.mostly(class::TIME))
        })
        && !words[at].is("tight")
}

/// "Cold weather": the word of the body belongs to the sky.
fn weather(words: &[Token]) -> bool {
    words.len() <= 3
        && words
            .last()
            .is_some_and(|w| w.noun.as_ref().is_some_and(|n| n.marked(mark::WEATHER)))
}

/// "Biting my nails": an act on the body rather than a sign in it.
fn at_the_nails(words: &[Token]) -> bool {
    matches!(
        words[0].base(),
        "bite" | "pick" | "wash" | "brush" | "pluck" | "twist"
    ) && words[0].form() == Some(Form::Ing)
}

/// "Calling in sick" is an act, though "sick" is of the body.
fn called_in_sick(words: &[Token]) -> bool {
    words.windows(2).any(|w| w[0].is("in") && w[1].is("sick"))
        && matches!(words[0].base(), "call" | "ring" | "phone")
}

/// Whether a word by itself says that the entry is from inside.
fn is_inner_word(word: &Token) -> bool {
    [
        lists::MIND,
        lists::RECALLS,
        lists::PULLS,
        lists::BODY_WORDS,
        lists::FELT,
        SELF,
    ]
    .into_iter()
    .any(|list| word.among(list))
        || word.among(lists::INNER_VERBS)
        || word
            .verb
            .as_ref()
            .is_some_and(|verb| lists::among(lists::INNER_VERBS, &verb.lemma))
        || word.noun.as_ref().is_some_and(|noun| {
            let seen = word.form() == Some(Form::Ing);
            !seen
                && (noun.mostly(class::FEELING)
                    || noun.mostly(class::BODY) && !matches!(noun.lemma.as_str(), "back")
                    || noun.marked(mark::MIND | mark::SENSED)
                        && word
                            .verb
                            .as_ref()
                            .is_none_or(|v| v.senses.often < noun.senses.often + 2))
        })
        || word.adjective.is_some()
            && word.marks & mark::ADJ_FELT != 0
            && word.verb.as_ref().is_none_or(|v| v.form != Form::Bare)
}
