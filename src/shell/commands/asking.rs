//! A question outside a script: one line in, with the same commands at the prompt as in a sitting.

use zeroize::Zeroizing;

use crate::shell::House;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;

/// What came back.
pub(crate) enum Answer {
    /// The person's line, without space around it; empty where nothing was typed, or the question was skipped.
    Given(Zeroizing<String>),
    /// One question back.
    Back,
    /// The person left, or the input ended.
    Left,
    /// The screen was hidden; nothing more is said.
    Hidden,
}

/// Reads an answer. Commands that leave the question standing are carried out on the way.
pub(crate) fn ask(house: &mut House) -> Result<Answer, Trouble> {
    loop {
        let line = match house.terminal.ask("") {
            Line::Typed(line) => line,
            Line::Closed => return Ok(Answer::Left),
            Line::Hide => return Ok(hide(house)),
        };
        match slash::read(&line) {
            None => return Ok(Answer::Given(Zeroizing::new(line.trim().to_owned()))),
            Some(Slash::Skip) => return Ok(Answer::Given(Zeroizing::default())),
            Some(Slash::Back) => return Ok(Answer::Back),
            Some(Slash::Pause) => return Ok(Answer::Left),
            Some(Slash::Hide) => return Ok(hide(house)),
            Some(command) => slash::obey(house, &command)?,
        }
    }
}

fn hide(house: &mut House) -> Answer {
    house.terminal.hide();
    Answer::Hidden
}
