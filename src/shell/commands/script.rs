//! `wayfold script`: for people who write dialogues. It checks them, draws them, and plays them with no map.

mod check;
mod draw;
mod play;
mod walk;

use std::fs::File;
use std::io::Read as _;
use std::path::Path;
use std::path::PathBuf;
use std::process::ExitCode;

use crate::dialogue::Fault;
use crate::dialogue::FaultKind;
use crate::dialogue::Library;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::ScriptCommand;
use crate::shell::commands::begin;
use crate::shell::faults;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::writing;

/// A little more than a script may have, so that one byte too many is seen.
const MOST_BYTES: u64 = 512 * 1024 + 1;

/// Carries out one of the script commands.
pub(crate) fn run(arguments: &Arguments, what: &ScriptCommand) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    match what {
        ScriptCommand::Check { files, json, against } => {
            check::run(&mut terminal, files, *json, against.as_deref())
        }
        ScriptCommand::Play {
            file,
            answers,
            walk,
            seed,
        } => {
            let Some((library, name)) = open(&mut terminal, file)? else {
                return Err(Trouble::Told("trouble.script", file.display().to_string()));
            };
            match (answers, walk) {
                (Some(answers), _) => play::run(&mut terminal, &library, &name, answers),
                (None, walk) => walk::run(&mut terminal, &library, &name, walk.unwrap_or(1), *seed),
            }
        }
        ScriptCommand::Draw {
            file,
            form,
            out,
            replace,
        } => {
            if let Some(out) = out {
                writing::free_for(out, *replace)?;
            }
            let Some((library, name)) = open(&mut terminal, file)? else {
                return Err(Trouble::Told("trouble.script", file.display().to_string()));
            };
            draw::run(&mut terminal, &library, &name, *form, out.as_deref())
        }
    }
}

/// A script from a file, or a shipped one by its name. `None` when it has faults, which have then been shown.
fn open(terminal: &mut Terminal, file: &Path) -> Result<Option<(Library, String)>, Trouble> {
    let shipped = begin::shipped()?;
    if let Some(name) = file
        .to_str()
        .filter(|name| !file.exists() && shipped.version(name).is_some())
    {
        return Ok(Some((shipped, name.to_owned())));
    }
    open_file(terminal, file)
}

/// A script from a file. `None` when it has faults, which have then been shown.
pub(crate) fn open_file(terminal: &mut Terminal, file: &Path) -> Result<Option<(Library, String)>, Trouble> {
    let shipped = begin::shipped()?;
    let written = Written::read(file)?;
    let words = written.words_beside()?;
    let texts: Vec<&Written> = [&written].into_iter().chain(&words).collect();
    let broken: Vec<Fault> = texts.iter().filter_map(|one| one.fault.clone()).collect();
    let opened = if broken.is_empty() {
        shipped.with_words(written.pair(), words.as_ref().map(Written::pair))
    } else {
        Err(broken)
    };
    match opened {
        Ok(opened) => Ok(Some(opened)),
        Err(found) => {
            faults::show(terminal, &found, &texts);
            Ok(None)
        }
    }
}

/// A file of a script as it was read.
pub(crate) struct Written {
    path: PathBuf,
    /// The file's name as it was given.
    pub(crate) name: String,
    /// Its text; what is no text is left out.
    pub(crate) text: String,
    /// Where it stops being text, if it does.
    pub(crate) fault: Option<Fault>,
}

impl Written {
    /// Reads a file, and no more of it than a script may have.
    pub(crate) fn read(path: &Path) -> Result<Self, Trouble> {
        let trouble = |error| Trouble::Read(path.to_owned(), error);
        let mut bytes = Vec::new();
        let file = File::open(path).map_err(trouble)?;
        file.take(MOST_BYTES).read_to_end(&mut bytes).map_err(trouble)?;
        let name = path.display().to_string();
        // An editor's mark at the very start is no part of the text.
        let bytes = bytes
            .strip_prefix("\u{feff}".as_bytes())
            .unwrap_or(&bytes)
            .to_vec();
        let cut = bytes.len() as u64 >= MOST_BYTES;
        let (text, fault) = match String::from_utf8(bytes) {
            Ok(text) => (text, None),
            Err(error) => {
                let good = error.utf8_error().valid_up_to();
                let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
                let before = text.get(..good).unwrap_or("");
                let line = before.matches('\n').count() + 1;
                let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
                let what = FaultKind::NotText;
                let fault = Fault {
                    file: name.clone(),
                    line,
                    column,
                    span: good..good,
                    what,
                };
                // A letter that was cut in two where reading stopped is not the file's fault.
                (text, (!cut).then_some(fault))
            }
        };
        Ok(Self {
            path: path.to_owned(),
            name,
            text,
            fault,
        })
    }

    /// Name and text.
    pub(crate) fn pair(&self) -> (&str, &str) {
        (&self.name, &self.text)
    }

    /// Whether the file holds words alone.
    fn is_words(&self) -> bool {
        let mut lines = self
            .text
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty() && !line.starts_with('#'));
        lines.next() == Some("[lines]") && !lines.any(|line| line.starts_with("[[node"))
    }

    /// Whether the file holds lines of its own.
    fn has_lines(&self) -> bool {
        self.text
            .lines()
            .any(|line| line.trim_start().starts_with("[lines]"))
    }

    /// The English words of a flow that has none of its own and lies in a folder `flow` beside `en`.
    fn words_beside(&self) -> Result<Option<Self>, Trouble> {
        self.beside("flow", "en")
            .filter(|_| !self.has_lines())
            .map(|path| Self::read(&path))
            .transpose()
    }

    /// The file of the same name in the folder `there` beside the folder `here` that this one is in.
    fn beside(&self, here: &str, there: &str) -> Option<PathBuf> {
        let folder = self.path.parent()?;
        let path = folder.parent()?.join(there).join(self.path.file_name()?);
        (folder.file_name()? == here && path.is_file()).then_some(path)
    }
}
