//! `wayfold map`: shows the map, or writes it in another form.

use std::fs;
use std::io;
use std::io::Write;
use std::process::ExitCode;

use jiff::Timestamp;

use crate::map::Map;
use crate::map::MapJson;
use crate::page;
use crate::picture;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Form;
use crate::shell::arguments::MapArguments;
use crate::shell::arguments::Paper;
use crate::shell::dates;
use crate::shell::keeping;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Shows the map, or writes it.
pub(crate) fn run(arguments: &Arguments, what: &MapArguments) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    let Some(kept) = keeping::open(&mut terminal, &arguments.keeping)? else {
        terminal.say(&phrase("store.none"));
        return Ok(ExitCode::SUCCESS);
    };
    let map = match &what.on {
        Some(day) => kept.history().map_at(dates::end_of(dates::date(day)?)),
        None => kept.map().clone(),
    };
    match what.form {
        Some(form) => write(&mut terminal, &map, form, what),
        None if map.entries().is_empty() => {
            terminal.say(&phrase("map.empty"));
            Ok(ExitCode::SUCCESS)
        }
        None => {
            let drawn = picture::terminal::draw(&sheet(&map, what)?, &terminal.screen());
            terminal.print(&drawn);
            Ok(ExitCode::SUCCESS)
        }
    }
}

fn sheet(map: &Map, what: &MapArguments) -> Result<page::Page, Trouble> {
    let date = match &what.on {
        Some(day) => dates::date(day)?,
        None => dates::today(),
    };
    let paper = match what.paper {
        Paper::A4 => page::Paper::A4,
        Paper::Letter => page::Paper::Letter,
    };
    Ok(page::sheet(map, &page::SheetOptions { paper, date: Some(date), zone: Some(dates::zone()), ..Default::default() }))
}

fn write(terminal: &mut Terminal, map: &Map, form: Form, what: &MapArguments) -> Result<ExitCode, Trouble> {
    let fonts = picture::Fonts::embedded;
    let bytes = match form {
        Form::Json => {
            let mut text = serde_json::to_string_pretty(&MapJson::of(map, Timestamp::now())).unwrap_or_default();
            text.push('\n');
            text.into_bytes()
        }
        Form::Text => picture::plain(&sheet(map, what)?).into_bytes(),
        Form::Markdown => picture::markdown(&sheet(map, what)?).into_bytes(),
        Form::Svg => picture::svg(&sheet(map, what)?, &fonts()).into_bytes(),
        Form::Pdf => picture::pdf(&sheet(map, what)?, &fonts()).map_err(|error| drawing(&error))?,
        Form::Png => picture::png(&sheet(map, what)?, &fonts(), 2.0).map_err(|error| drawing(&error))?,
    };
    match &what.out {
        Some(file) => {
            fs::write(file, bytes).map_err(|error| Trouble::Write(file.clone(), error))?;
            terminal.say(&filled("map.written", &[("value", &file.display().to_string())]));
        }
        None if matches!(form, Form::Pdf | Form::Png) => {
            return Err(Trouble::Usage("trouble.form-needs-file", String::new()));
        }
        None => {
            // A reader that has gone away is no failure of ours.
            let _ = io::stdout().write_all(&bytes);
        }
    }
    Ok(ExitCode::SUCCESS)
}

fn drawing(error: &picture::PictureError) -> Trouble {
    Trouble::Told("trouble.picture", format!("{error:?}"))
}
