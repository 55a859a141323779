//! One sitting with a script: the loop between the dialogue, which is pure, and the person.
//!
//! An answer, the facts it made and the place it led to are kept as one batch before the next prompt is shown. So
//! wherever the program is cut off, it goes on at the prompt whose answer was not yet kept.

mod bare;
mod leaving;
mod reading;
mod several;
mod spoken;

use std::ops::ControlFlow;

use zeroize::Zeroizing;

use crate::dialogue::Input;
use crate::dialogue::Library;
use crate::dialogue::Output;
use crate::dialogue::State;
use crate::dialogue::Stepped;
use crate::dialogue::Wait;
use crate::dialogue::recall;
use crate::dialogue::step;
use crate::map::EventId;
use crate::map::SittingId;
use crate::map::What;
use crate::safety::Screened;
use crate::shell::House;
use crate::shell::containing;
use crate::shell::keeping;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::prompt;
use crate::shell::show;
use crate::shell::sitting::several::Several;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::speaking;
use crate::shell::speaking::Said;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;

/// How a sitting came to stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stopped {
    /// The script came to its end.
    Ended,
    /// It waits to be taken up again.
    Paused,
    /// The person hid the screen; nothing more is said.
    Hidden,
}

/// Walks through a script, from where it stopped if it was begun before, and says how it stopped.
pub(crate) fn walk(house: &mut House, library: &Library, script: &str) -> Result<Stopped, Trouble> {
    walk_by(house, library, script, &command(script))
}

/// The same for a script that is taken up again by a command of its own.
pub(crate) fn walk_by(
    house: &mut House,
    library: &Library,
    script: &str,
    command: &str,
) -> Result<Stopped, Trouble> {
    let mut sitting = Sitting::take_up(house, library, script)?;
    let stopped = sitting.run()?;
    let undecided = sitting.stepped.state.has_undecided_words();
    leaving::tidy(house, stopped);
    if stopped == Stopped::Paused {
        house.terminal.gap();
        house
            .terminal
            .say(&filled("prompt.paused", &[("command", command)]));
        if undecided {
            house.terminal.say(&phrase("prompt.undecided"));
        }
    }
    Ok(stopped)
}

/// Walks through a script that begins with an answer already given, and never waits for another day: unless it comes to
/// its end, all of it is let go.
pub(crate) fn walk_once(
    house: &mut House,
    library: &Library,
    script: &str,
    first: Input,
) -> Result<Stopped, Trouble> {
    let mut sitting = Sitting::take_up(house, library, script)?;
    if sitting.taken_up {
        // One that a crash left open is not waited for either.
        sitting.let_go()?;
        sitting = Sitting::take_up(house, library, script)?;
    }
    sitting.first = Some(first);
    let stopped = sitting.run()?;
    if stopped != Stopped::Ended {
        sitting.let_go()?;
    }
    leaving::tidy(house, stopped);
    if stopped == Stopped::Paused {
        house.terminal.gap();
        house.terminal.say(&phrase("prompt.let-go"));
    }
    Ok(stopped)
}

struct Sitting<'a> {
    house: &'a mut House,
    library: &'a Library,
    id: SittingId,
    script: String,
    stepped: Stepped,
    /// Entries that came several at once and wait for their turn.
    several: Option<Several>,
    /// An answer that was given before the first question.
    first: Option<Input>,
    /// Whether the prompt stands where an earlier run of the program left it.
    taken_up: bool,
}

/// What a line at a prompt came to.
enum Heard {
    Input(Input),
    Again,
    Back,
    Stop(Stopped),
}

impl<'a> Sitting<'a> {
    fn take_up(house: &'a mut House, library: &'a Library, script: &str) -> Result<Self, Trouble> {
        let open = house
            .kept
            .map()
            .sittings()
            .iter()
            .rev()
            .find(|one| one.script == script);
        let saved = open.and_then(|one| one.places.last().map(|place| (one.id, place.1.clone())));
        let resumed = saved.and_then(|(id, position)| Some((id, State::resume(library, &position).ok()?)));
        let taken_up = resumed.is_some();
        let (id, stepped) = if let Some((id, resumed)) = resumed {
            let say = if resumed.moved {
                "prompt.resumed-moved"
            } else {
                "prompt.resumed"
            };
            house.terminal.say(&phrase(say));
            (id, recalled(library, house, resumed.state))
        } else {
            let missing = || Trouble::Told("trouble.script", script.to_owned());
            let state = State::begin(library, script).ok_or_else(missing)?;
            let id = SittingId(house.kept.minting().identity());
            let stepped = take(house, library, &state, Input::Begin).map_err(|_| missing())?;
            (id, stepped)
        };
        Ok(Self {
            house,
            library,
            id,
            script: script.to_owned(),
            stepped,
            several: None,
            first: None,
            taken_up,
        })
    }

    fn run(&mut self) -> Result<Stopped, Trouble> {
        loop {
            if let Some(stopped) = self.settle() {
                self.drop_several();
                return Ok(stopped);
            }
            loop {
                let heard = match self.first.take() {
                    Some(first) => Heard::Input(first),
                    None => self.listen()?,
                };
                match heard {
                    Heard::Again => {}
                    Heard::Stop(stopped) => {
                        self.drop_several();
                        return Ok(stopped);
                    }
                    Heard::Back => {
                        self.back()?;
                        break;
                    }
                    Heard::Input(input) => match take(self.house, self.library, &self.stepped.state, input) {
                        Ok(stepped) => {
                            self.stepped = stepped;
                            break;
                        }
                        Err(wrong) => self
                            .house
                            .terminal
                            .say(&prompt::wrong(&wrong, &self.stepped.prompt.wait)),
                    },
                }
            }
        }
    }

    /// Records what the last answer made, goes on to where a person is needed, keeps all of it, and shows it.
    fn settle(&mut self) -> Option<Stopped> {
        let mut outputs = Vec::new();
        let mut made: Vec<EventId> = Vec::new();
        loop {
            for output in std::mem::take(&mut self.stepped.outputs) {
                match output {
                    Output::Record(what) => made.push(self.house.kept.note(what)),
                    other => outputs.push(other),
                }
            }
            if self.stepped.prompt.wait != Wait::Recorded {
                break;
            }
            let state = self.stepped.state.clone();
            match take(self.house, self.library, &state, Input::Recorded) {
                Ok(stepped) => self.stepped = stepped,
                Err(_) => break,
            }
        }
        let ended = self.stepped.prompt.wait == Wait::End;
        let unmoved = std::mem::take(&mut self.taken_up) && made.is_empty();
        if ended {
            self.house.kept.note(What::SittingEnded { sitting: self.id });
        } else if !unmoved {
            let state = &self.stepped.state;
            let at = |position, made| What::SittingAt {
                sitting: self.id,
                script: self.script.clone(),
                position,
                made,
            };
            let decided = at(state.save_decided(), made.clone());
            self.house.kept.note_place(at(state.save(), made), decided);
        }
        if let Err(trouble) = self.house.kept.keep() {
            self.house
                .terminal
                .say(&filled("trouble.not-kept", &[("value", &trouble.words())]));
        }
        keeping::tell(&mut self.house.terminal, &self.house.kept.noticed());
        let mut leaving = false;
        for output in outputs {
            leaving |= output == Output::Pause;
            show::output(self.house, &output);
        }
        match (ended, leaving) {
            (true, _) => Some(Stopped::Ended),
            (false, true) => Some(Stopped::Paused),
            (false, false) => None,
        }
    }

    /// Shows the prompt and reads one line.
    fn listen(&mut self) -> Result<Heard, Trouble> {
        if let Some(next) = self.next_of_several() {
            return Ok(Heard::Input(next));
        }
        let by_voice = self.house.manner.voice;
        prompt::show(&mut self.house.terminal, &self.stepped.prompt, by_voice);
        containing::get_ready();
        self.house.kept.make_ready();
        let given = match &self.stepped.prompt.wait {
            Wait::Confirm { text } if self.house.terminal.is_interactive() => text.as_str().to_owned(),
            _ => String::new(),
        };
        let line = if self.house.manner.voice {
            match speaking::hear(self.house, None, &reading::fitting(&self.stepped.prompt.wait)) {
                Said::Words(heard) => return self.heard(&heard),
                Said::Types(begun) if begun.is_empty() => self.house.terminal.ask(&given),
                Said::Types(begun) => self.house.terminal.ask(&begun),
                Said::Nothing => self.house.terminal.ask(&given),
                Said::Hide => Line::Hide,
            }
        } else {
            self.house.terminal.ask(&given)
        };
        match line {
            Line::Closed => Ok(Heard::Stop(Stopped::Paused)),
            Line::Hide => Ok(self.hide()),
            Line::Typed(line) => match slash::read_after(&given, &line) {
                Some(command) => self.obey(&command),
                None => self.answered(&line),
            },
        }
    }

    /// One line is an answer. Several, pasted at once where entries are asked for, may be kept one by one; and one word
    /// alone may have been meant as a command.
    fn answered(&mut self, line: &str) -> Result<Heard, Trouble> {
        if let ControlFlow::Break(instead) = self.bare_word(line)? {
            return Ok(instead);
        }
        let parts: Vec<_> = line
            .lines()
            .map(str::trim)
            .filter(|part| !part.is_empty())
            .collect();
        if parts.len() > 1 && matches!(self.stepped.prompt.wait, Wait::Entry { .. }) {
            let parts: Vec<_> = parts
                .into_iter()
                .map(|part| Zeroizing::new(part.to_owned()))
                .collect();
            match self.one_by_one(None, parts)? {
                ControlFlow::Break(instead) => return Ok(instead),
                ControlFlow::Continue(true) => return Ok(Heard::Again),
                ControlFlow::Continue(false) => {}
            }
        }
        let screened = self.screened(&line.replace(['\n', '\r'], " "));
        Ok(Heard::Input(Input::Answer(screened)))
    }

    /// Every word goes through here before anything else happens to it. A bare Enter where a text stands to be
    /// confirmed keeps that text where the line could not be edited in place.
    fn screened(&self, line: &str) -> Screened {
        match &self.stepped.prompt.wait {
            Wait::Confirm { text } if line.trim().is_empty() && !self.house.terminal.is_interactive() => {
                containing::screen_spoken(text.as_str(), text.as_str())
            }
            Wait::Confirm { text } => containing::screen_spoken(text.as_str(), line.trim()),
            _ => containing::screen(line.trim()),
        }
    }

    fn obey(&mut self, command: &Slash) -> Result<Heard, Trouble> {
        match command {
            Slash::Back => Ok(Heard::Back),
            Slash::Skip => Ok(Heard::Input(Input::Skip)),
            Slash::Pause => Ok(Heard::Stop(Stopped::Paused)),
            Slash::Ground => Ok(Heard::Input(Input::Ground)),
            Slash::Hide => Ok(self.hide()),
            Slash::Voice(file) => {
                let fitting = reading::fitting(&self.stepped.prompt.wait);
                match speaking::hear(self.house, file.as_deref(), &fitting) {
                    Said::Words(heard) => self.heard(&heard),
                    Said::Types(_) | Said::Nothing => Ok(Heard::Again),
                    Said::Hide => Ok(self.hide()),
                }
            }
            other => {
                slash::obey(self.house, other)?;
                Ok(Heard::Again)
            }
        }
    }
}

/// The command that takes a sitting with this script up again.
fn command(script: &str) -> String {
    match script {
        "first-map" => "wayfold begin".to_owned(),
        "plainer" | "short" | "pair" | "group" => format!("wayfold begin --variant {script}"),
        "loop" => "wayfold loops --trace".to_owned(),
        "mark" => "wayfold steps --mark".to_owned(),
        "step" => "wayfold steps --add".to_owned(),
        other => format!("wayfold {other}"),
    }
}

/// A state that was saved, with what it says and asks.
fn recalled(library: &Library, house: &House, state: State) -> Stepped {
    let (outputs, prompt) = recall(library, house.kept.map(), &state);
    Stepped {
        state,
        outputs,
        prompt,
    }
}

fn take(
    house: &mut House,
    library: &Library,
    state: &State,
    input: Input,
) -> Result<Stepped, crate::dialogue::WrongInput> {
    let (map, minting) = house.kept.map_and_minting();
    step(library, map, state, input, &mut || minting.identity())
}
