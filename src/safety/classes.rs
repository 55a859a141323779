//! The word lists that patterns are written with, and the words too common to be searched for.

use std::collections::BTreeMap;

use crate::safety::glance::sections;

/// The files.
pub(super) const FILES: [&str; 7] = [
    include_str!("patterns/classes.toml"),
    include_str!("patterns/classes-frames.toml"),
    include_str!("patterns/classes-others.toml"),
    include_str!("patterns/classes-dying.toml"),
    include_str!("patterns/classes-everyday.toml"),
    include_str!("patterns/classes-answers.toml"),
    include_str!("patterns/forms.toml"),
];

/// What the files of classes say, all together.
#[derive(Debug, Default)]
pub(super) struct Classes {
    /// Words met often, with a space between.
    pub common: String,
    /// The most often met of all.
    pub commonest: String,
    /// The rows of each named list.
    pub class: BTreeMap<String, Vec<String>>,
    /// The other forms of some words.
    pub forms: BTreeMap<String, String>,
}

impl Classes {
    /// Reads the files; nothing where one of them is not as it must be.
    pub(super) fn read() -> Option<Self> {
        let mut classes = Self::default();
        for file in FILES {
            for section in sections(file)? {
                for (name, said) in section.lines {
                    match (section.name, name) {
                        ("", "common") => classes.common.push_str(&said.text()?),
                        ("", "commonest") => classes.commonest.push_str(&said.text()?),
                        ("class", name) => drop(classes.class.insert(name.to_owned(), said.texts()?)),
                        ("forms", name) => drop(classes.forms.insert(name.to_owned(), said.text()?)),
                        _ => return None,
                    }
                }
            }
        }
        Some(classes)
    }
}
