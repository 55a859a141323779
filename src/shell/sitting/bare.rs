//! A word that is a command with a slash, typed alone and without one. Where words of the person's own fit, they say which of
//! the two it is, and it may well be their answer; elsewhere it can only be the command.

use std::ops::ControlFlow;

use super::Heard;
use super::Sitting;
use super::Stopped;
use super::reading::labels;
use crate::dialogue::Input;
use crate::dialogue::Wait;
use crate::safety::Level;
use crate::shell::containing;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::speaking;
use crate::shell::speaking::Fitting;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;
use crate::voice::command;
use crate::voice::command::Accepted;
use crate::voice::command::Meant;
use crate::voice::command::Spoken;

impl Sitting<'_> {
    /// Goes on where the line is an answer, and breaks off with what it came to instead.
    pub(super) fn bare_word(&mut self, line: &str) -> Result<ControlFlow<Heard>, Trouble> {
        let Some((typed, command)) = slash::meant(line) else {
            return Ok(ControlFlow::Continue(()));
        };
        let line = line.trim();
        // Whoever asks for help while a safety message is open sees whom to call.
        if command == Slash::Help && self.stepped.state.has_open_message() {
            return self.obey(&Slash::Crisis).map(ControlFlow::Break);
        }
        match &self.stepped.prompt.wait {
            Wait::Words
            | Wait::Entry { .. }
            | Wait::Confirm { .. }
            | Wait::Pick { may_add: Some(_), .. }
            | Wait::Pick { may_say: true, .. } => self.which_of(line, typed, &command),
            wait if is_offered(wait, line) => Ok(ControlFlow::Continue(())),
            _ => self.obey(&command).map(ControlFlow::Break),
        }
    }

    /// Asks whether a word was meant as a command. Enter keeps it as the answer, and other words take its place.
    fn which_of(&mut self, line: &str, typed: &str, command: &Slash) -> Result<ControlFlow<Heard>, Trouble> {
        let names = [
            filled("prompt.bare-command", &[("command", typed)]),
            filled("prompt.bare-answer", &[("words", line)]),
        ];
        let choices = names.each_ref().map(String::as_str);
        loop {
            let terminal = &mut self.house.terminal;
            terminal.say(&phrase("voice.meant"));
            for (place, name) in names.iter().enumerate() {
                terminal.option(place + 1, name);
            }
            terminal.hint(&phrase("prompt.bare-enter"));
            let said = match speaking::line(self.house, &Fitting::Words(names.to_vec())) {
                Line::Typed(said) => said,
                Line::Closed => return Ok(ControlFlow::Break(Heard::Stop(Stopped::Paused))),
                Line::Hide => return Ok(ControlFlow::Break(self.hide())),
            };
            if let Some(other) = slash::read(&said) {
                match self.obey(&other)? {
                    // Something else was looked at, and the question stands.
                    Heard::Again if other != *command => continue,
                    instead => return Ok(ControlFlow::Break(instead)),
                }
            }
            let screened = containing::screen(said.trim());
            if screened.level() >= Level::Pause {
                return Ok(ControlFlow::Break(Heard::Input(Input::Answer(screened))));
            }
            let accepted = Accepted {
                words: &[],
                choices: &choices,
            };
            return match command::spoken(&said, accepted) {
                _ if said.trim().is_empty() => Ok(ControlFlow::Continue(())),
                Spoken::Sure(Meant::Choice(0)) => self.obey(command).map(ControlFlow::Break),
                Spoken::Sure(Meant::Choice(_)) => Ok(ControlFlow::Continue(())),
                _ => self.answered(&said).map(ControlFlow::Break),
            };
        }
    }
}

/// Whether a prompt has a choice that begins so.
fn is_offered(wait: &Wait, line: &str) -> bool {
    let line = line.to_lowercase();
    let words = match wait {
        Wait::Choose { options } => options.iter().map(|one| one.word.clone()).collect(),
        _ => Vec::new(),
    };
    let mut offered = labels(wait).into_iter().chain(words);
    offered.any(|one| one.to_lowercase().starts_with(&line))
}
