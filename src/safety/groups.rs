//! Groups of patterns, as their files say them: each with a meaning, a source and its own examples.

use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde::de::IntoDeserializer;
use serde::de::value::StrDeserializer;

use crate::safety::GroupExamples;
use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::glance::Section;
use crate::safety::glance::sections;

/// What a match of a group does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Effect {
    /// It is a finding.
    Find,
    /// It lifts suicidal findings in the same text to stop: means at hand.
    Raise,
    /// It is a finding, and no form that lowers holds where it stands: a denial that is none.
    Uphold,
    /// What it reaches to the end of is a manner of speaking and no finding.
    Clear,
    /// What overlaps it is lowered to the quiet line: an understood denial, a bereavement, a far past.
    Quieten,
    /// What overlaps it is lowered to pause at most: an attempt or act of some time ago.
    Soften,
    /// It says nothing alone, and is a part of what a group with the effect `Join` puts together.
    Sign,
    /// It has no rows of its own: it is a finding where two signs stand near each other.
    Join,
    /// A doubtful finding near it in the sentence is about everyday things, and none.
    Ease,
}

impl Effect {
    /// Whether a match says how others are to be read, and finds nothing by itself or more than that.
    pub(super) fn is_form(self) -> bool {
        matches!(self, Self::Clear | Self::Quieten | Self::Soften | Self::Uphold)
    }

    /// Whether a match is a finding that forms of context lower or clear.
    pub(super) fn is_lowered(self) -> bool {
        matches!(self, Self::Find | Self::Raise | Self::Sign)
    }
}

/// Who a finding of the group is about, when the text does not say otherwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Whose {
    /// Always the person themselves.
    #[serde(rename = "self")]
    Me,
    /// Always someone else.
    Other,
    /// To be read from the sentence.
    Read,
}

/// A group of patterns with one meaning.
#[derive(Clone, Debug)]
pub(super) struct Group {
    /// Its name, as findings give it.
    pub name: String,
    /// What it stands for, in a sentence.
    pub meaning: String,
    /// Where the group comes from, or `common practice`.
    pub source: String,
    /// What its findings are about.
    pub topic: Topic,
    /// The message it calls for before context is weighed.
    pub level: Level,
    /// What a match does.
    pub effect: Effect,
    /// Whom it is about.
    pub about: Whose,
    /// Whether it is none where an everyday thing is named beside it. A sign is always doubtful.
    pub doubtful: bool,
    /// Whether it speaks of others, of things or of stories, and lowers nothing that the person who writes says of
    /// themselves.
    pub told: bool,
    /// Only for words as heard by a machine.
    pub spoken: bool,
    /// The patterns, in the notation of [`crate::safety::notation`].
    pub patterns: Vec<String>,
    /// For a join: the names of the groups of which one must stand near one of the other list. `*` is any suicidal
    /// finding at pause or higher.
    pub of: Vec<Vec<String>>,
    /// Sentences that it must find.
    pub finds: Vec<String>,
    /// Sentences that it must leave alone.
    pub ignore: Vec<String>,
}

impl Group {
    /// The group as a reader or a test sees it.
    pub(super) fn examples(&self) -> GroupExamples {
        GroupExamples {
            name: self.name.clone(),
            meaning: self.meaning.clone(),
            source: self.source.clone(),
            effect: match self.effect {
                Effect::Find | Effect::Join => "find",
                Effect::Uphold => "uphold",
                Effect::Raise => "raise",
                Effect::Clear => "clear",
                Effect::Quieten => "quieten",
                Effect::Soften => "soften",
                Effect::Sign => "sign",
                Effect::Ease => "ease",
            },
            level: self.level,
            spoken: self.spoken,
            finds: self.finds.clone(),
            ignore: self.ignore.clone(),
        }
    }
}

/// A group as its file says it; nothing where a line is missing, unknown, or not what it should be.
fn group(section: Section) -> Option<Group> {
    let mut group = Group {
        name: String::new(),
        meaning: String::new(),
        source: String::new(),
        topic: Topic::Suicide,
        level: Level::None,
        effect: Effect::Find,
        about: Whose::Read,
        doubtful: false,
        told: false,
        spoken: false,
        patterns: Vec::new(),
        of: Vec::new(),
        finds: Vec::new(),
        ignore: Vec::new(),
    };
    let (mut topic, mut level) = (None, None);
    for (name, said) in section.lines {
        match name {
            "name" => group.name = said.text()?,
            "meaning" => group.meaning = said.text()?,
            "source" => group.source = said.text()?,
            "topic" => topic = Some(named(&said.text()?)?),
            "level" => level = Some(named(&said.text()?)?),
            "effect" => group.effect = named(&said.text()?)?,
            "about" => group.about = named(&said.text()?)?,
            "doubtful" => group.doubtful = said.yes()?,
            "told" => group.told = said.yes()?,
            "spoken" => group.spoken = said.yes()?,
            "patterns" => group.patterns = said.texts()?,
            "of" => group.of = said.lists()?,
            "match" => group.finds = said.texts()?,
            "ignore" => group.ignore = said.texts()?,
            _ => return None,
        }
    }
    let told = [&group.name, &group.meaning, &group.source];
    (section.name == "group" && told.iter().all(|told| !told.is_empty())).then_some(())?;
    (group.topic, group.level) = (topic?, level?);
    Some(group)
}

/// One of some choices, by its name.
pub(super) fn named<T: DeserializeOwned>(name: &str) -> Option<T> {
    let name: StrDeserializer<'_, serde::de::value::Error> = name.into_deserializer();
    T::deserialize(name).ok()
}

/// What is looked for sentence by sentence.
pub(super) const FILES: [&str; 44] = [
    include_str!("patterns/under-way.toml"),
    include_str!("patterns/taken.toml"),
    include_str!("patterns/suicide.toml"),
    include_str!("patterns/endings.toml"),
    include_str!("patterns/means-and-places.toml"),
    include_str!("patterns/plans.toml"),
    include_str!("patterns/frames.toml"),
    include_str!("patterns/wish-to-be-dead.toml"),
    include_str!("patterns/wish-to-die.toml"),
    include_str!("patterns/no-life.toml"),
    include_str!("patterns/wish-frames.toml"),
    include_str!("patterns/bare.toml"),
    include_str!("patterns/plain.toml"),
    include_str!("patterns/plain-urgent.toml"),
    include_str!("patterns/signs.toml"),
    include_str!("patterns/signs-of-means.toml"),
    include_str!("patterns/joins.toml"),
    include_str!("patterns/injury.toml"),
    include_str!("patterns/injuries.toml"),
    include_str!("patterns/dealings.toml"),
    include_str!("patterns/states.toml"),
    include_str!("patterns/others.toml"),
    include_str!("patterns/body.toml"),
    include_str!("patterns/context.toml"),
    include_str!("patterns/violence.toml"),
    include_str!("patterns/menace.toml"),
    include_str!("patterns/bodies.toml"),
    include_str!("patterns/senses.toml"),
    include_str!("patterns/urgent.toml"),
    include_str!("patterns/heavy.toml"),
    include_str!("patterns/said-plainly.toml"),
    include_str!("patterns/few-words.toml"),
    include_str!("patterns/past.toml"),
    include_str!("patterns/told.toml"),
    include_str!("patterns/manners.toml"),
    include_str!("patterns/idioms.toml"),
    include_str!("patterns/ordinary.toml"),
    include_str!("patterns/passing.toml"),
    include_str!("patterns/turns.toml"),
    include_str!("patterns/scenes.toml"),
    include_str!("patterns/upheld.toml"),
    include_str!("patterns/violence-told.toml"),
    include_str!("patterns/everyday.toml"),
    include_str!("patterns/spoken.toml"),
];

/// What is looked for in sentences read together.
pub(super) const FILES_OF_ANSWERS: [&str; 1] = [include_str!("patterns/answers.toml")];

/// The groups in some files, or how a file begins in which one is not as it must be.
pub(super) fn read(files: &[&str]) -> Result<Vec<Group>, String> {
    let mut groups = Vec::new();
    for file in files {
        let fault = || file.chars().take(80).collect::<String>();
        // Before the first heading stands nothing.
        for section in sections(file).ok_or_else(fault)?.into_iter().skip(1) {
            groups.push(group(section).ok_or_else(fault)?);
        }
    }
    Ok(groups)
}
