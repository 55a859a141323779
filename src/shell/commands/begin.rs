//! Sittings with a script: `wayfold begin` and the shorter ones.

use std::process::ExitCode;

use jiff::SignedDuration;
use jiff::Timestamp;

use crate::dialogue::Library;
use crate::language;
use crate::map::What;
use crate::shell::House;
use crate::shell::aloud::Aloud;
use crate::shell::arguments::Arguments;
use crate::shell::first_run;
use crate::shell::idle;
use crate::shell::sitting;
use crate::shell::sitting::Stopped;
use crate::shell::speaking;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Opens the store, settles what is asked once, and walks through the script.
pub(crate) fn run(arguments: &Arguments, script: &str) -> Result<ExitCode, Trouble> {
    let Some(mut house) = enter(arguments)? else {
        return Ok(ExitCode::SUCCESS);
    };
    let_bygones_go(&mut house, script)?;
    walk(&mut house, &shipped()?, script)
}

/// Walks through one script of a library.
pub(crate) fn walk(house: &mut House, library: &Library, script: &str) -> Result<ExitCode, Trouble> {
    match sitting::walk(house, library, script)? {
        Stopped::Ended | Stopped::Paused | Stopped::Hidden => Ok(ExitCode::SUCCESS),
    }
}

/// Opens or makes the store and asks what is asked once. `None` if the person left.
pub(crate) fn enter(arguments: &Arguments) -> Result<Option<House>, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    if arguments.manner.aloud {
        match Aloud::open("en") {
            Ok(aloud) => terminal.read_aloud(aloud),
            Err(error) => terminal.say(&speaking::words(&error)),
        }
    }
    let Some(kept) = first_run::open(&mut terminal, arguments)? else {
        return Ok(None);
    };
    let mut house = House::new(terminal, kept, arguments.manner.clone());
    house
        .terminal
        .hide_after(idle::chosen(house.kept.map(), house.terminal.is_plain()));
    Ok(first_run::settle_region(&mut house)?.then_some(house))
}

/// The scripts that come with the program.
pub(crate) fn shipped() -> Result<Library, Trouble> {
    Library::at_hand(language::spoken().tag())
        .map_err(|faults| Trouble::Told("trouble.script", format!("{} faults", faults.len())))
}

/// Scripts for a few minutes of one day.
const SHORT: [&str; 6] = ["loop", "mark", "moment", "practice", "step", "stuck"];

/// After so many hours a short script that was left begins anew.
const BYGONE: i64 = 12;

/// Ends a short script that was left long ago: someone who is stuck today is not asked about the middle of another day.
/// What was said in it stays.
pub(crate) fn let_bygones_go(house: &mut House, script: &str) -> Result<(), Trouble> {
    if !SHORT.contains(&script) {
        return Ok(());
    }
    let before = Timestamp::now() - SignedDuration::from_hours(BYGONE);
    let left = house
        .kept
        .map()
        .sittings()
        .iter()
        .filter(|one| one.script == script && one.at < before);
    let left: Vec<_> = left.map(|one| one.id).collect();
    for sitting in left {
        house.kept.record(What::SittingEnded { sitting })?;
    }
    Ok(())
}
