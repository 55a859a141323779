//! Numbers as they are spoken: one from a list or a scale, or several in a row.

use super::command::plain;

/// The ways to say the numbers from 0 to 12; the first few also as what they are often written down as.
const NUMBERS: [&[&str]; 13] = [
    &["0", "zero", "none", "nought", "nil"],
    &["1", "one", "first", "won", "1st"],
    &["2", "two", "second", "to", "too", "2nd"],
    &["3", "three", "third", "free", "3rd"],
    &["4", "four", "fourth", "for", "4th"],
    &["5", "five", "fifth", "5th"],
    &["6", "six", "sixth", "6th"],
    &["7", "seven", "seventh", "7th"],
    &["8", "eight", "eighth", "ate", "8th"],
    &["9", "nine", "ninth", "9th"],
    &["10", "ten", "tenth", "10th"],
    &["11", "eleven", "eleventh", "11th"],
    &["12", "twelve", "twelfth", "12th"],
];

/// Words that may stand around numbers without meaning anything of their own.
const AROUND: &[&str] = &[
    "number", "numbers", "choice", "option", "the", "one", "and", "on", "a", "about", "say", "its", "it",
    "is",
];

fn value(word: &str) -> Option<usize> {
    NUMBERS
        .iter()
        .position(|ways| ways.contains(&word))
        .or_else(|| word.parse().ok())
}

/// Whether a word says a place in a row, such as "second" or "4th".
fn is_ordinal(word: &str) -> bool {
    value(word).is_some() && ["st", "nd", "rd", "th"].iter().any(|end| word.ends_with(end))
}

/// The number that was said, if nothing else was.
pub(super) fn number(said: &[String]) -> Option<usize> {
    let said: Vec<&str> = said.iter().map(String::as_str).collect();
    // What is said at first is often heard with an "and" before it.
    match said.strip_prefix(&["and"]).unwrap_or(&said) {
        ["number" | "choice" | "option" | "the", lone] | [lone] | ["the", lone, "one"] => value(lone),
        _ => None,
    }
}

/// A number from a scale, as in "seven", "about a seven" or "seven out of ten". `None` if anything else was said or
/// it is off the scale.
#[must_use]
pub fn spoken_number(text: &str, from: usize, to: usize) -> Option<usize> {
    let said = plain(text);
    let words: Vec<&str> = said.iter().map(String::as_str).collect();
    let words = match words.as_slice() {
        [rest @ .., "out", "of", "ten" | "10"] => rest,
        all => all,
    };
    let words: Vec<&str> = match words {
        [lone] => vec![lone],
        many => many
            .iter()
            .copied()
            .filter(|word| *word == "one" || !AROUND.contains(word))
            .collect(),
    };
    match words.as_slice() {
        [lone] => value(lone).filter(|number| (from..=to).contains(number)),
        _ => None,
    }
}

/// Several numbers of a list with so many places, as in "two and five" or "numbers 1, 3 and 4", each once and in the
/// order they were said. `None` if anything else was said or one is not on the list.
#[must_use]
pub fn spoken_numbers(text: &str, most: usize) -> Option<Vec<usize>> {
    let said = plain(text);
    let mut found = Vec::new();
    for (at, word) in said.iter().enumerate() {
        // "The second one" is one thing, and not two.
        if word == "one" && at > 0 && is_ordinal(&said[at - 1]) {
            continue;
        }
        match value(word) {
            Some(number) if (1..=most).contains(&number) => {
                if !found.contains(&number) {
                    found.push(number);
                }
            }
            None if AROUND.contains(&word.as_str()) => {}
            _ => return None,
        }
    }
    (!found.is_empty()).then_some(found)
}
