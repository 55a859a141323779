//! `wayfold store backup`, `restore`, `merge` and `export`: the map leaving this place, and coming in.
//!
//! What comes in goes through the screen word by word, whoever wrote it. Nothing is refused for what it says.

use std::fs;
use std::fs::File;
use std::io;
use std::io::Read;
use std::path::Path;
use std::process::ExitCode;

use zeroize::Zeroizing;

use crate::map::Event;
use crate::map::History;
use crate::map::Map;
use crate::map::Outside;
use crate::picture::terminal::shown;
use crate::safety::Level;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::FromBackup;
use crate::shell::commands::store::opened;
use crate::shell::containing;
use crate::shell::crisis;
use crate::shell::first_run;
use crate::shell::keeping;
use crate::shell::keeping::TRIES;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::terminal::Line;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::writing;
use crate::store;
use crate::store::BackupKey;
use crate::store::BackupLock;
use crate::store::Store;
use crate::store::StoreError;

/// The longest file that is read, in bytes.
const LONGEST: u64 = 1 << 30;

/// Writes a sealed backup.
pub(crate) fn back_up(
    arguments: &Arguments,
    file: &Path,
    recipients: &[String],
    passphrase_file: Option<&Path>,
) -> Result<ExitCode, Trouble> {
    free_for(file, store::is_sealed)?;
    let mut terminal = Terminal::new(arguments.manner.plain);
    let kept = opened(&mut terminal, arguments)?;
    let lock = if recipients.is_empty() {
        BackupLock::Passphrase(new_passphrase(
            &mut terminal,
            passphrase_file,
            "passphrase.for-backup",
        )?)
    } else {
        BackupLock::Recipients(recipients.to_vec())
    };
    let bytes = store::back_up(kept.history().events(), &lock)?;
    writing::put(file, &bytes)?;
    terminal.say(&counted(
        "store.backed-up",
        kept.history().len() as u64,
        &[("file", &file.display().to_string())],
    ));
    terminal.say(&phrase(if recipients.is_empty() {
        "store.backup-word"
    } else {
        "store.backup-key"
    }));
    Ok(ExitCode::SUCCESS)
}

/// Makes a store out of a backup.
pub(crate) fn restore(arguments: &Arguments, from: &FromBackup) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    let place = keeping::place(&arguments.keeping);
    if Store::exists(&place) {
        return Err(StoreError::Exists.into());
    }
    first_run::needs_a_lock(&terminal, &arguments.keeping)?;
    let (events, level) = read(&mut terminal, from)?;
    let Some(unlock) = first_run::choose_lock(&mut terminal, &arguments.keeping)? else {
        return Err(Trouble::Interrupted);
    };
    Store::restore(keeping::site(&place), &unlock, &events)?;
    terminal.say(&counted("store.restored", events.len() as u64, &[]));
    terminal.print(&shown(&place.display().to_string()));
    // The own people among the events belong to the numbers, so the map is asked for them.
    let history = History::new(events);
    danger(&mut terminal, history.map(), level);
    Ok(ExitCode::SUCCESS)
}

/// Adds what another device recorded. Where there is no map yet, one is made.
pub(crate) fn merge(arguments: &Arguments, from: &FromBackup) -> Result<ExitCode, Trouble> {
    if !Store::exists(&keeping::place(&arguments.keeping)) {
        return restore(arguments, from);
    }
    let mut terminal = Terminal::new(arguments.manner.plain);
    let mut kept = opened(&mut terminal, arguments)?;
    let (events, level) = read(&mut terminal, from)?;
    let all = events.len();
    let fresh = kept.merge(events)?;
    keeping::tell(&mut terminal, &kept.noticed());
    terminal.say(&counted("store.merged", fresh as u64, &[]));
    terminal.say(&counted("store.known", (all - fresh) as u64, &[]));
    danger(&mut terminal, kept.map(), level);
    Ok(ExitCode::SUCCESS)
}

/// Writes everything as plain lines, after a warning.
pub(crate) fn export(arguments: &Arguments, file: &Path, yes: bool) -> Result<ExitCode, Trouble> {
    free_for(file, store::is_lines)?;
    let mut terminal = Terminal::new(arguments.manner.plain);
    let kept = opened(&mut terminal, arguments)?;
    terminal.say(&phrase("store.export-warning"));
    if !yes && !agreed(&mut terminal, "store.export-ask", "export") {
        terminal.say(&phrase("store.not-exported"));
        return Ok(ExitCode::FAILURE);
    }
    let mut bytes = Zeroizing::new(Vec::new());
    store::export(kept.history().events(), &mut *bytes)?;
    writing::put(file, &bytes)?;
    terminal.say(&filled("map.written", &[("value", &file.display().to_string())]));
    Ok(ExitCode::SUCCESS)
}

/// Whether the person typed the word. Whom to call, and hiding, count here as at any prompt.
pub(crate) fn agreed(terminal: &mut Terminal, question: &str, word: &str) -> bool {
    loop {
        terminal.stress(&filled(question, &[("word", word)]));
        let line = match terminal.ask("") {
            Line::Typed(line) => line,
            Line::Closed => return false,
            Line::Hide => {
                terminal.hide();
                return false;
            }
        };
        match slash::read(&line) {
            Some(Slash::Hide) => {
                terminal.hide();
                return false;
            }
            Some(Slash::Crisis) => {}
            _ if containing::screen(&line).level() >= Level::Pause => {}
            _ => return line.trim() == word,
        }
        crisis::page(terminal, None, first_run::guess());
        terminal.gap();
    }
}

/// A new passphrase: from the file, or asked for twice in such words.
pub(crate) fn new_passphrase(
    terminal: &mut Terminal,
    file: Option<&Path>,
    asked: &str,
) -> Result<Zeroizing<String>, Trouble> {
    if let Some(file) = file {
        return keeping::passphrase_from(file);
    }
    if !terminal.is_interactive() {
        return Err(Trouble::Usage("store.passphrase-needed", String::new()));
    }
    loop {
        let first = terminal.ask_secret(&phrase(asked)).ok_or(Trouble::Interrupted)?;
        if first.is_empty() {
            return Err(Trouble::Interrupted);
        }
        let again = terminal
            .ask_secret(&phrase("passphrase.again"))
            .ok_or(Trouble::Interrupted)?;
        if first == again {
            return Ok(first);
        }
        terminal.say(&phrase("passphrase.differ"));
    }
}

/// The events of a backup or of plain lines, and the most urgent thing that the screen saw in them.
fn read(terminal: &mut Terminal, from: &FromBackup) -> Result<(Vec<Event>, Level), Trouble> {
    let unreadable = |error| Trouble::Read(from.file.clone(), error);
    let mut bytes = Zeroizing::new(Vec::new());
    let file = File::open(&from.file).map_err(unreadable)?;
    file.take(LONGEST).read_to_end(&mut bytes).map_err(unreadable)?;
    let outside = if store::is_sealed(&bytes) {
        unsealed(terminal, from, &bytes)?
    } else {
        store::read_lines(bytes.as_slice())?
    };
    let mut level = Level::None;
    let mut look = |text: &str| {
        let screened = containing::screen(text);
        level = level.max(screened.level());
        screened
    };
    let events = outside.into_iter().map(|one| one.let_in(&mut look)).collect();
    Ok((events, level))
}

/// What is in a sealed backup. A passphrase that is typed may be typed again, and whom to call is shown there too.
fn unsealed(terminal: &mut Terminal, from: &FromBackup, bytes: &[u8]) -> Result<Vec<Outside>, Trouble> {
    let refused = |error| match error {
        StoreError::WrongPassphrase => Trouble::Told("store.wrong-backup-key", String::new()),
        other => Trouble::Store(other),
    };
    if let Some(key) = key_in_file(from)? {
        return store::read_backup(bytes, &key).map_err(refused);
    }
    if !terminal.is_interactive() {
        return Err(Trouble::Usage("store.backup-key-needed", String::new()));
    }
    let mut left = TRIES;
    loop {
        let typed = terminal.ask_secret(&phrase("passphrase.backup"));
        let typed = typed.ok_or(Trouble::Interrupted)?;
        let asked_for_help = crisis::is_asked_for(&typed);
        match store::read_backup(bytes, &BackupKey::Passphrase(typed)) {
            Err(StoreError::WrongPassphrase) if asked_for_help => crisis::guessed_page(terminal),
            Err(StoreError::WrongPassphrase) if left > 1 => {
                left -= 1;
                terminal.say(&phrase("passphrase.wrong"));
            }
            other => return other.map_err(refused),
        }
    }
}

/// The key or the passphrase that the command line names a file for.
fn key_in_file(from: &FromBackup) -> Result<Option<BackupKey>, Trouble> {
    if let Some(file) = &from.identity {
        let text = fs::read_to_string(file).map_err(|error| Trouble::Read(file.clone(), error))?;
        return Ok(Some(BackupKey::Identity(Zeroizing::new(text))));
    }
    let file = from.backup_passphrase_file.as_ref();
    file.map(|file| keeping::passphrase_from(file).map(BackupKey::Passphrase))
        .transpose()
}

/// Words that came in may be from a hard time, or from somebody else. Who to call is shown once, whatever was found.
fn danger(terminal: &mut Terminal, map: &Map, level: Level) {
    if level == Level::None {
        return;
    }
    terminal.gap();
    terminal.say(&phrase("store.danger"));
    if level >= Level::Pause {
        let chosen = map
            .setting("region")
            .map(str::to_owned)
            .filter(|region| region != "-");
        let region = chosen.or_else(|| first_run::guess().map(str::to_owned));
        crisis::message(terminal, map, region.as_deref(), level);
    }
}

/// Refuses to write over a file of another kind: only an older one of the same kind makes room. A pipe or a device is
/// written into, and looking into it would wait for ever.
fn free_for(file: &Path, ours: fn(&[u8]) -> bool) -> Result<(), Trouble> {
    if !file.is_file() {
        return Ok(());
    }
    let mut start = Vec::new();
    match File::open(file).and_then(|old| old.take(64).read_to_end(&mut start)) {
        Ok(read) if read > 0 && !ours(&start) => Err(Trouble::Write(
            file.to_owned(),
            io::ErrorKind::AlreadyExists.into(),
        )),
        _ => Ok(()),
    }
}
