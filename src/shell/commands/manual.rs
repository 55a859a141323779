//! `wayfold manual`: man pages and completions, made from the one table of arguments, for who packages the program.

use std::fs;
use std::io;
use std::path::Path;
use std::process::ExitCode;

use clap::Command;
use clap::CommandFactory;
use clap::builder::StyledStr;
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
    let shown = shown();
    clap_mangen::generate_to(shown.clone(), into)?;
    for page in fs::read_dir(into)? {
        let page = page?.path();
        if page.extension().is_some_and(|end| end == "1") {
            fs::write(&page, with_examples(&fs::read_to_string(&page)?))?;
        }
    }
    for shell in SHELLS {
        clap_complete::generate_to(shell, &mut shown.clone(), "wayfold", into)?;
    }
    Ok(())
}

/// The table of arguments without what is hidden, which completions would offer.
fn shown() -> Command {
    let all = Arguments::command();
    let open = all.get_subcommands().filter(|one| !one.is_hide_set());
    let said = |words: Option<&StyledStr>| words.cloned().unwrap_or_default();
    Command::new("wayfold")
        .version(env!("CARGO_PKG_VERSION"))
        .about(said(all.get_about()))
        .long_about(said(all.get_long_about()))
        .after_help(said(all.get_after_help()))
        .args(all.get_arguments())
        .subcommands(open)
}

/// The page's generator puts what follows the options under a heading that says nothing.
fn with_examples(page: &str) -> String {
    [".SH EXTRA\nExamples:\n", ".SH EXTRA\nExample:\n"]
        .iter()
        .fold(page.to_owned(), |page, heading| {
            page.replace(heading, ".SH EXAMPLES\n")
        })
}
