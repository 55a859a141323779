//! Clauses about somebody or something else: who it is, and perhaps what they do.

use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::lists;
use super::tokens::Form;
use crate::coach::head::act;
use crate::coach::head::be;

/// Somebody or something else, and perhaps what they do.
pub(super) fn somebody(read: &mut Clause<'_>, mut at: usize, subject: Subject) {
    read.subject = subject;
    let first = at;
    at = before_other(read, at);
    let Some(word) = read.words.get(at) else {
        read.shape = if at > first {
            Shape::Being(None)
        } else {
            Shape::Thing(first - 1)
        };
        if at == first {
            read.subject = Subject::Unsaid;
        }
        return;
    };
    if at == first
        && (word.is("to") || word.is("like") || word.among(lists::PREP) || word.among(lists::FIRST))
    {
        // "People to like me", "people I love", "others in need".
        read.subject = Subject::Unsaid;
        read.shape = Shape::Thing(first - 1);
        return;
    }
    read.finite = true;
    if word.among(lists::BE) {
        be(read, at);
    } else if word.verb.is_some() {
        read.finite = word.form() != Some(Form::Ing);
        act(read, at);
    } else {
        read.shape = Shape::Being(Some(at));
    }
    read.subject = subject;
}

fn before_other(read: &mut Clause<'_>, mut at: usize) -> usize {
    while let Some(word) = read.words.get(at) {
        if word.among(lists::NOT) {
            read.negated = true;
        } else if word.among(lists::DUTY) {
            read.owed = true;
        } else if word.among(lists::MODAL) || word.among(lists::LEADS) && !word.is("to") {
            read.modal |= word.among(lists::MODAL);
        } else {
            let next = read.words.get(at + 1);
            let keeps = matches!(word.text.as_str(), "keep" | "keeps" | "kept")
                && next.is_some_and(|w| w.form() == Some(Form::Ing));
            let adverb_only = word.adverb.is_some()
                && word.verb.is_none()
                && word.noun.is_none()
                && word.adjective.is_none();
            if !keeps && !adverb_only {
                break;
            }
        }
        at += 1;
    }
    at
}
