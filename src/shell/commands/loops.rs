//! `wayfold loops`: the loops on the map, or a walk along one of them.

use std::process::ExitCode;

use crate::insight;
use crate::shell::arguments::Arguments;
use crate::shell::commands::begin;
use crate::shell::keeping;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Shows every loop on the map, or follows one.
pub(crate) fn run(arguments: &Arguments, trace: bool) -> Result<ExitCode, Trouble> {
    if trace {
        return begin::run(arguments, "loop");
    }
    let mut terminal = Terminal::new(arguments.manner.plain);
    let Some(kept) = keeping::open(&mut terminal, &arguments.keeping)? else {
        terminal.say(&phrase("store.none"));
        return Ok(ExitCode::SUCCESS);
    };
    show::all_loops(&mut terminal, kept.map());
    terminal.gap();
    let any = !insight::loops(kept.map()).is_empty();
    terminal.say(&phrase(if any { "loops.more" } else { "loops.how" }));
    Ok(ExitCode::SUCCESS)
}
