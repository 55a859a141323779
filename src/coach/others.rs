//! What others should do, whatever the field: the part that is not in the writer's hands.

use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::lists;
use super::phrase::is_person;
use super::phrase::noun_phrase;
use super::phrase::starts_verb;
use super::tokens::Form;

/// Somebody else as the one who acts: "she never thanks me", "everyone thanks me".
/// Source: the exercise's rule that a move is the writer's own (common practice).
pub(super) fn others_act(clause: &Clause<'_>) -> bool {
    let somebody = match clause.subject {
        Subject::Them | Subject::Anyone => {
            !matches!(clause.text(0), "it" | "it's" | "it'll" | "that's" | "there's")
        }
        Subject::Named(at) => {
            let word = &clause.words[at];
            let unknown = word.noun.is_none()
                && word.verb.is_none()
                && word.adjective.is_none()
                && word.adverb.is_none();
            is_person(word) || unknown && !lists::closed(&word.text)
        }
        Subject::Unsaid | Subject::Me => false,
    };
    somebody
        && match clause.shape {
            Shape::Act(at) => !(clause.subject == Subject::Anyone && clause.words[at].base() == "please"),
            Shape::Being(_) => clause.words.iter().any(|w| w.among(lists::BE)),
            _ => false,
        }
}

/// Getting somebody to do something: "get Ana to reply", "make him understand", "want my twins to behave".
/// Things that were done ("got my son to bed", "made her a cake") and places ("get the kids to school") are
/// left alone.
pub(super) fn others_made_to(clause: &Clause<'_>) -> bool {
    let Some((at, base)) = clause.verb() else {
        return false;
    };
    if !matches!(
        base,
        "get"
            | "make"
            | "have"
            | "force"
            | "want"
            | "need"
            | "wish"
            | "convince"
            | "persuade"
            | "expect"
            | "cause"
            | "hope"
            | "like"
            | "change"
            | "fix"
            | "control"
            | "stop"
    ) || clause.done
    {
        return false;
    }
    let Some(end) = object_end(clause, at) else {
        return false;
    };
    if matches!(base, "change" | "fix" | "control") {
        return end >= clause.words.len();
    }
    if base == "stop" {
        return clause
            .word(end)
            .is_some_and(|w| w.form() == Some(Form::Ing) || w.is("from"));
    }
    let Some(next) = clause.word(end) else {
        return false;
    };
    if next.is("to") {
        return clause.word(end + 1).is_some_and(|w| {
            w.among(lists::BE)
                || w.is("not")
                || w.verb.is_some()
                    && (starts_verb(clause.words, end + 1) || w.noun.is_none())
                    && w.noun
                        .as_ref()
                        .is_none_or(|n| w.verb.as_ref().is_some_and(|v| v.senses.often >= n.senses.often))
        });
    }
    match base {
        "make" | "have" if matches!(next.base(), "laugh" | "smile" | "feel" | "welcome") => false,
        "make" | "have" => {
            next.is("like")
                || next.form() == Some(Form::Bare)
                    && starts_verb(clause.words, end)
                    && next.noun.as_ref().is_none_or(|n| {
                        next.verb
                            .as_ref()
                            .is_some_and(|v| v.senses.often >= n.senses.often)
                    })
                || next.among(lists::AIM_FELT)
                || next.is("proud")
        }
        "wish" | "hope" => {
            next.verb.is_some() || next.among(lists::MODAL) || next.among(lists::NOT) || next.among(lists::BE)
        }
        "get" => next.form() == Some(Form::Ing),
        _ => false,
    }
}

/// Somebody and what they are to do, with no verb of the writer's: "my niece to speak to me", "people to like
/// me".
pub(super) fn wished_of(clause: &Clause<'_>) -> bool {
    let who = match clause.shape {
        Shape::Thing(at) if is_person(&clause.words[at]) => at,
        _ => return false,
    };
    clause.text(who + 1) == "to"
        && clause
            .word(who + 2)
            .is_some_and(|w| w.among(lists::BE) || w.verb.is_some())
        || clause.text(who + 1) == "like" && clause.words[who].among(lists::ANYONE)
}

/// Where the phrase ends that names the person who is the object of a verb, if one is.
fn object_end(clause: &Clause<'_>, at: usize) -> Option<usize> {
    let word = clause.word(at + 1)?;
    if matches!(word.text.as_str(), "him" | "her" | "them" | "he" | "she" | "they")
        && !(word.is("her") && noun_follows(clause, at + 2))
    {
        return Some(at + 2);
    }
    if word.among(lists::ANYONE) {
        return Some(at + 2);
    }
    let (head, end) = noun_phrase(clause.words, at + 1)?;
    if matches!(
        clause.text(head),
        "everything" | "anything" | "something" | "nothing" | "it" | "this" | "that" | "things" | "stuff"
    ) {
        return None;
    }
    let words = &clause.words[at + 1..end];
    let unknown = clause.words[head].noun.is_none() && !lists::closed(&clause.words[head].text);
    match words.iter().position(is_person) {
        Some(person) => Some(at + 1 + person + 1),
        None => unknown.then_some(end),
    }
}

fn noun_follows(clause: &Clause<'_>, at: usize) -> bool {
    clause.word(at).is_some_and(|w| {
        w.noun.is_some()
            && w.verb
                .as_ref()
                .is_none_or(|v| v.senses.often < w.noun.as_ref().map_or(0, |n| n.senses.often))
    })
}

/// What is done to the writer: "be admired", "get noticed", "feeling respected", "to be taken seriously".
pub(super) fn done_to_me(clause: &Clause<'_>) -> bool {
    let at = match clause.shape {
        Shape::Being(Some(at)) => at,
        Shape::Act(at) if matches!(clause.words[at].base(), "get" | "feel" | "become") => at + 1,
        _ => return false,
    };
    if !clause.mine() {
        return false;
    }
    let Some(word) = clause.word(at) else { return false };
    let next = clause.text(at + 1);
    (word.among(lists::PASSIVE) && !(word.is("taken") && next != "seriously" && next != "care"))
        && !matches!(word.text.as_str(), "understanding" | "accepting")
        || word.form() == Some(Form::Past) && next == "by"
}
