//! `wayfold manual`: man pages and completions, made from the one table of arguments, for who packages the program.

use std::fs;
use std::io;
use std::path::Path;
use std::process::ExitCode;

use clap::CommandFactory;
use clap_complete::Shell;

use crate::shell::arguments::Arguments;
use crate::shell::trouble::Trouble;

/// The shells that completions are written for.
const SHELLS: [Shell; 3] = [Shell::Bash, Shell::Zsh, Shell::Fish];

/// Writes a page for the program and for each command, and a file of completions for each shell.
pub(crate) fn run(into: &Path) -> Result<ExitCode, Trouble> {
    write(into).map_err(|error| Trouble::Write(into.to_owned(), error))?;
    Ok(ExitCode::SUCCESS)
}

fn write(into: &Path) -> io::Result<()> {
    fs::create_dir_all(into)?;
    clap_mangen::generate_to(Arguments::command(), into)?;
    for shell in SHELLS {
        clap_complete::generate_to(shell, &mut Arguments::command(), "wayfold", into)?;
    }
    Ok(())
}
