//! Whom a finding is about: the words of the finding first, then the nearest subject before it. The words by which
//! people are known are data, in `patterns/people.toml`.

use std::collections::HashSet;
use std::ops::Range;

use serde::Deserialize;

use crate::safety::About;
use crate::safety::Topic;
use crate::safety::normalise::Plain;

/// The file of words.
#[derive(Deserialize)]
struct Lists {
    own: String,
    they: String,
    contracted: String,
    before_place: String,
    theirs: String,
    persons: String,
    behind: String,
    between: String,
    spoke: String,
    openings: String,
    verbs: String,
}

/// The words that say who is who.
#[derive(Debug)]
pub(super) struct People {
    own: HashSet<String>,
    they: HashSet<String>,
    contracted: HashSet<String>,
    before_place: HashSet<String>,
    theirs: HashSet<String>,
    persons: HashSet<String>,
    behind: HashSet<String>,
    between: HashSet<String>,
    spoke: HashSet<String>,
    openings: HashSet<String>,
    verbs: HashSet<String>,
}

impl People {
    pub(super) fn new() -> Result<Self, toml::de::Error> {
        let lists: Lists = toml::from_str(include_str!("patterns/people.toml"))?;
        let words = |list: String| list.split_whitespace().map(str::to_owned).collect();
        Ok(Self {
            own: words(lists.own),
            they: words(lists.they),
            contracted: words(lists.contracted),
            before_place: words(lists.before_place),
            theirs: words(lists.theirs),
            persons: words(lists.persons),
            behind: words(lists.behind),
            between: words(lists.between),
            spoke: words(lists.spoke),
            openings: words(lists.openings),
            verbs: words(lists.verbs),
        })
    }

    /// Reads from a sentence whom the words in `range` of the plain text are about. What counts depends on the topic:
    /// who is hurt where someone hurts, who would act where harm is meant, whose body or senses they are elsewhere.
    pub(super) fn about(
        &self,
        plain: &Plain,
        range: &Range<usize>,
        sentence: &Range<usize>,
        topic: Topic,
    ) -> About {
        let reading = Reading {
            people: self,
            plain,
            start: plain.token_at(sentence.start + 1),
            first: plain.token_at(range.start + 1),
            last: plain.token_at(range.end.saturating_sub(1)),
            end: plain.token_at(sentence.end.saturating_sub(1)),
        };
        reading.about(topic)
    }

    fn is_person(&self, word: &str) -> bool {
        let singular = word.strip_suffix('s').filter(|one| one.len() > 2);
        self.persons.contains(word) || singular.is_some_and(|one| self.persons.contains(one))
    }
}

/// A finding in its sentence; places are indices of words, all within the sentence.
struct Reading<'a> {
    people: &'a People,
    plain: &'a Plain,
    start: usize,
    first: usize,
    last: usize,
    end: usize,
}

impl Reading<'_> {
    fn about(&self, topic: Topic) -> About {
        let any = |words: &[&str]| (self.first..=self.last).any(|i| words.contains(&self.plain.word(i)));
        if any(&["myself"]) {
            return About::Me;
        }
        if any(&["himself", "herself", "themselves", "themself", "hisself"]) {
            return About::Other;
        }
        let found = match topic {
            // Who is hurt, not who hurts.
            Topic::Abuse => self.own_inside().or_else(|| self.hurt()).or_else(|| self.own_near()),
            // Who would act. A voice that commands is the person's own.
            Topic::HarmToOthers => self.before().or_else(|| self.inside(self.last)),
            Topic::Medical if (self.start..=self.last).any(|i| self.is_body_of_another(i)) => {
                Some(About::Other)
            }
            // Whose senses they are, whatever is seen or heard.
            Topic::Psychosis | Topic::Perinatal => self
                .own_inside()
                .or_else(|| self.inside(self.first + 3))
                .or_else(|| self.before())
                .or_else(|| self.inside(self.last)),
            // A subject near the front of the finding is its own; one further in may be an aside.
            _ => self
                .inside(self.first + 3)
                .or_else(|| self.me_before())
                .or_else(|| self.own_inside())
                .or_else(|| self.before())
                .or_else(|| self.inside(self.last)),
        };
        found
            .or_else(|| self.theirs())
            .or_else(|| self.after())
            .unwrap_or(About::Me)
    }

    /// A subject in the finding, up to a word of it.
    fn inside(&self, until: usize) -> Option<About> {
        (self.first..=self.last.min(until)).find_map(|i| self.subject(i))
    }

    /// The nearest subject before the finding.
    fn before(&self) -> Option<About> {
        (self.start..self.first).rev().find_map(|i| self.subject(i))
    }

    /// A person named in the few words after the finding: "sick in bags in my daughter's room".
    fn after(&self) -> Option<About> {
        (self.last + 1..=self.end.min(self.last + 3))
            .find_map(|i| self.subject(i))
            .filter(|about| *about == About::Other)
    }

    /// "Me" right before the finding: "mum does not hear me being sick".
    fn me_before(&self) -> Option<About> {
        (self.first > self.start && self.is_me(self.first - 1)).then_some(About::Me)
    }

    /// The person in the finding, as subject, as object, or as owner of something that is no person.
    fn own_inside(&self) -> Option<About> {
        (self.first..=self.last)
            .any(|i| self.is_own(i))
            .then_some(About::Me)
    }

    /// The person in the words around a finding that names nobody who is hurt.
    fn own_near(&self) -> Option<About> {
        (self.start..=self.end)
            .any(|i| self.is_own(i))
            .then_some(About::Me)
    }

    /// Someone else who is hurt in the finding: an object, a person after the first one, somebody's partner.
    fn hurt(&self) -> Option<About> {
        let object = |i: usize| {
            let word = self.plain.word(i);
            matches!(word, "him" | "her" | "them" | "his" | "their")
                || i > self.first + 1 && self.people.is_person(word)
        };
        (self.first..=self.last).any(object).then_some(About::Other)
    }

    fn is_own(&self, index: usize) -> bool {
        match self.plain.word(index) {
            "us" | "we" | "weve" | "our" => true,
            "my" => !self.owns_person(index),
            word => self.people.own.contains(word) || self.is_me(index),
        }
    }

    /// "Me", unless it is only who was told.
    fn is_me(&self, index: usize) -> bool {
        self.plain.word(index) == "me"
            && (index == self.start || !self.people.spoke.contains(self.plain.word(index - 1)))
    }

    /// Whether "my" at a place belongs to a person: "my sister" is someone else, "my wrists" are not.
    fn owns_person(&self, index: usize) -> bool {
        (index + 1..=self.end.min(index + 3))
            .find(|i| !self.people.between.contains(self.plain.word(*i)))
            .is_some_and(|i| self.people.is_person(self.plain.word(i)))
    }

    fn is_body_of_another(&self, index: usize) -> bool {
        let word = self.plain.word(index);
        self.people.they.contains(word)
            || matches!(word, "her" | "his" | "their" | "baby" | "newborn" | "babys" | "toddler")
            || self.people.is_person(word)
    }

    /// Whom the word at a place makes the subject, if it does.
    fn subject(&self, index: usize) -> Option<About> {
        let word = self.plain.word(index);
        let before = if index > self.start {
            self.plain.word(index - 1)
        } else {
            ""
        };
        let people = self.people;
        if people.own.contains(word) {
            return Some(About::Me);
        }
        if people.contracted.contains(word) && !people.before_place.contains(before) {
            return Some(About::Other);
        }
        if people.they.contains(word) || people.is_person(word) && !people.behind.contains(before) {
            return Some(About::Other);
        }
        if matches!(word, "my" | "me") {
            // "My" belongs to the next word.
            return None;
        }
        self.is_name(index).then_some(About::Other)
    }

    fn is_name(&self, index: usize) -> bool {
        let token = self.plain.tokens[index];
        let word = self.plain.word(index);
        let name = token.capital && word.len() > 2 && !self.people.openings.contains(word);
        let stands_first = index == self.start;
        name && (!stands_first || self.followed_by_verb(index)) && !self.is_shouting(index)
    }

    fn theirs(&self) -> Option<About> {
        (self.first..=self.last)
            .any(|i| self.people.theirs.contains(self.plain.word(i)))
            .then_some(About::Other)
    }

    fn followed_by_verb(&self, index: usize) -> bool {
        index < self.end && self.people.verbs.contains(self.plain.word(index + 1))
    }

    /// A text in capitals says nothing about names.
    fn is_shouting(&self, index: usize) -> bool {
        let beside = [index.checked_sub(1), Some(index + 1)];
        beside
            .into_iter()
            .flatten()
            .filter_map(|i| self.plain.tokens.get(i))
            .all(|token| token.capital)
    }
}
