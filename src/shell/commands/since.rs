//! `wayfold map --since`: what came, went and changed on the map since a date.

use std::io;
use std::io::Write;
use std::process::ExitCode;

use crate::insight;
use crate::picture;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Form;
use crate::shell::arguments::MapArguments;
use crate::shell::changes;
use crate::shell::dates;
use crate::shell::keeping;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::writing;

/// Lays the map as it was when the day began beside the map of today.
pub(crate) fn run(arguments: &Arguments, what: &MapArguments, since: &str) -> Result<ExitCode, Trouble> {
    let day = dates::date(since)?;
    let mut terminal = Terminal::new(arguments.manner.plain);
    let Some(kept) = keeping::open(&mut terminal, &arguments.keeping)? else {
        terminal.say(&phrase("store.none"));
        return Ok(ExitCode::SUCCESS);
    };
    let before = dates::start_of(day) - jiff::SignedDuration::from_nanos(1);
    let (earlier, later) = (kept.history().map_at(before), kept.map());
    let found = insight::differences(&earlier, later);
    let page = || changes::page(&earlier, later, &found, &day.to_string());
    let text = match what.form {
        None => {
            terminal.print(&picture::terminal::draw(&page(), &terminal.screen()));
            return Ok(ExitCode::SUCCESS);
        }
        Some(Form::Json) => serde_json::to_string_pretty(&found).unwrap_or_default() + "\n",
        Some(Form::Text) => picture::plain(&page()),
        Some(Form::Markdown) => picture::markdown(&page()),
        Some(_) => return Err(Trouble::Usage("trouble.since-form", String::new())),
    };
    match &what.out {
        Some(file) => {
            writing::put(file, text.as_bytes())?;
            terminal.say(&crate::shell::phrases::filled(
                "map.written",
                &[("value", &file.display().to_string())],
            ));
        }
        None => {
            // A reader that has gone away is no failure of ours.
            let _ = io::stdout().write_all(text.as_bytes());
        }
    }
    Ok(ExitCode::SUCCESS)
}
