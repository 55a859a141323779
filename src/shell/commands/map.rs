//! `wayfold map`: shows the map, or writes it in another form. The empty sheet, the page for an appointment and the
//! chosen part for someone else are rooms of their own.

use std::borrow::Cow;
use std::process::ExitCode;

use jiff::Timestamp;
use jiff::civil::Date;

use crate::map::Map;
use crate::map::MapJson;
use crate::page;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Form;
use crate::shell::arguments::MapArguments;
use crate::shell::commands::appointment;
use crate::shell::commands::paper;
use crate::shell::commands::share;
use crate::shell::dates;
use crate::shell::keeping;
use crate::shell::keeping::Kept;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Shows the map, or writes it.
pub(crate) fn run(arguments: &Arguments, what: &MapArguments) -> Result<ExitCode, Trouble> {
    if what.blank {
        return paper::blank(arguments.manner.plain, what);
    }
    // What cannot work is said before a passphrase is asked for.
    let date = date(what)?;
    if what.share {
        return share::run(arguments, what, date);
    }
    let form = paper::form(what)?;
    let mut terminal = paper::terminal(arguments.manner.plain, form, what);
    let Some(kept) = keeping::open(&mut terminal, &arguments.keeping)? else {
        terminal.say(&phrase("store.none"));
        return Ok(ExitCode::SUCCESS);
    };
    if what.appointment {
        return appointment::run(arguments, what, (terminal, kept), form, date);
    }
    let map = map_on(&kept, what)?;
    match form {
        Some(Form::Json) => json(&mut terminal, &map, what),
        None if map.entries().is_empty() => {
            terminal.say(&phrase("map.empty"));
            Ok(ExitCode::SUCCESS)
        }
        form => {
            let options = page::SheetOptions {
                paper: paper::paper(what),
                date: Some(date),
                zone: Some(dates::zone()),
                ..Default::default()
            };
            paper::give(&mut terminal, &page::sheet(&map, &options), form, what)
        }
    }
}

/// The map as it was on the day asked for, or is now.
pub(crate) fn map_on<'k>(kept: &'k Kept, what: &MapArguments) -> Result<Cow<'k, Map>, Trouble> {
    Ok(match &what.on {
        Some(day) => Cow::Owned(kept.history().map_at(dates::end_of(dates::date(day)?))),
        None => Cow::Borrowed(kept.map()),
    })
}

/// The day asked for, or today.
fn date(what: &MapArguments) -> Result<Date, Trouble> {
    what.on
        .as_ref()
        .map_or_else(|| Ok(dates::today()), |day| dates::date(day))
}

fn json(terminal: &mut Terminal, map: &Map, what: &MapArguments) -> Result<ExitCode, Trouble> {
    let mut text = serde_json::to_string_pretty(&MapJson::of(map, Timestamp::now())).unwrap_or_default();
    text.push('\n');
    paper::deliver(terminal, text.as_bytes(), what)?;
    Ok(ExitCode::SUCCESS)
}
