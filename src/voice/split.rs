//! Several entries said in one breath: "my sister, the garden, being fair". The split is only ever offered, since
//! a comma may as well stand inside one thought.

/// The most words of one entry in a list; what is longer is a sentence, and its commas belong to it.
const SHORT: usize = 5;

/// How a part begins that goes on with the one before it.
const GOES_ON: &[&str] = &[
    "although",
    "and then",
    "as",
    "because",
    "before",
    "but",
    "especially",
    "even",
    "except",
    "for example",
    "if",
    "like",
    "or else",
    "since",
    "so",
    "than",
    "that",
    "then",
    "though",
    "too",
    "until",
    "when",
    "where",
    "which",
    "while",
    "who",
    "with",
    "without",
    "yet",
];

/// What a person may have meant as entries of their own, in their order; one entry where it looks like one thought.
#[must_use]
pub fn split_entries(text: &str) -> Vec<String> {
    let sentences = text.split(['.', '!', '?', ';', '\n']);
    let sentences = sentences
        .map(str::trim)
        .filter(|part| part.chars().any(char::is_alphanumeric));
    sentences
        .flat_map(split_list)
        .map(tidy)
        .filter(|entry| !entry.is_empty())
        .collect()
}

/// A list is at least two parts apart by commas, with all of them short and none going on with the one before.
fn split_list(sentence: &str) -> Vec<&str> {
    let mut parts: Vec<&str> = sentence
        .split(',')
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    if parts.len() < 2 {
        return vec![sentence];
    }
    if !parts.last().is_some_and(|last| begins(last, "and"))
        && let Some(last) = parts.pop()
    {
        // "the garden, my sister and being fair": the last comma of a list is often not written.
        let (before, after) = last.split_once(" and ").unwrap_or((last, ""));
        parts.push(before);
        parts.extend((!after.is_empty()).then_some(after));
    }
    let list = parts.len() >= 3 || begins(parts[1], "and");
    for part in &mut parts {
        for lead in ["and also ", "and ", "also ", "And "] {
            *part = part.strip_prefix(lead).unwrap_or(part).trim();
        }
    }
    let lone = |part: &&str| {
        part.split_whitespace().count() <= SHORT && !GOES_ON.iter().any(|word| begins(part, word))
    };
    if list && parts.iter().all(lone) {
        parts
    } else {
        vec![sentence]
    }
}

/// Whether a part begins with a word, whole and in any case.
fn begins(part: &str, word: &str) -> bool {
    part.get(..word.len())
        .is_some_and(|head| head.eq_ignore_ascii_case(word))
        && part[word.len()..]
            .chars()
            .next()
            .is_none_or(|next| !next.is_alphanumeric() && next != '\'')
}

fn tidy(part: &str) -> String {
    part.trim_matches(|c: char| c.is_whitespace() || matches!(c, ',' | ':' | '-'))
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::split_entries;
    use proptest::prelude::*;

    #[test]
    fn lists_are_offered_split_and_thoughts_are_not() {
        let check = |text: &str, entries: &[&str]| assert_eq!(split_entries(text), entries, "{text}");
        check(
            "My sister, the garden, being fair.",
            &["My sister", "the garden", "being fair"],
        );
        check(
            "the choir, my brother and long walks",
            &["the choir", "my brother", "long walks"],
        );
        check("patience, and keeping my word", &["patience", "keeping my word"]);
        check(
            "I stay in bed. I leave letters closed.",
            &["I stay in bed", "I leave letters closed"],
        );
        check(
            "I call my mother back, even when I am worn out.",
            &["I call my mother back, even when I am worn out"],
        );
        check("salt and vinegar", &["salt and vinegar"]);
        check(
            "Well, I think that I would like to be a patient uncle, a kind one",
            &["Well, I think that I would like to be a patient uncle, a kind one"],
        );
        check(
            "painting, because it calms me, reading",
            &["painting, because it calms me, reading"],
        );
        check("...", &[]);
        check("", &[]);
    }

    proptest! {
        #[test]
        fn no_word_is_lost_added_or_moved(text in "[a-zé,.;' -]{0,80}") {
            let words = |s: &str| -> Vec<String> {
                let parts = s.split(|c: char| !c.is_alphanumeric());
                parts.filter(|w| !w.is_empty() && !["and", "also"].contains(w)).map(str::to_owned).collect()
            };
            prop_assert_eq!(words(&split_entries(&text).join(" ")), words(&text));
        }
    }
}
