//! `wayfold script check`: every problem at once.

use std::io;
use std::io::Write as _;
use std::path::Path;
use std::path::PathBuf;
use std::process::ExitCode;

use super::Written;
use crate::dialogue;
use crate::dialogue::Fault;
use crate::dialogue::Library;
use crate::language;
use crate::shell::commands::begin;
use crate::shell::faults;
use crate::shell::phrases::counted;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Checks files; the exit code is 0 when nothing is to be mended.
pub(crate) fn run(
    terminal: &mut Terminal,
    files: &[PathBuf],
    json: bool,
    against: Option<&str>,
) -> Result<ExitCode, Trouble> {
    let library = begin::shipped()?;
    let read: Vec<Written> = files
        .iter()
        .map(|file| Written::read(file))
        .collect::<Result<_, _>>()?;
    let mut beside = Vec::new();
    let mut found: Vec<Fault> = read.iter().filter_map(|one| one.fault.clone()).collect();
    for one in read.iter().filter(|one| one.fault.is_none()) {
        found.extend(match against {
            Some(against) => translation(one, against)?,
            None => script(&library, one, &read, &mut beside)?,
        });
    }
    let texts: Vec<&Written> = read.iter().chain(&beside).collect();
    if json {
        let rows: Vec<_> = found.iter().map(faults::row).collect();
        let text = serde_json::to_string_pretty(&rows).unwrap_or_default();
        // A reader that has gone away is no failure of ours.
        let _ = writeln!(io::stdout(), "{text}");
    } else {
        faults::show(terminal, &found, &texts);
        terminal.say(&match found.len() {
            0 => phrase("check.clean"),
            count => counted("check.found", count as u64, &[]),
        });
    }
    Ok(if found.is_empty() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}

/// Checks one file: a whole script, a flow with the words that were given or lie beside it, or words alone.
fn script(
    library: &Library,
    one: &Written,
    given: &[Written],
    beside: &mut Vec<Written>,
) -> Result<Vec<Fault>, Trouble> {
    let same_name = |other: &&Written| other.path.file_name() == one.path.file_name();
    if one.is_words() {
        // Its flow is among the files, and the two are checked together there.
        if given.iter().filter(same_name).any(|other| !other.is_words()) {
            return Ok(Vec::new());
        }
        let Some(flow) = one.beside("en", "flow") else {
            return Ok(dialogue::proof_words(one.pair()));
        };
        let flow = Written::read(&flow)?;
        let found = dialogue::proof(library, flow.pair(), Some(one.pair()));
        beside.push(flow);
        return Ok(found);
    }
    if one.has_lines() {
        return Ok(dialogue::proof(library, one.pair(), None));
    }
    if let Some(words) = given.iter().filter(same_name).find(|other| other.is_words()) {
        return Ok(dialogue::proof(library, one.pair(), Some(words.pair())));
    }
    let words = one.words_beside()?;
    let found = dialogue::proof(library, one.pair(), words.as_ref().map(Written::pair));
    beside.extend(words);
    Ok(found)
}

/// Compares words in another language with the English ones of the same name, or with a file.
fn translation(one: &Written, against: &str) -> Result<Vec<Fault>, Trouble> {
    if against == "en" {
        let name = one
            .path
            .file_stem()
            .and_then(|stem| stem.to_str())
            .unwrap_or_default();
        let english = Library::english(name).or(match name {
            "shell" => Some(language::SHELL_WORDS),
            "page" => Some(language::PAGE_WORDS),
            _ => None,
        });
        let Some(english) = english else {
            return Err(Trouble::Usage("trouble.no-english", name.to_owned()));
        };
        return Ok(dialogue::against(one.pair(), ("en", english)));
    }
    let original = Written::read(Path::new(against))?;
    Ok(dialogue::against(one.pair(), original.pair()))
}
