//! The check of what matters: whom and what a person wants to stand for. Persons, animals, places, nature, faith,
//! qualities and things one does all belong; feelings as aims, goals that end, and what others should do are asked about.

use super::Doubt;
use super::absence;
use super::found::Found;
use super::found::doubt;
use super::head::Clause;
use super::head::Shape;
use super::head::Subject;
use super::head::is_person;
use super::head::noun_phrase;
use super::lists;
use super::others;
use super::sight;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;
use super::wordnet::mark;
use crate::map::Field;

/// The doubt about something under what matters, if there is one.
pub(super) fn consider(words: &[Token], clauses: &[Clause<'_>]) -> Option<Found> {
    let first = clauses.first()?;
    owed(first)
        .or_else(|| others_doing(first))
        .or_else(|| absent(first))
        .or_else(|| goal(first))
        .or_else(|| feeling(first))
        .or_else(|| means(first))
        .or_else(|| planned_act(words, clauses))
}

/// A should: "I should be more productive".
fn owed(clause: &Clause<'_>) -> Option<Found> {
    (clause.owed && !clause.done && clause.mine()).then(|| doubt(Doubt::Should, 0.85, "coach.should"))
}

/// What others should do, feel or give: "everyone respects me", "my kids to be happy", "being loved", "approval".
fn others_doing(clause: &Clause<'_>) -> Option<Found> {
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

/// What is not to be: "stop arguing", "never let anyone down", "not being anxious", "no drama".
fn absent(clause: &Clause<'_>) -> Option<Found> {
    let found = absence::absent(clause)?;
    if found.doubt == Doubt::Feeling {
        return Some(doubt(Doubt::Feeling, 0.75, "coach.feeling-matters"));
    }
    Some(doubt(Doubt::Absence, 0.8, "coach.absence-matters"))
}

/// A goal that ends when it is reached: "get a degree", "lose 10 kilos", "success", "be rich", "become a nurse".
/// Common practice: a value is a direction and is never finished.
fn goal(clause: &Clause<'_>) -> Option<Found> {
    let found = || Some(doubt(Doubt::Goal, 0.8, "coach.goal"));
    if !clause.mine() {
        return None;
    }
    match clause.shape {
        Shape::Act(at) => {
            let base = clause.words[at].base();
            (lists::among(lists::GOAL_VERBS, base) && is_goal(clause, at))
                .then(found)
                .flatten()
        }
        Shape::Being(_)
            if clause.words.last().is_some_and(|w| w.is("free"))
                && clause
                    .words
                    .iter()
                    .any(|w| matches!(w.text.as_str(), "debt" | "mortgage")) =>
        {
            found()
        }
        Shape::Being(Some(at)) => {
            let word = &clause.words[at];
            let behind = clause.words.get(clause.from..at).unwrap_or_default();
            let trade = word
                .noun
                .as_ref()
                .is_some_and(|n| n.mostly(class::PERSON) && !n.marked(mark::KIN))
                && !word.among(lists::ROLES)
                && clause.text(clause.from) == "be"
                && !matches!(
                    word.singular(),
                    "person"
                        | "human"
                        | "man"
                        | "woman"
                        | "listener"
                        | "neighbour"
                        | "neighbor"
                        | "teammate"
                        | "role"
                        | "model"
                        | "team"
                        | "example"
                        | "citizen"
                        | "player"
                        | "christian"
                        | "muslim"
                        | "mentor"
                        | "learner"
                        | "helper"
                        | "leader"
                        | "carer"
                        | "host"
                        | "son"
                        | "daughter"
                )
                && !behind.iter().any(|w| {
                    sight::is_good_trait(w) || matches!(w.text.as_str(), "good" | "better" | "great" | "best")
                });
            ((word.among(lists::END_STATES) || lists::among(lists::END_STATES, word.singular()))
                && !matches!(clause.text(at + 1), "enough" | "in")
                || trade)
                .then(found)
                .flatten()
        }
        Shape::Thing(at) => {
            let word = &clause.words[at];
            let before = clause.words.get(clause.from..at).unwrap_or_default();
            let new = before.iter().any(|w| {
                matches!(
                    w.text.as_str(),
                    "a" | "an" | "new" | "bigger" | "better" | "own" | "nice" | "nicer" | "good" | "dream"
                )
            }) || before.is_empty() && clause.from > 0 && clause.text(0) == "more";
            let got = word.among(lists::GOAL_NOUNS)
                && new
                && !before
                    .iter()
                    .any(|w| matches!(w.text.as_str(), "father" | "home-made"));
            let bigger = before.iter().any(|w| {
                matches!(
                    w.text.as_str(),
                    "bigger" | "newer" | "nicer" | "better" | "higher"
                )
            }) && word
                .noun
                .as_ref()
                .is_some_and(|n| matches!(n.senses.first, class::ARTIFACT | class::POSSESSION));
            (word.among(lists::GOALS)
                && before.len() <= 1
                && !matches!(clause.text(0), "my" | "our")
                && !clause.words.iter().skip(at + 1).any(|w| w.is("of"))
                || got
                || bigger)
                .then(found)
                .flatten()
        }
        Shape::Such(at) => clause.words[at].among(lists::END_STATES).then(found).flatten(),
        _ => None,
    }
}

/// Whether the thing of a verb is one that is got once: a degree, ten kilos, a house.
pub(super) fn is_goal(clause: &Clause<'_>, at: usize) -> bool {
    let base = clause.words[at].base();
    let rest = clause.words.get(at + 1..).unwrap_or_default();
    let thing = rest
        .iter()
        .take(6)
        .take_while(|w| {
            !matches!(
                w.text.as_str(),
                "with" | "for" | "to" | "from" | "at" | "in" | "on"
            )
        })
        .any(|w| w.among(lists::GOAL_NOUNS));
    let number = rest.iter().any(|w| w.text.bytes().any(|b| b.is_ascii_digit()))
        || rest.iter().any(|w| {
            matches!(
                w.text.as_str(),
                "ten" | "five" | "twenty" | "three" | "two" | "million" | "hundred" | "thousand" | "k"
            )
        });
    match base {
        "become" => {
            noun_phrase(clause.words, at + 1).is_some_and(|(head, _)| {
                (is_person(&clause.words[head])
                    || clause.words[head].noun.is_none() && clause.words[head].adjective.is_none())
                    && !clause.words[at + 1..head]
                        .iter()
                        .any(|w| sight::is_good_trait(w) || w.among(lists::AIM_FELT) || w.is("better"))
            }) || clause.word(at + 1).is_some_and(|w| w.among(lists::END_STATES))
        }
        "graduate" | "retire" | "marry" | "succeed" | "qualify" => true,
        "get" | "be" => {
            thing
                || clause.word(at + 1).is_some_and(|w| {
                    w.among(lists::END_STATES) || matches!(w.text.as_str(), "engaged" | "hired" | "accepted")
                })
                || rest.iter().any(|w| w.is("into"))
                    && rest.iter().any(|w| {
                        matches!(
                            w.text.as_str(),
                            "university" | "uni" | "college" | "oxford" | "medicine" | "debt"
                        )
                    })
                || rest.iter().any(|w| w.is("debt"))
        }
        "make" => {
            rest.iter().any(|w| {
                w.is("money") || w.is("million") || w.is("millions") || w.is("partner") && rest.len() == 1
            }) && !rest.iter().any(|w| is_person(w) && !w.is("partner"))
        }
        "win" | "beat" | "achieve" | "earn" | "own" | "buy" => {
            thing
                || number
                || !rest.is_empty()
                    && !rest.iter().any(|w| {
                        matches!(
                            w.text.as_str(),
                            "trust" | "local" | "less" | "respect" | "living" | "up"
                        )
                    })
        }
        "pass" | "finish" | "complete" => thing || rest.first().is_some_and(|w| w.is("my")),
        "start" => rest
            .iter()
            .any(|w| matches!(w.text.as_str(), "business" | "company" | "family")),
        "lose" => {
            thing
                || number
                || rest
                    .iter()
                    .any(|w| w.is("weight") || w.is("fat") || w.is("belly"))
        }
        "pay" => rest.iter().any(|w| w.is("off")) || rest.iter().any(|w| w.among(lists::GOAL_NOUNS)),
        "reach" | "save" | "hit" | "sell" | "gain" | "break" | "score" => thing || number,
        "have" => {
            rest.iter()
                .any(|w| matches!(w.text.as_str(), "baby" | "babies" | "child" | "kids" | "children"))
                && (rest.len() <= 2 || number)
        }
        "run" | "write" | "find" | "land" | "secure" | "publish" | "obtain" | "build" | "build-a"
        | "move" | "climb" | "quit" => thing,
        _ => false,
    }
}

/// A feeling as what is lived for: "to be happy", "peace of mind", "feeling confident"; or one that is here: "my anxiety".
fn feeling(clause: &Clause<'_>) -> Option<Found> {
    let found = || Some(doubt(Doubt::Feeling, 0.8, "coach.feeling-matters"));
    if !clause.mine() {
        return None;
    }
    match clause.shape {
        Shape::Being(Some(at)) | Shape::Such(at) => {
            let word = &clause.words[at];
            let aim = word.among(lists::AIM_FELT)
                && !matches!(
                    word.text.as_str(),
                    "strong"
                        | "stronger"
                        | "brave"
                        | "braver"
                        | "good"
                        | "better"
                        | "great"
                        | "positive"
                        | "open"
                        | "free"
                        | "alive"
                        | "lighter"
                        | "balanced"
                        | "grounded"
                        | "enough"
                        | "safe"
                        | "inspired"
                        | "loved"
                        | "optimistic"
                        | "cheerful"
                        | "hopeful"
                        | "fearless"
                        | "proud"
                        | "best"
                );
            let alone = matches!(word.text.as_str(), "free" | "safe" | "enough" | "better" | "good")
                && clause.words.len() == at + 1
                && matches!(word.text.as_str(), "safe" | "enough");
            let felt = sight::is_felt(word) && !sight::is_good_trait(word) && word.among(lists::FELT);
            (aim || alone || felt).then(found).flatten()
        }
        Shape::Act(at) => match clause.words[at].base() {
            "feel" => found(),
            "stay" | "get" | "become" | "keep" => clause
                .word(at + 1)
                .filter(|w| {
                    w.among(lists::AIM_FELT)
                        && !matches!(
                            w.text.as_str(),
                            "strong" | "positive" | "safe" | "good" | "better" | "open" | "fine"
                        )
                })
                .and_then(|_| found()),
            "find" | "have" | "get_" | "want" | "gain" | "build" => noun_phrase(clause.words, at + 1)
                .filter(|(head, _)| {
                    clause.words[*head].among(lists::AIM_NOUNS)
                        && !matches!(clause.text(*head), "joy" | "pleasure" | "clarity")
                })
                .and_then(|_| found()),
            "relax" | "calm" => (clause.words.len() <= at + 2).then(found).flatten(),
            "enjoy" => (clause.text(at + 1) == "myself").then(found).flatten(),
            _ => None,
        },
        Shape::Thing(at) => {
            let word = &clause.words[at];
            let noun = word.noun.as_ref();
            let aim = word.among(lists::AIM_NOUNS)
                && !matches!(
                    word.text.as_str(),
                    "peace"
                        | "joy"
                        | "energy"
                        | "pleasure"
                        | "optimism"
                        | "enthusiasm"
                        | "pride"
                        | "clarity"
                        | "fulfilment"
                        | "fulfillment"
                        | "positivity"
                )
                || clause.has("peace") && (clause.has("inner") || clause.has("mind"));
            let low = noun.is_some_and(|n| {
                sight::is_feeling(n)
                    && matches!(
                        n.lemma.as_str(),
                        "anxiety"
                            | "depression"
                            | "stress"
                            | "worry"
                            | "fear"
                            | "anger"
                            | "guilt"
                            | "shame"
                            | "sadness"
                            | "loneliness"
                            | "panic"
                            | "dread"
                            | "despair"
                            | "grief"
                            | "jealousy"
                            | "boredom"
                            | "rage"
                            | "nervousness"
                            | "misery"
                    )
            });
            (aim || low && clause.words.len() <= 3).then(found).flatten()
        }
        _ => None,
    }
}

/// A means: "money", "status". What is it for?
fn means(clause: &Clause<'_>) -> Option<Found> {
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

/// An act with its time or place, or one that was done: "go to church every Sunday", "rang my sister". What it serves is
/// what matters. Things one does in general ("singing", "walking my dog") belong and are left alone.
fn planned_act(words: &[Token], clauses: &[Clause<'_>]) -> Option<Found> {
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
