//! A finding in its sentence, as it is looked at to learn whom it is about: subjects, owners, people who are found or
//! quoted. The rules that choose between them are in [`super::subject`].

use std::ops::Range;

use crate::safety::About;
use crate::safety::people::People;
use crate::safety::plain::Plain;

/// A finding in its sentence; places are indices of words, all within the sentence.
pub(super) struct Reading<'a> {
    pub people: &'a People,
    pub plain: &'a Plain,
    pub start: usize,
    pub first: usize,
    pub last: usize,
    pub end: usize,
}

impl<'a> Reading<'a> {
    /// A finding in a range of the plain text, and the sentence around it.
    pub(super) fn new(
        people: &'a People,
        plain: &'a Plain,
        finding: &Range<usize>,
        sentence: &Range<usize>,
    ) -> Self {
        Self {
            people,
            plain,
            start: plain.token_at(sentence.start + 1),
            first: plain.token_at(finding.start + 1),
            last: plain.token_at(finding.end.saturating_sub(1)),
            end: plain.token_at(sentence.end.saturating_sub(1)),
        }
    }

    /// Whether a word of the finding is such.
    pub(super) fn any(&self, such: impl Fn(usize) -> bool) -> bool {
        (self.first..=self.last).any(such)
    }

    /// Whether a word is "her", "his" or "their" before a child.
    fn has_a_child(&self, i: usize) -> bool {
        matches!(self.plain.word(i), "her" | "his" | "their")
            && i < self.end
            && self.people.infants.contains(self.plain.word(i + 1))
    }

    /// Whether a child in the finding is that of another by the word before it, with no word of the person who writes.
    pub(super) fn names_a_child_of_another(&self) -> bool {
        self.any(|i| self.has_a_child(i)) && !self.any(|i| self.is_own(i))
    }

    pub(super) fn child_of_another(&self) -> Option<About> {
        let person = |i: usize| {
            let word = self.plain.word(i);
            self.people.is_person(word) && !self.people.infants.contains(word)
        };
        (self.start..=self.last)
            .any(|i| self.has_a_child(i) || person(i))
            .then_some(About::Other)
    }

    /// Somebody's partner or parent in the finding: "her boyfriend", "the neighbour's husband".
    pub(super) fn kin_of_another(&self) -> bool {
        (self.first.max(self.start + 1)..=self.last).any(|i| {
            let owner = self.plain.word(i - 1);
            self.people.is_person(self.plain.word(i))
                && (matches!(owner, "her" | "his" | "their")
                    || owner.ends_with('s') && self.people.is_person(owner) && owner.len() > 4)
        })
    }

    /// A subject in the finding, up to a word of it.
    pub(super) fn inside(&self, until: usize) -> Option<About> {
        // "They would be relieved" is said of others in a wish of one's own.
        (self.first..=self.last.min(until))
            .filter(|i| !self.plain.word(*i).starts_with("they"))
            .find_map(|i| self.subject(i))
    }

    /// The nearest subject before the finding; "the lad I train" is the lad.
    pub(super) fn before(&self) -> Option<About> {
        (self.start..self.first)
            .rev()
            .find_map(|i| if self.is_aside(i) { None } else { self.subject(i) })
    }

    pub(super) fn is_aside(&self, index: usize) -> bool {
        self.plain.word(index) == "i"
            && index > self.start
            && self.people.is_person(self.plain.word(index - 1))
    }

    /// The subject right before the finding, with only small words between: "I have always ...".
    pub(super) fn right_before(&self) -> Option<About> {
        (self.start..self.first)
            .rev()
            .take(3)
            .find(|i| !self.people.small.contains(self.plain.word(*i)))
            .and_then(|i| {
                if self.is_me(i) {
                    return Some(About::Me);
                }
                self.subject(i)
            })
    }

    /// Someone else who is found: "found my wife hanging".
    pub(super) fn found_another(&self) -> Option<About> {
        let another = |i: usize| {
            let word = self.plain.word(i);
            matches!(word, "him" | "her" | "them") || self.people.is_person(word)
        };
        (self.people.finds.contains(self.plain.word(self.first))
            && (self.first + 1..=self.last.min(self.first + 3)).any(another))
        .then_some(About::Other)
    }

    /// Somebody in the rest of the sentence, where the person who writes is not in it at all.
    pub(super) fn after(&self) -> Option<About> {
        if self.own_near().is_some() {
            return None;
        }
        let named = |i: &usize| {
            matches!(self.plain.word(*i), "he" | "she" | "hes" | "shes")
                || self.people.is_person(self.plain.word(*i))
                    && matches!(self.plain.word(*i - 1), "my" | "our")
        };
        (self.last + 1..=self.end)
            .find(named)
            .and_then(|i| self.subject(i))
            .filter(|about| *about == About::Other)
    }

    /// Somebody's own words: "my friend texted I'm going to ...".
    pub(super) fn quoted(&self) -> Option<About> {
        let speaks = |i: &usize| {
            let next = if *i < self.end {
                self.plain.word(*i + 1)
            } else {
                ""
            };
            let word = self.plain.word(*i);
            self.people.present.contains(word) || word == "i" && self.people.present_after.contains(next)
        };
        let own = (self.start..=self.last.min(self.first + 2))
            .rev()
            .filter(|i| self.people.own.contains(self.plain.word(*i)))
            .find(speaks)?;
        let verb = (self.start.max(own.saturating_sub(7))..own)
            .rev()
            .find(|i| self.people.quoting.contains(self.plain.word(*i)))?;
        // "He says I'm ..." is told of the person as often as not.
        if self.plain.word(verb) == "says" {
            return None;
        }
        (self.start.max(verb.saturating_sub(6))..verb)
            .rev()
            .find_map(|i| if self.is_aside(i) { None } else { self.subject(i) })
            .filter(|about| *about == About::Other)
    }

    /// The person as a subject in the finding; "the lad I train" is no such place.
    pub(super) fn own_subject_inside(&self) -> Option<About> {
        let own = |i: usize| {
            self.people.own.contains(self.plain.word(i))
                && !self.is_of_mine(i)
                && !self.is_aside(i)
                && self.is_written_out(i)
        };
        (self.first..=self.last).any(own).then_some(About::Me)
    }

    /// The person in the finding, as subject, as object, or as owner of something that is no person.
    pub(super) fn own_inside(&self) -> Option<About> {
        (self.first..=self.last)
            .any(|i| self.is_own(i))
            .then_some(About::Me)
    }

    /// The person anywhere in the sentence.
    pub(super) fn own_near(&self) -> Option<About> {
        (self.start..=self.end)
            .any(|i| self.is_own(i))
            .then_some(About::Me)
    }

    /// Someone else who is hurt in the finding: an object, or a person after the first one.
    pub(super) fn hurt(&self) -> Option<About> {
        let object = |i: usize| {
            let word = self.plain.word(i);
            matches!(word, "him" | "her" | "them" | "his" | "their")
                || i > self.first + 1 && self.people.is_person(word)
        };
        (self.first..=self.last).any(object).then_some(About::Other)
    }

    pub(super) fn is_own(&self, index: usize) -> bool {
        match self.plain.word(index) {
            "us" | "we" | "weve" | "our" => true,
            "my" => !self.owns_person(index),
            word => self.people.own.contains(word) && !self.is_of_mine(index) || self.is_me(index),
        }
    }

    /// "A friend of mine" is not the person.
    pub(super) fn is_of_mine(&self, index: usize) -> bool {
        self.plain.word(index) == "mine" && index > self.start && self.plain.word(index - 1) == "of"
    }

    /// "Me", unless it is only who was told.
    pub(super) fn is_me(&self, index: usize) -> bool {
        self.plain.word(index) == "me"
            && (index == self.start || !self.people.spoke.contains(self.plain.word(index - 1)))
    }

    /// Whether a word stands in the original as it is here: the "myself" of an abbreviation names nobody.
    pub(super) fn is_written_out(&self, index: usize) -> bool {
        let token = self.plain.tokens[index];
        let beside = [index.checked_sub(1), Some(index + 1)];
        !beside
            .into_iter()
            .flatten()
            .filter_map(|i| self.plain.tokens.get(i))
            .any(|other| other.start == token.start)
            || token.end - token.start >= self.plain.word(index).len()
    }

    /// Whether "my" at a place belongs to a person: "my sister" is someone else, "my wrists" are not.
    pub(super) fn owns_person(&self, index: usize) -> bool {
        (index + 1..=self.end.min(index + 3))
            .find(|i| !self.people.between.contains(self.plain.word(*i)))
            .is_some_and(|i| self.people.is_person(self.plain.word(i)))
    }

    pub(super) fn is_body_of_another(&self, index: usize) -> bool {
        let word = self.plain.word(index);
        self.people.they.contains(word)
            || matches!(word, "them" | "her" | "his" | "their")
            || matches!(word, "baby" | "newborn" | "babys")
            || self.people.is_person(word)
    }

    /// Whom the word at a place makes the subject, if it does.
    pub(super) fn subject(&self, index: usize) -> Option<About> {
        let word = self.plain.word(index);
        let before = if index > self.start {
            self.plain.word(index - 1)
        } else {
            ""
        };
        let people = self.people;
        if people.own.contains(word) && self.is_written_out(index) {
            return (!self.is_of_mine(index)).then_some(About::Me);
        }
        if people.contracted.contains(word) && !people.before_place.contains(before) {
            return Some(About::Other);
        }
        if people.they.contains(word) {
            let apart = people.behind.contains(before) || word == "who" && !people.is_person(before);
            return (!apart).then_some(About::Other);
        }
        if people.is_person(word) {
            let first = if before == "my" && index > self.start + 1 {
                self.plain.word(index - 2)
            } else {
                before
            };
            let one_of = first == "of" && index > self.start + 2 && self.plain.word(index - 3) == "one";
            let acts = (one_of || !people.behind.contains(first)) && !self.owns_thing(index);
            return acts.then_some(About::Other);
        }
        if matches!(word, "my" | "me") {
            // "My" belongs to the next word.
            return None;
        }
        self.is_name(index).then_some(About::Other)
    }

    /// Whether a person at a place only owns what follows: "dad's tablets".
    pub(super) fn owns_thing(&self, index: usize) -> bool {
        self.plain.word(index).ends_with('s')
            && (index + 1..=self.end.min(index + 2)).any(|i| self.people.things.contains(self.plain.word(i)))
    }

    pub(super) fn is_name(&self, index: usize) -> bool {
        let token = self.plain.tokens[index];
        let word = self.plain.word(index);
        let name = token.capital && word.len() > 2 && !self.people.openings.contains(word);
        let stands_first = index == self.start;
        name && (!stands_first || self.followed_by_verb(index)) && !self.is_shouting(index)
    }

    pub(super) fn theirs(&self) -> Option<About> {
        (self.first..=self.last)
            .any(|i| self.people.theirs.contains(self.plain.word(i)))
            .then_some(About::Other)
    }

    pub(super) fn followed_by_verb(&self, index: usize) -> bool {
        let next = |step: usize| {
            if index + step <= self.end {
                self.plain.word(index + step)
            } else {
                ""
            }
        };
        self.people.verbs.contains(next(1))
            || matches!(next(1), "in" | "from") && matches!(next(2), "my" | "our")
    }

    /// A text in capitals says nothing about names.
    pub(super) fn is_shouting(&self, index: usize) -> bool {
        let beside = [index.checked_sub(1), Some(index + 1)];
        beside
            .into_iter()
            .flatten()
            .filter_map(|i| self.plain.tokens.get(i))
            .all(|token| token.capital)
    }
}
