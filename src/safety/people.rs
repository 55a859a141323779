//! The words by which people are known in a sentence: data, in `patterns/people.toml`, read once.

use std::collections::HashSet;

use serde::Deserialize;

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
    things: String,
    infants: String,
    quoting: String,
    present: String,
    present_after: String,
    small: String,
    finds: String,
    suffers: String,
    acting: String,
    leading: String,
    learning: String,
}

/// The words that say who is who.
#[derive(Debug)]
pub(super) struct People {
    /// The person who writes.
    pub own: HashSet<String>,
    /// Someone else, as a subject.
    pub they: HashSet<String>,
    /// "He'll", "she'd" and their like, without apostrophe.
    pub contracted: HashSet<String>,
    /// Words before which those are no contraction.
    pub before_place: HashSet<String>,
    /// Whose a thing is.
    pub theirs: HashSet<String>,
    /// People other than the person who writes.
    pub persons: HashSet<String>,
    /// Words after which a person is no subject.
    pub behind: HashSet<String>,
    /// Words between "my" and a person.
    pub between: HashSet<String>,
    /// Verbs whose "me" was only told.
    pub spoke: HashSet<String>,
    /// Capitals at the front of a sentence that are no names.
    pub openings: HashSet<String>,
    /// Words that follow a name.
    pub verbs: HashSet<String>,
    /// What a person owns.
    pub things: HashSet<String>,
    /// Children too young to be the one it is about.
    pub infants: HashSet<String>,
    /// Words that report what someone said.
    pub quoting: HashSet<String>,
    /// Own words said now.
    pub present: HashSet<String>,
    /// Words after "i" that make it so.
    pub present_after: HashSet<String>,
    /// Words between a subject and what it does.
    pub small: HashSet<String>,
    /// Words with which someone is found.
    pub finds: HashSet<String>,
    /// Words with which it is told that someone is hurt or kept.
    pub suffers: HashSet<String>,
    /// Verbs right after their subject.
    pub acting: HashSet<String>,
    /// Words that lead from those to what is done.
    pub leading: HashSet<String>,
    /// Words with which someone learns or teaches of a thing.
    pub learning: HashSet<String>,
}

impl People {
    /// Reads the file.
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
            things: words(lists.things),
            infants: words(lists.infants),
            quoting: words(lists.quoting),
            present: words(lists.present),
            present_after: words(lists.present_after),
            small: words(lists.small),
            finds: words(lists.finds),
            suffers: words(lists.suffers),
            acting: words(lists.acting),
            leading: words(lists.leading),
            learning: words(lists.learning),
        })
    }

    /// Whether a word, or its singular, is a person.
    pub(super) fn is_person(&self, word: &str) -> bool {
        let singular = word.strip_suffix('s').filter(|one| one.len() > 2);
        self.persons.contains(word) || singular.is_some_and(|one| self.persons.contains(one))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn several_of_a_person_are_persons_too() {
        let people = People::new().expect("the shipped lists");
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
