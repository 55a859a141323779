//! The words by which people are known in a sentence: data, in `patterns/people.toml`.

use serde::Deserialize;
use serde::Serialize;

use crate::safety::by_word::ByWord;

/// The words that say who is who.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct People {
    /// The person who writes.
    pub own: ByWord<()>,
    /// Someone else, as a subject.
    pub they: ByWord<()>,
    /// "He'll", "she'd" and their like, without apostrophe.
    pub contracted: ByWord<()>,
    /// Words before which those are no contraction.
    pub before_place: ByWord<()>,
    /// Whose a thing is.
    pub theirs: ByWord<()>,
    /// People other than the person who writes.
    pub persons: ByWord<()>,
    /// Words after which a person is no subject.
    pub behind: ByWord<()>,
    /// Words between "my" and a person.
    pub between: ByWord<()>,
    /// Verbs whose "me" was only told.
    pub spoke: ByWord<()>,
    /// Capitals at the front of a sentence that are no names.
    pub openings: ByWord<()>,
    /// Words that follow a name.
    pub verbs: ByWord<()>,
    /// What a person owns.
    pub things: ByWord<()>,
    /// Children too young to be the one it is about.
    pub infants: ByWord<()>,
    /// Words that report what someone said.
    pub quoting: ByWord<()>,
    /// Own words said now.
    pub present: ByWord<()>,
    /// Words after "i" that make it so.
    pub present_after: ByWord<()>,
    /// Words between a subject and what it does.
    pub small: ByWord<()>,
    /// Words with which someone is found.
    pub finds: ByWord<()>,
    /// Words with which it is told that someone is hurt or kept.
    pub suffers: ByWord<()>,
    /// Verbs right after their subject.
    pub acting: ByWord<()>,
    /// Words that lead from those to what is done.
    pub leading: ByWord<()>,
    /// Words with which someone learns or teaches of a thing.
    pub learning: ByWord<()>,
}

impl People {
    /// Whether a word, or its singular, is a person.
    pub(super) fn is_person(&self, word: &str) -> bool {
        let singular = word.strip_suffix('s').filter(|one| one.len() > 2);
        self.persons.contains(word) || singular.is_some_and(|one| self.persons.contains(one))
    }
}

#[cfg(test)]
mod tests {

    #[test]
    fn several_of_a_person_are_persons_too() {
        let people = crate::safety::ahead::people().expect("the shipped lists");
        for (word, person) in [
            ("aunt", true),
            ("aunts", true),
            ("soup", false),
            ("soups", false),
            ("s", false),
        ] {
            assert_eq!(people.is_person(word), person, "{word}");
        }
    }
}
