//! The word lists that patterns are written with, and the words too common to be searched for.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::Fault;
use super::read;

/// The files.
const FILES: [&str; 7] = [
    include_str!("../patterns/classes.toml"),
    include_str!("../patterns/classes-frames.toml"),
    include_str!("../patterns/classes-others.toml"),
    include_str!("../patterns/classes-dying.toml"),
    include_str!("../patterns/classes-everyday.toml"),
    include_str!("../patterns/classes-answers.toml"),
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
            classes.common.push_str(&file.common);
            classes.commonest.push_str(&file.commonest);
            classes.class.extend(file.class);
            classes.forms.extend(file.forms);
        }
        Ok(classes)
    }
}
