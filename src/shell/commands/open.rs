//! `wayfold` alone: the first time it begins; after that it asks what the person needs.

use std::process::ExitCode;

use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::commands::begin;
use crate::shell::containing;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;

const NEEDS: [&str; 5] = ["stuck", "moment", "map", "review", "leave"];

/// Opens the companion.
pub(crate) fn run(arguments: &Arguments) -> Result<ExitCode, Trouble> {
    let Some(mut house) = begin::enter(arguments)? else { return Ok(ExitCode::SUCCESS) };
    let unfinished = house.kept.map().sittings().iter().any(|sitting| sitting.script == "first-map");
    if unfinished || house.kept.map().entries().is_empty() {
        return begin::walk(&mut house, &begin::shipped()?, "first-map");
    }
    loop {
        house.terminal.gap();
        house.terminal.stress(&phrase("open.hello"));
        for (place, need) in NEEDS.iter().enumerate() {
            house.terminal.option(place + 1, &phrase(&format!("open.{need}")));
        }
        let line = match house.terminal.ask("") {
            Line::Typed(line) => line,
            Line::Closed => return Ok(ExitCode::SUCCESS),
            Line::Hide => {
                house.terminal.hide();
                return Ok(ExitCode::SUCCESS);
            }
        };
        match slash::read(&line) {
            Some(Slash::Hide) => {
                house.terminal.hide();
                return Ok(ExitCode::SUCCESS);
            }
            Some(Slash::Pause) => return Ok(ExitCode::SUCCESS),
            Some(Slash::Ground) => return begin::walk(&mut house, &begin::shipped()?, "ground"),
            Some(command) => slash::obey(&mut house, &command)?,
            None => match need(&line) {
                Some("leave") => return Ok(ExitCode::SUCCESS),
                Some("map") => show::map(&mut house),
                Some(script) => return begin::walk(&mut house, &begin::shipped()?, script),
                None => answer_in_words(&mut house, &line),
            },
        }
    }
}

/// A number of the list, or the start of a need's own words.
fn need(line: &str) -> Option<&'static str> {
    let line = line.trim().to_lowercase();
    if let Ok(number) = line.parse::<usize>() {
        return number.checked_sub(1).and_then(|place| NEEDS.get(place)).copied();
    }
    NEEDS.into_iter().find(|need| !line.is_empty() && need.starts_with(&line))
}

/// Words that are no choice are still looked at: someone may say here that they are in danger.
fn answer_in_words(house: &mut House, line: &str) {
    if containing::screen(line).level() >= crate::safety::Level::Pause {
        show::crisis(house);
    } else {
        house.terminal.say(&phrase("prompt.choose"));
    }
}
