//! A place as it is kept, and coming back to it: after a break, or by going back in the same sitting. What was kept holds the
//! names of nodes and the version of the script, so it fits a script that has changed since.

use serde::Deserialize;

use super::FORM;
use super::Frame;
use super::KEEPABLE;
use super::Phase;
use super::State;
use crate::dialogue::Library;
use crate::dialogue::program::Target;
use crate::dialogue::program::Waiting;
use crate::dialogue::written::Effect;
use crate::map::Position;

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

    /// Whether both stand at the same question, come to in the same way.
    fn stands_where(&self, other: &Self) -> bool {
        let at = |frame: &Frame| Frame {
            met: None,
            ..frame.clone()
        };
        self.frames.iter().map(at).eq(other.frames.iter().map(at))
    }
}

impl Frame {
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
