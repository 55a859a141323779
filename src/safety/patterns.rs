//! The book of patterns: the rows of all groups, in a small notation, ready to be searched for.
//!
//! A pattern is looked at only where a word stands that it cannot do without, by the rarest list of such words; and it
//! is compiled when it is first known to match.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use regex::Regex;

use crate::safety::both::both;
use crate::safety::classes::Classes;
use crate::safety::demands::Demands;
use crate::safety::demands::Wanting;
use crate::safety::expression::expression;
use crate::safety::groups;
use crate::safety::groups::Effect;
use crate::safety::groups::Group;
use crate::safety::notation::Fault;
use crate::safety::notation::Reader;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;

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

impl Book {
    /// The book that is looked for sentence by sentence.
    pub(super) fn of_sentences(classes: &Classes) -> Result<Self, BookFault> {
        Self::new(classes, &groups::FILES, &classes.commonest)
    }

    /// The book for sentences read together. Few are worth that, so that in these a common word says next to nothing.
    pub(super) fn of_answers(classes: &Classes) -> Result<Self, BookFault> {
        let commonest = [classes.commonest.as_str(), &classes.common].join(" ");
        Self::new(classes, &groups::FILES_OF_ANSWERS, &commonest)
    }

    fn new(classes: &Classes, files: &[&str], commonest: &str) -> Result<Self, BookFault> {
        let (front, back) = files.split_at(files.len() / 2);
        let (front, back) = both(|| groups::read(front), || groups::read(back));
        let (front, back) = (front.map_err(BookFault::File)?, back.map_err(BookFault::File)?);
        let groups: Vec<Group> = front.into_iter().chain(back).collect();
        let mut reader = Reader::new(classes);
        let mut patterns = Vec::new();
        for (index, group) in groups.iter().enumerate() {
            for row in &group.patterns {
                let read = reader.pattern(row);
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
