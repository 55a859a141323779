//! `wayfold steps`: small next steps, listed, added, followed up, or put into a calendar.

use std::process::ExitCode;

use crate::insight;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::StepsArguments;
use crate::shell::commands::begin;
use crate::shell::commands::calendar;
use crate::shell::keeping;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::writing;

/// Lists the steps, or does what was asked with them.
pub(crate) fn run(arguments: &Arguments, what: &StepsArguments) -> Result<ExitCode, Trouble> {
    if what.add {
        return begin::run(arguments, "step");
    }
    if what.mark {
        return begin::run(arguments, "mark");
    }
    // What cannot work is said before a passphrase is asked for.
    if let Some(file) = &what.calendar {
        writing::free_for(file, what.replace)?;
    }
    let mut terminal = Terminal::new(arguments.manner.plain);
    let Some(kept) = keeping::open(&mut terminal, &arguments.keeping)? else {
        terminal.say(&phrase("store.none"));
        return Ok(ExitCode::SUCCESS);
    };
    if let Some(file) = &what.calendar {
        return calendar::write(&mut terminal, kept.map(), file, what);
    }
    show::all_steps(&mut terminal, kept.map());
    terminal.gap();
    let open = !insight::steps_review(kept.map()).open.is_empty();
    terminal.say(&phrase(if open { "steps.next" } else { "steps.how" }));
    Ok(ExitCode::SUCCESS)
}
