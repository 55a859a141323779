//! What can be wrong with a written script. Faults are data with a place; whoever shows them words them.

use std::ops::Range;

/// One fault in a script or in its words, with its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The file, as it was named when it was read.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
    /// Where in the file, in bytes.
    pub span: Range<usize>,
    /// What is wrong.
    pub what: FaultKind,
}

/// What is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FaultKind {
    /// The file is larger than a script may be.
    TooLarge {
        /// The most bytes a script may have.
        most: usize,
    },
    /// The file holds bytes that are no text (UTF-8).
    NotText,
    /// The file is no TOML.
    Syntax {
        /// What the TOML reader said.
        said: String,
    },
    /// A key that is needed is missing.
    Missing {
        /// Its name.
        key: &'static str,
    },
    /// A key that nothing here understands.
    UnknownKey {
        /// Its name.
        key: String,
    },
    /// A value of the wrong sort.
    WrongValue {
        /// The key.
        key: String,
        /// What was expected.
        expected: &'static str,
    },
    /// A guard that cannot be read.
    Guard {
        /// The guard, or the part of it that is not understood.
        part: String,
    },
    /// A placeholder that cannot be read.
    Placeholder {
        /// The placeholder.
        part: String,
    },
    /// An effect that nothing here knows.
    UnknownEffect {
        /// Its first key.
        effect: String,
    },
    /// Two nodes have one name.
    NameTwice {
        /// The name.
        name: String,
    },
    /// Two waits in one node.
    TwoWaits {
        /// The second one.
        wait: String,
    },
    /// A node that leads nowhere, though it does not end.
    NoWayOn {
        /// The node.
        node: String,
    },
    /// A node both ends and leads on.
    EndAndGo {
        /// The node.
        node: String,
    },
    /// A target that does not exist.
    NoSuchNode {
        /// The name.
        name: String,
    },
    /// No way leads to this node.
    Unreachable {
        /// The node.
        node: String,
    },
    /// No way leads from this node to an end.
    NoEnd {
        /// The node.
        node: String,
    },
    /// A cycle that never waits for the person.
    CycleWithoutWait {
        /// A node in it.
        node: String,
    },
    /// A cycle in which a walk could go round for ever, as no node in it has a `most`.
    CycleWithoutMost {
        /// A node in it.
        node: String,
    },
    /// A slot is read that no way here could have set.
    NeverSet {
        /// The slot.
        slot: String,
    },
    /// A line names a slot that may be unset here, without a fallback.
    MayBeUnset {
        /// The slot.
        slot: String,
        /// The line.
        line: String,
    },
    /// A choice without an option.
    NoOption,
    /// Two options of one choice have the same word.
    SameWord {
        /// The word.
        word: String,
    },
    /// A line that the words file does not have.
    NoSuchLine {
        /// The line's name.
        line: String,
    },
    /// A line that nothing says.
    UnusedLine {
        /// The line's name.
        line: String,
    },
    /// A line is empty.
    EmptyLine {
        /// The line's name.
        line: String,
    },
    /// A sentence of more than 25 words.
    LongSentence {
        /// The line's name.
        line: String,
        /// How many words it has.
        words: usize,
    },
    /// A word or sign that puts on pressure or praises.
    Wording {
        /// The line's name.
        line: String,
        /// The word or sign.
        word: String,
    },
    /// A control character in a line.
    ControlCharacter {
        /// The line's name.
        line: String,
    },
    /// A call of a script that does not exist.
    NoSuchScript {
        /// The name.
        name: String,
    },
    /// Scripts that call each other in a circle.
    CallsInACircle {
        /// A script in it.
        name: String,
    },
    /// A number range in which nothing lies.
    EmptyRange,
    /// More nodes than a script may have.
    TooManyNodes {
        /// The most nodes a script may have.
        most: usize,
    },
    /// A question that comes back at once when it is left out.
    CannotBeSkipped {
        /// The node.
        node: String,
    },
    /// A node that waits for an answer and asks nothing.
    NoQuestion {
        /// The node.
        node: String,
    },
    /// A line reads harder than it may.
    Hard {
        /// The line's name.
        line: String,
        /// Its school grade in tenths, rounded up.
        tenths: u32,
    },
    /// A turn of phrase that has no place in what people are shown.
    Manner {
        /// The line's name.
        line: String,
        /// The words.
        word: String,
        /// What is wrong about them.
        manner: Manner,
    },
    /// A line of the original that a translation does not have.
    NotTranslated {
        /// The line's name.
        line: String,
    },
    /// A placeholder of the original that a translation does not have.
    LostPlaceholder {
        /// The line's name.
        line: String,
        /// The name between the braces.
        part: String,
    },
    /// A placeholder that the original does not have.
    StrayPlaceholder {
        /// The line's name.
        line: String,
        /// The name between the braces.
        part: String,
    },
    /// An option whose word to type was lost in translation, or a bar that made one of a line.
    LostWord {
        /// The line's name.
        line: String,
    },
}

/// What is wrong about a turn of phrase.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Manner {
    /// It presses.
    Pressure,
    /// It praises.
    Praise,
    /// It names an illness.
    Diagnosis,
    /// It is a word of the trade.
    Method,
    /// It is written in capitals.
    Loud,
}
