//! What of a map goes onto a page, so that a share holds what the person picked and nothing else.

use std::collections::BTreeSet;

use crate::map::EntryId;
use crate::map::Field;
use crate::map::Kind;
use crate::map::Map;
use crate::map::StepId;
use crate::map::TraceId;

/// A choice of what to show. It starts empty; nothing is in it that was not put there.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chosen {
    /// The entries to show.
    pub entries: BTreeSet<EntryId>,
    /// The loops to show. A loop is only shown when both its hook and its away move are chosen too.
    pub loops: BTreeSet<TraceId>,
    /// The steps to show.
    pub steps: BTreeSet<StepId>,
    /// Whether each entry carries the date on which it came.
    pub dates: bool,
    /// Whether names of people are cut to initials, wherever they stand.
    pub initials: bool,
}

impl Chosen {
    /// Everything that is true today, with all loops and steps; no dates, full names.
    #[must_use]
    pub fn everything(map: &Map) -> Self {
        Self {
            entries: Field::ALL
                .into_iter()
                .flat_map(|field| map.field(field))
                .map(|entry| entry.id)
                .collect(),
            loops: map.loops().iter().map(|one| one.id).collect(),
            steps: map.steps().iter().map(|one| one.id).collect(),
            dates: false,
            initials: false,
        }
    }

    /// Only what matters and toward moves, as for a partner; no loops, no steps.
    #[must_use]
    pub fn brighter_side(map: &Map) -> Self {
        let fields = [Field::Matters, Field::Toward];
        Self {
            entries: fields
                .into_iter()
                .flat_map(|field| map.field(field))
                .map(|entry| entry.id)
                .collect(),
            ..Self::default()
        }
    }

    /// The person's words as they go onto the page: as they are, or with names cut to initials.
    pub(in crate::page) fn words(&self, names: &BTreeSet<String>, words: &str) -> String {
        if !self.initials || names.is_empty() {
            return words.to_owned();
        }
        let mut out = String::new();
        for piece in split_words(words) {
            if names.contains(&piece.to_lowercase()) {
                out.extend(piece.chars().next());
                out.push('.');
            } else {
                out.push_str(piece);
            }
        }
        out
    }

    /// The names in a map's people, lower case: every word of theirs that does not say what the person is to them.
    pub(in crate::page) fn names(&self, map: &Map) -> BTreeSet<String> {
        if !self.initials {
            return BTreeSet::new();
        }
        map.entries()
            .iter()
            .filter(|entry| entry.kind == Some(Kind::Person))
            .flat_map(|entry| split_words(entry.words.as_str()))
            .filter(|piece| piece.chars().all(is_letter))
            .map(str::to_lowercase)
            .filter(|word| !TIES.contains(&word.as_str()))
            .collect()
    }
}

/// Stretches of letters and digits, and what is between them, in turn. Marks belong to the letter before them.
fn split_words(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = text;
    std::iter::from_fn(move || {
        let in_word = rest.chars().next().map(is_letter)?;
        let end = rest.find(|sign| is_letter(sign) != in_word).unwrap_or(rest.len());
        let (piece, after) = rest.split_at(end);
        rest = after;
        Some(piece)
    })
}

fn is_letter(sign: char) -> bool {
    sign.is_alphanumeric() || unicode_normalization::char::is_combining_mark(sign)
}

/// Words that say who someone is without naming them; they stay when names go.
const TIES: [&str; 61] = [
    "a",
    "all",
    "an",
    "and",
    "at",
    "aunt",
    "baby",
    "boss",
    "boy",
    "brother",
    "child",
    "children",
    "class",
    "cousin",
    "dad",
    "daughter",
    "dog",
    "cat",
    "ex",
    "family",
    "father",
    "for",
    "from",
    "friend",
    "friends",
    "gran",
    "grandad",
    "grandfather",
    "grandma",
    "grandmother",
    "grandpa",
    "her",
    "his",
    "husband",
    "i",
    "in",
    "kids",
    "late",
    "me",
    "mother",
    "mom",
    "mum",
    "my",
    "neighbour",
    "neighbor",
    "nephew",
    "niece",
    "of",
    "old",
    "our",
    "parents",
    "partner",
    "s",
    "sister",
    "son",
    "team",
    "the",
    "uncle",
    "wife",
    "with",
    "work",
];
