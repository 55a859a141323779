//! Whom a finding is about: the words of the finding first, then the nearest subject before it. The words by which
//! people are known are in [`super::people`].

use crate::safety::About;
use crate::safety::Topic;
use crate::safety::reading::Reading;

/// How far before a finding the subject may stand of a verb that leads to it, in words.
const LEADING: usize = 5;

impl Reading<'_> {
    /// Whether it is said in so many words that someone else does or wants it ("my cousin wants to", "she'll"), or is found at it
    /// or saved from it ("I cut him down"): someone is the subject, before the finding or at its front, of a verb that leads to it, with no word of the person who writes
    /// between that and its end. Of a child, that it is "his" or "her" child.
    pub(super) fn is_outright_of_another(&self, topic: Topic) -> bool {
        match topic {
            Topic::Suicide | Topic::SelfInjury | Topic::Overdose | Topic::HarmToOthers => self.another_acts(),
            Topic::Perinatal => self.names_a_child_of_another(),
            _ => false,
        }
    }

    fn another_acts(&self) -> bool {
        if self.found_another().is_some() {
            return true;
        }
        let from = self.start.max(self.first.saturating_sub(LEADING));
        (from..=self.last.min(self.first + 1)).any(|at| {
            let word = self.plain.word(at);
            let contracted = matches!(word, "hes" | "shes") || self.people.contracted.contains(word);
            let verb = contracted || at < self.end && self.people.acting.contains(self.plain.word(at + 1));
            let leads = |i: usize| {
                self.people.leading.contains(self.plain.word(i))
                    || self.people.acting.contains(self.plain.word(i))
            };
            verb && self.subject(at) == Some(About::Other)
                && (at + 1..self.first).all(leads)
                && !(at + 1..=self.last).any(|i| self.is_own(i) && self.is_written_out(i))
        })
    }

    /// Whom the words are about. What counts depends on the topic: who is hurt where someone hurts, who would act where harm
    /// is meant, whose body or senses they are elsewhere.
    pub(super) fn about(&self, topic: Topic) -> About {
        if self.any(|i| self.plain.word(i) == "myself" && self.is_written_out(i)) {
            return About::Me;
        }
        let theirs = ["himself", "herself", "themselves", "themself", "hisself"];
        if self.any(|i| theirs.contains(&self.plain.word(i))) {
            return About::Other;
        }
        match topic {
            Topic::Abuse => self.who_is_hurt(),
            Topic::HarmToOthers => self.who_would_act(),
            Topic::Psychosis => self.whose_senses(),
            Topic::Perinatal => self.whose_child(),
            Topic::Medical => self.whose_body(),
            Topic::Eating => self
                .right_before()
                .or_else(|| self.inside(self.first + 1))
                .or_else(|| self.before())
                .or_else(|| self.own_inside())
                .or_else(|| self.after()),
            _ => self.whose_wish(),
        }
        .unwrap_or(About::Me)
    }

    /// Whose wish or act it is. A subject near the front of the finding is its own; one further in may be an aside.
    fn whose_wish(&self) -> Option<About> {
        if self.wakes_another() || self.they_first() {
            return Some(About::Other);
        }
        self.found_another()
            .or_else(|| self.quoted())
            .or_else(|| self.any(|i| self.is_me(i)).then_some(About::Me))
            .or_else(|| self.own_subject_inside())
            .or_else(|| self.right_before())
            .or_else(|| self.inside(self.first + 3))
            .or_else(|| self.before())
            .or_else(|| self.inside(self.last))
            .or_else(|| self.theirs())
            .or_else(|| self.after())
    }

    /// Somebody whom one finds, or cannot wake or reach.
    fn wakes_another(&self) -> bool {
        (self.start + 1..=self.end).any(|i| {
            matches!(self.plain.word(i), "him" | "her" | "them")
                && matches!(self.plain.word(i - 1), "wake" | "find" | "found" | "reach")
        })
    }

    /// "He" or "she" as the first word of the finding.
    fn they_first(&self) -> bool {
        matches!(self.plain.word(self.first), "he" | "she" | "hes" | "shes") && !self.any(|i| self.is_me(i))
    }

    /// Whose body it is.
    fn whose_body(&self) -> Option<About> {
        let other = |i: usize| {
            matches!(
                self.plain.word(i),
                "he" | "she" | "hes" | "shes" | "him" | "her" | "his"
            )
        };
        if self.wakes_another() {
            return Some(About::Other);
        }
        let own = self.right_before() == Some(About::Me) || self.own_subject_inside().is_some();
        if own && !self.any(other) {
            return Some(About::Me);
        }
        let body = (self.start..=self.last).any(|i| self.is_body_of_another(i) || self.is_name(i));
        body.then_some(About::Other)
            .or_else(|| self.own_inside())
            .or_else(|| self.after())
    }

    /// Who is hurt, not who hurts. Without a word of who is hurt, it is the person who writes.
    fn who_is_hurt(&self) -> Option<About> {
        if self.any(|i| self.plain.word(i) == "us" || self.is_me(i)) {
            return Some(About::Me);
        }
        if self.kin_of_another() {
            return Some(About::Other);
        }
        let me_before = self.right_before().filter(|about| *about == About::Me);
        self.own_inside()
            .or(me_before)
            .or_else(|| self.suffers())
            .or_else(|| self.hurt())
    }

    /// Somebody of whom it is told that they are hurt or kept.
    fn suffers(&self) -> Option<About> {
        let first = self.plain.word(self.first);
        if self.people.is_person(first) {
            let marks = |i: usize| {
                matches!(
                    self.plain.word(i),
                    "bruises" | "bruise" | "marks" | "burns" | "lip" | "gets"
                )
            };
            return self.any(marks).then_some(About::Other);
        }
        self.people
            .suffers
            .contains(first)
            .then(|| self.before())
            .flatten()
    }

    /// Who would act. A voice that commands is its hearer's own.
    fn who_would_act(&self) -> Option<About> {
        let before_to = |i: usize| i < self.end && matches!(self.plain.word(i + 1), "to" | "i");
        if (self.start..=self.last).any(|i| self.plain.word(i) == "me" && before_to(i)) {
            return Some(About::Me);
        }
        let in_my_head = |i: usize| {
            self.plain.word(i) == "my"
                && i < self.end
                && matches!(
                    self.plain.word(i + 1),
                    "head" | "ear" | "ears" | "skull" | "brain" | "voices"
                )
        };
        if self.any(in_my_head) {
            return Some(About::Me);
        }
        let ordered = |i: usize| {
            let word = self.plain.word(i);
            (matches!(word, "him" | "her" | "them") || self.people.is_person(word))
                && i > self.first
                && i < self.end
                && self.plain.word(i + 1) == "to"
        };
        if self.any(ordered) {
            return Some(About::Other);
        }
        self.own_subject_inside()
            .or_else(|| self.right_before())
            .or_else(|| self.before())
            .or_else(|| self.inside(self.first + 1))
    }

    /// Whose senses they are, whatever is seen, heard or believed.
    fn whose_senses(&self) -> Option<About> {
        let other = |i: usize| {
            let word = self.plain.word(i);
            matches!(word, "he" | "she" | "hes" | "shes" | "him" | "her" | "his")
                || self.people.is_person(word) && i > self.start && self.plain.word(i - 1) == "my"
        };
        let watchers = self.first > self.start && self.plain.word(self.first - 1).starts_with("they");
        self.own_inside()
            .or_else(|| if watchers { None } else { self.right_before() })
            .or_else(|| self.any(other).then_some(About::Other))
            .or_else(|| if watchers { None } else { self.inside(self.first) })
            .or_else(|| self.own_near())
            .or_else(|| self.before())
            .or_else(|| self.inside(self.last))
    }

    /// Whose child it is.
    fn whose_child(&self) -> Option<About> {
        let own_child = |i: usize| {
            matches!(self.plain.word(i), "my" | "our")
                && i < self.end
                && self.people.infants.contains(self.plain.word(i + 1))
        };
        self.own_subject_inside()
            .or_else(|| self.any(|i| self.is_me(i)).then_some(About::Me))
            .or_else(|| self.right_before())
            .or_else(|| self.before())
            .or_else(|| self.any(own_child).then_some(About::Me))
            .or_else(|| self.child_of_another())
            .or_else(|| self.own_inside())
            .or_else(|| self.own_near())
    }
}
