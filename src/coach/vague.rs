//! Moves too big for one act, and names for a whole bundle of acts. Common practice, no source: a step is
//! named so that its beginning can be seen.

use super::Doubt;
use super::Question;
use super::clause::Clause;
use super::found::doubt;
use super::goals;
use super::lists;
use super::phrase::noun_phrase;
use super::sight;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;

/// Names of bundles, whatever follows them.
const ALWAYS: &[&str] = &[
    "isolate",
    "procrastinate",
    "sabotage",
    "self-sabotage",
    "withdraw",
];

/// Names of bundles only when nothing follows: "change" says little, "change the bed" can be seen.
const ALONE: &[&str] = &[
    "adult", "change", "cope", "escape", "function", "grow", "heal", "improve", "manage", "recover",
];

/// A verb, the last words of the entry with which it is too big, and how many words may follow it.
const TOO_BIG: &[(&str, &[&str], usize)] = &[
    (
        "get",
        &[
            "better",
            "fit",
            "fitter",
            "healthy",
            "healthier",
            "organised",
            "organized",
        ],
        2,
    ),
    ("get", &["control", "grip", "shape", "together", "track"], 6),
    ("work", &["harder"], 2),
    (
        "do",
        &[
            "best",
            "better",
            "everything",
            "less",
            "more",
            "self-care",
            "something",
            "stuff",
            "things",
        ],
        3,
    ),
    ("try", &["best", "hardest", "harder", "more"], 2),
    (
        "make",
        &[
            "amends",
            "changes",
            "difference",
            "effort",
            "friends",
            "improvements",
            "progress",
        ],
        3,
    ),
    ("set", &["boundaries", "goals", "limits", "standards"], 3),
    ("have", &["boundaries", "goals", "limits", "standards"], 3),
    ("take", &["control", "responsibility"], 3),
    (
        "eat",
        &[
            "better",
            "healthier",
            "healthily",
            "healthy",
            "properly",
            "right",
            "well",
        ],
        2,
    ),
    ("sleep", &["better", "properly", "well"], 2),
    ("give", &["in", "up"], 1),
    ("move", &["on"], 1),
    ("fall", &["habits"], 4),
];

/// Verbs that take a bundle as their thing: "practise self-care".
const TAKE_LABELS: &[&str] = &[
    "achieve",
    "develop",
    "embrace",
    "find",
    "learn",
    "maintain",
    "practice",
    "practise",
    "prioritise",
    "prioritize",
];

/// Verbs of a goal that ends, as people use them for moves.
const REACH: &[&str] = &[
    "achieve", "become", "earn", "gain", "get", "land", "lose", "own", "pass", "win",
];

/// Too big, or a bundle: "sort my future out", "procrastinate", "work on myself", "exercise more", "lose ten
/// kilos".
pub(super) fn vague_act(clause: &Clause<'_>) -> Option<Question> {
    let large = || doubt(Doubt::Vague, 0.75, "coach.vague");
    let label = || doubt(Doubt::Vague, 0.75, "coach.label");
    if clause.has("version") && clause.words.iter().any(|w| w.among(lists::SELF)) {
        return Some(large());
    }
    if clause.text(0) == "people" && clause.word(1).is_some_and(|w| w.base() == "please") {
        return Some(label());
    }
    let (at, base) = clause.verb()?;
    if !clause.mine() || clause.negated {
        return None;
    }
    let rest = clause.words.get(at + 1..).unwrap_or_default();
    if is_bundle(base, rest) {
        return Some(label());
    }
    if ends_too_big(base, rest) || holds_too_big(clause, at, base, rest) || only_more(clause, at, base, rest)
    {
        return Some(large());
    }
    // A goal that ends, among moves: "lose ten kilos", "get a promotion". One that was reached was an act.
    let ahead = !clause.done && clause.words[at].form() != Some(Form::Past);
    (ahead && REACH.contains(&base) && goals::is_goal(clause, at))
        .then(|| doubt(Doubt::Goal, 0.7, "coach.goal-move"))
}

/// "Procrastinate", "isolating myself", "heal".
fn is_bundle(base: &str, rest: &[Token]) -> bool {
    let short = rest.len() <= 2 && (rest.is_empty() || !ALONE.contains(&base));
    lists::among(lists::LABEL_VERBS, base) && (short || ALWAYS.contains(&base))
}

/// "Get organised", "do better", "make changes", "pull myself together".
fn ends_too_big(base: &str, rest: &[Token]) -> bool {
    let Some(last) = rest.last() else { return false };
    TOO_BIG.iter().any(|(verb, ends, longest)| {
        *verb == base && rest.len() <= *longest && ends.contains(&last.text.as_str())
    })
}

/// "Sort my future out", "work on my relationship", "look after myself", "live more", "become more
/// productive".
fn holds_too_big(clause: &Clause<'_>, at: usize, base: &str, rest: &[Token]) -> bool {
    let next = clause.text(at + 1);
    let object = noun_phrase(clause.words, at + 1).map(|(head, _)| clause.words[head].text.as_str());
    let big = rest.iter().any(|w| w.among(lists::BIG));
    let oneself = rest.iter().any(|w| w.among(lists::SELF));
    let says = |words: &[&str]| rest.iter().any(|w| words.contains(&w.text.as_str()));
    match base {
        _ if lists::among(lists::FIX, base) => {
            let label = rest.len() <= 2 && object.is_some_and(|o| lists::among(lists::LABELS, o));
            (label || big && object.is_none_or(|o| lists::among(lists::BIG, o))) && !clause.done
        }
        "get" => {
            (next == "over" || next == "on" && rest.len() > 1 && rest[1].is("top")) && !clause.done
                || next == "my" && big && rest.len() <= 5 && says(&["order", "sorted", "together", "track"])
        }
        "work" => next == "on" && rest.len() <= 4 && rest.iter().skip(1).any(is_oneself_or_state),
        "move" => next == "on" && big,
        "live" => says(&[
            "again",
            "better",
            "fully",
            "healthier",
            "healthily",
            "life",
            "more",
        ]),
        "look" => next == "after" && oneself,
        "take" => says(&["care"]) && (oneself || big),
        "be" | "become" | "stay" | "remain" | "act" | "keep" => {
            rest.first().is_some_and(sight::is_bad_trait)
                || next == "more" && rest.get(1).is_some_and(sight::is_bad_trait)
                || base == "become" && next == "better"
        }
        _ => {
            TAKE_LABELS.contains(&base)
                && rest.len() <= 3
                && object.is_some_and(|o| lists::among(lists::LABELS, o))
        }
    }
}

/// What one can only "work on": oneself, a relation, a trait.
fn is_oneself_or_state(word: &Token) -> bool {
    word.among(lists::SELF)
        || word.among(lists::BIG)
        || word.among(lists::LABELS)
        || word.noun.as_ref().is_some_and(|n| {
            matches!(
                n.senses.first,
                class::ATTRIBUTE | class::STATE | class::FEELING | class::THOUGHT | class::RELATION
            )
        })
}

/// "Exercise more", "read better": how much is said, what is not.
fn only_more(clause: &Clause<'_>, at: usize, base: &str, rest: &[Token]) -> bool {
    rest.len() == 1
        && ["better", "harder", "healthier", "more"].contains(&rest[0].text.as_str())
        && clause.words[at].form() == Some(Form::Bare)
        && !sight::unseen_act(clause, at)
        && base != "feel"
}
