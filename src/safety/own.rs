//! Whether the person who writes is in some words. What they say of their own death outright is cleared by no word that
//! stands beside it.

use std::ops::Range;

use crate::safety::Topic;
use crate::safety::people::People;

/// Whether the person who writes is in some words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Own {
    No,
    Yes,
    /// Yes, and their own death is said outright.
    Outright,
}

/// Words that name one's death outright where the person who writes is beside them.
const OUTRIGHT: [&str; 8] = [
    "die", "dying", "dead", "death", "suicide", "suicidal", "myself", "life",
];

/// How far before some words their subject is looked for, in words.
const SUBJECT: usize = 4;

/// Words between a subject and what it only speaks of.
const OF: [&str; 8] = ["about", "on", "of", "the", "a", "from", "by", "in"];

/// Whether the person who writes is in the words of a range of a text, or the nearest subject before them. Who reads or
/// teaches about suicide is not in what is said of it.
pub(super) fn own(people: &People, text: &str, range: &Range<usize>, topic: Topic) -> Own {
    let is_writer = |word: &str| people.own.contains(word) || word == "me";
    let of = |word: Option<&&str>| word.is_some_and(|word| OF.contains(word));
    let inside = &text[range.clone()];
    let words: Vec<&str> = inside.split(' ').collect();
    let before: Vec<&str> = text[..range.start]
        .rsplit(' ')
        .filter(|word| !word.is_empty())
        .take(SUBJECT)
        .collect();
    let learnt = words
        .iter()
        .chain(&before)
        .any(|word| people.learning.contains(word));
    if learnt && words.last() == Some(&"suicide") && of(words.iter().rev().nth(1).or(before.first())) {
        return Own::No;
    }
    let is_subject = |word: &&&str| is_writer(word) || people.they.contains(word) || people.is_person(word);
    let subject = before.iter().find(is_subject).filter(|_| !of(before.first()));
    let direct = words.iter().chain(before.first()).any(|word| is_writer(word)) || inside.contains("my life");
    if direct && topic == Topic::Suicide && words.iter().any(|word| OUTRIGHT.contains(word)) {
        Own::Outright
    } else if direct || subject.is_some_and(|word| is_writer(word)) {
        Own::Yes
    } else {
        Own::No
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_writer_is_in_words_or_right_before_them() {
        let people = crate::safety::ahead::people().expect("the shipped lists");
        let of = |before: &str, words: &str| {
            let text = format!(" {before} {words}");
            let start = text.len() - words.len();
            own(&people, &text, &(start..text.len()), Topic::Suicide)
        };
        for (before, words, expected) in [
            ("this song makes me", "want to die", Own::Outright),
            ("a song", "i want to die", Own::Outright),
            ("it could", "end my life", Own::Outright),
            ("i have just", "taken an overdose", Own::Yes),
            ("in the film she has just", "taken an overdose", Own::No),
            ("i saw my cousin", "want to die", Own::No),
            ("i read a novel about", "suicide", Own::No),
            ("when it rains", "i read about suicide", Own::No),
            ("in the rain", "i think about suicide", Own::Outright),
            ("i was so tired of", "suicide", Own::No),
            ("the play was about", "suicide", Own::No),
        ] {
            assert_eq!(of(before, words), expected, "{before} {words}");
        }
        let harm = own(&people, " i want him dead", &(1..16), Topic::HarmToOthers);
        assert_eq!(harm, Own::Yes);
    }
}
