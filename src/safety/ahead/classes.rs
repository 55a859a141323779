//! The word lists that patterns are written with, and the words too common to be searched for.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::Fault;
use super::read;

/// The files.
const FILES: [&str; 8] = [
    include_str!("../patterns/classes.toml"),
    include_str!("../patterns/classes-frames.toml"),
    include_str!("../patterns/classes-others.toml"),
    include_str!("../patterns/classes-dying.toml"),
    include_str!("../patterns/classes-everyday.toml"),
    include_str!("../patterns/classes-answers.toml"),
    include_str!("../patterns/classes-told.toml"),
    include_str!("../patterns/forms.toml"),
];

/// What the files of classes say, one of them or all together.
#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
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
    /// Reads the files.
    pub(super) fn new() -> Result<Self, Fault> {
        let mut classes = Self::default();
        for file in FILES {
            let file: Self = read(file)?;
            for (all, more) in [
                (&mut classes.common, &file.common),
                (&mut classes.commonest, &file.commonest),
            ] {
                all.push(' ');
                all.push_str(more);
            }
            add(&mut classes.class, file.class)?;
            add(&mut classes.forms, file.forms)?;
        }
        Ok(classes)
    }
}

/// Adds what a file says to what others said, none of which may have said the same.
fn add<V>(all: &mut BTreeMap<String, V>, more: BTreeMap<String, V>) -> Result<(), Fault> {
    if let Some(name) = more.keys().find(|name| all.contains_key(*name)) {
        return Err(Fault::Twice(name.clone()));
    }
    all.extend(more);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_twice_is_refused() {
        let named = |name: &str| BTreeMap::from([(name.to_owned(), 1)]);
        let mut all = named("want");
        assert_eq!(add(&mut all, named("wish")), Ok(()));
        assert_eq!(add(&mut all, named("want")), Err(Fault::Twice("want".to_owned())));
        assert_eq!(all.len(), 2);
    }
}
