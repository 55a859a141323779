//! A script as its author wrote it: every name still a name, every piece with its place in the file.

use std::ops::Range;

use crate::dialogue::Show;
use crate::dialogue::guard::Guard;
use crate::map::Field;
use crate::map::Kind;
use crate::map::Link;

/// A piece of a file with its place, in bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct At<T> {
    /// The piece.
    pub(in crate::dialogue) value: T,
    /// Where it stands.
    pub(in crate::dialogue) span: Range<usize>,
}

/// A whole script.
#[derive(Clone, Debug, Default)]
pub(in crate::dialogue) struct WrittenScript {
    pub(in crate::dialogue) name: String,
    pub(in crate::dialogue) version: u32,
    pub(in crate::dialogue) start: Option<At<String>>,
    /// Slots that whoever opens the script gives.
    pub(in crate::dialogue) needs: Vec<At<String>>,
    pub(in crate::dialogue) nodes: Vec<WrittenNode>,
}

/// The words of one script in one language.
pub(in crate::dialogue) type WrittenLines = Vec<(At<String>, At<String>)>;

/// One node.
#[derive(Clone, Debug)]
pub(in crate::dialogue) struct WrittenNode {
    pub(in crate::dialogue) name: At<String>,
    pub(in crate::dialogue) say: Vec<At<String>>,
    pub(in crate::dialogue) again: Vec<At<String>>,
    pub(in crate::dialogue) show: Option<Show>,
    /// The slot whose entry the shown part is about.
    pub(in crate::dialogue) of: Option<At<String>>,
    pub(in crate::dialogue) ask: Option<At<String>>,
    /// The question on later visits, where it differs.
    pub(in crate::dialogue) ask_again: Option<At<String>>,
    pub(in crate::dialogue) wait: Option<WaitForm>,
    /// The slot that the answer goes into.
    pub(in crate::dialogue) into: Option<At<String>>,
    pub(in crate::dialogue) most: Option<u32>,
    pub(in crate::dialogue) effects: Vec<WrittenEffect>,
    pub(in crate::dialogue) call: Option<At<String>>,
    /// Slots given to the called script: its name for each, and ours.
    pub(in crate::dialogue) give: Vec<(At<String>, At<String>)>,
    pub(in crate::dialogue) leave: bool,
    pub(in crate::dialogue) end: bool,
    pub(in crate::dialogue) when: Vec<WrittenBranch>,
    pub(in crate::dialogue) go: Option<At<String>>,
    pub(in crate::dialogue) done: Option<At<String>>,
    pub(in crate::dialogue) skip: Option<At<String>>,
}

/// A guarded way on.
#[derive(Clone, Debug)]
pub(in crate::dialogue) struct WrittenBranch {
    pub(in crate::dialogue) guard: At<Guard>,
    pub(in crate::dialogue) go: At<String>,
}

/// What a node waits for.
#[derive(Clone, Debug)]
pub(in crate::dialogue) enum WaitForm {
    Press,
    Words,
    Entry {
        field: Field,
        kind: Option<Kind>,
    },
    Choose(Vec<WrittenOption>),
    Pick {
        from: Source,
        many: bool,
        new: Option<Field>,
        /// The slot that other words go into, kept off the map.
        words: Option<At<String>>,
    },
    Number {
        from: u8,
        to: u8,
    },
    Deliberate {
        word: At<String>,
    },
}

/// One option of a choice.
#[derive(Clone, Debug)]
pub(in crate::dialogue) struct WrittenOption {
    pub(in crate::dialogue) say: At<String>,
    pub(in crate::dialogue) go: Option<At<String>>,
    /// The value that choosing it puts into the node's slot.
    pub(in crate::dialogue) set: Option<String>,
}

/// What can be picked from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Source {
    Field(Field),
    /// Away and toward moves together.
    Moves,
    Steps,
    /// Steps that nobody said the end of, and that no smaller one stands for.
    OpenSteps,
}

/// An effect, with the slots that it reads and writes.
#[derive(Clone, Debug)]
pub(in crate::dialogue) struct WrittenEffect {
    pub(in crate::dialogue) effect: Effect,
    pub(in crate::dialogue) reads: Vec<At<String>>,
    pub(in crate::dialogue) writes: Vec<At<String>>,
}

/// What a node does after its answer. The strings are names of slots.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Effect {
    Link {
        link: Link,
        from: String,
        to: String,
    },
    Unlink {
        link: Link,
        from: String,
        to: String,
    },
    Retire {
        entry: String,
    },
    Restore {
        entry: String,
    },
    Reword {
        entry: String,
        words: String,
    },
    Move {
        entry: String,
        field: Field,
        kind: Option<Kind>,
    },
    Trace(TraceSlots),
    Step(StepSlots),
    Mark {
        step: String,
        mark: String,
        helpful: Option<String>,
        in_the_way: Option<String>,
    },
    Moment(MomentSlots),
    Rate {
        entry: String,
        now: String,
        later: String,
    },
    Lived {
        entry: String,
        importance: String,
        closeness: String,
    },
    Set {
        slot: String,
        number: Option<u8>,
        value: Option<String>,
    },
    /// Puts a thought in its unhooking form into a slot, where it has one.
    Unhook {
        thought: String,
        into: String,
    },
    Copy {
        from: String,
        to: String,
    },
    Forget {
        slot: String,
    },
    Distress {
        slot: String,
    },
    Said {
        keep: bool,
    },
}

/// The slots of a loop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct TraceSlots {
    pub(in crate::dialogue) hook: String,
    pub(in crate::dialogue) away: String,
    pub(in crate::dialogue) relief: Option<String>,
    pub(in crate::dialogue) cost: Option<String>,
    pub(in crate::dialogue) back_to: Option<String>,
    pub(in crate::dialogue) matters: Option<String>,
}

/// The slots of a small step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct StepSlots {
    pub(in crate::dialogue) act: String,
    pub(in crate::dialogue) when: Option<String>,
    pub(in crate::dialogue) serves: Option<String>,
    pub(in crate::dialogue) confidence: Option<String>,
    pub(in crate::dialogue) smaller_than: Option<String>,
    pub(in crate::dialogue) into: Option<String>,
}

/// The slots of a moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct MomentSlots {
    pub(in crate::dialogue) way: String,
    pub(in crate::dialogue) showed_up: Option<String>,
    pub(in crate::dialogue) did: Option<String>,
    pub(in crate::dialogue) serves: Option<String>,
    pub(in crate::dialogue) words: Option<String>,
}
