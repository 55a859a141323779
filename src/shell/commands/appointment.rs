//! `wayfold map --appointment`: one page to bring along. One question is asked first, and it may be left out.

use std::process::ExitCode;

use jiff::ToSpan;
use jiff::civil::Date;

use crate::page;
use crate::page::AppointmentOptions;
use crate::safety;
use crate::safety::Level;
use crate::safety::Words;
use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Form;
use crate::shell::arguments::MapArguments;
use crate::shell::commands::asking;
use crate::shell::commands::asking::Answer;
use crate::shell::commands::map;
use crate::shell::commands::paper;
use crate::shell::dates;
use crate::shell::keeping::Kept;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::speaking::Speech;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Asks for a question to bring, then shows or writes the page.
pub(crate) fn run(
    arguments: &Arguments,
    what: &MapArguments,
    (terminal, kept): (Terminal, Kept),
    form: Option<Form>,
    date: Date,
) -> Result<ExitCode, Trouble> {
    if what.out.is_none() && matches!(form, Some(Form::Pdf | Form::Png)) {
        return Err(Trouble::Usage("trouble.form-needs-file", String::new()));
    }
    let map = map::map_on(&kept, what)?;
    let mut manner = arguments.manner.clone();
    manner.voice = false;
    let speech = Speech::new(&manner);
    let mut house = House {
        terminal,
        kept,
        manner,
        speech,
    };
    if map.entries().is_empty() {
        house.terminal.say(&phrase("map.empty"));
        return Ok(ExitCode::SUCCESS);
    }
    let question = match ask(&mut house)? {
        Asked::Words(words) => Some(words),
        Asked::Nothing => None,
        Asked::Left => {
            house.terminal.say(&phrase("share.nothing-written"));
            return Ok(ExitCode::from(130));
        }
        Asked::Hidden => return Ok(ExitCode::SUCCESS),
    };
    let page = page::appointment(
        &map,
        &AppointmentOptions {
            paper: paper::paper(what),
            date,
            since: date.checked_sub(1.month()).unwrap_or(date),
            chosen: None,
            question: question.map(|words| words.as_str().to_owned()),
            zone: Some(dates::zone()),
        },
    );
    house.terminal.gap();
    paper::give(&mut house.terminal, &page, form, what)
}

enum Asked {
    Words(Words),
    Nothing,
    Left,
    Hidden,
}

/// One optional question. Its words are looked at like any others before they go anywhere.
fn ask(house: &mut House) -> Result<Asked, Trouble> {
    house.terminal.stress(&phrase("appointment.question"));
    house.terminal.hint(&phrase("appointment.hint"));
    loop {
        match asking::ask(house)? {
            Answer::Given(line) if line.is_empty() => return Ok(Asked::Nothing),
            Answer::Given(line) => {
                let screened = safety::screen(&line);
                match screened.level() {
                    Level::None => {}
                    Level::Quiet => house.terminal.say(&phrase("quiet.line")),
                    Level::Pause | Level::Stop | Level::Emergency => show::crisis(house),
                }
                return Ok(Asked::Words(screened.into_words()));
            }
            Answer::Back => house.terminal.say(&phrase("prompt.first")),
            // A program that gives no lines has no question to bring; a person who leaves wants no page.
            Answer::Left if !house.terminal.is_interactive() => return Ok(Asked::Nothing),
            Answer::Left => return Ok(Asked::Left),
            Answer::Hidden => return Ok(Asked::Hidden),
        }
    }
}
