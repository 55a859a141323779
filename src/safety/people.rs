//! The words by which people are known in a sentence: data, in `patterns/people.toml`.

use serde::Deserialize;
use serde::Serialize;

use crate::safety::word_list::WordList;

/// The words that say who is who.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct People {
    /// The person who writes.
    pub own: WordList,
    /// Someone else, as a subject.
    pub they: WordList,
    /// "He'll", "she'd" and their like, without apostrophe.
    pub contracted: WordList,
    /// Words before which those are no contraction.
    pub before_place: WordList,
    /// Whose a thing is.
    pub theirs: WordList,
    /// People other than the person who writes.
    pub persons: WordList,
    /// Words after which a person is no subject.
    pub behind: WordList,
    /// Words between "my" and a person.
    pub between: WordList,
    /// Verbs whose "me" was only told.
    pub spoke: WordList,
    /// Capitals at the front of a sentence that are no names.
    pub openings: WordList,
    /// Words that follow a name.
    pub verbs: WordList,
    /// What a person owns.
    pub things: WordList,
    /// Children too young to be the one it is about.
    pub infants: WordList,
    /// Words that report what someone said.
    pub quoting: WordList,
    /// Own words said now.
    pub present: WordList,
    /// Words after "i" that make it so.
    pub present_after: WordList,
    /// Words between a subject and what it does.
    pub small: WordList,
    /// Words with which someone is found.
    pub finds: WordList,
    /// Words with which it is told that someone is hurt or kept.
    pub suffers: WordList,
    /// Verbs right after their subject.
    pub acting: WordList,
    /// Words that lead from those to what is done.
    pub leading: WordList,
    /// Words with which someone learns or teaches of a thing.
    pub learning: WordList,
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
