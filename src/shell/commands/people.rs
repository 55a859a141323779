//! `wayfold people`: the person's own people outside a sitting: listed, added, taken off. They are sealed with the map, so
//! all of it needs what opens the map; `wayfold crisis` needs neither.

use std::process::ExitCode;

use crate::safety::Level;
use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Manner;
use crate::shell::arguments::PeopleArguments;
use crate::shell::commands::asking;
use crate::shell::commands::asking::Answer;
use crate::shell::commands::store::opened;
use crate::shell::containing;
use crate::shell::people;
use crate::shell::people::Place;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Lists the person's own people, or does what was asked with them.
pub(crate) fn run(arguments: &Arguments, what: &PeopleArguments) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    let kept = opened(&mut terminal, arguments)?;
    // Numbers are typed, so there is nothing to listen for.
    let manner = Manner {
        voice: false,
        ..arguments.manner.clone()
    };
    let mut house = House::new(terminal, kept, manner);
    if what.add {
        return add(&mut house);
    }
    match what.drop {
        None => people::list(&mut house, Place::CommandLine),
        Some(place) if people::drop_at(&mut house, place)? => {}
        Some(_) => {
            house.terminal.say(&phrase("people.no-such"));
            people::list(&mut house, Place::CommandLine);
            return Ok(ExitCode::FAILURE);
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// Asks for one of them. What is typed is looked at like any other words.
fn add(house: &mut House) -> Result<ExitCode, Trouble> {
    loop {
        house.terminal.stress(&phrase("people.ask"));
        match asking::ask_choice(house)? {
            Answer::Given(line) if line.is_empty() => return Ok(ExitCode::SUCCESS),
            Answer::Given(line) if containing::screen(&line).level() >= Level::Pause => show::crisis(house),
            Answer::Given(line) => {
                if people::add(house, &line)? {
                    return Ok(ExitCode::SUCCESS);
                }
            }
            Answer::Left => return Ok(ExitCode::from(130)),
            Answer::Hidden => return Ok(ExitCode::SUCCESS),
            Answer::Back => house.terminal.say(&phrase("prompt.first")),
            Answer::Voice(_) => house.terminal.say(&phrase("voice.only-entries")),
            Answer::Again => {}
        }
    }
}
