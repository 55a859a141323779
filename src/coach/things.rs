//! Nouns among moves: a feeling, a quality, a person, a label, a thing of the world.

use super::Doubt;
use super::Question;
use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::found::doubt;
use super::lists;
use super::phrase::is_person;
use super::sight;
use super::states;
use super::wordnet::class;
use super::wordnet::mark;

/// Things of the world that stand for an act when they are written among moves: "phone", "extra homework".
const DOABLE: &[&str] = &[
    "appointment",
    "calls",
    "chores",
    "commute",
    "deadlines",
    "email",
    "emails",
    "evenings",
    "exam",
    "exams",
    "facebook",
    "homework",
    "housework",
    "instagram",
    "internet",
    "interview",
    "laptop",
    "letters",
    "media",
    "meetings",
    "music",
    "nights",
    "phone",
    "relationship",
    "texts",
    "wedding",
];

/// A noun among moves: a feeling, a quality, a person, a label, a thing of the world.
pub(super) fn as_thing(clause: &Clause<'_>) -> Option<Question> {
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
            states::camera(0.75)
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
    if word.among(lists::QUALITIES) {
        return Some(states::quality());
    }
    if word.among(lists::FEELING_NOUNS)
        || word.among(lists::BODY_WORDS) && word.adjective.is_none() && word.noun.is_some()
        || word.among(lists::DISORDERS)
        || matches!(word.singular(), "lack" | "loss") && clause.text(at + 1) == "of"
    {
        return Some(states::camera(0.75));
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
        return Some(states::camera(0.8));
    }
    if sight::is_good_quality(word) {
        return Some(states::quality());
    }
    if word.among(lists::RECALLS)
        || word.among(lists::OUTSIDE) && !DOABLE.contains(&word.text.as_str())
        || noun.mostly(class::POSSESSION)
        || noun.marked(mark::WEATHER)
    {
        return Some(doubt(Doubt::Outside, 0.65, "coach.outside-move"));
    }
    let better = before.len() == 1
        && at + 1 == clause.words.len()
        && ["better", "healthier", "healthy"].contains(&before[0].text.as_str());
    (better || more && noun.mostly(class::ACT) && before.len() <= 1)
        .then(|| doubt(Doubt::Vague, 0.6, "coach.label"))
}
