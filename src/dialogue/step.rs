//! One step: from a state and an input to the next state, what to say and record, and what is asked then. Pure: it
//! sees no clock, file or chance; identities for new facts come from outside.

use uuid::Uuid;

use crate::dialogue::Input;
use crate::dialogue::Library;
use crate::dialogue::Output;
use crate::dialogue::State;
use crate::dialogue::Stepped;
use crate::dialogue::Wait;
use crate::dialogue::WrongInput;
use crate::dialogue::library::GROUND;
use crate::dialogue::library::SAFETY;
use crate::dialogue::prompt::Look;
use crate::dialogue::state::Frame;
use crate::dialogue::state::Phase;
use crate::map::Map;
use crate::map::What;

/// Takes one step. The map must hold everything that was recorded so far; `ids` gives a new identity each time.
///
/// # Errors
/// If the input does not answer what is asked. The state that was passed in still stands, and nothing is lost.
pub fn step(
    library: &Library,
    map: &Map,
    state: &State,
    input: Input,
    ids: &mut dyn FnMut() -> Uuid,
) -> Result<Stepped, WrongInput> {
    let mut run = Run {
        library,
        map,
        state: state.clone(),
        outputs: Vec::new(),
        ids,
        recorded: false,
    };
    let Some(phase) = state.top().map(|frame| frame.phase.clone()) else {
        return Err(WrongInput::Ended);
    };
    match (input, phase) {
        (_, Phase::Over) => return Err(WrongInput::Ended),
        (Input::Begin | Input::Recorded, Phase::Fresh) => run.enter_here(),
        (Input::Recorded, Phase::Recording(to)) => run.go_on(to.as_deref()),
        (_, Phase::Fresh | Phase::Recording(_) | Phase::Called) => return Err(WrongInput::NotRecorded),
        (Input::Begin | Input::Recorded, _) => {}
        (Input::Answer(screened), _) => run.answer(screened, false)?,
        (Input::Heard(screened), _) => run.answer(screened, true)?,
        (Input::Skip, _) => run.skip(),
        (Input::Ground, _) => {
            if state.frames.iter().any(|frame| frame.script == GROUND) {
                return Err(WrongInput::AlreadyOpen);
            }
            run.open(GROUND);
        }
    }
    Ok(run.finish())
}

/// A step under way.
pub(in crate::dialogue) struct Run<'a> {
    pub(in crate::dialogue) library: &'a Library,
    pub(in crate::dialogue) map: &'a Map,
    pub(in crate::dialogue) state: State,
    pub(in crate::dialogue) outputs: Vec<Output>,
    pub(in crate::dialogue) ids: &'a mut dyn FnMut() -> Uuid,
    /// Whether facts wait to be recorded.
    pub(in crate::dialogue) recorded: bool,
}

impl Run<'_> {
    pub(in crate::dialogue) fn look(&self) -> Look<'_> {
        Look {
            library: self.library,
            map: self.map,
            state: &self.state,
        }
    }

    pub(in crate::dialogue) fn top(&mut self) -> Option<&mut Frame> {
        self.state.frames.last_mut()
    }

    pub(in crate::dialogue) fn phase(&mut self, phase: Phase) {
        if let Some(top) = self.top() {
            top.phase = phase;
        }
    }

    pub(in crate::dialogue) fn record(&mut self, what: What) {
        self.recorded = true;
        self.outputs.push(Output::Record(what));
    }

    /// Says a line of the script on top, or a common one.
    pub(in crate::dialogue) fn say(&mut self, id: &str) {
        let look = self.look();
        let said = look
            .place()
            .and_then(|(frame, script, _)| look.say(script, frame, id));
        self.outputs.extend(said.map(Output::Say));
    }

    /// Opens a script on top of what is asked; when it ends, the same is asked again.
    pub(in crate::dialogue) fn open(&mut self, script: &str) {
        if let Some(frame) = Frame::at_start(self.library, script) {
            self.state.frames.push(frame);
            self.enter_here();
        }
    }

    /// Whether the safety script is open.
    pub(in crate::dialogue) fn in_safety(&self) -> bool {
        self.state.frames.iter().any(|frame| frame.script == SAFETY)
    }

    fn finish(mut self) -> Stepped {
        let prompt = self.look().prompt();
        if self.state.watch.leaving && prompt.wait != Wait::Recorded {
            self.state.watch.leaving = false;
            if prompt.wait != Wait::End {
                self.outputs.push(Output::Pause);
            }
        }
        Stepped {
            state: self.state,
            outputs: self.outputs,
            prompt,
        }
    }
}
