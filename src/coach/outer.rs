//! What stands outside although it was written among what shows up inside: an act, somebody's doing, a thing
//! of the world. Asked only where no word of the entry is an inner one.

use super::Doubt;
use super::Question;
use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::found::doubt;
use super::lists;
use super::phrase::is_person;
use super::sight;
use super::tokens::Form;
use super::tokens::Token;
use super::tokens::Verb;
use super::wordnet::class;
use super::wordnet::mark;
use crate::map::Field;

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

/// Someone else doing something: "my uncle phoning me", "my coach emails me at night". A mind's guess about
/// them ("my coach hates me", "she thinks I'm weak", "nobody calls") is a thought and stays.
pub(super) fn others_act(clause: &Clause<'_>) -> Option<Question> {
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

/// Words behind an act that make it a verdict rather than an act: "I talk too much", "I talk rubbish".
const TELLING: &[&str] = &[
    "all",
    "always",
    "anyone",
    "badly",
    "enough",
    "everyone",
    "everything",
    "nobody",
    "nonsense",
    "nothing",
    "rubbish",
    "too",
    "wrong",
];

/// Words behind a plain verb that make it an order of the mind: "get out", "leave me", "hide now".
const ORDERS: &[&str] = &[
    "away",
    "here",
    "home",
    "it",
    "me",
    "now",
    "out",
    "something",
    "that",
    "this",
];

/// Verbs of the body that are acts when something follows: "going out", "pacing the room".
const ALSO_ACTS: &[&str] = &["do", "get", "go", "have", "hold", "pace", "run", "snap", "stay"];

/// What follows such a verb when it is a sign after all: "going blank", "getting hot".
const SIGNS: &[&str] = &[
    "blank", "cold", "crazy", "hot", "in", "mad", "numb", "on", "red", "wrong",
];

/// Verbs of going and staying, which need no thing: "went home early".
const GOING: &[&str] = &[
    "drive", "go", "hide", "lie", "run", "sit", "stay", "storm", "walk",
];

/// Verbs whose past form mostly says what was done to the writer: "rejected by friends", "left behind".
const SUFFERED: &[&str] = &[
    "abandon", "hurt", "ignore", "judge", "leave", "let", "lose", "reject", "tear", "trap", "use",
];

/// Verbs whose -ing form mostly says what it is like: "losing control", "crushing", "hearing her voice".
const UNDERGONE: &[&str] = &[
    "belong", "die", "fail", "hear", "lack", "lose", "matter", "miss", "see", "seem",
];

/// Verbs whose -ing form alone is a sign: "burning", "nagging".
const SENSATIONS: &[&str] = &[
    "burn",
    "crawl",
    "crush",
    "fail",
    "nag",
    "overpower",
    "pound",
    "rush",
    "wreck",
];

/// An act of the writer's: "yelling at the cat", "walking out", "I bowl with the lads".
pub(super) fn my_act(clause: &Clause<'_>, all: &[Clause<'_>]) -> Option<Question> {
    let (at, base) = clause.verb()?;
    let word = &clause.words[at];
    let verb = word.verb.as_ref()?;
    if !clause.mine() || sight::unseen_act(clause, at) || shows_in_body(clause, at, base) || only_is(verb) {
        return None;
    }
    let after = clause.words.get(at + 1..).unwrap_or_default();
    let says = |words: &[&str]| after.iter().any(|w| words.contains(&w.text.as_str()));
    let asked = if clause.subject == Subject::Me {
        let reasoned = all.iter().any(|c| c.has("because"));
        (is_plain(verb) || ["check", "hide", "lie", "read", "watch"].contains(&base))
            && !lists::among(VERDICTS, base)
            && !says(TELLING)
            && !reasoned
    } else {
        match verb.form {
            Form::Ing => {
                let doing = word.adjective.is_none_or(|often| often <= verb.senses.often);
                !UNDERGONE.contains(&base) && (!after.is_empty() || doing && !SENSATIONS.contains(&base))
            }
            Form::Past => did(word, base, after) && !says(TELLING),
            Form::Bare => {
                let thing = after
                    .iter()
                    .any(|w| w.among(lists::OWN) || w.among(lists::PREP) || w.noun.is_some());
                let verb_first = word
                    .noun
                    .as_ref()
                    .is_none_or(|n| n.senses.often <= verb.senses.often);
                let does =
                    thing && verb_first && !says(ORDERS) && !says(TELLING) && !lists::among(VERDICTS, base);
                does || [
                    "isolate",
                    "overeat",
                    "procrastinate",
                    "scroll",
                    "self-sabotage",
                    "withdraw",
                ]
                .contains(&base)
            }
            Form::Third => false,
        }
    };
    asked.then(|| doubt(Doubt::Outside, 0.75, "coach.act-inner").fits(Field::Away))
}

/// Whether the verb is a sign in the body here: "shaking", "going blank", and not "going out".
fn shows_in_body(clause: &Clause<'_>, at: usize, base: &str) -> bool {
    let form = clause.words[at].form();
    let next = clause.text(at + 1);
    let followed = clause.words.len() > at + 1 && !SIGNS.contains(&next) && !is_felt_next(clause, at);
    let acts = followed
        && (form == Some(Form::Ing) && ALSO_ACTS.contains(&base) && !clause.has("breath")
            || form == Some(Form::Past) && base == "go"
            || base == "snap" && next == "at"
            || base == "ring" && next == "in");
    lists::among(lists::INNER_ACTS, base) && !acts
}

/// A verb of being rather than doing.
fn only_is(verb: &Verb) -> bool {
    matches!(verb.senses.first, class::V_STATIVE | class::V_WEATHER)
        && !lists::among(lists::SEEN_VERBS, &verb.lemma)
        && !["live", "procrastinate", "stay"].contains(&verb.lemma.as_str())
}

/// Whether the verb's class is one of acts: the body's care, change, talk, contest, eating, touch, making,
/// going, having, company.
fn is_plain(verb: &Verb) -> bool {
    const ACTS: [u8; 10] = [
        class::V_BODY,
        class::V_CHANGE,
        class::V_COMMUNICATION,
        class::V_COMPETITION,
        class::V_CONSUMPTION,
        class::V_CONTACT,
        class::V_CREATION,
        class::V_MOTION,
        class::V_POSSESSION,
        class::V_SOCIAL,
    ];
    ACTS.contains(&verb.senses.first)
}

/// "Went home early", "yelled at him", and not "rejected", "left out".
fn did(word: &Token, base: &str, after: &[Token]) -> bool {
    let often = word.verb.as_ref().map_or(0, |verb| verb.senses.often);
    let thing = after.first().is_some_and(|w| {
        w.among(lists::OWN) || ["at", "her", "him", "them", "to"].contains(&w.text.as_str())
    });
    let passive = word.adjective.is_some_and(|adjective| adjective > often)
        || SUFFERED.contains(&base) && !thing
        || lists::among(VERDICTS, base) && base != "go";
    let goes = GOING.contains(&base) && after.first().is_some_and(|w| !SIGNS.contains(&w.text.as_str()));
    let asked = word
        .verb
        .as_ref()
        .is_some_and(|verb| verb.senses.first == class::V_COMMUNICATION)
        && after.first().is_some_and(|w| w.is("for"));
    !passive && (goes || thing || asked)
}

fn is_felt_next(clause: &Clause<'_>, at: usize) -> bool {
    clause
        .word(at + 1)
        .is_some_and(|w| w.among(lists::FELT) || w.among(lists::BODY_WORDS))
}

/// Somebody or something of the world: "my coach", "no savings", "grey weather", "my results".
pub(super) fn outside_thing(words: &[Token], clause: &Clause<'_>) -> Option<Question> {
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
    let stands_outside = word.among(lists::OUTSIDE)
        || lists::among(lists::OUTSIDE, &noun.lemma)
        || noun.mostly(class::POSSESSION)
        || noun.marked(mark::WEATHER)
        || noun.mostly(class::GROUP) && owned
        || noun.marked(mark::ILL) && owned && !noun.marked(mark::SENSED)
        || noun.mostly(class::ARTIFACT) && noun.senses.share >= 6 && owned
        || noun.mostly(class::PLACE) && owned;
    (stands_outside
        && !matches!(opening, "a" | "an")
        && !clause.words.iter().any(|w| {
            w.is("of") && !matches!(word.singular(), "pile" | "stack" | "heap" | "mountain")
                || w.is("without")
        }))
    .then(|| doubt(Doubt::Outside, 0.7, "coach.outside-inner"))
}
