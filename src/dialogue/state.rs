//! Where a sitting stands. Saved, it holds the names of nodes and the version of the script, never indices, so that
//! a script can change between two sittings.

mod kept;

use std::collections::BTreeMap;

use serde::Deserialize;
use serde::Serialize;

use crate::dialogue::Library;
use crate::dialogue::Output;
use crate::dialogue::library::SAFETY;
use crate::map::EntryId;
use crate::map::StepId;
use crate::safety;
use crate::safety::About;
use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::Words;

pub use crate::dialogue::state::kept::ResumeError;
pub use crate::dialogue::state::kept::Resumed;

/// The form of saved states that this version writes and reads.
const FORM: u8 = 1;

/// The slot that tells the safety script whether words were said that could be kept.
pub(in crate::dialogue) const KEEPABLE: &str = "words";

/// The slots that tell it which message it is, and that it is about someone else.
const LEVEL: &str = "level";
const OTHER: &str = "other";

/// Where a sitting stands, whole: the same state, map and input always lead to the same next state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct State {
    form: u8,
    pub(in crate::dialogue) frames: Vec<Frame>,
    pub(in crate::dialogue) watch: Watch,
}

/// One script that is open: the first is the sitting's own, those above it were called or opened on top.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(in crate::dialogue) struct Frame {
    pub(in crate::dialogue) script: String,
    pub(in crate::dialogue) version: u32,
    pub(in crate::dialogue) node: String,
    pub(in crate::dialogue) phase: Phase,
    /// Every node that was visited, with how often; the latest last.
    pub(in crate::dialogue) trail: Vec<(String, u32)>,
    pub(in crate::dialogue) slots: BTreeMap<String, Value>,
    /// The most urgent finding in the words that are being asked about, so that the same words, confirmed or put
    /// another way, do not bring up the same message twice.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::dialogue) met: Option<Level>,
    /// The words that a safety message interrupted, for the script that is opened on top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::dialogue) pending: Option<Pending>,
}

/// What is going on at a node.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(in crate::dialogue) enum Phase {
    /// The node is to be entered.
    Fresh,
    /// Its own question is open.
    Waiting,
    /// Facts are being recorded; then it leads on, to this node if one is named.
    Recording(Option<String>),
    /// Another script runs on behalf of this node.
    Called,
    /// The coach asked about these words.
    Doubt(Words),
    /// These words are being put another way.
    Rewording(Words),
    /// These words were heard and are to be confirmed.
    Heard(Words),
    /// The script has ended.
    Over,
}

/// What an answer left behind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(in crate::dialogue) enum Value {
    Words(Words),
    Entries(Vec<EntryId>),
    Number(u8),
    Step(StepId),
    Chosen(String),
    Flag,
}

/// Words that wait for what the person decides about them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(in crate::dialogue) struct Pending {
    pub(in crate::dialogue) words: Words,
    pub(in crate::dialogue) heard: bool,
    pub(in crate::dialogue) keep: bool,
}

/// What safety remembers about the sitting.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(in crate::dialogue) struct Watch {
    /// Counts quiet findings.
    pub(in crate::dialogue) quiet: safety::Watch,
    /// Whether a message paused this sitting.
    pub(in crate::dialogue) interrupted: bool,
    /// What the findings of this sitting were about, each once.
    #[serde(default)]
    pub(in crate::dialogue) topics: Vec<Topic>,
    /// Distress as it was said, 0 to 10, in order.
    pub(in crate::dialogue) distress: Vec<u8>,
    /// Whether the person asked to stop at the next prompt.
    pub(in crate::dialogue) leaving: bool,
}

impl State {
    /// A state at the very beginning of a script, or `None` if the library has no such script. Step it with
    /// [`Input::Begin`](crate::dialogue::Input::Begin).
    #[must_use]
    pub fn begin(library: &Library, script: &str) -> Option<Self> {
        let frame = Frame::at_start(library, script)?;
        Some(Self {
            form: FORM,
            frames: vec![frame],
            watch: Watch::default(),
        })
    }

    /// The name of the script that this sitting is about.
    #[must_use]
    pub fn script(&self) -> &str {
        self.frames.first().map_or("", |frame| &frame.script)
    }

    /// Whether the dialogue has ended.
    #[must_use]
    pub fn has_ended(&self) -> bool {
        self.frames.first().is_none_or(|frame| frame.phase == Phase::Over)
    }

    /// Whether a safety message paused this sitting at any time. From then on the entry check is silent, and the
    /// scripts ask nothing about costs or loops.
    #[must_use]
    pub fn was_interrupted(&self) -> bool {
        self.watch.interrupted
    }

    /// The script of the safety message that is open.
    fn message(&self) -> Option<&Frame> {
        self.frames.iter().rev().find(|frame| frame.script == SAFETY)
    }

    fn message_mut(&mut self) -> Option<&mut Frame> {
        self.frames.iter_mut().rev().find(|frame| frame.script == SAFETY)
    }

    /// The safety message that is open, to be shown once more.
    pub(in crate::dialogue) fn open_message(&self) -> Option<Output> {
        let frame = self.message()?;
        let level = match frame.slots.get(LEVEL)? {
            Value::Number(4..) => Level::Emergency,
            Value::Number(3) => Level::Stop,
            _ => Level::Pause,
        };
        Some(Output::SafetyMessage {
            level,
            topics: self.watch.topics.clone(),
            about: if frame.slots.contains_key(OTHER) {
                About::Other
            } else {
                About::Me
            },
        })
    }

    /// Whether a safety message is open.
    #[must_use]
    pub fn has_open_message(&self) -> bool {
        self.message().is_some()
    }

    /// Whether words wait for the person to keep or drop them: [`State::save_decided`] leaves these out.
    #[must_use]
    pub fn has_undecided_words(&self) -> bool {
        let pending = self.frames.iter().filter_map(|frame| frame.pending.as_ref());
        pending.into_iter().any(|pending| !pending.keep)
    }

    pub(in crate::dialogue) fn top(&self) -> Option<&Frame> {
        self.frames.last()
    }
}

impl Frame {
    pub(in crate::dialogue) fn at_start(library: &Library, script: &str) -> Option<Self> {
        let program = &library.script(script)?.program;
        Some(Self {
            script: program.name.clone(),
            version: program.version,
            node: program.nodes[program.start].name.clone(),
            phase: Phase::Fresh,
            trail: Vec::new(),
            slots: BTreeMap::new(),
            met: None,
            pending: None,
        })
    }

    /// How often a node was visited.
    pub(in crate::dialogue) fn visits(&self, node: &str) -> u32 {
        self.trail
            .iter()
            .find(|(name, _)| name == node)
            .map_or(0, |(_, visits)| *visits)
    }

    /// Notes a visit and says how many there were with it.
    pub(in crate::dialogue) fn visit(&mut self, node: &str) -> u32 {
        let before = self.trail.iter().position(|(name, _)| name == node);
        let visits = before
            .map_or(0, |place| self.trail.remove(place).1)
            .saturating_add(1);
        self.trail.push((node.to_owned(), visits));
        node.clone_into(&mut self.node);
        visits
    }

    /// Says in the slots of the safety script which message it is, and whom it is about.
    pub(in crate::dialogue) fn tell_of(&mut self, level: Level, about: About) {
        let urgency = match level {
            Level::None | Level::Quiet => 1,
            Level::Pause => 2,
            Level::Stop => 3,
            Level::Emergency => 4,
        };
        self.slots.insert(LEVEL.to_owned(), Value::Number(urgency));
        if about == About::Other {
            self.slots.insert(OTHER.to_owned(), Value::Flag);
        }
    }
}
