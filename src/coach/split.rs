//! An entry in which a cause is joined to a move, in its two pieces: "I skip choir because I feel clumsy".

use super::Split;
use super::clause::Shape;
use super::head::clause;
use super::lists;
use super::sight;
use super::tokens::Token;
use super::tokens::tokens;

/// How the two pieces are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Joint {
    /// "Because I feel stupid": what shows up comes first.
    Because,
    /// "So I don't feel guilty": what shows up is to be kept off.
    SoNot,
}

/// Finds the two pieces, where the first can be seen and the second is felt or thought.
pub(super) fn split(text: &str, words: &[Token]) -> Option<(Split, Joint)> {
    for at in 1..words.len() {
        let Some((joint, from)) = joint(words, at) else {
            continue;
        };
        let act = &words[..at];
        let inner = &words[from..];
        if inner.is_empty() || !is_act(act) || !is_inner(inner, joint) {
            continue;
        }
        let piece = |words: &[Token]| {
            let (first, last) = (words.first()?, words.last()?);
            text.get(first.place.start..last.place.end)
                .map(|piece| piece.trim().to_owned())
        };
        let inner = match joint {
            Joint::Because => piece(inner)?,
            Joint::SoNot => without_denial(text, inner)?,
        };
        return Some((
            Split {
                act: piece(act)?,
                inner,
            },
            joint,
        ));
    }
    None
}

/// Where a cause may be joined: the kind of joint, and where the second piece begins.
fn joint(words: &[Token], at: usize) -> Option<(Joint, usize)> {
    let next = |n: usize| words.get(at + n).map_or("", |w| w.text.as_str());
    match words[at].text.as_str() {
        "because" | "since" | "when" | "whenever" | "if" | "as" => {
            Some((Joint::Because, if next(1) == "of" { at + 2 } else { at + 1 }))
        }
        "so" if next(1) == "that" => Some((Joint::SoNot, at + 2)),
        "so" => Some((Joint::SoNot, at + 1)),
        "due" if next(1) == "to" => Some((Joint::Because, at + 2)),
        _ => None,
    }
}

fn is_act(words: &[Token]) -> bool {
    let read = clause(words);
    match read.shape {
        Shape::Act(at) => read.mine() && !sight::unseen_act(&read, at),
        // "I over-prepare": behind "I", a word that WordNet lacks is a verb.
        Shape::Thing(at) => read.subject == super::clause::Subject::Me && read.words[at].noun.is_none(),
        _ => false,
    }
}

fn is_inner(words: &[Token], joint: Joint) -> bool {
    let read = clause(words);
    if !read.mine() {
        return false;
    }
    match joint {
        Joint::SoNot => {
            let feels = read.verb().is_some_and(|(_, base)| base == "feel");
            let eased = read.negated || read.has("less") || read.has("better");
            feels && eased || read.negated && is_feeling_of(&read)
        }
        Joint::Because => is_feeling_of(&read),
    }
}

fn is_feeling_of(read: &super::clause::Clause<'_>) -> bool {
    match read.shape {
        Shape::Act(at) => {
            matches!(
                read.words[at].base(),
                "feel" | "worry" | "fear" | "panic" | "think" | "hate" | "dread"
            ) || read.words.get(at + 1).is_some_and(|w| w.among(lists::FELT))
        }
        Shape::Being(Some(at)) | Shape::Such(at) => {
            sight::is_felt(&read.words[at])
                || read.words[at].among(lists::BAD_TRAITS) && read.subject == super::clause::Subject::Me
        }
        Shape::Thing(at) => read.words[at].noun.as_ref().is_some_and(sight::is_feeling),
        _ => false,
    }
}

/// "I don't feel guilty" as "I feel guilty", from the entry's own words.
fn without_denial(text: &str, inner: &[Token]) -> Option<String> {
    let kept: Vec<&str> = inner
        .iter()
        .filter(|w| {
            !w.among(lists::NOT)
                && !w.among(lists::MODAL)
                && !matches!(w.text.as_str(), "have" | "to" | "less" | "do" | "did" | "so")
        })
        .filter_map(|w| text.get(w.place.clone()))
        .collect();
    (!kept.is_empty()).then(|| kept.join(" "))
}

/// Splits an entry by itself.
#[must_use]
pub(super) fn pieces(text: &str) -> Option<Split> {
    split(text, &tokens(text)).map(|(split, _)| split)
}
