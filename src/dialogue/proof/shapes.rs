//! Words and turns of phrase that have no place in what people are shown, beyond those for which a script is not even
//! opened. English only.

use unicode_segmentation::UnicodeSegmentation as _;

use crate::dialogue::fault::Manner;

/// What presses: it leaves no way to say no, or hurries.
const PRESSURE: [&str; 13] = [
    "had better",
    "supposed to",
    "make sure",
    "be sure to",
    "do not forget",
    "don't forget",
    "try harder",
    "come on",
    "no excuse",
    "hurry",
    "get over it",
    "why don't you",
    "why didn't you",
];

/// What praises, and so tells a person what would please.
const PRAISE: [&str; 16] = [
    "excellent",
    "fantastic",
    "wonderful",
    "brilliant",
    "bravo",
    "impressive",
    "superb",
    "proud",
    "nicely done",
    "keep it up",
    "you did it",
    "good for you",
    "right answer",
    "clever",
    "keep up the good",
    "way to go",
];

/// What names an illness, or treats the person as one.
const DIAGNOSIS: [&str; 24] = [
    "depression",
    "depressed",
    "ptsd",
    "ocd",
    "adhd",
    "bipolar",
    "borderline",
    "patients",
    "cure",
    "cured",
    "relapse",
    "addict",
    "addiction",
    "dysfunction",
    "dysfunctional",
    "abnormal",
    "clinical",
    "pathological",
    "mental illness",
    "mentally ill",
    "you suffer from",
    "you are ill",
    "your condition",
    "your illness",
];

/// What belongs to the trade and not to talk.
const METHOD: [&str; 16] = [
    "defusion",
    "cognitive",
    "experiential",
    "avoidance",
    "mindful",
    "mindfulness",
    "psychological",
    "flexibility",
    "acceptance",
    "commitment",
    "contingency",
    "reinforcement",
    "intervention",
    "functional analysis",
    "homework",
    "therapeutic",
];

/// Whether a whole line or option is one word that shouts, such as STOP. Short ones, such as NZ or PDF, are names.
pub(super) fn is_loud_alone(text: &str) -> bool {
    let mut words = text.unicode_words();
    let one = words.next().filter(|_| words.next().is_none());
    one.is_some_and(|word| word.chars().count() > 3 && word.chars().all(char::is_uppercase))
}

/// Everything unwanted in a text, with what is wrong about it.
pub(super) fn unwanted(text: &str) -> Vec<(String, Manner)> {
    let words: Vec<&str> = text.unicode_words().collect();
    let small: Vec<String> = words
        .iter()
        .map(|word| word.to_lowercase().replace('\u{2019}', "'"))
        .collect();
    let mut found = Vec::new();
    let lists: [(&[&str], Manner); 4] = [
        (&PRESSURE, Manner::Pressure),
        (&PRAISE, Manner::Praise),
        (&DIAGNOSIS, Manner::Diagnosis),
        (&METHOD, Manner::Method),
    ];
    for (list, manner) in lists {
        for phrase in list {
            let phrase_words: Vec<_> = phrase.split(' ').collect();
            if small.windows(phrase_words.len()).any(|run| run == phrase_words) {
                found.push(((*phrase).to_owned(), manner));
            }
        }
    }
    let loud = |word: &str| word.chars().count() > 2 && word.chars().all(char::is_uppercase);
    found.extend(
        words
            .windows(2)
            .find(|pair| pair.iter().all(|word| loud(word)))
            .map(|pair| (pair.join(" "), Manner::Loud)),
    );
    found
}
