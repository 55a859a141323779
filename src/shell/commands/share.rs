//! `wayfold map --share`: a chosen part of the map in a file for someone else. Nothing is in it that was not chosen,
//! all of it is shown before, and without a yes nothing is written.

use std::io;
use std::path::Path;
use std::path::PathBuf;
use std::process::ExitCode;

use jiff::civil::Date;
use zeroize::Zeroizing;

use crate::map::Map;
use crate::page;
use crate::page::Page;
use crate::picture;
use crate::picture::Fonts;
use crate::safety::Level;
use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Form;
use crate::shell::arguments::Manner;
use crate::shell::arguments::MapArguments;
use crate::shell::commands::asking;
use crate::shell::commands::asking::Answer;
use crate::shell::commands::choosing;
use crate::shell::commands::choosing::Choosing;
use crate::shell::commands::choosing::Kind;
use crate::shell::commands::choosing::Question;
use crate::shell::commands::choosing::Took;
use crate::shell::commands::map;
use crate::shell::commands::paper;
use crate::shell::containing;
use crate::shell::dates;
use crate::shell::keeping;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::terminal::Line;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::writing;
use crate::store;
use crate::store::BackupLock;

/// Chooses with the person, shows, asks, writes.
pub(crate) fn run(arguments: &Arguments, what: &MapArguments, date: Date) -> Result<ExitCode, Trouble> {
    let kind = kind(what)?;
    // What cannot work is said before anything is chosen.
    if let Some(file) = &what.out
        && let Some(folder) = file.parent().filter(|folder| !folder.as_os_str().is_empty())
        && !folder.is_dir()
    {
        return Err(Trouble::Write(file.clone(), io::ErrorKind::NotFound.into()));
    }
    let mut terminal = Terminal::new(arguments.manner.plain);
    let Some(kept) = keeping::open(&mut terminal, &arguments.keeping)? else {
        terminal.say(&phrase("store.none"));
        return Ok(ExitCode::SUCCESS);
    };
    let map = map::map_on(&kept, what)?.into_owned();
    if map.entries().is_empty() {
        terminal.say(&phrase("map.empty"));
        return Ok(ExitCode::SUCCESS);
    }
    // Choices are numbers, so there is nothing to listen for.
    let manner = Manner {
        voice: false,
        ..arguments.manner.clone()
    };
    let mut house = House::new(terminal, kept, manner);
    house.terminal.say(&phrase("share.hello"));
    Walk {
        house: &mut house,
        map: &map,
        what,
        date,
        fonts: Fonts::embedded(),
    }
    .run(Choosing::new(kind))
}

/// The kind that the command line names, by form or by the file's ending.
fn kind(what: &MapArguments) -> Result<Option<Kind>, Trouble> {
    let ending = what
        .out
        .as_ref()
        .and_then(|file| file.extension())
        .and_then(|ending| ending.to_str());
    match (what.form, ending) {
        (Some(Form::Pdf) | None, Some("age")) => Ok(Some(Kind::Sealed)),
        (Some(Form::Pdf), _) | (None, Some("pdf")) => Ok(Some(Kind::Pdf)),
        (Some(Form::Markdown), _) | (None, Some("md")) => Ok(Some(Kind::Markdown)),
        (Some(_), _) => Err(Trouble::Usage("trouble.share-form", String::new())),
        (None, _) => Ok(None),
    }
}

struct Walk<'a> {
    house: &'a mut House,
    map: &'a Map,
    what: &'a MapArguments,
    date: Date,
    /// The letters for the page that was shown last.
    fonts: Fonts,
}

fn form(choosing: &Choosing) -> Form {
    if choosing.kind == Some(Kind::Markdown) {
        Form::Markdown
    } else {
        Form::Pdf
    }
}

impl Walk<'_> {
    fn run(&mut self, mut choosing: Choosing) -> Result<ExitCode, Trouble> {
        let mut before: Vec<Choosing> = Vec::new();
        let mut said = None;
        loop {
            let question = choosing.question(self.map);
            if question == Question::Dates && choosing.is_empty() {
                self.house.terminal.gap();
                self.house.terminal.say(&phrase("share.nothing-chosen"));
                return Ok(ExitCode::SUCCESS);
            }
            // A question that an answer did not fit is not said again.
            if said != Some(question) {
                match question {
                    Question::Confirm => self.preview(&choosing),
                    other => {
                        choosing::show(&mut self.house.terminal, self.map, &choosing, other, self.date);
                    }
                }
                said = Some(question);
            }
            let line = match asking::ask_choice(self.house)? {
                Answer::Given(line) => line,
                Answer::Hidden => return Ok(ExitCode::SUCCESS),
                Answer::Left => return Ok(self.left()),
                Answer::Voice(_) => {
                    self.house.terminal.say(&phrase("voice.only-entries"));
                    continue;
                }
                Answer::Again => {
                    said = None;
                    continue;
                }
                Answer::Back => {
                    match before.pop() {
                        Some(earlier) => choosing = earlier,
                        None => self.house.terminal.say(&phrase("prompt.first")),
                    }
                    said = None;
                    continue;
                }
            };
            let now = choosing.clone();
            match choosing.take(self.map, &line) {
                Took::Next => before.push(now),
                // Words that are no choice are still looked at: someone may say here that they are in danger.
                Took::Unfit if containing::screen(&line).level() >= Level::Pause => show::crisis(self.house),
                Took::Unfit => self.house.terminal.say(&phrase(choosing::unfit(question))),
                Took::Refused => {
                    self.house.terminal.say(&phrase("share.nothing-written"));
                    return Ok(ExitCode::SUCCESS);
                }
                Took::Agreed => return self.write(&choosing),
            }
        }
    }

    /// The person left, or the input ended before a yes.
    fn left(&mut self) -> ExitCode {
        self.house.terminal.say(&phrase("share.nothing-written"));
        ExitCode::from(130)
    }

    fn page(&self, choosing: &Choosing) -> Page {
        page::sheet(
            self.map,
            &page::SheetOptions {
                paper: paper::paper(self.what),
                date: choosing.date.then_some(self.date),
                chosen: Some(choosing.chosen.clone()),
                zone: Some(dates::zone()),
                ..Default::default()
            },
        )
    }

    /// Everything that will be in the file, and the question whether to write it.
    fn preview(&mut self, choosing: &Choosing) {
        let page = self.page(choosing);
        let file = self.file(choosing);
        let terminal = &mut self.house.terminal;
        terminal.gap();
        terminal.stress(&phrase("share.preview"));
        terminal.gap();
        terminal.say(picture::plain(&page).trim_end());
        terminal.gap();
        terminal.say(&phrase("share.preview-end"));
        // Which letters are missing is said before the yes.
        self.fonts = paper::fonts(terminal, &page, form(choosing));
        let name = [("file", &*file.display().to_string())];
        terminal.say(&filled(
            if file.exists() { "share.over" } else { "share.file" },
            &name,
        ));
        if choosing.kind != Some(Kind::Sealed) {
            terminal.say(&phrase("share.readable"));
        }
        choosing::show(terminal, self.map, choosing, Question::Confirm, self.date);
    }

    fn file(&self, choosing: &Choosing) -> PathBuf {
        let name = match choosing.kind {
            Some(Kind::Markdown) => "my-map.md",
            Some(Kind::Sealed) => "my-map.pdf.age",
            Some(Kind::Pdf) | None => "my-map.pdf",
        };
        self.what
            .out
            .clone()
            .unwrap_or_else(|| Path::new(name).to_owned())
    }

    fn write(&mut self, choosing: &Choosing) -> Result<ExitCode, Trouble> {
        let page = self.page(choosing);
        let file = self.file(choosing);
        let mut bytes = paper::bytes(&page, form(choosing), &self.fonts)?;
        if choosing.kind == Some(Kind::Sealed) {
            let Some(passphrase) = self.passphrase() else {
                return Ok(self.left());
            };
            bytes = store::seal_file(&bytes, &BackupLock::Passphrase(passphrase))?;
        }
        writing::put(&file, &bytes)?;
        let terminal = &mut self.house.terminal;
        terminal.say(&filled("map.written", &[("value", &file.display().to_string())]));
        if choosing.kind == Some(Kind::Sealed) {
            terminal.say(&phrase("share.sealed"));
        }
        Ok(ExitCode::SUCCESS)
    }

    /// The same passphrase twice. `None` if the person left.
    fn passphrase(&mut self) -> Option<Zeroizing<String>> {
        loop {
            let first = self.secret("share.passphrase")?;
            if first.is_empty() {
                self.house.terminal.say(&phrase("share.passphrase-empty"));
                continue;
            }
            if self.secret("passphrase.again")? == first {
                return Some(first);
            }
            self.house.terminal.say(&phrase("passphrase.differ"));
        }
    }

    fn secret(&mut self, name: &str) -> Option<Zeroizing<String>> {
        let terminal = &mut self.house.terminal;
        if terminal.is_interactive() {
            return terminal.ask_secret(&phrase(name));
        }
        terminal.say(&phrase(name));
        match terminal.ask("") {
            Line::Typed(line) => Some(line),
            Line::Closed | Line::Hide => None,
        }
    }
}
