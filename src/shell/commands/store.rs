//! `wayfold store`: where the map is kept, whether it is whole, its passphrase, and the end of it.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use crate::picture::terminal::shown;
use crate::shell::anchor;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::StoreCommand;
use crate::shell::commands::backups;
use crate::shell::keeping;
use crate::shell::keeping::Kept;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::trouble::notice_words;
use crate::store::Locked;
use crate::store::Notice;
use crate::store::Store;
use crate::store::StoreError;
use crate::store::Unlock;

/// Carries out one of the store's commands.
pub(crate) fn run(arguments: &Arguments, what: &StoreCommand) -> Result<ExitCode, Trouble> {
    match what {
        StoreCommand::Where => place(arguments),
        StoreCommand::Verify => verify(arguments),
        StoreCommand::Passphrase {
            remove,
            new_passphrase_file,
        } => passphrase(arguments, *remove, new_passphrase_file.as_deref()),
        StoreCommand::Backup {
            file,
            recipient,
            backup_passphrase_file,
        } => backups::back_up(arguments, file, recipient, backup_passphrase_file.as_deref()),
        StoreCommand::Restore(from) => backups::restore(arguments, from),
        StoreCommand::Merge(from) => backups::merge(arguments, from),
        StoreCommand::Export { file, yes } => backups::export(arguments, file, *yes),
        StoreCommand::Erase { yes } => erase(arguments, *yes),
    }
}

/// The open store; unlike other commands these have nothing to do where there is none.
pub(crate) fn opened(terminal: &mut Terminal, arguments: &Arguments) -> Result<Kept, Trouble> {
    keeping::open(terminal, &arguments.keeping)?.ok_or(Trouble::Store(StoreError::Missing))
}

/// The folder on a line of its own, whole, so that another program can take it, then how it is locked.
fn place(arguments: &Arguments) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    let place = keeping::place(&arguments.keeping);
    terminal.print(&shown(&place.display().to_string()));
    let locked = if Store::exists(&place) {
        Some(Store::how_locked(&place)?)
    } else {
        None
    };
    terminal.say(&phrase(match locked {
        None => "store.none",
        Some(Locked::Passphrase) => "store.locked",
        Some(Locked::KeyFile) => "store.not-locked",
    }));
    Ok(ExitCode::SUCCESS)
}

fn verify(arguments: &Arguments) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    let mut kept = opened(&mut terminal, arguments)?;
    let checked = kept.store().verify()?;
    for words in checked.notices.iter().filter_map(notice_words) {
        terminal.say(&words);
    }
    let snapshots = counted("store.snapshots", checked.snapshots, &[]);
    let whole = !kept.notices().iter().chain(&checked.notices).any(is_bad);
    let name = if whole {
        "store.verified"
    } else {
        "store.not-whole"
    };
    terminal.say(&counted(name, checked.events, &[("snapshots", &snapshots)]));
    Ok(if whole {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}

/// Whether a notice says that something is missing or was tampered with, rather than mended.
fn is_bad(notice: &Notice) -> bool {
    matches!(
        notice,
        Notice::Lost { .. }
            | Notice::RolledBack { .. }
            | Notice::OlderKeys
            | Notice::OutOfChain { .. }
            | Notice::NotMended { .. }
    )
}

fn passphrase(arguments: &Arguments, remove: bool, file: Option<&Path>) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    let mut kept = opened(&mut terminal, arguments)?;
    let unlock = if remove {
        Unlock::KeyFile
    } else {
        if file.is_none() {
            terminal.say(&phrase("passphrase.why"));
        }
        Unlock::Passphrase(backups::new_passphrase(&mut terminal, file, "passphrase.new")?)
    };
    let before = kept.store().locked();
    kept.store().change_lock(&unlock)?;
    terminal.say(&phrase(match (before, &unlock) {
        (_, Unlock::KeyFile) => "passphrase.removed",
        (Locked::KeyFile, Unlock::Passphrase(_)) => "passphrase.set",
        (Locked::Passphrase, Unlock::Passphrase(_)) => "passphrase.changed",
    }));
    terminal.say(&phrase("passphrase.old-copies"));
    Ok(ExitCode::SUCCESS)
}

fn erase(arguments: &Arguments, yes: bool) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    let place = keeping::place(&arguments.keeping);
    if !Store::exists(&place) {
        return Err(StoreError::Missing.into());
    }
    terminal.say(&filled(
        "store.erase-what",
        &[("value", &place.display().to_string())],
    ));
    terminal.say(&phrase("store.erase-limits"));
    if !yes && !backups::agreed(&mut terminal, "store.erase-ask", "erase") {
        terminal.say(&phrase("store.not-erased"));
        return Ok(ExitCode::FAILURE);
    }
    let witness = anchor::file(&place);
    Store::erase(keeping::site(&place))?;
    if let Some(folder) = witness.as_deref().and_then(Path::parent) {
        // It goes if no other store has its witness there.
        let _ = fs::remove_dir(folder);
    }
    terminal.say(&phrase("store.erased"));
    Ok(ExitCode::SUCCESS)
}
