//! Reads the files of groups.

use serde::Deserialize;

use super::Fault;
use super::read;
use crate::safety::groups::Effect;
use crate::safety::groups::Examples;
use crate::safety::groups::Group;
use crate::safety::groups::Whose;
use crate::safety::level::Level;
use crate::safety::level::Topic;

/// What is looked for sentence by sentence.
pub(super) const FILES: [&str; 50] = [
    include_str!("../patterns/under-way.toml"),
    include_str!("../patterns/taken.toml"),
    include_str!("../patterns/suicide.toml"),
    include_str!("../patterns/endings.toml"),
    include_str!("../patterns/means-and-places.toml"),
    include_str!("../patterns/plans.toml"),
    include_str!("../patterns/frames.toml"),
    include_str!("../patterns/wish-to-be-dead.toml"),
    include_str!("../patterns/wish-to-die.toml"),
    include_str!("../patterns/no-life.toml"),
    include_str!("../patterns/wish-frames.toml"),
    include_str!("../patterns/bare.toml"),
    include_str!("../patterns/plain.toml"),
    include_str!("../patterns/plain-urgent.toml"),
    include_str!("../patterns/signs.toml"),
    include_str!("../patterns/signs-of-means.toml"),
    include_str!("../patterns/joins.toml"),
    include_str!("../patterns/injury.toml"),
    include_str!("../patterns/injuries.toml"),
    include_str!("../patterns/dealings.toml"),
    include_str!("../patterns/states.toml"),
    include_str!("../patterns/others.toml"),
    include_str!("../patterns/body.toml"),
    include_str!("../patterns/denials.toml"),
    include_str!("../patterns/no-denials.toml"),
    include_str!("../patterns/context.toml"),
    include_str!("../patterns/violence.toml"),
    include_str!("../patterns/menace.toml"),
    include_str!("../patterns/bodies.toml"),
    include_str!("../patterns/senses.toml"),
    include_str!("../patterns/urgent.toml"),
    include_str!("../patterns/heavy.toml"),
    include_str!("../patterns/said-plainly.toml"),
    include_str!("../patterns/few-words.toml"),
    include_str!("../patterns/jotted.toml"),
    include_str!("../patterns/jotted-bodies.toml"),
    include_str!("../patterns/jotted-others.toml"),
    include_str!("../patterns/other-tongues.toml"),
    include_str!("../patterns/past.toml"),
    include_str!("../patterns/told.toml"),
    include_str!("../patterns/manners.toml"),
    include_str!("../patterns/idioms.toml"),
    include_str!("../patterns/ordinary.toml"),
    include_str!("../patterns/passing.toml"),
    include_str!("../patterns/turns.toml"),
    include_str!("../patterns/scenes.toml"),
    include_str!("../patterns/upheld.toml"),
    include_str!("../patterns/violence-told.toml"),
    include_str!("../patterns/everyday.toml"),
    include_str!("../patterns/spoken.toml"),
];

/// What is looked for in sentences read together.
pub(super) const FILES_OF_ANSWERS: [&str; 1] = [include_str!("../patterns/answers.toml")];

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    group: Vec<InFile>,
}

/// A group as its file says it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct InFile {
    name: String,
    meaning: String,
    source: String,
    topic: Topic,
    level: Level,
    #[serde(default = "find")]
    effect: Effect,
    #[serde(default = "to_be_read")]
    about: Whose,
    #[serde(default)]
    doubtful: bool,
    #[serde(default)]
    told: bool,
    #[serde(default)]
    spoken: bool,
    /// The patterns, in the notation of [`super::notation`].
    #[serde(default)]
    pub patterns: Vec<String>,
    /// For a join: the names of the groups of which one must stand near one of the other list. `*` is any suicidal
    /// finding at pause or higher.
    #[serde(default)]
    pub of: Vec<Vec<String>>,
    #[serde(default, rename = "match")]
    finds: Vec<String>,
    #[serde(default)]
    ignore: Vec<String>,
}

fn find() -> Effect {
    Effect::Find
}

fn to_be_read() -> Whose {
    Whose::Read
}

impl InFile {
    /// What the screen needs of it.
    pub(super) fn group(&self) -> Group {
        Group {
            name: self.name.clone(),
            topic: self.topic,
            level: self.level,
            effect: self.effect,
            about: self.about,
            doubtful: self.doubtful,
            told: self.told,
            spoken: self.spoken,
        }
    }

    /// What readers and tests see beside that.
    pub(super) fn examples(self) -> Examples {
        Examples {
            meaning: self.meaning,
            source: self.source,
            finds: self.finds,
            ignore: self.ignore,
        }
    }
}

/// The groups in some files.
pub(super) fn groups(files: &[&str]) -> Result<Vec<InFile>, Fault> {
    let mut groups = Vec::new();
    for file in files {
        let file: File = read(file)?;
        groups.extend(file.group);
    }
    let told = |group: &InFile| {
        ![&group.name, &group.meaning, &group.source]
            .iter()
            .any(|told| told.is_empty())
    };
    match groups.iter().find(|group| !told(group)) {
        Some(group) => Err(Fault::Untold(group.name.clone())),
        None => Ok(groups),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAIN: &str =
        "[[group]]\nname = \"a\"\nmeaning = \"b\"\nsource = \"c\"\ntopic = \"suicide\"\nlevel = \"stop\"\n";

    #[test]
    fn a_group_that_is_not_as_it_must_be_is_refused() {
        assert!(groups(&[PLAIN]).is_ok());
        for (from, to) in [
            ("source", "sources"),
            ("\"stop\"", "\"halt\""),
            ("topic = \"suicide\"\n", ""),
            ("\"suicide\"", "7"),
        ] {
            let other = PLAIN.replace(from, to);
            assert!(
                matches!(groups(&[&other]).map(drop), Err(Fault::File(..))),
                "{other}"
            );
        }
        let untold = PLAIN.replace("\"b\"", "\"\"");
        assert_eq!(groups(&[&untold]).map(drop), Err(Fault::Untold("a".to_owned())));
    }
}
