//! `wayfold lookback`: what changed over time, on request only. Every number on the screen is also in the JSON form, and
//! can be recounted from the map.

use std::io;
use std::io::Write;
use std::process::ExitCode;

use crate::insight;
use crate::shell::arguments::Arguments;
use crate::shell::dates;
use crate::shell::keeping;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Looks back, from a date on if one is given.
pub(crate) fn run(arguments: &Arguments, since: Option<&str>, json: bool) -> Result<ExitCode, Trouble> {
    let since = since.map(dates::date).transpose()?.map(dates::start_of);
    let mut terminal = Terminal::new(arguments.manner.plain);
    if json {
        terminal = terminal.aside();
    }
    let Some(kept) = keeping::open(&mut terminal, &arguments.keeping)? else {
        terminal.say(&phrase("store.none"));
        return Ok(ExitCode::SUCCESS);
    };
    if json {
        let look = insight::look_back(kept.map(), &dates::asked(kept.map(), since));
        let text = serde_json::to_string_pretty(&look).unwrap_or_default();
        // A reader that has gone away is no failure of ours.
        let _ = writeln!(io::stdout(), "{text}");
        return Ok(ExitCode::SUCCESS);
    }
    show::look_back(&mut terminal, kept.map(), since);
    Ok(ExitCode::SUCCESS)
}
