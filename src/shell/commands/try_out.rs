//! `wayfold try`: one part of the program on lines from standard input or on files, touching no map.

use std::process::ExitCode;

use crate::shell::arguments::Arguments;
use crate::shell::arguments::TryCommand;
use crate::shell::trouble::Trouble;

/// Runs one part.
pub(crate) fn run(_arguments: &Arguments, _what: &TryCommand) -> Result<ExitCode, Trouble> {
    Ok(ExitCode::SUCCESS)
}
