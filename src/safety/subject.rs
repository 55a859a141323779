//! Whom a finding is about: the words of the finding first, then the nearest subject before it. The words by which
//! people are known are in [`super::people`].

use std::ops::Range;

use crate::safety::About;
use crate::safety::Topic;
use crate::safety::normalise::Plain;
use crate::safety::people::People;

/// Reads from a sentence whom the words in `range` of the plain text are about. What counts depends on the topic:
/// who is hurt where someone hurts, who would act where harm is meant, whose body or senses they are elsewhere.
pub(super) fn about(
    people: &People,
    plain: &Plain,
    range: &Range<usize>,
    sentence: &Range<usize>,
    topic: Topic,
) -> About {
    let reading = Reading {
        people,
        plain,
        start: plain.token_at(sentence.start + 1),
        first: plain.token_at(range.start + 1),
        last: plain.token_at(range.end.saturating_sub(1)),
        end: plain.token_at(sentence.end.saturating_sub(1)),
    };
    reading.about(topic)
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
        if (self.first..=self.last).any(|i| self.plain.word(i) == "myself" && self.is_written_out(i)) {
            return About::Me;
        }
        if any(&["himself", "herself", "themselves", "themself", "hisself"]) {
            return About::Other;
        }
        match topic {
            Topic::Abuse => self.who_is_hurt(),
            Topic::HarmToOthers => self.who_would_act(),
            Topic::Psychosis => self.whose_senses(),
            Topic::Perinatal => self.whose_child(),
            Topic::Medical if (self.start..=self.last).any(|i| self.is_body_of_another(i)) => {
                Some(About::Other)
            }
            // A subject near the front of the finding is its own; one further in may be an aside.
            _ => self
                .found_another()
                .or_else(|| self.quoted())
                .or_else(|| {
                    (self.first..=self.last)
                        .any(|i| self.is_me(i))
                        .then_some(About::Me)
                })
                .or_else(|| self.own_subject_inside())
                .or_else(|| self.right_before())
                .or_else(|| self.inside(self.first + 3))
                .or_else(|| self.before())
                .or_else(|| self.inside(self.last))
                .or_else(|| self.theirs())
                .or_else(|| self.after()),
        }
        .unwrap_or(About::Me)
    }

    /// Who is hurt, not who hurts.
    fn who_is_hurt(&self) -> Option<About> {
        let me = |i: usize| self.plain.word(i) == "us" || self.is_me(i);
        if (self.first..=self.last).any(me) {
            return Some(About::Me);
        }
        if self.kin_of_another() {
            return Some(About::Other);
        }
        // Without a word of who is hurt, it is the person who writes.
        self.own_inside()
            .or_else(|| self.right_before())
            .or_else(|| self.hurt())
    }

    /// Who would act. A voice that commands is the person's own.
    fn who_would_act(&self) -> Option<About> {
        let ordered = |i: usize| {
            self.plain.word(i) == "me" && i < self.end && matches!(self.plain.word(i + 1), "to" | "i")
        };
        if (self.start..=self.last).any(ordered) {
            return Some(About::Me);
        }
        self.right_before()
            .or_else(|| self.own_subject_inside())
            .or_else(|| self.before())
            .or_else(|| self.inside(self.first + 1))
            .or_else(|| {
                (self.first..=self.last)
                    .any(|i| self.is_me(i))
                    .then_some(About::Me)
            })
    }

    /// Whose senses they are, whatever is seen, heard or believed.
    fn whose_senses(&self) -> Option<About> {
        let other = |i: usize| {
            let word = self.plain.word(i);
            matches!(word, "he" | "she" | "hes" | "shes" | "him" | "her" | "his")
                || self.people.is_person(word) && i > self.start && self.plain.word(i - 1) == "my"
        };
        self.own_inside()
            .or_else(|| self.right_before())
            .or_else(|| (self.first..=self.last).any(other).then_some(About::Other))
            .or_else(|| self.inside(self.first))
            .or_else(|| self.own_near())
            .or_else(|| self.before())
            .or_else(|| self.inside(self.last))
    }

    /// Whose child it is.
    fn whose_child(&self) -> Option<About> {
        let own = |i: usize| {
            matches!(self.plain.word(i), "my" | "our")
                && i < self.end
                && self.people.infants.contains(self.plain.word(i + 1))
        };
        self.right_before()
            .or_else(|| (self.first..=self.last).any(own).then_some(About::Me))
            .or_else(|| self.own_inside())
            .or_else(|| self.child_of_another())
            .or_else(|| self.own_near())
            .or_else(|| self.before())
    }

    fn child_of_another(&self) -> Option<About> {
        let theirs = |i: usize| {
            matches!(self.plain.word(i), "her" | "his" | "their")
                && i < self.end
                && self.people.infants.contains(self.plain.word(i + 1))
        };
        let person = |i: usize| {
            let word = self.plain.word(i);
            self.people.is_person(word) && !self.people.infants.contains(word)
        };
        (self.start..=self.last)
            .any(|i| theirs(i) || person(i))
            .then_some(About::Other)
    }

    /// Somebody's partner or parent in the finding: "her boyfriend", "the neighbour's husband".
    fn kin_of_another(&self) -> bool {
        (self.first.max(self.start + 1)..=self.last).any(|i| {
            let owner = self.plain.word(i - 1);
            self.people.is_person(self.plain.word(i))
                && (matches!(owner, "her" | "his" | "their")
                    || owner.ends_with('s') && self.people.is_person(owner) && owner.len() > 4)
        })
    }

    /// A subject in the finding, up to a word of it.
    fn inside(&self, until: usize) -> Option<About> {
        (self.first..=self.last.min(until)).find_map(|i| self.subject(i))
    }

    /// The nearest subject before the finding; "the lad I train" is the lad.
    fn before(&self) -> Option<About> {
        (self.start..self.first)
            .rev()
            .find_map(|i| if self.is_aside(i) { None } else { self.subject(i) })
    }

    fn is_aside(&self, index: usize) -> bool {
        self.plain.word(index) == "i"
            && index > self.start
            && self.people.is_person(self.plain.word(index - 1))
    }

    /// The subject right before the finding, with only small words between: "I have always ...".
    fn right_before(&self) -> Option<About> {
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
    fn found_another(&self) -> Option<About> {
        let another = |i: usize| {
            let word = self.plain.word(i);
            matches!(word, "him" | "her" | "them") || self.people.is_person(word)
        };
        (self.people.finds.contains(self.plain.word(self.first))
            && (self.first + 1..=self.last.min(self.first + 3)).any(another))
        .then_some(About::Other)
    }

    /// Somebody in the rest of the sentence, where the person who writes is not in it at all.
    fn after(&self) -> Option<About> {
        if self.own_near().is_some() {
            return None;
        }
        (self.last + 1..=self.end)
            .find_map(|i| self.subject(i))
            .filter(|about| *about == About::Other)
    }

    /// Somebody's own words: "my friend texted I'm going to ...".
    fn quoted(&self) -> Option<About> {
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
            .find(|i| self.people.own.contains(self.plain.word(*i)))
            .filter(speaks)?;
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
    fn own_subject_inside(&self) -> Option<About> {
        let own = |i: usize| {
            self.people.own.contains(self.plain.word(i))
                && !self.is_of_mine(i)
                && !self.is_aside(i)
                && self.is_written_out(i)
        };
        (self.first..=self.last).any(own).then_some(About::Me)
    }

    /// The person in the finding, as subject, as object, or as owner of something that is no person.
    fn own_inside(&self) -> Option<About> {
        (self.first..=self.last)
            .any(|i| self.is_own(i))
            .then_some(About::Me)
    }

    /// The person anywhere in the sentence.
    fn own_near(&self) -> Option<About> {
        (self.start..=self.end)
            .any(|i| self.is_own(i))
            .then_some(About::Me)
    }

    /// Someone else who is hurt in the finding: an object, or a person after the first one.
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
            word => self.people.own.contains(word) && !self.is_of_mine(index) || self.is_me(index),
        }
    }

    /// "A friend of mine" is not the person.
    fn is_of_mine(&self, index: usize) -> bool {
        self.plain.word(index) == "mine" && index > self.start && self.plain.word(index - 1) == "of"
    }

    /// "Me", unless it is only who was told.
    fn is_me(&self, index: usize) -> bool {
        self.plain.word(index) == "me"
            && (index == self.start || !self.people.spoke.contains(self.plain.word(index - 1)))
    }

    /// Whether a word stands in the original as it is here: the "myself" of an abbreviation names nobody.
    fn is_written_out(&self, index: usize) -> bool {
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
    fn owns_person(&self, index: usize) -> bool {
        (index + 1..=self.end.min(index + 3))
            .find(|i| !self.people.between.contains(self.plain.word(*i)))
            .is_some_and(|i| self.people.is_person(self.plain.word(i)))
    }

    fn is_body_of_another(&self, index: usize) -> bool {
        let word = self.plain.word(index);
        self.people.they.contains(word)
            || matches!(word, "them" | "her" | "his" | "their")
            || matches!(word, "baby" | "newborn" | "babys")
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
        if people.own.contains(word) && self.is_written_out(index) {
            return (!self.is_of_mine(index)).then_some(About::Me);
        }
        if people.contracted.contains(word) && !people.before_place.contains(before) {
            return Some(About::Other);
        }
        if people.they.contains(word) {
            return Some(About::Other);
        }
        if people.is_person(word) {
            let first = if before == "my" && index > self.start + 1 {
                self.plain.word(index - 2)
            } else {
                before
            };
            let acts = !people.behind.contains(first) && !self.owns_thing(index);
            return acts.then_some(About::Other);
        }
        if matches!(word, "my" | "me") {
            // "My" belongs to the next word.
            return None;
        }
        self.is_name(index).then_some(About::Other)
    }

    /// Whether a person at a place only owns what follows: "dad's tablets".
    fn owns_thing(&self, index: usize) -> bool {
        self.plain.word(index).ends_with('s')
            && (index + 1..=self.end.min(index + 2)).any(|i| self.people.things.contains(self.plain.word(i)))
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
