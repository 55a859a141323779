//! The check of a move. The same for both sides: whether a move is toward or away is the writer's to judge,
//! so nothing here knows which side it stands on; only [`super::consider`] does, to name a field for people
//! who matter.

use super::Doubt;
use super::Question;
use super::absence;
use super::clause::Clause;
use super::clause::Subject;
use super::found::doubt;
use super::lists;
use super::others;
use super::sight;
use super::split;
use super::split::Joint;
use super::states;
use super::things;
use super::tokens::Token;
use super::vague;
use super::wordnet::class;
use crate::map::Field;

/// The doubt about a move, if there is one.
pub(super) fn consider(text: &str, words: &[Token], clauses: &[Clause<'_>]) -> Option<Question> {
    let first = clauses.first()?;
    if words[0].is("wanting") || words[0].is("wishing") {
        return Some(states::camera(0.75));
    }
    if let Some(found) = joined_cause(text, words) {
        return Some(found);
    }
    if let Some(found) = owed(first) {
        return Some(found);
    }
    if sight::says_in_the_head(words) && clauses.len() > 1 && words.len() <= 10 && first.verb().is_some() {
        return Some(states::camera(0.7));
    }
    if clauses.iter().any(|clause| stands_alone(clause) && shows(clause)) {
        return None;
    }
    others_doing(clauses)
        .or_else(|| absence::absent(first))
        .or_else(|| vague::vague_act(first))
        .or_else(|| states::as_being(first))
        .or_else(|| states::quality_act(first))
        .or_else(|| states::feeling_act(first))
        .or_else(|| unseen(first))
        .or_else(|| things::as_thing(first))
}

/// Whether a clause is one of the moves rather than the reason for one.
fn stands_alone(clause: &Clause<'_>) -> bool {
    clause
        .joined_by
        .is_none_or(|word| matches!(word, "and" | "then" | "but" | "so" | "or" | "instead"))
}

/// Whether the clause is a move that can be filmed, and no other rule speaks against it.
fn shows(clause: &Clause<'_>) -> bool {
    sight::is_seen(clause)
        && !(clause.words.len() == 1 && clause.words[0].among(lists::QUALITIES))
        && states::as_being(clause).is_none()
        && states::quality_act(clause).is_none()
        && absence::absent(clause).is_none()
        && vague::vague_act(clause).is_none()
        && states::feeling_act(clause).is_none()
        && !others::others_made_to(clause)
        && !others::done_to_me(clause)
}

/// A cause joined to a move: "I skip choir because I feel clumsy" is a move and what shows up before it; "so
/// I don't feel guilty" is a move and the feeling it is to keep off. Source: the exercise's separation of
/// outside and inside.
fn joined_cause(text: &str, words: &[Token]) -> Option<Question> {
    let (pieces, joint) = split::split(text, words)?;
    Some(match joint {
        Joint::Because => doubt(Doubt::Camera, 0.85, "coach.split")
            .fits(Field::Inner)
            .in_two(pieces),
        Joint::SoNot => doubt(Doubt::Feeling, 0.8, "coach.split-so")
            .fits(Field::Inner)
            .in_two(pieces),
    })
}

/// A should: "I must call mum", "need to exercise". Not "had to leave", which was done.
fn owed(clause: &Clause<'_>) -> Option<Question> {
    (clause.owed && !clause.done && clause.mine()).then(|| doubt(Doubt::Should, 0.85, "coach.should"))
}

/// Others as the ones who act: "she never thanks me", "get Ana to reply", "be admired".
fn others_doing(clauses: &[Clause<'_>]) -> Option<Question> {
    let first = clauses.first()?;
    let theirs = others::others_act(first)
        || others::others_made_to(first)
        || others::done_to_me(first)
        || others::wished_of(first);
    theirs.then(|| doubt(Doubt::Others, 0.85, "coach.others"))
}

/// The camera test: an act that happens inside: "dreading the test", "hope for rain", "space out".
/// Source: the exercise's own line between what a camera catches and what only the writer knows.
fn unseen(clause: &Clause<'_>) -> Option<Question> {
    if !clause.mine() {
        // "My anxiety takes over": a feeling that acts is still a feeling.
        let Subject::Named(at) = clause.subject else {
            return None;
        };
        let noun = clause.words[at].noun.as_ref()?;
        return (sight::is_feeling(noun)
            || clause.words[at].among(lists::MIND) && noun.senses.first != class::BODY)
            .then(|| states::camera(0.7));
    }
    let (at, base) = clause.verb()?;
    (sight::unseen_act(clause, at) || base == "feel").then(|| states::camera(0.85))
}
