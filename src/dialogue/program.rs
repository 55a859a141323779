//! A checked script. Every target is an index that exists; there is nothing left in it that could be missing.

use std::collections::BTreeMap;

use crate::dialogue::Show;
use crate::dialogue::fill::Line;
use crate::dialogue::guard::Guard;
use crate::dialogue::written::Effect;
use crate::dialogue::written::Source;
use crate::map::Field;
use crate::map::Kind;

/// A script with its words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct Script {
    pub(in crate::dialogue) program: Program,
    pub(in crate::dialogue) lines: Lines,
}

/// The lines of one script, or the common ones, by name.
pub(in crate::dialogue) type Lines = BTreeMap<String, Line>;

/// The flow of a script.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct Program {
    pub(in crate::dialogue) name: String,
    pub(in crate::dialogue) version: u32,
    pub(in crate::dialogue) start: usize,
    pub(in crate::dialogue) nodes: Vec<Node>,
    pub(in crate::dialogue) places: BTreeMap<String, usize>,
}

/// One node.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct Node {
    pub(in crate::dialogue) name: String,
    pub(in crate::dialogue) say: Vec<String>,
    pub(in crate::dialogue) again: Vec<String>,
    pub(in crate::dialogue) show: Option<Show>,
    /// The slot whose entry the shown part is about.
    pub(in crate::dialogue) of: Option<String>,
    pub(in crate::dialogue) ask: Option<String>,
    pub(in crate::dialogue) ask_again: Option<String>,
    pub(in crate::dialogue) wait: Option<Waiting>,
    pub(in crate::dialogue) into: Option<String>,
    /// How often it is asked at most.
    pub(in crate::dialogue) most: Option<u32>,
    pub(in crate::dialogue) effects: Vec<Effect>,
    pub(in crate::dialogue) call: Option<Call>,
    pub(in crate::dialogue) leave: bool,
    pub(in crate::dialogue) when: Vec<(Guard, usize)>,
    pub(in crate::dialogue) go: Target,
    pub(in crate::dialogue) done: Target,
    pub(in crate::dialogue) skip: Target,
}

/// Where a node leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Target {
    /// To the first guarded way whose guard holds, or on by `go`.
    Onward,
    Node(usize),
    End,
}

/// A script to run and come back from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct Call {
    pub(in crate::dialogue) script: String,
    /// Slots there, and the slots here whose values they get.
    pub(in crate::dialogue) give: Vec<(String, String)>,
}

/// What a node waits for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Waiting {
    Press,
    Words,
    Entry {
        field: Field,
        kind: Option<Kind>,
    },
    Choose(Vec<Choice>),
    Pick {
        from: Source,
        many: bool,
        new: Option<Field>,
        /// The slot that other words go into, kept off the map.
        words: Option<String>,
    },
    Number {
        from: u8,
        to: u8,
    },
    Deliberate {
        word: String,
    },
}

/// One option of a choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct Choice {
    pub(in crate::dialogue) say: String,
    pub(in crate::dialogue) go: Option<usize>,
    pub(in crate::dialogue) set: Option<String>,
}

impl Program {
    /// A node by its name.
    pub(in crate::dialogue) fn node(&self, name: &str) -> Option<&Node> {
        self.places.get(name).map(|place| &self.nodes[*place])
    }
}
