//! A sitting that nothing keeps: the dialogue on an empty map of its own, for trying a script out.

use jiff::Timestamp;
use uuid::Uuid;

use crate::dialogue::Input;
use crate::dialogue::Library;
use crate::dialogue::Output;
use crate::dialogue::Prompt;
use crate::dialogue::State;
use crate::dialogue::Wait;
use crate::dialogue::WrongInput;
use crate::dialogue::state::Phase;
use crate::dialogue::step;
use crate::map::Event;
use crate::map::EventId;
use crate::map::Map;

/// A sitting under way that touches no store. Facts go onto its own map; identities count up from one.
#[derive(Clone, Debug)]
pub struct Rehearsal<'l> {
    library: &'l Library,
    map: Map,
    state: State,
    prompt: Prompt,
    next: u128,
    earlier: Vec<(Map, State, Prompt)>,
}

impl<'l> Rehearsal<'l> {
    /// Opens a script and goes to its first prompt; gives what was said on the way. `None` if there is no such script.
    #[must_use]
    pub fn begin(library: &'l Library, script: &str) -> Option<(Self, Vec<Output>)> {
        let state = State::begin(library, script)?;
        let prompt = Prompt {
            line: None,
            wait: Wait::Recorded,
        };
        let mut rehearsal = Self {
            library,
            map: Map::default(),
            state,
            prompt,
            next: 0,
            earlier: Vec::new(),
        };
        let outputs = rehearsal.take(Input::Begin).ok()?;
        Some((rehearsal, outputs))
    }

    /// Gives an answer, and everything that came of it except the facts, which are on the map.
    ///
    /// # Errors
    /// If it does not answer the prompt, which then still stands.
    pub fn give(&mut self, input: Input) -> Result<Vec<Output>, WrongInput> {
        let before = (self.map.clone(), self.state.clone(), self.prompt.clone());
        let outputs = self.take(input)?;
        self.earlier.push(before);
        Ok(outputs)
    }

    /// Goes one prompt back, with all that its answer made. Says whether there was one.
    pub fn back(&mut self) -> bool {
        let Some((map, state, prompt)) = self.earlier.pop() else {
            return false;
        };
        (self.map, self.state, self.prompt) = (map, state, prompt);
        true
    }

    /// What is asked now.
    #[must_use]
    pub fn prompt(&self) -> &Prompt {
        &self.prompt
    }

    /// Everything that was recorded.
    #[must_use]
    pub fn map(&self) -> &Map {
        &self.map
    }

    /// The node of the rehearsed script whose own question is open; `None` inside another script, or when the entry
    /// check asks.
    #[must_use]
    pub fn node(&self) -> Option<&str> {
        let [frame] = self.state.frames.as_slice() else {
            return None;
        };
        (frame.phase == Phase::Waiting).then_some(frame.node.as_str())
    }

    /// Every node of the rehearsed script that was visited.
    pub fn visited(&self) -> impl Iterator<Item = &str> {
        let trail = self.state.frames.first().map(|frame| frame.trail.as_slice());
        trail.unwrap_or_default().iter().map(|(node, _)| node.as_str())
    }

    fn take(&mut self, mut input: Input) -> Result<Vec<Output>, WrongInput> {
        let mut outputs = Vec::new();
        loop {
            let mut next = self.next;
            let mut identity = || {
                next += 1;
                Uuid::from_u128(next)
            };
            let stepped = step(self.library, &self.map, &self.state, input, &mut identity)?;
            for output in stepped.outputs {
                if let Output::Record(what) = output {
                    let id = EventId(identity());
                    self.map.apply(&Event {
                        id,
                        at: Timestamp::UNIX_EPOCH,
                        what,
                    });
                } else {
                    outputs.push(output);
                }
            }
            self.next = next;
            (self.state, self.prompt) = (stepped.state, stepped.prompt);
            if self.prompt.wait != Wait::Recorded {
                return Ok(outputs);
            }
            input = Input::Recorded;
        }
    }
}
