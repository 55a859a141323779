//! Groups of patterns, as the screen knows them: what a match of each means and does.

use serde::Deserialize;
use serde::Serialize;

use crate::safety::level::Level;
use crate::safety::level::Topic;

/// What a match of a group does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Effect {
    /// It is a finding.
    Find,
    /// It lifts suicidal findings in the same text to stop: means at hand.
    Raise,
    /// It is a finding, and no form that lowers holds where it stands: a denial that is none. Where it calls for a pause, a form
    /// that leaves a pause holds beside it.
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
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
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct Group {
    /// Its name, as findings give it.
    pub name: String,
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
}

/// What a group's file says of it beside that, for readers and tests.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct Examples {
    /// What it stands for, in a sentence.
    pub meaning: String,
    /// Where the group comes from, or `common practice`.
    pub source: String,
    /// Sentences that it must find.
    pub finds: Vec<String>,
    /// Sentences that it must leave alone.
    pub ignore: Vec<String>,
}
