//! A question outside a script: one line in, with the same commands at the prompt as in a sitting.

use std::path::PathBuf;

use zeroize::Zeroizing;

use crate::shell::House;
use crate::shell::commands::begin;
use crate::shell::sitting;
use crate::shell::sitting::Stopped;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;

/// What came back.
pub(crate) enum Answer {
    /// The person's line, without space around it; empty where nothing was typed, or the question was skipped.
    Given(Zeroizing<String>),
    /// To be spoken, or read from this recording.
    Voice(Option<PathBuf>),
    /// Something else was carried out; the question is to be shown again.
    Again,
    /// One question back.
    Back,
    /// The person left, or the input ended.
    Left,
    /// The screen was hidden; nothing more is said.
    Hidden,
}

/// Reads one answer. `given` is text that is already there to edit.
pub(crate) fn ask(house: &mut House, given: &str) -> Result<Answer, Trouble> {
    let line = house.terminal.ask(given);
    read(house, given, line)
}

/// The same where nothing but a choice fits, so that a command may come without its slash.
pub(crate) fn ask_choice(house: &mut House) -> Result<Answer, Trouble> {
    let line = house.terminal.ask("");
    read(house, "", slash::slashed(line))
}

/// Reads a line that is there already. `given` is text that stood in it before.
pub(crate) fn read(house: &mut House, given: &str, line: Line) -> Result<Answer, Trouble> {
    let line = match line {
        Line::Typed(line) => line,
        Line::Closed => return Ok(Answer::Left),
        Line::Hide => return Ok(hide(house)),
    };
    Ok(match slash::read_after(given, &line) {
        None => Answer::Given(Zeroizing::new(line.trim().to_owned())),
        Some(Slash::Skip) => Answer::Given(Zeroizing::default()),
        Some(Slash::Voice(file)) => Answer::Voice(file),
        Some(Slash::Back) => Answer::Back,
        Some(Slash::Pause) => Answer::Left,
        Some(Slash::Hide) => hide(house),
        Some(Slash::Ground) => match sitting::walk(house, &begin::shipped()?, "ground")? {
            Stopped::Hidden => Answer::Hidden,
            Stopped::Ended | Stopped::Paused => Answer::Again,
        },
        Some(command) => {
            slash::obey(house, &command)?;
            Answer::Again
        }
    })
}

fn hide(house: &mut House) -> Answer {
    house.terminal.hide();
    Answer::Hidden
}
