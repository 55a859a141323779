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

    /// The names in a map's people, lower case.
    pub(in crate::page) fn names(&self, map: &Map) -> BTreeSet<String> {
        if !self.initials {
            return BTreeSet::new();
        }
        map.entries()
            .iter()
            .filter(|entry| entry.kind == Some(Kind::Person))
            .flat_map(|entry| names_in(entry.words.as_str()))
            .collect()
    }
}

/// The names in what a person wrote about somebody, lower case: words with a capital that do not say what somebody is to
/// them. Where none at the front has one, as in "my friend ana" or in scripts without capitals, all of those at the
/// front count, since a name kept by mistake is worse than a word cut by mistake.
fn names_in(text: &str) -> Vec<String> {
    let is_name = |piece: &&str| {
        let letters = piece.chars().all(is_letter) && piece.chars().any(char::is_alphabetic);
        letters && !TIES.contains(&piece.to_lowercase().as_str())
    };
    let is_break =
        |piece: &str| piece.contains([',', ';', ':', '(']) || BREAKS.contains(&piece.to_lowercase().as_str());
    let pieces: Vec<&str> = split_words(text).collect();
    let front_ends = pieces
        .iter()
        .position(|piece| is_break(piece))
        .unwrap_or(pieces.len());
    let (front, rest) = pieces.split_at(front_ends);
    let capital =
        |piece: &&str| is_name(piece) && piece.chars().next().is_some_and(|sign| !sign.is_lowercase());
    let any_capital = front.iter().any(capital);
    let mut after_and = false;
    let mut names = Vec::new();
    for piece in front.iter().filter(|piece| piece.chars().all(is_letter)) {
        if capital(piece) || is_name(piece) && (!any_capital || after_and) {
            names.push(piece.to_lowercase());
        }
        after_and = piece.eq_ignore_ascii_case("and");
    }
    names.extend(
        rest.iter()
            .filter(|piece| capital(piece))
            .map(|piece| piece.to_lowercase()),
    );
    names
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

/// Words that end the front of such an entry: what follows tells about the person.
const BREAKS: [&str; 10] = [
    "at", "because", "for", "from", "that", "when", "where", "which", "who", "with",
];

/// Words that say who someone is without naming them; they stay when names go.
const TIES: [&str; 91] = [
    "a",
    "all",
    "an",
    "and",
    "at",
    "aunt",
    "baby",
    "band",
    "boss",
    "boy",
    "boyfriend",
    "boys",
    "brother",
    "brothers",
    "cat",
    "child",
    "children",
    "choir",
    "class",
    "club",
    "colleague",
    "colleagues",
    "cousin",
    "cousins",
    "crew",
    "dad",
    "daughter",
    "daughters",
    "dog",
    "each",
    "everybody",
    "everyone",
    "ex",
    "family",
    "father",
    "for",
    "friend",
    "friends",
    "from",
    "girl",
    "girlfriend",
    "girls",
    "gran",
    "grandad",
    "grandchildren",
    "grandfather",
    "grandma",
    "grandmother",
    "grandpa",
    "grandparents",
    "granny",
    "group",
    "her",
    "his",
    "husband",
    "i",
    "in",
    "kids",
    "late",
    "me",
    "mom",
    "mother",
    "mum",
    "my",
    "nan",
    "neighbor",
    "neighbors",
    "neighbour",
    "neighbours",
    "nephew",
    "niece",
    "of",
    "old",
    "our",
    "parents",
    "partner",
    "people",
    "s",
    "sister",
    "sisters",
    "son",
    "sons",
    "students",
    "teacher",
    "team",
    "the",
    "uncle",
    "whole",
    "wife",
    "with",
    "work",
];
