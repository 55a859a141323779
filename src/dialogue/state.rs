//! Where a sitting stands. Saved, it holds the names of nodes and the version of the script, never indices, so that
//! a script can change between two sittings.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde::Serialize;

use crate::dialogue::Library;
use crate::dialogue::Output;
use crate::dialogue::library::SAFETY;
use crate::dialogue::program::Target;
use crate::dialogue::program::Waiting;
use crate::dialogue::written::Effect;
use crate::map::EntryId;
use crate::map::Position;
use crate::map::StepId;
use crate::safety;
use crate::safety::About;
use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::Words;

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

/// A state read back.
#[derive(Clone, Debug, PartialEq)]
pub struct Resumed {
    /// The state. Ask [`recall`](crate::dialogue::recall) what it says and waits for; if that is
    /// [`Wait::Recorded`](crate::dialogue::Wait::Recorded), step with `Recorded` first.
    pub state: State,
    /// Whether the script changed since, so that this is the nearest place that is still there.
    pub moved: bool,
}

/// Why a saved state cannot be read back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ResumeError {
    /// The text is no saved state of this program.
    Unreadable,
    /// It was saved by a later version.
    Newer,
    /// Its script is not there any more.
    NoScript,
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

    /// The state as text, for keeping.
    #[must_use]
    pub fn save(&self) -> Position {
        // Everything in a state is plain data with text keys, so writing it as JSON cannot fail.
        Position::new(serde_json::to_string(self).unwrap_or_default())
    }

    /// The state as text, without words that the person has not decided on: those that a safety message interrupted, until
    /// they say to keep them, and those that were heard, until they confirm them. Such words are in memory only, and for a
    /// sitting read back from this text they were never said.
    #[must_use]
    pub fn save_decided(&self) -> Position {
        let mut decided = self.clone();
        for frame in &mut decided.frames {
            if frame.pending.as_ref().is_some_and(|pending| !pending.keep) {
                frame.pending = None;
                frame.slots.remove(KEEPABLE);
            }
            if matches!(frame.phase, Phase::Heard(_)) {
                frame.phase = Phase::Waiting;
            }
        }
        decided.save()
    }

    /// Reads a saved state back. If the script has changed and its place is gone, the state stands at the latest node of
    /// its trail that still asks something, or at the start.
    ///
    /// # Errors
    /// If the text is no saved state, was saved by a later version, or its script is gone.
    pub fn resume(library: &Library, saved: &Position) -> Result<Resumed, ResumeError> {
        let mut resumed = Self::read(library, saved)?;
        if let Some(top) = resumed.state.frames.last_mut()
            && let Some(phase) = top.past_words_not_kept(library)
        {
            top.phase = phase;
        }
        Ok(resumed)
    }

    /// Reads back a place that was saved earlier in this sitting, to go back to it from where one stands now. `None` where
    /// it is passed over: a safety message that is over is not opened again, and the question whether to keep words that were
    /// dropped is not asked again. That a message paused this sitting, and what it was about, stays known.
    ///
    /// # Errors
    /// As for [`State::resume`].
    pub fn gone_back(library: &Library, saved: &Position, now: &Self) -> Result<Option<Self>, ResumeError> {
        let mut state = Self::read(library, saved)?.state;
        match (state.message().is_some(), now.message()) {
            (true, None) => return Ok(None),
            // The question that the message came up at is asked again already.
            (false, _) if state.stands_where(now) => return Ok(None),
            (false, _) => {}
            (true, Some(now)) => {
                if let Some(frame) = state.message_mut() {
                    frame.has_words_of(now);
                }
            }
        }
        let past = state
            .frames
            .last()
            .and_then(|top| top.past_words_not_kept(library));
        if past.is_some() {
            return Ok(None);
        }
        state.watch.interrupted |= now.watch.interrupted;
        for topic in &now.watch.topics {
            if !state.watch.topics.contains(topic) {
                state.watch.topics.push(*topic);
            }
        }
        Ok(Some(state))
    }

    fn read(library: &Library, saved: &Position) -> Result<Resumed, ResumeError> {
        #[derive(Deserialize)]
        struct Form {
            form: u8,
        }
        let form: Form = serde_json::from_str(saved.as_str()).map_err(|_| ResumeError::Unreadable)?;
        if form.form > FORM {
            return Err(ResumeError::Newer);
        }
        let mut state: Self = serde_json::from_str(saved.as_str()).map_err(|_| ResumeError::Unreadable)?;
        let mut moved = false;
        // A called script that changed or went away is left, and with it everything that was open on top of it.
        let kept = state
            .frames
            .iter()
            .take_while(|frame| library.script(&frame.script).is_some())
            .count();
        if kept == 0 {
            return Err(ResumeError::NoScript);
        }
        moved |= kept < state.frames.len();
        state.frames.truncate(kept);
        for place in 0..state.frames.len() {
            if state.frames[place].refit(library) {
                moved = true;
                state.frames.truncate(place + 1);
                break;
            }
        }
        if let Some(top) = state.frames.last_mut().filter(|top| top.phase == Phase::Called) {
            top.phase = Phase::Fresh;
        }
        Ok(Resumed { state, moved })
    }

    /// The script of the safety message that is open.
    fn message(&self) -> Option<&Frame> {
        self.frames.iter().rev().find(|frame| frame.script == SAFETY)
    }

    fn message_mut(&mut self) -> Option<&mut Frame> {
        self.frames.iter_mut().rev().find(|frame| frame.script == SAFETY)
    }

    /// Whether both stand at the same question, come to in the same way.
    fn stands_where(&self, other: &Self) -> bool {
        let at = |frame: &Frame| Frame {
            met: None,
            ..frame.clone()
        };
        self.frames.iter().map(at).eq(other.frames.iter().map(at))
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

    /// The words that this message interrupted, as they stand by now: those that were dropped since are gone.
    fn has_words_of(&mut self, now: &Self) {
        let kept = self.pending.as_ref().is_some_and(|pending| pending.keep);
        self.pending.clone_from(&now.pending);
        if let Some(pending) = &mut self.pending {
            pending.keep = kept;
        }
        match now.slots.get(KEEPABLE) {
            Some(value) => self.slots.insert(KEEPABLE.to_owned(), value.clone()),
            None => self.slots.remove(KEEPABLE),
        };
    }

    /// A question whether to keep words that are not there any more has no answer but the one for dropping them, so it is
    /// left out like a question that is skipped: this is the phase that goes past it.
    fn past_words_not_kept(&self, library: &Library) -> Option<Phase> {
        let program = &library.script(&self.script)?.program;
        let node = program
            .node(&self.node)
            .filter(|_| self.phase == Phase::Waiting)?;
        let Some(Waiting::Choose(choices)) = &node.wait else {
            return None;
        };
        let decides = choices.iter().filter_map(|choice| choice.go).any(|place| {
            let effects = &program.nodes[place].effects;
            effects.contains(&Effect::Said { keep: true })
        });
        let to = match node.skip {
            Target::Node(place) => Some(program.nodes[place].name.clone()),
            Target::Onward | Target::End => None,
        };
        (decides && self.pending.is_none()).then_some(Phase::Recording(to))
    }

    /// Fits the frame to the script as it is now. Says whether it had to move.
    fn refit(&mut self, library: &Library) -> bool {
        let Some(script) = library.script(&self.script) else {
            return true;
        };
        let program = &script.program;
        let exists = |name: &str| program.node(name).is_some();
        let waits = |name: &str| program.node(name).is_some_and(|node| node.wait.is_some());
        let fits = match &self.phase {
            Phase::Recording(to) => exists(&self.node) && to.as_deref().is_none_or(exists),
            Phase::Fresh | Phase::Called | Phase::Over => exists(&self.node),
            Phase::Waiting | Phase::Doubt(_) | Phase::Rewording(_) | Phase::Heard(_) => waits(&self.node),
        };
        self.version = program.version;
        if fits {
            return false;
        }
        // Only a node that asks something: the effects of one that does not were carried out already.
        let nearest = self
            .trail
            .iter()
            .rev()
            .map(|(name, _)| name.as_str())
            .find(|name| waits(name));
        let start = program.nodes[program.start].name.as_str();
        self.node = nearest.unwrap_or(start).to_owned();
        self.trail.retain(|(name, _)| exists(name));
        self.phase = Phase::Fresh;
        true
    }
}
