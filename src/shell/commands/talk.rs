//! `wayfold talk FILE`: a sitting with a script that is not part of wayfold.
//!
//! Such a script can come from anyone. It is read up to a size, checked whole before a word of it is shown, and can
//! do only what is on the list of effects. Every answer is looked at for danger before the script sees it, as in any
//! sitting; no script has a say in that.

use std::path::Path;
use std::process::ExitCode;

use crate::shell::arguments::Arguments;
use crate::shell::commands::begin;
use crate::shell::commands::script;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::sitting;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Checks the script, says whose it is not, and walks through it.
pub(crate) fn run(arguments: &Arguments, file: &Path) -> Result<ExitCode, Trouble> {
    let opened = {
        let mut terminal = Terminal::new(arguments.manner.plain);
        script::open_file(&mut terminal, file)?
    };
    let Some((library, name)) = opened else {
        return Err(Trouble::Told("trouble.script", file.display().to_string()));
    };
    let Some(mut house) = begin::enter(arguments)? else {
        return Ok(ExitCode::SUCCESS);
    };
    house.terminal.gap();
    house
        .terminal
        .stress(&filled("talk.not-ours", &[("name", &name)]));
    house.terminal.say(&phrase("talk.what-it-can"));
    let command = format!("wayfold talk {}", file.display());
    sitting::walk_by(&mut house, &library, &name, &command)?;
    Ok(ExitCode::SUCCESS)
}
