//! How a line is read: as "done", a number, numbers of a list, the word of a choice, or words.

use crate::dialogue::Library;
use crate::dialogue::Offered;
use crate::dialogue::fill::Line;

/// How an answer to a list was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Picked {
    /// Places in the list, from 0, each once, in the order given.
    Numbers(Vec<usize>),
    /// Words of the person's own.
    Words,
    /// Numbers that are not in the list, or too many.
    Wrong,
}

/// Whether there is nothing to see in a text: blanks, controls, soft hyphens, and signs without a width.
pub(super) fn is_blank(text: &str) -> bool {
    let unseen =
        |c: char| matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}'..='\u{2064}' | '\u{feff}');
    text.chars()
        .all(|c| c.is_whitespace() || c.is_control() || unseen(c))
}

/// Whether a text says that there is no more to say.
pub(super) fn is_done(library: &Library, text: &str) -> bool {
    is_blank(text) || listed(library, "words.done").iter().any(|word| same(text, word))
}

/// Whether two texts are the same but for case, spacing, and full stops or commas at the end.
pub(super) fn same(text: &str, other: &str) -> bool {
    plain(text) == plain(other)
}

/// A whole number, in digits or as a word.
pub(super) fn number(library: &Library, text: &str) -> Option<u8> {
    let text = plain(text);
    text.parse().ok().or_else(|| {
        let place = listed(library, "words.numbers")
            .iter()
            .position(|word| plain(word) == text)?;
        u8::try_from(place).ok()
    })
}

/// The place of a choice, by its number, its word, its label, or the start of one of them if no other starts so.
pub(super) fn choice(text: &str, options: &[Offered]) -> Option<usize> {
    let text = plain(text);
    if text.is_empty() {
        return None;
    }
    if let Ok(number) = text.parse::<usize>() {
        return number.checked_sub(1).filter(|place| *place < options.len());
    }
    let exact = options
        .iter()
        .position(|one| plain(&one.word) == text || plain(&one.label) == text);
    exact.or_else(|| {
        let starts =
            |one: &Offered| plain(&one.word).starts_with(&text) || plain(&one.label).starts_with(&text);
        let mut found = options.iter().enumerate().filter(|(_, one)| starts(one));
        match (found.next(), found.next()) {
            (Some((place, _)), None) => Some(place),
            _ => None,
        }
    })
}

/// Things of a list, by numbers or by the words of one.
pub(super) fn picked(text: &str, labels: &[&str], many: bool) -> Picked {
    let plain_text = plain(text);
    if let Some(place) = labels.iter().position(|label| plain(label) == plain_text) {
        return Picked::Numbers(vec![place]);
    }
    let parts: Vec<_> = plain_text
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '.' | '+' | '&'))
        .filter(|part| !part.is_empty() && *part != "and")
        .collect();
    if parts.is_empty() || !parts.iter().all(|part| part.chars().all(|c| c.is_ascii_digit())) {
        return Picked::Words;
    }
    let mut places = Vec::new();
    for part in parts {
        let place = part
            .parse::<usize>()
            .ok()
            .and_then(|number| number.checked_sub(1));
        match place.filter(|place| *place < labels.len()) {
            Some(place) if places.contains(&place) => {}
            Some(place) => places.push(place),
            None => return Picked::Wrong,
        }
    }
    if places.len() > 1 && !many {
        Picked::Wrong
    } else {
        Picked::Numbers(places)
    }
}

fn plain(text: &str) -> String {
    let words: Vec<_> = text.split_whitespace().collect();
    words
        .join(" ")
        .trim_end_matches(['.', ',', ' '])
        .to_lowercase()
        .replace('’', "'")
}

/// The entries of a common line that lists words, split at bars.
fn listed(library: &Library, id: &str) -> Vec<String> {
    let text = library
        .common()
        .get(id)
        .map(|line: &Line| line.fill(|_| None, |_| 0))
        .unwrap_or_default();
    text.split('|').map(|word| word.trim().to_owned()).collect()
}
