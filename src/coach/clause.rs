//! An entry as clauses: who each is about, what it is built around, and whether it is denied, owed or wished.

use super::head::clause;
use super::lists;
use super::tokens::Token;

/// Who the clause is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Subject {
    /// Not said; the writer is meant.
    Unsaid,
    /// The writer.
    Me,
    /// "He", "she", "they".
    Them,
    /// "People", "nobody", "everyone".
    Anyone,
    /// A noun phrase; its head stands here.
    Named(usize),
}

/// What the clause is built around.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    /// A verb, standing here.
    Act(usize),
    /// A form of "be", and what follows it.
    Being(Option<usize>),
    /// A noun phrase with its head here.
    Thing(usize),
    /// An adjective by itself.
    Such(usize),
    /// Nothing that could be read.
    Nothing,
}

/// One clause, read.
#[derive(Clone, Debug)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is one plain fact about a clause, and they mix freely"
)]
pub(super) struct Clause<'a> {
    /// The words of the clause.
    pub(super) words: &'a [Token],
    pub(super) subject: Subject,
    pub(super) shape: Shape,
    /// Where the reading stopped: the verb, the form of "be" or the start of the noun phrase.
    pub(super) from: usize,
    /// "Not", "never", "don't" before the head.
    pub(super) negated: bool,
    /// "Should", "must", "have to" in the present.
    pub(super) owed: bool,
    /// "Will", "would", "can".
    pub(super) modal: bool,
    /// "Want to", "try to".
    pub(super) wished: bool,
    /// A past or finished form, so that it was done.
    pub(super) done: bool,
    /// A finite present form with a subject: "I shout", "she never thanks me".
    pub(super) finite: bool,
    /// The word that joins it to the clause before.
    pub(super) joined_by: Option<&'a str>,
}

impl Clause<'_> {
    pub(super) fn word(&self, at: usize) -> Option<&Token> {
        self.words.get(at)
    }

    pub(super) fn text(&self, at: usize) -> &str {
        self.words.get(at).map_or("", |word| word.text.as_str())
    }

    pub(super) fn has(&self, word: &str) -> bool {
        self.words.iter().any(|w| w.is(word))
    }

    /// Whether the writer is who acts.
    pub(super) fn mine(&self) -> bool {
        matches!(self.subject, Subject::Unsaid | Subject::Me)
    }

    /// The verb, where it is built around one.
    pub(super) fn verb(&self) -> Option<(usize, &str)> {
        match self.shape {
            Shape::Act(at) => Some((at, self.words[at].base())),
            _ => None,
        }
    }
}

/// Reads an entry as clauses.
pub(super) fn clauses(words: &[Token]) -> Vec<Clause<'_>> {
    let mut found: Vec<Clause<'_>> = Vec::new();
    let mut start = 0;
    let mut joined_by = None;
    for at in 0..words.len() {
        let joins = words[at].among(lists::JOIN) && !keeps_together(words, at);
        if joins {
            push(&mut found, &words[start..at], joined_by);
            joined_by = Some(words[at].text.as_str());
            start = at + 1;
        } else if words[at].pause {
            push(&mut found, &words[start..=at], joined_by);
            joined_by = None;
            start = at + 1;
        }
    }
    push(&mut found, &words[start..], joined_by);
    found
}

fn push<'a>(found: &mut Vec<Clause<'a>>, words: &'a [Token], joined_by: Option<&'a str>) {
    if words.is_empty() {
        return;
    }
    let mut clause = clause(words);
    clause.joined_by = joined_by;
    if let Some(before) = found.last()
        && joined_by == Some("and")
        && matches!(before.shape, Shape::Thing(_) | Shape::Nothing)
        && (before.has("me") || before.has("i") || clause.has("i"))
    {
        // "Me and my sister baked", "my brother and I walked": the writer is one of them.
        clause.subject = Subject::Me;
    }
    found.push(clause);
}

/// Words that look like a joint and are none: "so tired", "as good", "after work", "like that".
fn keeps_together(words: &[Token], at: usize) -> bool {
    let next = words.get(at + 1);
    match words[at].text.as_str() {
        // "Try and be fair" is one wish.
        "and" if at > 0 && words[at - 1].base() == "try" => true,
        "so" => next.is_none_or(|w| {
            !(w.among(lists::FIRST) || w.among(lists::THEM) || w.among(lists::OWN) || w.is("that"))
        }),
        "as" | "before" | "after" | "until" | "till" => {
            next.is_none_or(|w| w.is("myself") || !(w.among(lists::FIRST) || w.among(lists::THEM)))
        }
        "instead" => next.is_some_and(|w| w.is("of")),
        "which" | "who" | "or" | "but" | "and" | "then" => at == 0,
        _ => false,
    }
}
