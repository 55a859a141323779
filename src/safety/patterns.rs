//! The book of patterns: groups of rows in a small notation, each with a meaning, a source and its own examples.
//!
//! A text is first searched for the needles of all patterns at once; only patterns whose needle stands in a sentence
//! are tried on it, and each is compiled when it is first tried.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::sync::OnceLock;

use aho_corasick::AhoCorasick;
use aho_corasick::AhoCorasickKind;
use regex::Regex;
use serde::Deserialize;

use crate::safety::GroupExamples;
use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::expression;
use crate::safety::needles::Needles;
use crate::safety::notation;
use crate::safety::notation::Classes;
use crate::safety::notation::Fault;
use crate::safety::notation::Part;
use crate::safety::sight::Lexicon;

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
#[derive(Clone, Debug, Deserialize)]
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
    #[serde(default = "find")]
    pub effect: Effect,
    /// Whom it is about.
    #[serde(default = "read")]
    pub about: Whose,
    /// Whether it is none where an everyday thing is named beside it. A sign is always doubtful.
    #[serde(default)]
    pub doubtful: bool,
    /// Only for words as heard by a machine.
    #[serde(default)]
    pub spoken: bool,
    /// The patterns, in the notation of [`crate::safety::notation`].
    #[serde(default)]
    pub patterns: Vec<String>,
    /// For a join: the names of the groups of which one must stand near one of the other list. `*` is any suicidal
    /// finding at pause or higher.
    #[serde(default)]
    pub of: Vec<Vec<String>>,
    /// Sentences that it must find.
    #[serde(default, rename = "match")]
    pub finds: Vec<String>,
    /// Sentences that it must leave alone.
    #[serde(default)]
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

fn find() -> Effect {
    Effect::Find
}

fn read() -> Whose {
    Whose::Read
}

#[derive(Default, Deserialize)]
#[serde(default)]
struct ClassFile {
    common: String,
    class: BTreeMap<String, Vec<String>>,
    forms: BTreeMap<String, String>,
}

#[derive(Deserialize)]
struct GroupFile {
    group: Vec<Group>,
}

/// Why the book could not be read; only a fault in the shipped files can cause it, and a test reads them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum BookFault {
    /// A file is no TOML of the right shape.
    File(String),
    /// A row of a group breaks the notation.
    Row(String, Fault),
    /// A row has no word to look for.
    NoNeedle(String),
    /// A join names no two lists, or a group that is no sign.
    Join(String),
}

#[derive(Debug)]
pub(super) struct Pattern {
    pub group: usize,
    // The expression is written out only when the pattern is first known to match; most never are.
    pub parts: Vec<Part>,
    compiled: OnceLock<Option<Regex>>,
}

impl Pattern {
    /// The compiled pattern. Every row is compiled in a test, so that none is missing here.
    pub(super) fn regex(&self) -> Option<&Regex> {
        self.compiled
            .get_or_init(|| Regex::new(&expression::expression(&self.parts)).ok())
            .as_ref()
    }
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
    pub lexicon: Lexicon,
    needles: AhoCorasick,
    whole: Vec<bool>,
    wanted: Vec<Vec<u32>>,
}

const CLASS_FILES: [&str; 6] = [
    include_str!("patterns/classes.toml"),
    include_str!("patterns/classes-frames.toml"),
    include_str!("patterns/classes-others.toml"),
    include_str!("patterns/classes-dying.toml"),
    include_str!("patterns/classes-everyday.toml"),
    include_str!("patterns/forms.toml"),
];

const FILES: [&str; 40] = [
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
    include_str!("patterns/turns.toml"),
    include_str!("patterns/scenes.toml"),
    include_str!("patterns/violence-told.toml"),
    include_str!("patterns/everyday.toml"),
    include_str!("patterns/spoken.toml"),
];

impl Book {
    pub(super) fn new() -> Result<Self, BookFault> {
        let mut classes = ClassFile::default();
        for file in CLASS_FILES {
            let file: ClassFile = toml::from_str(file).map_err(|e| BookFault::File(e.to_string()))?;
            classes.common.push_str(&file.common);
            classes.class.extend(file.class);
            classes.forms.extend(file.forms);
        }
        let common: BTreeSet<&str> = classes.common.split_whitespace().collect();
        let named = Classes::new(classes.class, classes.forms);
        let mut groups = Vec::new();
        for file in FILES {
            let file: GroupFile = toml::from_str(file).map_err(|e| BookFault::File(e.to_string()))?;
            groups.extend(file.group);
        }
        let mut patterns = Vec::new();
        let mut needles = Needles::default();
        let mut by_needle: BTreeMap<String, Vec<u32>> = BTreeMap::new();
        for (index, group) in groups.iter().enumerate() {
            for row in &group.patterns {
                let parts =
                    notation::parse(row, &named).map_err(|fault| BookFault::Row(row.clone(), fault))?;
                let words = needles.of(&parts, &|word| common.contains(word));
                if words.is_empty() {
                    return Err(BookFault::NoNeedle(row.clone()));
                }
                let id = u32::try_from(patterns.len()).unwrap_or(u32::MAX);
                for word in words.iter() {
                    if let Some(wanted) = by_needle.get_mut(word) {
                        wanted.push(id);
                    } else {
                        by_needle.insert(word.clone(), vec![id]);
                    }
                }
                patterns.push(Pattern {
                    group: index,
                    parts,
                    compiled: OnceLock::new(),
                });
            }
        }
        let joins = joins(&groups)?;
        let whole = by_needle.keys().map(|needle| !needle.ends_with('*')).collect();
        let needles = AhoCorasick::builder()
            .kind(Some(AhoCorasickKind::ContiguousNFA))
            .build(
                by_needle
                    .keys()
                    .map(|needle| format!(" {}", needle.trim_end_matches('*'))),
            )
            .map_err(|e| BookFault::File(e.to_string()))?;
        Ok(Self {
            groups,
            joins,
            patterns,
            lexicon: named.into_lexicon(),
            needles,
            whole,
            wanted: by_needle.into_values().collect(),
        })
    }

    /// The expressions that do not compile.
    pub(super) fn uncompiled(&self) -> Vec<String> {
        self.patterns
            .iter()
            .filter(|p| p.regex().is_none())
            .map(|p| expression::expression(&p.parts))
            .collect()
    }

    /// The places where needles stand in a plain text, with the patterns that want them, in order of the place.
    pub(super) fn hits<'a>(&'a self, text: &'a str) -> impl Iterator<Item = (usize, &'a [u32])> {
        self.needles.find_overlapping_iter(text).filter_map(|hit| {
            let id = hit.pattern().as_usize();
            let ends = text
                .as_bytes()
                .get(hit.end())
                .is_none_or(|b| *b == b' ' || *b == b'\n');
            (ends || !self.whole[id]).then(|| (hit.start(), self.wanted[id].as_slice()))
        })
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
