//! From a form to its base, by the rules of WordNet's morphological processing (morphy(7WN)): first the
//! exception list, then the endings of detachment, each tried against the words that exist.

use super::wordnet;
use super::wordnet::Part;

/// The endings of detachment as published in morphy(7WN), "Rules of Detachment".
const NOUN: &[(&str, &str)] = &[
    ("s", ""),
    ("ses", "s"),
    ("ves", "f"),
    ("xes", "x"),
    ("zes", "z"),
    ("ches", "ch"),
    ("shes", "sh"),
    ("men", "man"),
    ("ies", "y"),
];
const VERB: &[(&str, &str)] = &[
    ("s", ""),
    ("ies", "y"),
    ("es", "e"),
    ("es", ""),
    ("ed", "e"),
    ("ed", ""),
    ("ing", "e"),
    ("ing", ""),
];
const ADJECTIVE: &[(&str, &str)] = &[("er", ""), ("est", ""), ("er", "e"), ("est", "e")];

/// The longest form that is looked at; longer ones are no English word.
const LONGEST: usize = 30;

/// Every base form of `form` as this part of speech, the form itself first where it is one. Empty where none
/// is known.
#[must_use]
pub fn lemmas(form: &str, part: Part) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    if form.len() > LONGEST {
        return found;
    }
    let is = |word: &str| wordnet::look_up(word).is_some_and(|known| known.part(part).is_some());
    if is(form) {
        found.push(form.to_owned());
    }
    let exceptions = wordnet::exceptions(form, part);
    if !exceptions.is_empty() {
        for base in exceptions {
            if !found.contains(&base) {
                found.push(base);
            }
        }
        return found;
    }
    let rules = match part {
        Part::Noun => NOUN,
        Part::Verb => VERB,
        Part::Adjective => ADJECTIVE,
        Part::Adverb => &[],
    };
    for (ending, instead) in rules {
        if let Some(stem) = form.strip_suffix(ending) {
            let mut base = String::with_capacity(form.len());
            base.push_str(stem);
            base.push_str(instead);
            if !found.contains(&base) && is(&base) {
                found.push(base);
            }
        }
    }
    found
}

/// The likeliest base form: the one met most often in WordNet's tagged texts, so that "felt" is from "feel"
/// and not the felting of wool; of two alike, the one that is not the form itself, since a form that looks
/// inflected mostly is.
#[must_use]
pub fn lemma(form: &str, part: Part) -> Option<String> {
    let often = |word: &str| {
        wordnet::look_up(word)
            .and_then(|known| known.part(part))
            .map_or(0, |senses| senses.often)
    };
    let mut found = lemmas(form, part);
    if found.len() < 2 {
        return found.pop();
    }
    let mut best = 0;
    for at in 1..found.len() {
        let (mine, other) = (often(&found[at]), often(&found[best]));
        if mine > other || mine == other && best == 0 && found[0] == form {
            best = at;
        }
    }
    Some(found.swap_remove(best))
}
