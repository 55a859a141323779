//! The program as a person meets it: arguments, the sitting, the terminal, the wording of errors.

mod aloud;
mod anchor;
mod arguments;
mod changes;
mod commands;
mod containing;
mod crisis;
mod dates;
mod faults;
mod first_run;
mod idle;
mod keeping;
mod minting;
mod people;
mod phrases;
mod prompt;
mod show;
mod sitting;
mod slash;
mod speaking;
mod terminal;
mod trouble;
mod writing;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::Parser;

use crate::language;
use crate::language::Language;
use crate::map::EventId;
use crate::map::SittingId;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Manner;
use crate::shell::keeping::Kept;
use crate::shell::terminal::Terminal;
use crate::store::guard_memory;

/// Everything that is open while a person is here.
pub(crate) struct House {
    terminal: Terminal,
    kept: Kept,
    manner: Manner,
    speech: speaking::Speech,
}

impl House {
    /// What is open, and the speech that the manner asks for.
    fn new(terminal: Terminal, kept: Kept, manner: Manner) -> Self {
        Self {
            speech: speaking::Speech::new(&manner),
            terminal,
            kept,
            manner,
        }
    }

    /// The region for crisis lines: the one chosen, else what locale and time zone suggest.
    fn region(&self) -> Option<String> {
        let chosen = self.kept.map().setting("region").map(str::to_owned);
        chosen
            .filter(|region| region != "-")
            .or_else(|| first_run::guess().map(str::to_owned))
    }

    /// Every place a sitting stood at, with the events that led there.
    fn places(&self, sitting: SittingId) -> Vec<(EventId, Vec<EventId>)> {
        let open = self.kept.map().sittings().iter().find(|one| one.id == sitting);
        open.map(|one| {
            one.places
                .iter()
                .map(|place| (place.0, place.2.clone()))
                .collect()
        })
        .unwrap_or_default()
    }
}

/// Runs the program with its arguments and returns its exit code: 0 done, 1 failed, 2 usage, 130 interrupted.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    if std::env::var_os("WAYFOLD_PSEUDO").is_some_and(|value| !value.is_empty()) {
        language::choose(Language::Pseudo);
    }
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version come this way too; clap knows where each goes and which code it takes.
            let _ = error.print();
            return ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2));
        }
    };
    if arguments.opens_a_store() {
        // What the platform does not allow cannot be helped, and is no reason to keep somebody from their map.
        let _ = guard_memory();
    }
    containing::hush();
    match containing::contained(|| commands::run(&arguments)) {
        Ok(Ok(code)) => code,
        Ok(Err(trouble)) => {
            terminal::complain(&trouble.words());
            trouble.code()
        }
        Err(broken) => {
            containing::tell(&broken, arguments.manner.plain);
            ExitCode::FAILURE
        }
    }
}
