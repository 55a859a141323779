//! Goals that end when they are reached, among what matters or among moves.

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
use super::wordnet::class;
use super::wordnet::mark;

/// People nouns that name a way to be with others rather than a trade one gets into.
const WAYS_WITH_OTHERS: &[&str] = &[
    "carer",
    "christian",
    "citizen",
    "daughter",
    "example",
    "helper",
    "host",
    "human",
    "leader",
    "learner",
    "listener",
    "man",
    "mentor",
    "model",
    "muslim",
    "neighbor",
    "neighbour",
    "person",
    "player",
    "role",
    "son",
    "team",
    "teammate",
    "woman",
];

/// Words before a thing that one does not have yet: "a new van", "my own flat".
const NOT_YET: &[&str] = &[
    "a", "an", "better", "bigger", "dream", "new", "nice", "nicer", "own",
];

/// A goal that ends when it is reached: "get a diploma", "lose two stone", "success", "be rich", "become a
/// nurse". Common practice: a value is a direction and is never finished.
pub(super) fn goal(clause: &Clause<'_>) -> Option<Question> {
    if !clause.mine() {
        return None;
    }
    let ends = match clause.shape {
        Shape::Act(at) => lists::among(lists::GOAL_VERBS, clause.words[at].base()) && is_goal(clause, at),
        Shape::Being(_) if clause.words.last().is_some_and(|w| w.is("free")) => {
            clause.has("debt") || clause.has("mortgage")
        }
        Shape::Being(Some(at)) => {
            let word = &clause.words[at];
            let state = word.among(lists::END_STATES) || lists::among(lists::END_STATES, word.singular());
            state && !matches!(clause.text(at + 1), "enough" | "in") || is_trade(clause, at)
        }
        Shape::Thing(at) => is_got_once(clause, at),
        Shape::Such(at) => clause.words[at].among(lists::END_STATES),
        Shape::Being(None) | Shape::Nothing => false,
    };
    ends.then(|| doubt(Doubt::Goal, 0.8, "coach.goal"))
}

/// "Be a pilot", and not "being a pilot", "be a good pilot", "be a mentor".
fn is_trade(clause: &Clause<'_>, at: usize) -> bool {
    let word = &clause.words[at];
    let behind = clause.words.get(clause.from..at).unwrap_or_default();
    let person = word
        .noun
        .as_ref()
        .is_some_and(|n| n.mostly(class::PERSON) && !n.marked(mark::KIN));
    let good = behind
        .iter()
        .any(|w| sight::is_good_trait(w) || matches!(w.text.as_str(), "good" | "better" | "great" | "best"));
    person
        && !good
        && clause.text(clause.from) == "be"
        && !word.among(lists::GOOD_TRAITS)
        && !word.among(lists::ROLES)
        && !WAYS_WITH_OTHERS.contains(&word.singular())
}

/// "A diploma", "a bigger house", "success", and not "my house", "our marriage".
fn is_got_once(clause: &Clause<'_>, at: usize) -> bool {
    let word = &clause.words[at];
    let before = clause.words.get(clause.from..at).unwrap_or_default();
    let says = |words: &[&str]| before.iter().any(|w| words.contains(&w.text.as_str()));
    let got = word.among(lists::GOAL_NOUNS)
        && (before
            .iter()
            .rev()
            .find(|w| w.noun.is_none() || w.adjective.is_some())
            .is_some_and(|w| NOT_YET.contains(&w.text.as_str()))
            || says(&["bigger", "better", "new", "own"])
            || says(&["good"]) && matches!(word.singular(), "grade" | "job")
            || before.is_empty() && clause.from > 0 && clause.text(0) == "more");
    let bigger = says(&["better", "bigger", "higher", "newer", "nicer"])
        && word
            .noun
            .as_ref()
            .is_some_and(|n| matches!(n.senses.first, class::ARTIFACT | class::POSSESSION));
    let goal = word.among(lists::GOALS)
        && before.len() <= 1
        && !matches!(clause.text(0), "my" | "our")
        && !clause.words.iter().skip(at + 1).any(|w| w.is("of"));
    got || bigger || goal
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
                    && !clause.words[at + 1..=head]
                        .iter()
                        .any(|w| sight::is_good_trait(w) || w.among(lists::AIM_FELT) || w.is("better"))
            }) || clause.word(at + 1).is_some_and(|w| w.among(lists::END_STATES))
        }
        "graduate" | "retire" | "marry" | "succeed" | "qualify" => true,
        "get"
            if rest.len() == 2
                && rest[0].is("a")
                && rest[1].noun.as_ref().is_some_and(|n| n.mostly(class::ANIMAL)) =>
        {
            true
        }
        "travel" | "move" | "emigrate" => next_is_far(rest),
        "have" if thing && rest.iter().any(|w| w.is("own")) => true,
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
        "run" | "write" | "find" | "land" | "secure" | "publish" | "obtain" | "climb" | "quit" => thing,
        _ => false,
    }
}

/// "Move to Spain", "travel to Japan": a place that one gets to once.
fn next_is_far(rest: &[Token]) -> bool {
    rest.len() == 2
        && rest[0].is("to")
        && (rest[1].noun.is_none() || rest[1].noun.as_ref().is_some_and(|n| n.mostly(class::PLACE)))
}
