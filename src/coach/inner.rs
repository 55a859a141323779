//! The check of what shows up inside. Nearly everything a person writes here belongs: thoughts of any form, feelings,
//! the body, urges, memories. Only what plainly stands outside is asked about, and any inner word silences the check.

use super::Doubt;
use super::found::Found;
use super::found::doubt;
use super::head::Clause;
use super::head::Shape;
use super::head::Subject;
use super::head::is_person;
use super::kinds;
use super::lists;
use super::sight;
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

/// Verbs of a verdict on oneself rather than of an act: "I let everyone down".
const VERDICTS: &[&str] = &[
    "annoy",
    "appear",
    "be",
    "become",
    "belong",
    "bother",
    "break",
    "burden",
    "come",
    "deserve",
    "destroy",
    "disappoint",
    "do",
    "end",
    "exist",
    "fail",
    "fall",
    "feel",
    "fit",
    "get",
    "give",
    "go",
    "have",
    "hurt",
    "keep",
    "lack",
    "let",
    "live",
    "look",
    "lose",
    "make",
    "matter",
    "mess",
    "miss",
    "need",
    "owe",
    "ruin",
    "screw",
    "see",
    "seem",
    "smell",
    "sound",
    "spoil",
    "suck",
    "waste",
];

/// The doubt about an inner entry, if there is one.
pub(super) fn consider(words: &[Token], clauses: &[Clause<'_>]) -> Option<Found> {
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
    others_act(first)
        .or_else(|| my_act(first, clauses))
        .or_else(|| outside_thing(words, first))
}

/// "Lack of motivation": what is missing cannot show up; something else is there.
fn lacking(clause: &Clause<'_>) -> Option<Found> {
    let Shape::Thing(at) = clause.shape else {
        return None;
    };
    let lacks =
        matches!(clause.words[at].singular(), "lack" | "absence" | "shortage") && clause.text(at + 1) == "of";
    lacks.then(|| doubt(Doubt::Absence, 0.75, "coach.lack"))
}

/// "Stress" alone: ask which part of it.
fn bundle(words: &[Token]) -> Option<Found> {
    let (last, before) = words.split_last()?;
    (lists::among(BUNDLES, &last.text) && before.iter().all(|w| w.among(lists::OWN)))
        .then(|| doubt(Doubt::Vague, 0.65, "coach.bundle"))
}

/// A quality to stand for, among what shows up: "being kind", "be a good mum", "kindness".
fn quality(clause: &Clause<'_>) -> Option<Found> {
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

/// Someone else doing something: "my ex texting me", "my boss emails me at night". A mind's guess about them
/// ("my boss hates me", "she thinks I'm weak", "nobody calls") is a thought and stays.
fn others_act(clause: &Clause<'_>) -> Option<Found> {
    let who = match clause.subject {
        Subject::Named(who) => who,
        Subject::Anyone
            if clause.text(0) == "people" && clause.word(1).is_some_and(|w| w.form() == Some(Form::Ing)) =>
        {
            0
        }
        _ => return None,
    };
    if !is_person(&clause.words[who]) || who > 0 && matches!(clause.text(0), "a" | "an" | "other") {
        return None;
    }
    let (at, base) = clause.verb()?;
    let word = &clause.words[at];
    if clause.words[..at].iter().any(|w| w.among(lists::BE)) || sight::unseen_act(clause, at) {
        return None;
    }
    let guessed = matches!(
        base,
        "leave"
            | "judge"
            | "cheat"
            | "lie"
            | "deserve"
            | "know"
            | "see"
            | "be"
            | "have"
            | "make"
            | "get"
            | "die"
            | "go"
            | "come"
            | "lose"
            | "fail"
            | "let"
            | "hurt"
            | "look"
            | "seem"
            | "abandon"
            | "reject"
            | "use"
            | "resent"
    );
    let plain = !guessed || word.form() == Some(Form::Ing);
    (plain
        && !clause
            .words
            .iter()
            .any(|w| matches!(w.text.as_str(), "always" | "everything" | "i" | "when")))
    .then(|| doubt(Doubt::Others, 0.7, "coach.others-inner"))
}

/// An act of the writer's: "shouting at the kids", "staying in bed", "I drink with the lads".
fn my_act(clause: &Clause<'_>, clauses: &[Clause<'_>]) -> Option<Found> {
    let (at, base) = clause.verb()?;
    let word = &clause.words[at];
    let verb = word.verb.as_ref()?;
    if !clause.mine() || sight::unseen_act(clause, at) {
        return None;
    }
    let after = clause.words.get(at + 1..).unwrap_or_default();
    let next = clause.text(at + 1);
    let shown_in_body = lists::among(lists::INNER_ACTS, base)
        && !(matches!(
            base,
            "go" | "get" | "do" | "have" | "run" | "pace" | "hold" | "snap" | "stay"
        ) && word.form() == Some(Form::Ing)
            && !after.is_empty()
            && !matches!(
                next,
                "mad" | "blank" | "crazy" | "wrong" | "on" | "in" | "hot" | "red" | "cold" | "numb"
            )
            && !is_felt_next(clause, at)
            && !clause.has("breath")
            || base == "go"
                && word.form() == Some(Form::Past)
                && !after.is_empty()
                && !is_felt_next(clause, at)
                && !matches!(next, "blank" | "mad" | "red" | "wrong" | "numb"))
        && !(base == "snap" && next == "at");
    if shown_in_body
        || matches!(verb.senses.first, class::V_STATIVE | 43)
            && !lists::among(lists::SEEN_VERBS, base)
            && !matches!(base, "stay" | "live" | "procrastinate")
    {
        return None;
    }
    let telling = after.iter().any(|w| {
        matches!(
            w.text.as_str(),
            "too"
                | "rubbish"
                | "nonsense"
                | "badly"
                | "everyone"
                | "everything"
                | "nobody"
                | "always"
                | "enough"
                | "anyone"
                | "nothing"
                | "all"
                | "wrong"
        )
    });
    let found = || Some(doubt(Doubt::Outside, 0.75, "coach.act-inner").fits(Field::Away));
    if clause.subject == Subject::Me {
        let classes = [
            29,
            30,
            class::V_COMMUNICATION,
            33,
            class::V_CONSUMPTION,
            class::V_CONTACT,
            36,
            class::V_MOTION,
            41,
            40,
        ];
        let plain = (classes.contains(&verb.senses.first) || matches!(base, "hide"))
            && !lists::among(VERDICTS, base)
            && !telling
            && !clauses.iter().any(|c| c.words.iter().any(|w| w.is("because")));
        return if plain { found() } else { None };
    }
    match verb.form {
        Form::Ing => {
            let asked = matches!(
                base,
                "lack" | "lose" | "miss" | "fail" | "hear" | "see" | "belong" | "seem" | "matter" | "die"
            );
            (!asked && !next.is_empty()
                || !asked
                    && word.adjective.is_none_or(|often| often <= verb.senses.often)
                    && !matches!(
                        base,
                        "fail"
                            | "wreck"
                            | "burn"
                            | "pound"
                            | "rush"
                            | "overpower"
                            | "crush"
                            | "nag"
                            | "crawl"
                    ))
            .then(found)
            .flatten()
        }
        Form::Past => {
            let objects = matches!(
                base,
                "go" | "walk" | "run" | "drive" | "storm" | "stay" | "sit" | "lie" | "hide"
            ) && !after.is_empty()
                && !matches!(next, "blank" | "mad" | "wrong")
                || after.first().is_some_and(|w| {
                    w.among(lists::OWN) || matches!(w.text.as_str(), "him" | "her" | "them" | "to" | "at")
                });
            let passive = word.adjective.is_some_and(|often| often > verb.senses.often)
                || matches!(
                    base,
                    "reject"
                        | "abandon"
                        | "judge"
                        | "ignore"
                        | "leave"
                        | "trap"
                        | "lose"
                        | "tear"
                        | "hurt"
                        | "let"
                        | "use"
                )
                || lists::among(VERDICTS, base) && base != "go";
            (objects && !passive && !telling).then(found).flatten()
        }
        Form::Bare => {
            let order = after.iter().any(|w| {
                matches!(
                    w.text.as_str(),
                    "me" | "it" | "this" | "away" | "out" | "now" | "home" | "here" | "that" | "something"
                )
            });
            let objects = !after.is_empty()
                && !order
                && !lists::among(VERDICTS, base)
                && word
                    .noun
                    .as_ref()
                    .is_none_or(|n| n.senses.often <= verb.senses.often);
            let label = matches!(
                base,
                "procrastinate" | "isolate" | "overeat" | "self-sabotage" | "scroll" | "withdraw"
            );
            (objects
                && after
                    .iter()
                    .any(|w| w.among(lists::OWN) || w.among(lists::PREP) || w.noun.is_some())
                && !telling
                || label)
                .then(found)
                .flatten()
        }
        Form::Third => None,
    }
}

fn is_felt_next(clause: &Clause<'_>, at: usize) -> bool {
    clause
        .word(at + 1)
        .is_some_and(|w| w.among(lists::FELT) || w.among(lists::BODY_WORDS))
}

/// Somebody or something of the world: "my boss", "no money", "bad weather", "my diagnosis".
fn outside_thing(words: &[Token], clause: &Clause<'_>) -> Option<Found> {
    const LONGEST: usize = 5;
    let at = match clause.shape {
        Shape::Thing(at) => at,
        // "Work" alone is the job rather than the doing.
        Shape::Act(0) if words.len() == 1 => 0,
        _ => return None,
    };
    if words.len() > LONGEST || clause.subject != Subject::Unsaid {
        return None;
    }
    let word = &clause.words[at];
    let opening = clause.text(0);
    let scorned = word.noun.as_ref().is_some_and(|n| n.marked(mark::SCORNED));
    if is_person(word) {
        let known = word.among(lists::ROLES)
            || lists::among(lists::ROLES, word.singular())
            || word.noun.as_ref().is_some_and(|n| n.marked(mark::KIN))
            || matches!(opening, "my" | "the" | "our" | "his" | "her" | "their" | "other");
        return (known && !scorned && !matches!(opening, "a" | "an" | "no" | "bad" | "terrible" | "stupid"))
            .then(|| doubt(Doubt::Outside, 0.75, "coach.outside-inner"));
    }
    let named = clause.words.iter().any(|w| w.among(lists::OUTSIDE))
        && words.len() <= 4
        && clause.words.iter().all(|w| {
            w.among(lists::OWN) || w.noun.is_some() || w.adjective.is_some() || w.among(lists::OUTSIDE)
        });
    let a_mood = (words.len() == 1 || words.iter().any(|w| w.is("bit"))) && word.is("flat")
        || words.iter().any(|w| w.is("and")) && word.adjective.is_some();
    if a_mood {
        return None;
    }
    if named
        && clause
            .words
            .iter()
            .any(|w| w.noun.is_some() || w.among(lists::OUTSIDE))
    {
        return Some(doubt(Doubt::Outside, 0.7, "coach.outside-inner"));
    }
    let noun = word
        .noun
        .as_ref()
        .filter(|_| !matches!(clause.shape, Shape::Act(_)))?;
    let owned = matches!(
        opening,
        "my" | "the" | "our" | "no" | "his" | "her" | "this" | "their"
    );
    let world = word.among(lists::OUTSIDE)
        || lists::among(lists::OUTSIDE, &noun.lemma)
        || noun.mostly(class::POSSESSION)
        || noun.marked(mark::WEATHER)
        || noun.mostly(class::GROUP) && owned
        || noun.marked(mark::ILL) && owned && !noun.marked(mark::SENSED)
        || noun.mostly(class::ARTIFACT) && noun.senses.share >= 6 && owned
        || noun.mostly(class::PLACE) && owned;
    (world
        && !matches!(opening, "a" | "an")
        && !clause
            .words
            .iter()
            .any(|w| matches!(w.text.as_str(), "of" | "without")))
    .then(|| doubt(Doubt::Outside, 0.7, "coach.outside-inner"))
}
