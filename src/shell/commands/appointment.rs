//! `wayfold map --appointment`: one page to bring along. One question is asked first, and it may be left out.

use std::process::ExitCode;

use jiff::ToSpan;
use jiff::civil::Date;
use zeroize::Zeroizing;

use crate::page;
use crate::page::AppointmentOptions;
use crate::safety::Level;
use crate::safety::Words;
use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Form;
use crate::shell::arguments::Manner;
use crate::shell::arguments::MapArguments;
use crate::shell::commands::asking;
use crate::shell::commands::asking::Answer;
use crate::shell::commands::map;
use crate::shell::commands::paper;
use crate::shell::containing;
use crate::shell::dates;
use crate::shell::keeping::Kept;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::speaking;
use crate::shell::speaking::Fitting;
use crate::shell::speaking::Said;
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
    let map = map::map_on(&kept, what)?.into_owned();
    // Choices are numbers, so there is nothing to listen for.
    let manner = Manner {
        voice: false,
        ..arguments.manner.clone()
    };
    let mut house = House::new(terminal, kept, manner);
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

/// One optional question, typed or spoken. Its words are looked at like any others before they go anywhere.
fn ask(house: &mut House) -> Result<Asked, Trouble> {
    let mut heard: Option<Zeroizing<String>> = None;
    loop {
        let given = match &heard {
            None => {
                house.terminal.stress(&phrase("appointment.question"));
                house.terminal.hint(&phrase("appointment.hint"));
                ""
            }
            // What was heard is shown to be kept or corrected, in place where there is a line editor.
            Some(heard) => {
                house
                    .terminal
                    .say(&filled("voice.heard", &[("words", heard.as_str())]));
                house.terminal.hint(&phrase("prompt.confirm"));
                if house.terminal.is_interactive() {
                    heard
                } else {
                    ""
                }
            }
        };
        match asking::ask(house, given)? {
            Answer::Given(line) => {
                let keeps = line.is_empty() && !house.terminal.is_interactive();
                let screened = match &heard {
                    Some(heard) if keeps => containing::screen_spoken(heard, heard),
                    Some(heard) => containing::screen_spoken(heard, &line),
                    None => containing::screen(&line),
                };
                match screened.level() {
                    Level::None => {}
                    Level::Quiet => house.terminal.say(&phrase("quiet.line")),
                    Level::Pause | Level::Stop | Level::Emergency => show::crisis(house),
                }
                let words = screened.into_words();
                return Ok(if words.as_str().is_empty() {
                    Asked::Nothing
                } else {
                    Asked::Words(words)
                });
            }
            Answer::Voice(file) => {
                match speaking::hear(house, file.as_deref(), &Fitting::Words(Vec::new())) {
                    Said::Words(words) => heard = Some(Zeroizing::new(words.text.as_str().to_owned())),
                    Said::Types(_) | Said::Nothing => {}
                    Said::Hide => return Ok(Asked::Hidden),
                }
            }
            Answer::Again => {}
            Answer::Back if heard.take().is_some() => {}
            Answer::Back => house.terminal.say(&phrase("prompt.first")),
            // A program that gives no lines has no question to bring; a person who leaves wants no page.
            Answer::Left if !house.terminal.is_interactive() => return Ok(Asked::Nothing),
            Answer::Left => return Ok(Asked::Left),
            Answer::Hidden => return Ok(Asked::Hidden),
        }
    }
}
