//! Whether a word begins a verb or a noun phrase, and where a noun phrase has its head. WordNet's counts
//! decide where a word can be either: "walk" before "the" is done, "walk" before "with" may be had.

use super::lists;
use super::lists::among;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;
use super::wordnet::mark;

/// Verbs that look more like nouns, but not at the head of an entry.
const VERBS_FIRST: &[&str] = &[
    "abstain", "cut", "dream", "fixate", "hoover", "limit", "panic", "refrain", "skip", "stress", "vent",
];

/// Whether a verb begins here rather than a noun phrase.
pub(super) fn starts_verb(words: &[Token], at: usize) -> bool {
    let word = &words[at];
    let Some(verb) = &word.verb else { return false };
    let noun = word.noun.as_ref().map_or(0, |n| n.senses.often + 1);
    let adjective = word.adjective.unwrap_or(0);
    let next = words.get(at + 1);
    let opens = next.is_some_and(|w| {
        w.among(lists::OWN)
            || w.among(lists::SELF)
            || matches!(
                w.text.as_str(),
                "him" | "her" | "them" | "it" | "me" | "us" | "you" | "up" | "off" | "down" | "out" | "away"
            )
            || among(lists::ROLES, &w.text)
            || words.len() == at + 2 && matches!(w.text.as_str(), "more" | "less" | "better" | "harder")
    });
    match verb.form {
        Form::Ing => {
            // "racing heart", "sinking feeling": a noun of the body or of the mind makes it an attribute.
            let describes = next.is_some_and(|w| {
                w.noun.as_ref().is_some_and(|n| {
                    n.mostly(class::BODY)
                        || n.mostly(class::FEELING)
                        || n.mostly(class::THOUGHT)
                        || n.marked(mark::SENSED)
                })
            });
            (!describes || word.is("feeling") && next.is_some_and(|w| w.adjective.is_some()))
                && !matches!(
                    word.text.as_str(),
                    "evening"
                        | "morning"
                        | "nothing"
                        | "something"
                        | "everything"
                        | "anything"
                        | "wedding"
                        | "building"
                        | "being"
                )
                && word.text != "feelings"
        }
        Form::Past => {
            let felt = word.marks & (mark::ADJ_FELT | mark::ADJ_BODY) != 0
                || word.among(lists::FELT)
                || word.among(lists::AIM_FELT)
                || word.among(lists::BODY_WORDS);
            // "hurt my back" acts, "scared of him" and "stressed" describe.
            opens
                || !(felt && adjective > 0 || word.among(lists::FELT))
                    && (adjective <= verb.senses.often || next.is_some_and(|w| w.noun.is_none()))
        }
        Form::Third => word.noun.is_none() || opens && noun <= verb.senses.often + 1,
        Form::Bare => {
            let to_a_name = next.is_some_and(|w| {
                w.noun.is_none()
                    && w.verb.is_none()
                    && w.adjective.is_none()
                    && w.adverb.is_none()
                    && !lists::closed(&w.text)
            }) && words.len() == at + 2
                && verb.senses.first == class::V_COMMUNICATION;
            if to_a_name
                || word.noun.is_none() && word.adjective.is_none()
                || next.is_some() && among(VERBS_FIRST, &verb.lemma) && next.is_some_and(|w| w.noun.is_none())
            {
                return true;
            }
            if opens {
                return true;
            }
            if word.among(lists::FELT) || word.among(lists::AIM_FELT) {
                return false;
            }
            verb.senses.often >= noun.max(adjective)
                || next.is_some_and(|w| w.among(lists::PREP) || w.is("to"))
                    && verb.senses.often + 1 >= noun.max(adjective)
        }
    }
}

/// The head of the noun phrase that starts here, and where the phrase ends.
pub(super) fn noun_phrase(words: &[Token], start: usize) -> Option<(usize, usize)> {
    let mut at = start;
    let mut head = None;
    while let Some(word) = words.get(at) {
        if word.is("in")
            && words
                .get(at + 1)
                .is_some_and(|w| matches!(w.text.as_str(), "law" | "laws"))
        {
            // "Mother in law": the head stays with the person.
            at += 2;
            continue;
        }
        if word.among(lists::PREP)
            || word.among(lists::BE)
            || word.among(lists::NOT)
            || word.among(lists::MODAL)
            || word.among(lists::DUTY)
            || word.among(lists::FIRST)
            || word.is("to")
            || word.is("and")
        {
            break;
        }
        if word.among(lists::OWN) {
            if head.is_some() {
                break;
            }
        } else if let Some(noun) = &word.noun {
            let verb = word.verb.as_ref().map_or(0, |v| v.senses.often + 1);
            let finite =
                matches!(word.form(), Some(Form::Third | Form::Past)) && verb > noun.senses.often + 1;
            let follows = words.get(at + 1).is_some_and(|w| {
                matches!(
                    w.text.as_str(),
                    "me" | "my" | "him" | "us" | "at" | "up" | "to" | "off"
                )
            });
            let ing = word.form() == Some(Form::Ing) && head.is_some();
            let does = word.form() == Some(Form::Third)
                || matches!(word.text.as_str(), "do" | "get" | "have" | "go");
            let told_of = does
                && head.is_some_and(|at| is_person(&words[at]))
                && words
                    .get(at + 1)
                    .is_some_and(|w| w.verb.is_none() || w.noun.is_some());
            let tells = told_of
                || word.form() == Some(Form::Bare)
                    && head.is_some_and(|at| is_person(&words[at]))
                    && words.get(at + 1).is_some_and(|w| w.among(lists::OWN));
            let acts = head.is_some()
                && word.verb.is_some()
                && (tells || finite || follows && verb + 1 >= noun.senses.often || ing);
            if acts {
                break;
            }
            head = Some(at);
        } else if word.verb.is_some() && head.is_some()
            || word.adverb.is_some() && word.adjective.is_none() && head.is_some()
        {
            break;
        } else if word.verb.is_none() && word.adjective.is_none() && word.adverb.is_none() {
            // An unknown word: a name, or one that WordNet lacks.
            head = Some(at);
        }
        at += 1;
    }
    head.map(|head| (head, at))
}

/// Whether a noun means a person or several.
pub(super) fn is_person(word: &Token) -> bool {
    matches!(word.text.as_str(), "people" | "others" | "everyone" | "everybody")
        || among(lists::ROLES, &word.text)
        || among(lists::ROLES, word.singular())
        || word
            .noun
            .as_ref()
            .is_some_and(|noun| noun.mostly(class::PERSON) && !word.among(lists::MIND))
}
