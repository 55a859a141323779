//! What a camera would see: the classes of verbs, nouns and adjectives that the rules share.
//!
//! Source: WordNet's lexicographer classes weighted by sense frequency, with short lists where the classes
//! are too coarse for this use. That thinking, feeling and wanting cannot be filmed is the exercise's own
//! distinction (common practice).

use super::clause::Clause;
use super::clause::Shape;
use super::lists;
use super::phrase::noun_phrase;
use super::tokens::Noun;
use super::tokens::Token;
use super::wordnet::class;
use super::wordnet::mark;

/// How much of a verb's weight must lie in an inner class: five sevenths.
const MOSTLY: u8 = 5;

/// Whether the act at this place happens where no camera reaches: "worry", "dwell on it", "hate myself".
pub(super) fn unseen_act(clause: &Clause<'_>, at: usize) -> bool {
    let Some(word) = clause.word(at) else { return false };
    let base = word.base();
    if in_the_head(clause, at)
        || toward_self(clause, at, base)
        || unseen_phrase(clause, at, base)
        || holds_feeling(clause, at)
    {
        return true;
    }
    if lists::among(lists::INNER_VERBS, base) || lists::among(lists::INNER_VERBS, &word.text) {
        return !with_a_thing(clause, at, base);
    }
    if lists::among(lists::SEEN_VERBS, base) {
        return false;
    }
    word.verb.as_ref().is_some_and(|verb| {
        verb.senses.share >= MOSTLY
            && (verb.senses.first == class::V_COGNITION
                || verb.senses.first == class::V_EMOTION && !verb.stirs)
    })
}

/// "Go over it in my head", "plan it in my mind".
fn in_the_head(clause: &Clause<'_>, at: usize) -> bool {
    says_in_the_head(clause.words.get(at..).unwrap_or_default()) || clause.has("mentally")
}

/// Whether the words say that it all happens in the head.
pub(super) fn says_in_the_head(words: &[Token]) -> bool {
    words.windows(3).any(|w| {
        matches!(w[0].text.as_str(), "in" | "into" | "inside")
            && matches!(w[1].text.as_str(), "my" | "the")
            && matches!(w[2].text.as_str(), "head" | "mind" | "past" | "thoughts")
    })
}

/// "Beat myself up", "tell myself off": talk and blows that only the writer meets.
fn toward_self(clause: &Clause<'_>, at: usize, base: &str) -> bool {
    clause
        .words
        .iter()
        .skip(at + 1)
        .take(2)
        .any(|w| w.among(lists::SELF))
        && matches!(
            base,
            "beat"
                | "blame"
                | "judge"
                | "criticise"
                | "criticize"
                | "doubt"
                | "hate"
                | "question"
                | "compare"
                | "lose"
                | "pressure"
                | "shame"
                | "berate"
                | "tell"
                | "convince"
                | "persuade"
                | "talk"
                | "put"
                | "attack"
                | "scold"
                | "remind"
                | "kid"
                | "pity"
                | "believe"
                | "trust"
                | "push"
                | "bully"
                | "loathe"
                | "love"
                | "like"
                | "find"
                | "knock"
        )
        && !clause.words.iter().skip(at).any(|w| w.is("to"))
}

/// Verbs with a particle that turn inward: "space out", "let go", "switch off".
fn unseen_phrase(clause: &Clause<'_>, at: usize, base: &str) -> bool {
    let next = clause.text(at + 1);
    match base {
        "zone" | "space" | "tune" => next == "out",
        "switch" | "shut" => {
            matches!(next, "off" | "down")
                && clause.words.len() <= at + 3
                && !clause.words.iter().skip(at + 2).any(|w| w.noun.is_some())
        }
        "let" => next == "go" || clause.text(at + 2) == "go" && clause.text(at + 1) == "it",
        "go" | "get" | "become" | "turn" | "grow" if next != "down" || clause.words.len() == at + 2 => {
            clause
                .word(at + 1)
                .is_some_and(|w| w.among(lists::FELT) || matches!(next, "blank"))
                || clause.word(at + 2).is_some_and(|w| {
                    (w.among(lists::FELT)) && matches!(next, "really" | "so" | "too" | "very" | "all")
                })
        }
        "dwell" | "obsess" | "ruminate" => true,
        "live" => next == "in" && matches!(clause.text(at + 3), "past" | "head" | "moment" | "future"),
        "have" if matches!(next, "faith" | "hope" | "trust" | "doubts" | "belief" | "fear") => true,
        "see" => matches!(
            clause.text(at + 2),
            "best" | "good" | "worst" | "bright" | "positive" | "positives"
        ),
        "decide" => matches!(next, "who" | "what" | "whether" | "that"),
        "make" => next == "assumptions",
        "jump" => clause.has("conclusions"),
        "lose" => {
            matches!(
                clause.text(at + 2),
                "hope" | "faith" | "confidence" | "interest" | "focus" | "motivation"
            ) || matches!(
                next,
                "hope" | "faith" | "confidence" | "interest" | "focus" | "motivation"
            )
        }
        "hold" => matches!(clause.text(at + 2), "grudge" | "grudges") || matches!(next, "grudges"),
        "take" => next == "things" && clause.has("personally") || clause.has("granted"),
        "fall" => next == "apart",
        "have" => {
            clause.words.get(at + 1..).is_some_and(|w| {
                w.iter().any(|w| {
                    w.noun
                        .as_ref()
                        .is_some_and(|n| n.senses.first == class::FEELING || n.marked(mark::MIND))
                })
            }) && clause.words.len() <= at + 4
        }
        _ => false,
    }
}

/// "Push down my feelings", "control my anger", "hide how sad I am": a feeling as the thing that is handled.
fn holds_feeling(clause: &Clause<'_>, at: usize) -> bool {
    let Some(verb) = clause.words[at].verb.as_ref() else {
        return false;
    };
    if matches!(verb.senses.first, class::V_COMMUNICATION | class::V_CREATION)
        || matches!(
            verb.lemma.as_str(),
            "share"
                | "show"
                | "write"
                | "tell"
                | "lose"
                | "name"
                | "express"
                | "draw"
                | "list"
                | "read"
                | "give"
                | "listen"
                | "note"
                | "vent"
                | "post"
                | "take"
                | "kill"
                | "make"
                | "get"
        )
    {
        return false;
    }
    let mut from = at + 1;
    while clause.word(from).is_some_and(|w| {
        matches!(
            w.text.as_str(),
            "up" | "down" | "in" | "out" | "away" | "off" | "with" | "through"
        )
    }) {
        from += 1;
    }
    noun_phrase(clause.words, from).is_some_and(|(head, _)| {
        let word = &clause.words[head];
        !clause.words[from].among(lists::PREP)
            && (word.noun.as_ref().is_some_and(is_feeling)
                || matches!(
                    word.singular(),
                    "thought" | "emotion" | "feeling" | "urge" | "memory" | "worry" | "fear" | "mood"
                ))
    })
}

/// "Missed the bus", "accepted the offer", "forgot her birthday": an inner verb whose thing makes it an
/// event.
fn with_a_thing(clause: &Clause<'_>, at: usize, base: &str) -> bool {
    if !matches!(
        base,
        "accept"
            | "enjoy"
            | "miss"
            | "forget"
            | "consider"
            | "hurt"
            | "appreciate"
            | "concern"
            | "fancy"
            | "mind"
            | "relax"
            | "concentrate"
            | "focus"
            | "zone"
            | "need"
            | "reflect"
            | "trust"
            | "struggle"
    ) {
        return false;
    }
    if base == "hurt" {
        return clause.word(at + 1).is_some();
    }
    noun_phrase(clause.words, at + 1).is_some_and(|(head, _)| {
        clause.words[head].noun.as_ref().is_some_and(|noun| {
            matches!(
                noun.senses.first,
                class::ACT
                    | class::ARTIFACT
                    | class::FOOD
                    | class::EVENT
                    | class::TALK
                    | class::GROUP
                    | class::TIME
            ) && matches!(base, "accept" | "enjoy" | "miss" | "forget")
        })
    })
}

/// Whether a noun is a feeling or a state of mind.
pub(super) fn is_feeling(noun: &Noun) -> bool {
    noun.mostly(class::FEELING)
        || lists::among(lists::FEELING_NOUNS, &noun.lemma)
        || noun.marked(mark::MIND)
            && matches!(
                noun.senses.first,
                class::FEELING | class::STATE | class::THOUGHT | class::ATTRIBUTE | class::MOTIVE
            )
}

/// Whether an adjective says how one feels: "anxious", "low".
pub(super) fn is_felt(word: &Token) -> bool {
    word.among(lists::FELT)
        || word.marks & mark::ADJ_FELT != 0
            && !word.among(lists::GOOD_TRAITS)
            && !word.among(lists::BAD_TRAITS)
            && !word.among(lists::AIM_FELT)
            && word.adjective.is_some()
}

/// Whether an adjective names a quality to stand for.
pub(super) fn is_good_trait(word: &Token) -> bool {
    word.among(lists::GOOD_TRAITS)
        || word.marks & mark::ADJ_TRAIT != 0
            && word.marks & mark::ADJ_FELT == 0
            && !turned_round(&word.text)
            && !word.among(lists::BAD_TRAITS)
            && !word.among(lists::FELT)
            && !word.among(lists::AIM_FELT)
}

/// Whether an adjective is a label that shows nothing.
pub(super) fn is_bad_trait(word: &Token) -> bool {
    word.among(lists::BAD_TRAITS)
        || word.marks & mark::ADJ_TRAIT != 0 && turned_round(&word.text) && !word.among(lists::GOOD_TRAITS)
}

/// A prefix or an ending that turns a quality round: "unkind", "dishonest", "careless".
fn turned_round(word: &str) -> bool {
    ["un", "in", "im", "ir", "dis"]
        .iter()
        .any(|p| word.starts_with(p))
        && !word.starts_with("inde")
        && !word.starts_with("inte")
        && !word.starts_with("insi")
        && !word.starts_with("under")
        && !word.starts_with("inv")
        && !word.starts_with("discip")
        && !word.starts_with("disc")
        || word.ends_with("less") && word != "selfless" && word != "tireless"
}

/// Whether a noun names a quality to stand for: "kindness", "patience".
pub(super) fn is_good_quality(word: &Token) -> bool {
    word.among(lists::QUALITIES)
        || word
            .noun
            .as_ref()
            .is_some_and(|noun| noun.marked(mark::TRAIT) && noun.senses.first == class::ATTRIBUTE)
            && !turned_round(word.singular())
            && !word.among(lists::LABELS)
            && !word.among(lists::AIM_NOUNS)
            && !is_bad_quality(word)
}

/// Whether a noun is a label of a bad habit: "laziness", "selfishness".
pub(super) fn is_bad_quality(word: &Token) -> bool {
    let noun = word.singular();
    noun.strip_suffix("ness").is_some_and(|stem| {
        let y = stem.strip_suffix('i').map(|s| format!("{s}y"));
        lists::among(lists::BAD_TRAITS, stem) || y.is_some_and(|stem| lists::among(lists::BAD_TRAITS, &stem))
    }) || word.noun.as_ref().is_some_and(|n| n.marked(mark::TRAIT)) && turned_round(noun)
}

/// Whether the clause shows the writer doing something that a camera would catch.
pub(super) fn is_seen(clause: &Clause<'_>) -> bool {
    let Shape::Act(at) = clause.shape else {
        return false;
    };
    clause.mine()
        && !clause.negated
        && !unseen_act(clause, at)
        && clause.words[at].verb.as_ref().is_some_and(|verb| {
            verb.senses.first != class::V_STATIVE
                || lists::among(lists::SEEN_VERBS, &verb.lemma)
                || verb.senses.share < MOSTLY
        })
}
