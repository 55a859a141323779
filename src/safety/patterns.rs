//! The book of patterns: groups of rows in a small notation, each with a meaning, a source and its own examples.
//!
//! A pattern is looked at only where a word stands that it cannot do without, by the rarest list of such words; and it
//! is compiled when it is first known to match.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use regex::Regex;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde::de::IntoDeserializer;
use serde::de::value::StrDeserializer;

use crate::safety::GroupExamples;
use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::both::both;
use crate::safety::classes::Classes;
use crate::safety::demands::Demands;
use crate::safety::demands::Wanting;
use crate::safety::expression::expression;
use crate::safety::glance::Section;
use crate::safety::glance::sections;
use crate::safety::notation::Fault;
use crate::safety::notation::Reader;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;

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
    /// What overlaps it is a manner of speaking and no finding.
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

/// Why the book could not be read; only a fault in the shipped files can cause it, and a test reads them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum BookFault {
    /// A file is not of the right shape; how it begins, or what is wrong with it.
    File(String),
    /// A row of a group breaks the notation.
    Row(String, Fault),
    /// A row demands no word by which it could be found.
    NoDemand(String),
    /// A join names no two lists, or a group that is no sign.
    Join(String),
}

#[derive(Debug)]
pub(super) struct Pattern {
    pub group: usize,
    pub spoken: bool,
    pub row: Span,
    demands: Span,
    // The expression is written out only when the pattern is first known to match; most never are.
    compiled: OnceLock<Option<Regex>>,
}

/// A finding that two signs make together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Join {
    /// The group's place in the book.
    pub group: usize,
    /// Its two sides.
    pub sides: [Side; 2],
}

/// What can stand on one side of a join.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Side {
    /// The places of the groups of signs.
    pub signs: BTreeSet<usize>,
    /// Whether any suicidal finding will do.
    pub any: bool,
}

/// All patterns, ready to be searched for.
#[derive(Debug)]
pub(super) struct Book {
    pub groups: Vec<Group>,
    pub joins: Vec<Join>,
    pub patterns: Vec<Pattern>,
    pub parts: Parts,
    pub wanting: Wanting,
    demands: Vec<Part>,
}

/// What is looked for sentence by sentence.
pub(super) const FILES: [&str; 41] = [
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
    include_str!("patterns/past.toml"),
    include_str!("patterns/told.toml"),
    include_str!("patterns/manners.toml"),
    include_str!("patterns/idioms.toml"),
    include_str!("patterns/ordinary.toml"),
    include_str!("patterns/passing.toml"),
    include_str!("patterns/turns.toml"),
    include_str!("patterns/scenes.toml"),
    include_str!("patterns/violence-told.toml"),
    include_str!("patterns/everyday.toml"),
    include_str!("patterns/spoken.toml"),
];

/// What is looked for in sentences read together.
pub(super) const FILES_OF_ANSWERS: [&str; 1] = [include_str!("patterns/answers.toml")];

fn read_groups(files: &[&str]) -> Result<Vec<Group>, BookFault> {
    let mut groups = Vec::new();
    for file in files {
        let fault = |what: &str| BookFault::File(what.chars().take(80).collect());
        // Before the first heading stands nothing.
        for section in sections(file).ok_or_else(|| fault(file))?.into_iter().skip(1) {
            groups.push(group(section).ok_or_else(|| fault(file))?);
        }
    }
    Ok(groups)
}

impl Book {
    /// The book that is looked for sentence by sentence.
    pub(super) fn of_sentences(classes: &Classes) -> Result<Self, BookFault> {
        Self::new(classes, &FILES, &classes.commonest)
    }

    /// The book for sentences read together. Few are worth that, so that in these a common word says next to nothing.
    pub(super) fn of_answers(classes: &Classes) -> Result<Self, BookFault> {
        let commonest = [classes.commonest.as_str(), &classes.common].join(" ");
        Self::new(classes, &FILES_OF_ANSWERS, &commonest)
    }

    fn new(classes: &Classes, files: &[&str], commonest: &str) -> Result<Self, BookFault> {
        let (front, back) = files.split_at(files.len() / 2);
        let (front, back) = both(|| read_groups(front), || read_groups(back));
        let groups = front?.into_iter().chain(back?).collect::<Vec<_>>();
        let mut reader = Reader::new(classes);
        let mut patterns = Vec::new();
        for (index, group) in groups.iter().enumerate() {
            for row in &group.patterns {
                let read = reader.row(row);
                patterns.push(Pattern {
                    group: index,
                    spoken: group.spoken,
                    row: read.map_err(|fault| BookFault::Row(row.clone(), fault))?,
                    demands: Span::default(),
                    compiled: OnceLock::new(),
                });
            }
        }
        let parts = reader.into_parts();
        let mut book = Self {
            joins: joins(&groups)?,
            groups,
            patterns,
            parts,
            demands: Vec::new(),
            wanting: Wanting::default(),
        };
        book.find_demands(&classes.common, commonest)?;
        Ok(book)
    }

    fn find_demands(&mut self, common: &str, commonest: &str) -> Result<(), BookFault> {
        let demands = Demands::new(&self.parts, common, commonest);
        self.wanting = demands.wanting();
        for (id, pattern) in (0..).zip(&mut self.patterns) {
            let all = demands.of(pattern.row);
            let Some((rarest, others)) = all.split_first() else {
                return Err(BookFault::NoDemand(expression(pattern.row, &self.parts)));
            };
            self.wanting.add_pattern(id, *rarest, &demands);
            let from = self.demands.len();
            self.demands.extend_from_slice(others);
            pattern.demands = Span::new(from..self.demands.len());
        }
        Ok(())
    }

    /// What a pattern demands beside what it is wanted by, the rarest first.
    pub(super) fn demands(&self, pattern: &Pattern) -> &[Part] {
        pattern.demands.of(&self.demands)
    }

    /// Whether some pattern of such an effect is looked for by one of some words and stems.
    pub(super) fn wants_for(&self, numbers: &[u32], effect: impl Fn(Effect) -> bool) -> bool {
        let of_effect = |id: &u32| effect(self.groups[self.patterns[*id as usize].group].effect);
        numbers
            .iter()
            .any(|number| self.wanting.patterns(*number).iter().any(of_effect))
    }

    /// The compiled pattern. Every row is compiled in a test, so that none is missing here.
    pub(super) fn regex<'a>(&self, pattern: &'a Pattern) -> Option<&'a Regex> {
        pattern
            .compiled
            .get_or_init(|| Regex::new(&expression(pattern.row, &self.parts)).ok())
            .as_ref()
    }

    /// The expressions that do not compile.
    pub(super) fn uncompiled(&self) -> Vec<String> {
        self.patterns
            .iter()
            .filter(|pattern| self.regex(pattern).is_none())
            .map(|pattern| expression(pattern.row, &self.parts))
            .collect()
    }
}

fn joins(groups: &[Group]) -> Result<Vec<Join>, BookFault> {
    let side = |names: &Vec<String>| {
        let mut side = Side::default();
        for name in names {
            if name == "*" {
                side.any = true;
                continue;
            }
            let place = groups
                .iter()
                .position(|group| group.name == *name && group.effect == Effect::Sign)
                .ok_or_else(|| BookFault::Join(name.clone()))?;
            side.signs.insert(place);
        }
        Ok(side)
    };
    groups
        .iter()
        .enumerate()
        .filter(|(_, group)| group.effect == Effect::Join)
        .map(|(index, group)| match group.of.as_slice() {
            [one, other] => Ok(Join {
                group: index,
                sides: [side(one)?, side(other)?],
            }),
            _ => Err(BookFault::Join(group.name.clone())),
        })
        .collect()
}
