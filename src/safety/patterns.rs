//! The patterns of all groups, as they are worked out from their files when the program is built (`ahead/`).
//!
//! A pattern is looked at only where a word stands that it cannot do without, by the rarest list of such words.

use std::collections::BTreeSet;

use serde::Deserialize;
use serde::Serialize;

use crate::safety::groups::Effect;
use crate::safety::groups::Group;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;
use crate::safety::wanting::Wanting;

/// A pattern: a row of a group.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Pattern {
    /// The group's place among the groups.
    pub group: usize,
    /// Whether it is for words as heard by a machine alone.
    pub spoken: bool,
    /// Its parts.
    pub row: Span,
    /// What it demands beside what it is wanted by, among the demands of all.
    pub demands: Span,
}

/// A finding that two signs make together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Join {
    /// The group's place among the groups.
    pub group: usize,
    /// Its two sides.
    pub sides: [Side; 2],
}

/// What can stand on one side of a join.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Side {
    /// The places of the groups of signs.
    pub signs: BTreeSet<usize>,
    /// Whether any suicidal finding will do.
    pub any: bool,
}

/// All patterns of some files.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct Patterns {
    /// The groups, in the order of their files.
    pub groups: Vec<Group>,
    /// What signs make together.
    pub joins: Vec<Join>,
    /// The patterns, by their numbers.
    pub rows: Vec<Pattern>,
    /// What they are made of.
    pub parts: Parts,
    /// Which words they are looked for by.
    pub wanting: Wanting,
    /// What they demand beside, all in one list.
    pub demands: Vec<Part>,
}

impl Patterns {
    /// What a pattern demands beside what it is wanted by, the rarest first.
    pub(super) fn demands(&self, pattern: &Pattern) -> &[Part] {
        pattern.demands.of(&self.demands)
    }

    /// Whether some pattern of such an effect is looked for by one of some words and stems.
    pub(super) fn wants_for(&self, numbers: &[u32], effect: impl Fn(Effect) -> bool) -> bool {
        let of_effect = |id: &u32| effect(self.groups[self.rows[*id as usize].group].effect);
        numbers
            .iter()
            .any(|number| self.wanting.patterns(*number).iter().any(of_effect))
    }
}
