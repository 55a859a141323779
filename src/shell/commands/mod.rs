//! The commands, one file each.

mod appointment;
pub(crate) mod asking;
mod backups;
mod begin;
mod calendar;
mod choosing;
mod lookback;
mod loops;
mod manual;
mod map;
mod moment;
mod open;
mod paper;
mod people;
pub(crate) mod script;
mod share;
mod since;
mod steps;
mod store;
mod talk;
mod try_out;
mod view;
mod voice;

use std::process::ExitCode;

use crate::shell::arguments::Arguments;
use crate::shell::arguments::Command;
use crate::shell::arguments::Variant;
use crate::shell::crisis;
use crate::shell::trouble::Trouble;

/// Carries out the command, or opens the companion when there is none.
pub(crate) fn run(arguments: &Arguments) -> Result<ExitCode, Trouble> {
    match &arguments.command {
        None => open::run(arguments),
        Some(Command::Begin { variant }) => {
            begin::run(arguments, variant.map_or("first-map", Variant::script))
        }
        Some(Command::Ground) => begin::run(arguments, "ground"),
        Some(Command::Stuck) => begin::run(arguments, "stuck"),
        Some(Command::Review) => begin::run(arguments, "review"),
        Some(Command::Practice) => begin::run(arguments, "practice"),
        Some(Command::Moment { words }) => moment::run(arguments, words.as_deref()),
        Some(Command::Loops { trace }) => loops::run(arguments, *trace),
        Some(Command::Steps(what)) => steps::run(arguments, what),
        Some(Command::Lookback { since, json }) => lookback::run(arguments, since.as_deref(), *json),
        Some(Command::Map(what)) => match &what.since {
            Some(day) => since::run(arguments, what, day),
            None => map::run(arguments, what),
        },
        Some(Command::Crisis { region, json }) => Ok(crisis::run(arguments, region.as_deref(), *json)),
        Some(Command::People(what)) => people::run(arguments, what),
        Some(Command::Script { what }) => script::run(arguments, what),
        Some(Command::Talk { file }) => talk::run(arguments, file),
        Some(Command::Voice { what }) => voice::run(arguments, what),
        Some(Command::Store { what }) => store::run(arguments, what),
        Some(Command::Try { what }) => try_out::run(arguments, what),
        Some(Command::Manual { into }) => manual::run(into),
    }
}
