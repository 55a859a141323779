//! The head of a short phrase: who does it, and what is done or what it is.
//!
//! No grammar of English is attempted. People write in a few shapes: verb first ("rang my sister"), "I" and a
//! verb, a noun phrase, "being" and an adjective, "to" and a verb, a passive, or somebody else and a verb.
//! Common practice, no source.

use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::lists;
use super::phrase::noun_phrase;
use super::phrase::starts_verb;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;
use crate::coach::somebody;

/// Reads one clause.
pub(super) fn clause(words: &[Token]) -> Clause<'_> {
    let mut read = Clause {
        words,
        subject: Subject::Unsaid,
        shape: Shape::Nothing,
        from: 0,
        negated: false,
        owed: false,
        modal: false,
        wished: false,
        done: false,
        finite: false,
        joined_by: None,
    };
    let at = before_head(&mut read, 0);
    head(&mut read, at);
    read
}

/// Walks over what stands before the head, and notes what it says.
fn before_head(read: &mut Clause<'_>, mut at: usize) -> usize {
    while let Some(word) = read.words.get(at) {
        let next = read.words.get(at + 1);
        let text = word.text.as_str();
        if read.subject == Subject::Me
            && matches!(text, "think" | "guess" | "suppose" | "mean")
            && next.is_some_and(|w| w.among(lists::FIRST))
        {
            // "I think I'd like to be fair": what is thought is what counts.
            at += 1;
            continue;
        }
        if at == 0 && text == "you" && next.is_some_and(|w| w.is("know")) && read.words.len() > 3 {
            at += 2;
            continue;
        }
        if matches!(text, "i'm" | "we're") {
            read.subject = Subject::Me;
            break;
        }
        if word.among(lists::FIRST) || text == "me" && at == 0 && next.is_some_and(|w| w.verb.is_some()) {
            read.subject = Subject::Me;
            read.finite = true;
            read.done |= matches!(text, "i've" | "we've");
            read.modal |= matches!(text, "i'll" | "we'll" | "i'd");
        } else if matches!(
            text,
            "has" | "have" | "had" | "got" | "need" | "needs" | "supposed" | "ought" | "having" | "needing"
        ) && next.is_some_and(|w| w.is("to"))
        {
            read.done |= text == "had";
            read.owed |= text != "had" && text != "got";
            at += 1;
        } else if matches!(text, "that" | "for")
            && next.is_some_and(|w| w.among(lists::ANYONE) || w.among(lists::THEM) || w.is("my"))
        {
            // "That my son finds work", "for people to listen".
        } else if matches!(text, "less" | "fewer" | "no") && next.is_some_and(|w| w.form() == Some(Form::Ing))
        {
            read.negated = true;
        } else if word.among(lists::DUTY) {
            read.owed = true;
            read.negated |= text.ends_with("n't");
        } else if word.among(lists::NOT) {
            read.negated = true;
            read.done |= matches!(text, "didn't" | "wasn't");
        } else if word.among(lists::MODAL) {
            read.modal = true;
        } else if matches!(text, "do" | "did" | "does")
            && next.is_some_and(|w| w.is("not") || w.among(lists::FIRST))
        {
            read.done |= text == "did";
        } else if text == "no" && next.is_some_and(|w| w.is("longer") || w.is("more")) {
            read.negated = true;
            at += 1;
        } else if matches!(text, "have" | "has" | "had" | "having")
            && next.is_some_and(|w| w.form() == Some(Form::Past) || w.is("been") || w.among(lists::NOT))
        {
            read.done = true;
        } else if matches!(text, "going" | "able")
            && next.is_some_and(|w| w.is("to"))
            && read.words.get(at + 2).is_some_and(|w| {
                w.among(lists::BE)
                    || w.verb
                        .as_ref()
                        .is_some_and(|v| w.noun.as_ref().is_none_or(|n| v.senses.often >= n.senses.often))
            })
        {
            read.modal = true;
            at += 1;
        } else if is_wish(word)
            && next.is_some_and(|w| w.is("to") || w.is("and"))
            && read
                .words
                .get(at + 2)
                .is_some_and(|w| w.verb.is_some() || w.among(lists::BE) || w.among(lists::NOT))
        {
            read.wished = true;
            read.done |= word.form() == Some(Form::Past);
            at += 1;
        } else if is_wish(word)
            && next.is_some_and(|w| w.is("not"))
            && read.words.get(at + 2).is_some_and(|w| w.is("to"))
        {
            read.wished = true;
            read.negated = true;
            at += 2;
        } else if matches!(word.base(), "start" | "begin" | "keep" | "continue")
            && next.is_some_and(|w| w.form() == Some(Form::Ing) || w.is("being"))
        {
            read.done |= word.form() == Some(Form::Past);
        } else if word.among(lists::LEADS) && !(text == "more" && next.is_some_and(|w| w.verb.is_none()))
            || word.adverb.is_some() && word.verb.is_none() && word.noun.is_none() && word.adjective.is_none()
        {
            if next.is_none() {
                break;
            }
        } else {
            break;
        }
        at += 1;
    }
    at
}

fn is_wish(word: &Token) -> bool {
    matches!(word.text.as_str(), "wanna")
        || matches!(
            word.base(),
            "want"
                | "try"
                | "hope"
                | "aim"
                | "learn"
                | "manage"
                | "wish"
                | "plan"
                | "start"
                | "begin"
                | "continue"
                | "tend"
                | "attempt"
                | "intend"
                | "decide"
                | "choose"
                | "refuse"
                | "like"
        )
}

fn head(read: &mut Clause<'_>, at: usize) {
    read.from = at;
    let Some(word) = read.words.get(at) else { return };
    if word.among(lists::BE) {
        be(read, at);
    } else if word.among(lists::THEM) || word.among(lists::ANYONE) {
        let subject = if word.among(lists::THEM) {
            Subject::Them
        } else {
            Subject::Anyone
        };
        somebody::somebody(read, at + 1, subject);
    } else if read.subject != Subject::Unsaid && word.verb.is_some() || starts_verb(read.words, at) {
        act(read, at);
    } else {
        phrase(read, at);
    }
}

/// A form of "be" and its complement.
pub(super) fn be(read: &mut Clause<'_>, at: usize) {
    read.done |= matches!(read.words[at].text.as_str(), "was" | "were" | "been");
    read.finite |= !matches!(read.words[at].text.as_str(), "be" | "being");
    let mut next = at + 1;
    while let Some(word) = read.words.get(next) {
        if matches!(word.text.as_str(), "there" | "here") {
            break;
        }
        if word.among(lists::NOT) {
            read.negated = true;
        } else if word.among(lists::BE)
            || matches!(
                word.text.as_str(),
                "more"
                    | "less"
                    | "so"
                    | "too"
                    | "very"
                    | "as"
                    | "quite"
                    | "all"
                    | "such"
                    | "bit"
                    | "much"
                    | "way"
            )
            || word.is("a")
                && read.words.get(next + 1).is_some_and(|w| {
                    matches!(w.text.as_str(), "bit" | "little" | "more")
                        && read
                            .words
                            .get(next + 2)
                            .is_some_and(|w| w.adjective.is_some() && w.noun.is_none())
                })
            || word.adverb.is_some()
                && word.verb.is_none()
                && word.noun.is_none()
                && word.adjective.is_none()
                && read.words.get(next + 1).is_some()
            || word.among(lists::LEADS) && !word.is("to")
        {
        } else {
            break;
        }
        next += 1;
    }
    let Some(word) = read
        .words
        .get(next)
        .filter(|w| !matches!(w.text.as_str(), "there" | "here" | "myself"))
    else {
        read.shape = Shape::Being(None);
        return;
    };
    if matches!(word.text.as_str(), "going" | "about") && read.words.get(next + 1).is_some_and(|w| w.is("to"))
    {
        read.modal = true;
        let at = before_head(read, next + 2);
        head(read, at);
    } else if matches!(word.text.as_str(), "supposed" | "meant")
        && read.words.get(next + 1).is_some_and(|w| w.is("to"))
    {
        read.owed = true;
        let at = before_head(read, next + 2);
        head(read, at);
    } else if word.text == "trying" && read.words.get(next + 1).is_some_and(|w| w.is("to")) {
        let at = before_head(read, next);
        head(read, at);
    } else if !read.words[at].is("being")
        && word.form() == Some(Form::Ing)
        && word
            .adjective
            .is_none_or(|often| often < word.verb.as_ref().map_or(0, |v| v.senses.often))
        && !word.among(lists::GOOD_TRAITS)
    {
        read.from = next;
        act(read, next);
        read.finite = false;
    } else if word.among(lists::OWN) {
        read.shape = Shape::Being(Some(noun_phrase(read.words, next).map_or(next, |(head, _)| head)));
    } else if word.adjective.is_none() && word.noun.is_some() {
        read.shape = Shape::Being(Some(noun_phrase(read.words, next).map_or(next, |(head, _)| head)));
    } else {
        // "good friend" without its article is a noun phrase all the same.
        let with_noun = read.words.get(next + 1).filter(|w| {
            w.noun.as_ref().is_some_and(|n| n.senses.first == class::PERSON) && word.adjective.is_some()
        });
        read.shape = Shape::Being(Some(if with_noun.is_some() { next + 1 } else { next }));
    }
}

pub(super) fn act(read: &mut Clause<'_>, at: usize) {
    read.from = at;
    read.shape = Shape::Act(at);
    if read.words[at].form() == Some(Form::Past)
        || read.words[at].among(lists::PAST_ALIKE)
            && read.subject == Subject::Me
            && !read.owed
            && !read.modal
            && !read.negated
    {
        read.done = true;
    }
}

/// A noun phrase, alone or as the subject of what follows.
fn phrase(read: &mut Clause<'_>, at: usize) {
    let Some((head, end)) = noun_phrase(read.words, at) else {
        let word = &read.words[at];
        read.shape = if word.adjective.is_some() || word.verb.is_some() {
            Shape::Such(at)
        } else if read.words.len() > at + 1 {
            // An unknown first word may be a name: "sam never replies".
            let next = &read.words[at + 1];
            let tells = next.among(lists::NOT)
                || next.among(lists::MODAL)
                || next.form() == Some(Form::Third)
                || next.is("always")
                || next.among(lists::BE);
            if tells {
                somebody::somebody(read, at + 1, Subject::Named(at));
                return;
            }
            Shape::Thing(at)
        } else {
            Shape::Thing(at)
        };
        return;
    };
    if let Some(word) = read.words.get(end) {
        let plain = word.verb.is_some()
            && !word.among(lists::PREP)
            && (word.form() == Some(Form::Third)
                || word.form() == Some(Form::Ing) && end > head
                || word.form() == Some(Form::Past)
                || word.form() == Some(Form::Bare)
                    && read.words.get(end + 1).is_none_or(|w| {
                        w.among(lists::OWN)
                            || matches!(
                                w.text.as_str(),
                                "me" | "him" | "us" | "it" | "to" | "at" | "up" | "you"
                            )
                    }));
        if plain
            || word.among(lists::BE)
            || word.among(lists::NOT)
            || word.among(lists::MODAL)
            || word.among(lists::DUTY)
            || (word.is("always")
                || matches!(word.text.as_str(), "keeps" | "keep" | "kept")
                || word.adverb.is_some() && word.noun.is_none())
                && read
                    .words
                    .get(end + 1)
                    .is_some_and(|w| w.verb.is_some() || w.among(lists::BE))
        {
            somebody::somebody(read, end, Subject::Named(head));
            return;
        }
    }
    read.shape = Shape::Thing(head);
}
