//! Whom a finding is about: the words of the finding first, then the nearest subject before it.

use std::ops::Range;

use crate::safety::About;
use crate::safety::Topic;
use crate::safety::normalise::Plain;

const OWN: [&str; 9] = ["myself", "i", "im", "ive", "id", "ill", "my", "me", "mine"];
const THEIRS: [&str; 8] = [
    "himself",
    "herself",
    "themselves",
    "themself",
    "his",
    "her",
    "their",
    "hisself",
];
const THEY: [&str; 14] = [
    "he", "she", "they", "hes", "shes", "theyre", "hed", "shed", "theyd", "theyve", "him", "them", "who",
    "whos",
];

/// Reads from a sentence whom the words in `range` of the plain text are about. What counts depends on the topic: who
/// is hurt where someone hurts, who would act where harm is meant, whose body it is where a body is in danger.
pub(super) fn about(plain: &Plain, range: &Range<usize>, sentence: &Range<usize>, topic: Topic) -> About {
    let first = plain.token_at(range.start + 1);
    let last = plain.token_at(range.end.saturating_sub(1));
    let any = |words: &[&str]| (first..=last).any(|i| words.contains(&plain.word(i)));
    if any(&["myself"]) {
        return About::Me;
    }
    if any(&["himself", "herself", "themselves", "themself", "hisself"]) {
        return About::Other;
    }
    let start = plain.token_at(sentence.start + 1);
    let inside = |until: usize| (first..=last.min(until)).find_map(|i| subject(plain, i, first, true));
    let before = || (start..first).rev().find_map(|i| subject(plain, i, start, false));
    let found = match topic {
        Topic::Abuse if any(&["me", "us", "i", "im", "ive"]) => Some(About::Me),
        Topic::Abuse => before().or_else(|| inside(last)),
        Topic::HarmToOthers if any(&["me"]) => Some(About::Me),
        Topic::HarmToOthers => before().or_else(|| inside(last)),
        Topic::Medical if (start..=last).any(|i| is_body_of_another(plain.word(i))) => Some(About::Other),
        // A subject near the front of the finding is its own; one further in may be an aside.
        _ => inside(first + 3).or_else(before).or_else(|| inside(last)),
    };
    found.or_else(|| theirs(plain, first, last)).unwrap_or(About::Me)
}

/// Words that show the body in danger to be another's.
fn is_body_of_another(word: &str) -> bool {
    matches!(
        word,
        "him" | "her" | "them" | "he" | "she" | "hes" | "shes" | "baby" | "newborn" | "his"
    ) || is_person(word)
}

fn subject(plain: &Plain, index: usize, start: usize, inside: bool) -> Option<About> {
    let word = plain.word(index);
    let before = if index > start || !inside && index > 0 {
        plain.word(index - 1)
    } else {
        ""
    };
    if matches!(word, "i" | "im" | "ive" | "id" | "ill" | "myself" | "mine") {
        return Some(About::Me);
    }
    // "hell" and "shell" are "he'll" and "she'll" with the apostrophe dropped, unless a place is meant.
    if matches!(word, "hell" | "shell" | "theyll")
        && !matches!(
            before,
            "in" | "through" | "a" | "the" | "of" | "like" | "to" | "bloody" | "what" | "as"
        )
    {
        return Some(About::Other);
    }
    if THEY.contains(&word) || is_person(word) && !matches!(before, "of" | "with" | "from" | "without" | "to")
    {
        return Some(About::Other);
    }
    if OWN.contains(&word) {
        // "my" belongs to the next word: "my sister" is someone else, "my wrists" is the person.
        return None;
    }
    let token = plain.tokens[index];
    let name = token.capital && word.len() > 2 && !is_opening(word);
    let stands_first = index == 0 || plain.text.as_bytes()[token.at - 2] == b'\n';
    if name && (!stands_first || followed_by_verb(plain, index)) && !is_shouting(plain, index) {
        return Some(About::Other);
    }
    None
}

fn theirs(plain: &Plain, first: usize, last: usize) -> Option<About> {
    (first..=last)
        .any(|i| THEIRS.contains(&plain.word(i)))
        .then_some(About::Other)
}

fn followed_by_verb(plain: &Plain, index: usize) -> bool {
    index + 1 < plain.tokens.len()
        && matches!(
            plain.word(index + 1),
            "is" | "has"
                | "was"
                | "took"
                | "told"
                | "says"
                | "said"
                | "wants"
                | "keeps"
                | "just"
                | "tried"
                | "texted"
                | "threatened"
                | "swallowed"
                | "cut"
                | "cuts"
                | "hurt"
                | "hears"
                | "rang"
                | "called"
                | "wont"
                | "isnt"
                | "overdosed"
                | "starves"
                | "thinks"
                | "and"
                | "never"
                | "feels"
                | "talks"
                | "messaged"
                | "attempted"
        )
}

/// A text in capitals says nothing about names.
fn is_shouting(plain: &Plain, index: usize) -> bool {
    let beside = [index.checked_sub(1), Some(index + 1)];
    beside
        .into_iter()
        .flatten()
        .filter_map(|i| plain.tokens.get(i))
        .all(|token| token.capital)
}

fn is_opening(word: &str) -> bool {
    matches!(
        word,
        "the"
            | "and"
            | "but"
            | "because"
            | "just"
            | "tonight"
            | "today"
            | "yesterday"
            | "tomorrow"
            | "last"
            | "god"
            | "please"
            | "monday"
            | "tuesday"
            | "wednesday"
            | "thursday"
            | "friday"
            | "saturday"
            | "sunday"
            | "january"
            | "february"
            | "march"
            | "april"
            | "june"
            | "july"
            | "august"
            | "september"
            | "october"
            | "november"
            | "december"
            | "christmas"
            | "easter"
            | "every"
            | "sometimes"
            | "maybe"
            | "still"
            | "now"
            | "then"
            | "when"
            | "why"
            | "what"
            | "how"
            | "everyone"
            | "everything"
            | "nothing"
            | "there"
            | "this"
            | "that"
            | "it"
            | "its"
    )
}

/// Words for people other than the person who writes.
pub(super) fn is_person(word: &str) -> bool {
    matches!(
        word.strip_suffix('s').filter(|w| w.len() > 2).unwrap_or(word),
        "friend"
            | "mate"
            | "flatmate"
            | "roommate"
            | "housemate"
            | "bestie"
            | "brother"
            | "sister"
            | "sibling"
            | "bro"
            | "sis"
            | "mum"
            | "mom"
            | "mother"
            | "dad"
            | "father"
            | "parent"
            | "son"
            | "daughter"
            | "kid"
            | "child"
            | "children"
            | "cousin"
            | "aunt"
            | "aunty"
            | "auntie"
            | "uncle"
            | "nephew"
            | "niece"
            | "grandad"
            | "grandfather"
            | "grandma"
            | "grandmother"
            | "gran"
            | "nan"
            | "nana"
            | "grandpa"
            | "grandson"
            | "granddaughter"
            | "husband"
            | "wife"
            | "partner"
            | "boyfriend"
            | "girlfriend"
            | "bf"
            | "gf"
            | "ex"
            | "fiance"
            | "fiancee"
            | "colleague"
            | "coworker"
            | "classmate"
            | "student"
            | "pupil"
            | "neighbour"
            | "neighbor"
            | "tenant"
            | "lodger"
            | "teammate"
            | "stepson"
            | "stepdaughter"
            | "stepdad"
            | "stepmum"
            | "stepmom"
            | "stepbrother"
            | "stepsister"
            | "teen"
            | "teenager"
            | "girl"
            | "boy"
            | "guy"
            | "man"
            | "woman"
            | "lad"
            | "bloke"
            | "somebody"
            | "someone"
            | "client"
            | "patient"
            | "boss"
            | "mentee"
            | "apprentice"
            | "godson"
            | "goddaughter"
            | "twin"
            | "bos"
            | "manager"
            | "landlord"
            | "buddy"
            | "pal"
            | "family"
            | "wive"
            | "spouse"
    )
}
