//! The check of a move. The same for both sides: whether a move is toward or away is the writer's to judge, so nothing
//! here knows which side it stands on; only [`super::consider`] does, to name a field for people who matter.

use super::Doubt;
use super::found::Found;
use super::found::doubt;
use super::head::Clause;
use super::head::Shape;
use super::head::Subject;
use super::head::is_person;
use super::head::noun_phrase;
use super::lists;
use super::others;
use super::sight;
use super::split;
use super::split::Joint;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;
use super::wordnet::mark;
use crate::map::Field;

/// The doubt about a move, if there is one.
pub(super) fn consider(text: &str, words: &[Token], clauses: &[Clause<'_>]) -> Option<Found> {
    let first = clauses.first()?;
    if let Some(found) = joined_cause(text, words) {
        return Some(found);
    }
    if let Some(found) = owed(first) {
        return Some(found);
    }
    if sight::says_in_the_head(words) && clauses.len() > 1 && words.len() <= 10 && first.verb().is_some() {
        return Some(camera(0.7));
    }
    if clauses.iter().any(|clause| stands_alone(clause) && shows(clause)) {
        return None;
    }
    others_doing(clauses)
        .or_else(|| absent(first))
        .or_else(|| vague_act(first))
        .or_else(|| as_being(first))
        .or_else(|| quality_act(first))
        .or_else(|| feeling_act(first))
        .or_else(|| unseen(first))
        .or_else(|| as_thing(first))
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
        && as_being(clause).is_none()
        && quality_act(clause).is_none()
        && absent(clause).is_none()
        && vague_act(clause).is_none()
        && feeling_act(clause).is_none()
        && !others::others_made_to(clause)
        && !others::done_to_me(clause)
}

/// A cause joined to a move: "I cancel because I feel stupid" is a move and what shows up before it; "so I don't feel
/// guilty" is a move and the feeling it is to keep off. Source: the exercise's separation of outside and inside.
fn joined_cause(text: &str, words: &[Token]) -> Option<Found> {
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
fn owed(clause: &Clause<'_>) -> Option<Found> {
    (clause.owed && !clause.done && clause.mine()).then(|| doubt(Doubt::Should, 0.85, "coach.should"))
}

/// Others as the ones who act: "he never replies", "get my partner to listen", "be loved".
fn others_doing(clauses: &[Clause<'_>]) -> Option<Found> {
    let first = clauses.first()?;
    let theirs = others::others_act(first)
        || others::others_made_to(first)
        || others::done_to_me(first)
        || others::wished_of(first);
    theirs.then(|| doubt(Doubt::Others, 0.85, "coach.others"))
}

/// The absence test: what is not done, with no act in its place: "stop shouting", "avoid rows", "not going out",
/// "drink less". Not "stopped the car", "said no to the shift", "quit my job". Source: Lindsley 1991, the dead-person test.
pub(super) fn absent(clause: &Clause<'_>) -> Option<Found> {
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
            return if matches!(base, "stop" | "resist" | "help") && clause.modal
                || matches!(clause.text(at.saturating_sub(1)), "can't" | "couldn't") && base == "stop"
            {
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
            "avoid" | "refrain" | "abstain" | "resist" | "evade" => true,
            "reduce" | "limit" | "minimise" | "minimize" | "lessen" => {
                !matches!(clause.shape, Shape::Nothing)
            }
            "stay" | "keep" | "steer" => {
                matches!(next, "away" | "off" | "clear") && !clause.done
                    || next == "out" && clause.text(at + 2) == "of" && !clause.done
            }
            "do" | "say" | "eat" => next == "nothing" || next == "anything" && clause.negated,
            "skip" | "leave" => false,
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

/// "Stop shouting", "stop the lies", "quit smoking", "stop" against "stopped the car", "stop by", "stop to talk".
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
                    class::ARTIFACT | class::PLACE | class::PERSON | class::GROUP | 5 | 17 | class::TIME
                )
            })
    })
}

/// Too big, or a name for a whole bundle of acts: "sort my life out", "procrastinate", "work on myself", "exercise more".
/// Common practice, no source: a step is named so that its first ten minutes can be seen.
pub(super) fn vague_act(clause: &Clause<'_>) -> Option<Found> {
    if clause.has("version") && clause.words.iter().any(|w| w.among(lists::SELF)) {
        return Some(doubt(Doubt::Vague, 0.7, "coach.vague"));
    }
    if clause.text(0) == "people" && clause.word(1).is_some_and(|w| w.base() == "please") {
        return Some(doubt(Doubt::Vague, 0.75, "coach.label"));
    }
    let (at, base) = clause.verb()?;
    if !clause.mine() || clause.negated {
        return None;
    }
    let rest = clause.words.get(at + 1..).unwrap_or_default();
    let next = clause.text(at + 1);
    let last = clause.words.last().map_or("", |w| w.text.as_str());
    let object = noun_phrase(clause.words, at + 1).map(|(head, _)| clause.words[head].text.as_str());
    let big = rest.iter().any(|w| w.among(lists::BIG));
    let label = || Some(doubt(Doubt::Vague, 0.75, "coach.label"));
    let large = || Some(doubt(Doubt::Vague, 0.75, "coach.vague"));
    if lists::among(lists::LABEL_VERBS, base)
        && rest.len() <= 2
        && (rest.is_empty()
            || !matches!(
                base,
                "grow"
                    | "change"
                    | "improve"
                    | "function"
                    | "adult"
                    | "manage"
                    | "recover"
                    | "cope"
                    | "escape"
                    | "sabotage"
                    | "heal"
            ))
    {
        return label();
    }
    if lists::among(lists::LABEL_VERBS, base)
        && matches!(
            base,
            "isolate" | "procrastinate" | "withdraw" | "self-sabotage" | "sabotage"
        )
    {
        return label();
    }
    let too_big = match base {
        _ if lists::among(lists::FIX, base) => {
            big && object.is_none_or(|o| lists::among(lists::BIG, o)) && !clause.done
        }
        "get" => {
            matches!(
                last,
                "together"
                    | "better"
                    | "fit"
                    | "fitter"
                    | "healthy"
                    | "healthier"
                    | "organised"
                    | "organized"
                    | "control"
                    | "track"
                    | "grip"
                    | "shape"
            ) && (big
                || rest.len() <= 2
                || matches!(last, "track" | "control" | "together" | "grip" | "shape"))
                || matches!(next, "over") && !clause.done
                || next == "my"
                    && big
                    && rest.len() <= 5
                    && rest
                        .iter()
                        .any(|w| matches!(w.text.as_str(), "order" | "together" | "track" | "sorted"))
        }
        "work" => {
            next == "on"
                && rest.len() <= 4
                && rest.iter().skip(1).any(|w| {
                    w.among(lists::SELF)
                        || w.among(lists::BIG)
                        || w.among(lists::LABELS)
                        || w.noun.as_ref().is_some_and(|n| {
                            matches!(
                                n.senses.first,
                                class::ATTRIBUTE | class::STATE | class::FEELING | class::THOUGHT | 24
                            )
                        })
                })
                || next == "harder"
        }
        "do" => {
            matches!(
                next,
                "better" | "more" | "less" | "everything" | "something" | "stuff" | "things" | "self-care"
            ) && rest.len() <= 3
                || next == "my" && last == "best"
        }
        "move" => next == "on" && (rest.len() == 1 || big),
        "try" => matches!(next, "harder" | "more") || next == "my",
        "make" => {
            matches!(
                last,
                "changes" | "progress" | "effort" | "improvements" | "friends" | "difference" | "amends"
            ) && rest.len() <= 3
        }
        "set" | "have" => matches!(last, "boundaries" | "goals" | "limits" | "standards"),
        "live" => rest.iter().any(|w| {
            matches!(
                w.text.as_str(),
                "life" | "again" | "more" | "fully" | "better" | "healthier" | "healthily"
            )
        }),
        "look" => next == "after" && clause.words.iter().any(|w| w.among(lists::SELF)),
        "take" => {
            (next == "care" || clause.text(at + 2) == "care")
                && (clause.words.iter().any(|w| w.among(lists::SELF)) || big)
                || next == "control"
                || next == "responsibility"
        }
        "fix" | "mend" => rest.iter().any(|w| {
            w.noun
                .as_ref()
                .is_some_and(|n| matches!(n.senses.first, class::STATE | 24 | class::ATTRIBUTE))
        }),
        "be" | "become" | "stay" | "remain" | "act" | "keep" => {
            clause.word(at + 1).is_some_and(|w| sight::is_bad_trait(w))
                || next == "more" && rest.get(1).is_some_and(sight::is_bad_trait)
                || base == "become" && next == "better"
        }
        "eat" | "sleep" | "live_" => {
            matches!(
                last,
                "healthy" | "healthily" | "healthier" | "better" | "well" | "right" | "properly"
            ) && rest.len() <= 2
        }
        "give" => matches!(next, "up" | "in") && rest.len() == 1,
        "fall" => next == "into" && last == "habits",
        "practise" | "practice" | "prioritise" | "prioritize" | "embrace" | "find" | "achieve"
        | "maintain" | "develop" | "learn" => {
            object.is_some_and(|o| lists::among(lists::LABELS, o)) && rest.len() <= 3
        }
        _ => false,
    } || rest.len() == 1
        && matches!(next, "more" | "better" | "healthier" | "harder")
        && clause.words[at].form() == Some(Form::Bare)
        && !sight::unseen_act(clause, at)
        && base != "feel";
    if too_big {
        return large();
    }
    // A goal that ends, among moves: "lose ten kilos", "get a promotion".
    if !clause.done
        && matches!(
            base,
            "lose" | "get" | "win" | "become" | "earn" | "gain" | "pass" | "achieve" | "land" | "own"
        )
        && clause.words[at].form() != Some(Form::Past)
        && super::matters::is_goal(clause, at)
    {
        return Some(doubt(Doubt::Goal, 0.7, "coach.goal-move"));
    }
    None
}

/// Verbs that join the writer to a word for how they are.
const LIKE_BE: &[&str] = &[
    "act", "appear", "become", "get", "grow", "keep", "look", "remain", "seem", "show", "stay",
];

/// "Be" and what follows: a quality, a feeling, a label.
fn as_being(clause: &Clause<'_>) -> Option<Found> {
    let at = match clause.shape {
        Shape::Being(Some(at)) | Shape::Such(at) => at,
        Shape::Being(None) => {
            let next = clause.text(clause.from + 1);
            if next == "at" && matches!(clause.text(clause.from + 2), "peace" | "ease") {
                return Some(doubt(Doubt::Feeling, 0.75, "coach.feeling"));
            }
            return (next == "there" || next == "myself").then(quality);
        }
        Shape::Act(at) if LIKE_BE.contains(&clause.words[at].base()) => at + 1,
        _ => return None,
    };
    let at = match noun_phrase(clause.words, at) {
        Some((head, _)) if clause.words[at].among(lists::OWN) => head,
        _ => at,
    };
    if !clause.mine() {
        return None;
    }
    let word = clause.word(at)?;
    let was = clause.done && clause.words.len() > at + 1;
    let behind = clause.words.get(clause.from + 1..at).unwrap_or_default();
    let less = clause
        .words
        .get(clause.from..at)
        .unwrap_or_default()
        .iter()
        .any(|w| w.is("less"));
    let named = !matches!(clause.shape, Shape::Act(verb) if clause.words[verb].base() != "become");
    if word.noun.is_none()
        && named
        && word.adjective.is_none()
        && behind.iter().any(|w| w.is("a") || w.is("an"))
        && word.verb.is_none()
        && clause.words.len() == at + 1
    {
        return Some(doubt(Doubt::Vague, 0.6, "coach.label"));
    }
    if word.noun.is_some()
        && named
        && !matches!(clause.shape, Shape::Such(_))
        && is_person(word)
        && !(word.among(lists::GOOD_TRAITS) && behind.iter().all(|w| !w.among(lists::OWN)))
        || named && word.singular() == "person"
    {
        let good = behind.iter().any(|w| {
            sight::is_good_trait(w)
                || matches!(
                    w.text.as_str(),
                    "better" | "good" | "great" | "best" | "more" | "real" | "proper" | "nicer" | "nice"
                )
        });
        let scorned = word.noun.as_ref().is_some_and(|n| n.marked(mark::SCORNED))
            || behind.iter().any(sight::is_bad_trait);
        return if good || !scorned && word.among(lists::ROLES) {
            Some(quality())
        } else {
            Some(doubt(Doubt::Vague, 0.6, "coach.label"))
        };
    }
    if less && (sight::is_felt(word) || word.among(lists::AIM_FELT))
        || word.among(lists::AIM_FELT) && !(word.is("good") && clause.word(at + 1).is_some())
    {
        if matches!(
            word.text.as_str(),
            "better" | "good" | "strong" | "stronger" | "great"
        ) {
            return Some(doubt(Doubt::Vague, 0.6, "coach.vague"));
        }
        return (!was).then(|| doubt(Doubt::Feeling, 0.8, "coach.feeling"));
    }
    if sight::is_bad_trait(word) {
        return Some(doubt(Doubt::Vague, 0.7, "coach.label"));
    }
    if sight::is_good_trait(word) || word.is("present") {
        return if less {
            Some(doubt(Doubt::Vague, 0.6, "coach.label"))
        } else {
            (!was).then(quality)
        };
    }
    if sight::is_felt(word) {
        return Some(camera(0.8));
    }
    None
}

/// "Act with courage", "live with kindness": a quality with a verb that shows nothing by itself.
fn quality_act(clause: &Clause<'_>) -> Option<Found> {
    let (at, base) = clause.verb()?;
    let with = matches!(clause.text(at + 1), "with" | "from" | "out");
    let quality_last = clause.words.last().is_some_and(sight::is_good_quality);
    (matches!(
        base,
        "act" | "live" | "lead" | "behave" | "show" | "have" | "practise" | "practice"
    ) && (with || clause.words.len() <= at + 3 && base != "act")
        && quality_last
        && clause.mine()
        && !clause.done)
        .then(quality)
}

fn quality() -> Found {
    doubt(Doubt::Quality, 0.8, "coach.quality")
}

fn camera(sure: f32) -> Found {
    doubt(Doubt::Camera, sure, "coach.camera").fits(Field::Inner)
}

/// A feeling as the aim of a move: "feel less anxious", "stay calm", "calm down", "get more confidence".
/// Common practice: a feeling comes and goes and cannot be done.
fn feeling_act(clause: &Clause<'_>) -> Option<Found> {
    let (at, base) = clause.verb()?;
    if !clause.mine() {
        return None;
    }
    let rest = clause.words.get(at + 1..).unwrap_or_default();
    let next = clause.text(at + 1);
    let aims = rest
        .iter()
        .any(|w| w.among(lists::AIM_FELT) || w.among(lists::AIM_NOUNS));
    let found = || Some(doubt(Doubt::Feeling, 0.85, "coach.feeling"));
    let short = rest.len() <= 3;
    let noun = noun_phrase(clause.words, at + 1).map(|(head, _)| &clause.words[head]);
    match base {
        "have" | "get" if matches!(next, "less" | "fewer") => noun
            .filter(|w| w.noun.as_ref().is_some_and(sight::is_feeling))
            .and_then(|_| found()),

        "get" if next == "rid" => rest
            .iter()
            .skip(2)
            .any(|w| w.noun.as_ref().is_some_and(sight::is_feeling))
            .then(found)
            .flatten(),
        "feel" => (clause.wished
            || clause.modal
            || rest
                .first()
                .is_some_and(|w| w.text.ends_with("er") && w.adjective.is_some())
            || rest
                .iter()
                .any(|w| w.is("less") || w.is("more") || w.is("better"))
            || aims && !rest.iter().any(|w| w.is("like")))
        .then(found)
        .flatten(),
        "stay" | "remain" | "keep" | "become" | "get" => (rest.first().is_some_and(|w| {
            w.among(lists::AIM_FELT)
                && !matches!(
                    w.text.as_str(),
                    "better" | "good" | "safe" | "strong" | "stronger" | "great" | "fine"
                )
        }) && short
            || rest.iter().take(2).any(|w| w.among(lists::AIM_NOUNS)) && short)
            .then(found)
            .flatten(),
        "calm" | "cheer" | "chill" => ((next == "down" || next == "up" || next == "out" || rest.is_empty())
            && rest.len() <= 1
            && !clause.done)
            .then(found)
            .flatten(),
        "relax" | "unwind" => (rest.is_empty() && !clause.done || next == "more")
            .then(found)
            .flatten(),
        "gain" | "build" | "find" | "increase" | "boost" | "have" | "need" | "want" | "develop"
        | "improve" | "regain" | "raise" | "achieve" => {
            noun.filter(|w| w.among(lists::AIM_NOUNS)).and_then(|_| found())
        }
        "reduce" | "lessen" | "lower" | "manage" | "overcome" | "beat" | "conquer" | "control" | "lose"
        | "cure" => noun
            .filter(|w| {
                w.noun.as_ref().is_some_and(sight::is_feeling)
                    && !matches!(w.text.as_str(), "temper" | "interest")
            })
            .and_then(|_| found()),
        "worry" | "stress" | "panic" | "care" => (next == "less").then(found).flatten(),
        _ => None,
    }
}

/// The camera test: an act that happens inside: "worrying about money", "think positive", "zone out".
/// Source: the exercise's own line between what a camera catches and what only the writer knows.
fn unseen(clause: &Clause<'_>) -> Option<Found> {
    if !clause.mine() {
        // "My anxiety takes over": a feeling that acts is still a feeling.
        let Subject::Named(at) = clause.subject else {
            return None;
        };
        let noun = clause.words[at].noun.as_ref()?;
        return (sight::is_feeling(noun)
            || clause.words[at].among(lists::MIND) && noun.senses.first != class::BODY)
            .then(|| camera(0.7));
    }
    let (at, base) = clause.verb()?;
    (sight::unseen_act(clause, at) || base == "feel").then(|| camera(0.85))
}

/// A noun among moves: a feeling, a quality, a person, a label, a thing of the world.
fn as_thing(clause: &Clause<'_>) -> Option<Found> {
    let at = match clause.shape {
        Shape::Thing(at) => at,
        // "Respect" alone is the quality rather than the act.
        Shape::Act(0) if clause.words.len() == 1 && clause.words[0].among(lists::QUALITIES) => 0,
        _ => return None,
    };
    if clause.subject != Subject::Unsaid && clause.subject != Subject::Me {
        return None;
    }
    let word = &clause.words[at];
    let before = clause.words.get(clause.from..at).unwrap_or_default();
    let more = before.iter().any(|w| w.is("more") || w.is("better"))
        || clause.words[..clause.from].iter().any(|w| w.is("more"));
    if word.among(lists::AIM_NOUNS)
        || word.is("mind") && clause.has("peace")
        || word.is("peace") && (clause.has("mind") || clause.has("inner"))
    {
        let low = before
            .iter()
            .any(|w| matches!(w.text.as_str(), "low" | "no" | "poor" | "zero" | "little"));
        return Some(if low {
            camera(0.75)
        } else {
            doubt(Doubt::Feeling, 0.75, "coach.feeling")
        });
    }
    if word.among(lists::LABELS)
        || lists::among(lists::LABELS, word.singular())
        || sight::is_bad_quality(word)
    {
        return Some(doubt(Doubt::Vague, 0.7, "coach.label"));
    }
    if word.among(lists::FEELING_NOUNS)
        || word.among(lists::DISORDERS)
        || matches!(word.singular(), "lack" | "loss") && clause.text(at + 1) == "of"
    {
        return Some(camera(0.75));
    }
    if is_person(word) {
        return Some(doubt(Doubt::Outside, 0.75, "coach.person-move"));
    }
    let noun = word.noun.as_ref()?;
    if sight::is_feeling(noun)
        || noun.mostly(class::FEELING)
        || word.among(lists::MIND)
            && !matches!(
                word.singular(),
                "story" | "image" | "picture" | "voice" | "idea" | "dream"
            )
            && noun.senses.first != class::BODY
    {
        return Some(camera(0.8));
    }
    if sight::is_good_quality(word) {
        return Some(quality());
    }
    if word.among(lists::RECALLS)
        || word.among(lists::OUTSIDE)
            && !matches!(
                word.text.as_str(),
                "phone"
                    | "calls"
                    | "internet"
                    | "facebook"
                    | "instagram"
                    | "homework"
                    | "chores"
                    | "housework"
                    | "emails"
                    | "letters"
                    | "interview"
                    | "appointment"
                    | "laptop"
                    | "meetings"
                    | "relationship"
                    | "texts"
                    | "email"
                    | "commute"
                    | "exam"
                    | "exams"
                    | "deadlines"
            )
        || noun.mostly(class::POSSESSION)
        || noun.marked(mark::WEATHER)
    {
        return Some(doubt(Doubt::Outside, 0.65, "coach.outside-move"));
    }
    (more && noun.mostly(class::ACT) && before.len() <= 1).then(|| doubt(Doubt::Vague, 0.6, "coach.label"))
}
