//! The absence test, for moves and for what matters: an entry that only says what is not done.

use super::Doubt;
use super::Question;
use super::clause::Clause;
use super::clause::Shape;
use super::found::doubt;
use super::lists;
use super::phrase::noun_phrase;
use super::sight;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;

/// The absence test: what is not done, with no act in its place: "stop sighing", "avoid stairs", "not
/// singing", "moan less". Not "stopped the mower", "said no to the loan", "quit the band". Source: Lindsley
/// 1991, the dead-person test.
pub(super) fn absent(clause: &Clause<'_>) -> Option<Question> {
    let found = || Some(doubt(Doubt::Absence, 0.85, "coach.absence"));
    if !clause.mine() {
        return None;
    }
    let opening = clause.text(clause.from);
    if let Shape::Thing(head) = clause.shape
        && clause.text(clause.from + 1) != "to"
        && (matches!(opening, "no" | "less" | "fewer" | "zero" | "without") || clause.negated)
    {
        let felt = clause.words[head].noun.as_ref().is_some_and(sight::is_feeling);
        return if felt && !clause.negated {
            Some(doubt(Doubt::Feeling, 0.75, "coach.feeling"))
        } else {
            found()
        };
    }
    if let Some((at, base)) = clause.verb() {
        let next = clause.text(at + 1);
        if clause.negated {
            // "Couldn't stop eating" says what was done.
            let did = clause.modal || matches!(clause.text(at.saturating_sub(1)), "can't" | "couldn't");
            return if did && matches!(base, "stop" | "resist" | "help") {
                None
            } else {
                found()
            };
        }
        let yes = match base {
            "stop" | "quit" | "cease" => stops(clause, at, base),
            "give" if next == "up" => clause
                .word(at + 2)
                .is_some_and(|w| is_ing(w) || w.among(lists::SUBSTANCES)),
            "cut" | "ease" => {
                matches!(next, "down" | "back")
                    || next == "out" && clause.word(at + 2).is_some()
                    || clause.words.iter().any(|w| w.is("down")) && clause.words.len() <= at + 4
            }
            "avoid" | "refrain" | "abstain" | "resist" | "evade" | "reduce" | "limit" | "minimise"
            | "minimize" | "lessen" => true,
            "stay" | "keep" | "steer" => {
                matches!(next, "away" | "off" | "clear") && !clause.done
                    || next == "out" && clause.text(at + 2) == "of" && !clause.done
            }
            "do" | "say" | "eat" => next == "nothing",
            _ => false,
        };
        if yes {
            return found();
        }
        if clause
            .words
            .iter()
            .skip(at + 1)
            .any(|w| w.is("less") || w.is("fewer"))
            && !clause.words.iter().any(|w| w.is("than"))
            && !sight::unseen_act(clause, at)
            && base != "feel"
        {
            return found();
        }
    }
    if clause.negated && matches!(clause.shape, Shape::Being(_) | Shape::Such(_)) {
        return found();
    }
    None
}

fn is_ing(word: &Token) -> bool {
    word.form() == Some(Form::Ing) || word.is("being")
}

/// "Stop sighing", "stop the lies", "quit smoking", "stop" against "stopped the mower", "stop by", "stop to
/// talk".
fn stops(clause: &Clause<'_>, at: usize, base: &str) -> bool {
    let Some(next) = clause.word(at + 1) else {
        return base == "stop" && !clause.done;
    };
    if is_ing(next) || next.among(lists::SUBSTANCES) || next.among(lists::NOT) {
        return true;
    }
    let by_an_act = clause
        .words
        .windows(2)
        .skip(at)
        .any(|w| w[0].is("by") && is_ing(&w[1]));
    if by_an_act
        || next.is("to")
        || next.among(lists::PREP)
        || base == "quit"
        || next.among(lists::SELF) && clause.word(at + 2).is_none()
    {
        return false;
    }
    if next.among(lists::SELF)
        || next.is("my") && clause.word(at + 2).is_some_and(|w| w.among(lists::SUBSTANCES))
    {
        return true;
    }
    noun_phrase(clause.words, at + 1).is_some_and(|(head, _)| {
        let word = &clause.words[head];
        word.among(lists::SUBSTANCES)
            || word.noun.as_ref().is_some_and(|noun| {
                !matches!(
                    noun.senses.first,
                    class::ARTIFACT
                        | class::PLACE
                        | class::PERSON
                        | class::GROUP
                        | class::ANIMAL
                        | class::OBJECT
                        | class::TIME
                )
            })
    })
}
