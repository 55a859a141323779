//! `wayfold map --since`: what came, went and changed on the map since a date.

use std::process::ExitCode;

use crate::insight;
use crate::picture;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Form;
use crate::shell::arguments::MapArguments;
use crate::shell::changes;
use crate::shell::commands::paper;
use crate::shell::dates;
use crate::shell::keeping;
use crate::shell::phrases::phrase;
use crate::shell::trouble::Trouble;

/// Lays the map as it was when the day began beside the map of today.
pub(crate) fn run(arguments: &Arguments, what: &MapArguments, since: &str) -> Result<ExitCode, Trouble> {
    // What cannot work is said before a passphrase is asked for.
    let day = dates::date(since)?;
    let form = paper::form(what)?;
    if !matches!(form, None | Some(Form::Text | Form::Markdown | Form::Json)) {
        return Err(Trouble::Usage("trouble.since-form", String::new()));
    }
    let mut terminal = paper::terminal(arguments.manner.plain, form, what);
    let Some(kept) = keeping::open(&mut terminal, &arguments.keeping)? else {
        terminal.say(&phrase("store.none"));
        return Ok(ExitCode::SUCCESS);
    };
    let before = dates::start_of(day) - jiff::SignedDuration::from_nanos(1);
    let (earlier, later) = (kept.history().map_at(before), kept.map());
    let found = insight::differences(&earlier, later);
    let page = || changes::page(&earlier, later, &found, &day.to_string());
    let text = match form {
        None => {
            terminal.print(&picture::terminal::draw(&page(), &terminal.screen()));
            return Ok(ExitCode::SUCCESS);
        }
        Some(Form::Json) => serde_json::to_string_pretty(&found).unwrap_or_default() + "\n",
        Some(Form::Markdown) => picture::markdown(&page()),
        Some(_) => picture::plain(&page()),
    };
    paper::deliver(&mut terminal, text.as_bytes(), what)?;
    Ok(ExitCode::SUCCESS)
}
