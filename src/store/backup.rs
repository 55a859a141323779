//! Backups: age v1 files (age-encryption.org/v1) with JSON Lines inside, so that the standard age tool and a text editor
//! recover everything without this program.
//!
//! The first line is `{"backup":"wayfold","version":1}`, each further line one event. A backup from elsewhere is not
//! trusted: the work it asks for, its length and the length of its lines are bounded.

use std::io;
use std::io::BufRead;
use std::io::BufReader;
use std::io::Read;
use std::io::Write;
use std::iter;

use age::DecryptError;
use age::Decryptor;
use age::Encryptor;
use age::secrecy::SecretString;
use age::x25519;
use serde::Deserialize;
use serde::Serialize;
use zeroize::Zeroizing;

use crate::map::Event;
use crate::map::Outside;
use crate::store::Site;
use crate::store::Store;
use crate::store::StoreError;
use crate::store::Unlock;
use crate::store::seal::LONGEST;
use crate::store::store::json;

/// The base-2 logarithm of scrypt's work for our own backups, as the age tool itself uses.
const WORK: u8 = 18;
/// The most work that a backup may ask for: twice ours, 512 MiB of memory.
const MOST_WORK: u8 = 19;
/// The longest backup that is read, in bytes.
const LONGEST_BACKUP: u64 = 1 << 30;
/// The version of the lines.
const VERSION: u32 = 1;

/// Who can read a backup.
pub enum BackupLock {
    /// Whoever knows the passphrase.
    Passphrase(Zeroizing<String>),
    /// Whoever has an identity for one of these recipients, written `age1...`.
    Recipients(Vec<String>),
}

/// What opens a backup.
pub enum BackupKey {
    /// The passphrase.
    Passphrase(Zeroizing<String>),
    /// An identity, written `AGE-SECRET-KEY-1...`, or a whole identity file with comments.
    Identity(Zeroizing<String>),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FirstLine {
    backup: String,
    version: u32,
}

/// The events as JSON Lines, readable by anyone: warn the person before.
///
/// # Errors
/// Faults of the writer.
pub fn export<'a>(
    events: impl IntoIterator<Item = &'a Event>,
    out: &mut impl Write,
) -> Result<(), StoreError> {
    let first = FirstLine {
        backup: "wayfold".to_owned(),
        version: VERSION,
    };
    serde_json::to_writer(&mut *out, &first).map_err(|error| StoreError::from(io::Error::from(error)))?;
    out.write_all(b"\n")?;
    for event in events {
        out.write_all(&json(event)?)?;
        out.write_all(b"\n")?;
    }
    Ok(out.flush()?)
}

/// The events as a backup.
///
/// # Errors
/// `BadAgeKey` where a recipient is none.
pub fn back_up<'a>(
    events: impl IntoIterator<Item = &'a Event>,
    lock: &BackupLock,
) -> Result<Vec<u8>, StoreError> {
    back_up_with(events, lock, WORK)
}

/// As [`back_up`], with another amount of scrypt's work, the base-2 logarithm of it; for tests and slow machines.
///
/// # Errors
/// As [`back_up`].
pub fn back_up_with<'a>(
    events: impl IntoIterator<Item = &'a Event>,
    lock: &BackupLock,
    work: u8,
) -> Result<Vec<u8>, StoreError> {
    sealed(lock, work, |writer| export(events, writer))
}

/// Any bytes as an age v1 file, such as a page for someone else.
///
/// # Errors
/// `BadAgeKey` where a recipient is none.
pub fn seal_file(bytes: &[u8], lock: &BackupLock) -> Result<Vec<u8>, StoreError> {
    sealed(lock, WORK, |writer| Ok(writer.write_all(bytes)?))
}

fn sealed(
    lock: &BackupLock,
    work: u8,
    fill: impl FnOnce(&mut age::stream::StreamWriter<&mut Vec<u8>>) -> Result<(), StoreError>,
) -> Result<Vec<u8>, StoreError> {
    let encryptor = match lock {
        BackupLock::Passphrase(passphrase) => {
            let mut recipient = age::scrypt::Recipient::new(SecretString::from(passphrase.to_string()));
            recipient.set_work_factor(work.clamp(1, MOST_WORK));
            Encryptor::with_recipients(iter::once(&recipient as &dyn age::Recipient))
        }
        BackupLock::Recipients(recipients) => {
            let parsed: Result<Vec<x25519::Recipient>, _> =
                recipients.iter().map(|text| text.trim().parse()).collect();
            let parsed = parsed.map_err(|_| StoreError::BadAgeKey)?;
            Encryptor::with_recipients(parsed.iter().map(|recipient| recipient as &dyn age::Recipient))
        }
    };
    let mut bytes = Vec::new();
    let mut writer = encryptor
        .map_err(|_| StoreError::BadAgeKey)?
        .wrap_output(&mut bytes)?;
    fill(&mut writer)?;
    writer.finish()?;
    Ok(bytes)
}

/// Whether a file is sealed by age, going by how it begins.
#[must_use]
pub fn is_sealed(bytes: &[u8]) -> bool {
    bytes.starts_with(b"age-encryption.org/")
}

/// Whether a file holds lines as [`export`] writes them, going by how it begins.
#[must_use]
pub fn is_lines(bytes: &[u8]) -> bool {
    bytes.starts_with(b"{\"backup\":\"wayfold\"")
}

/// The events of a backup, as it tells them: they are let in through the screen.
///
/// # Errors
/// `WrongPassphrase` also for an identity that does not fit, `BadAgeKey`, `BackupTooCostly`, `BadBackup`, `NewerFormat`.
pub fn read_backup(input: impl Read, key: &BackupKey) -> Result<Vec<Outside>, StoreError> {
    read_lines(BufReader::new(opened(input, key)?))
}

/// What an age file holds, as a reader that authenticates it piece by piece.
pub(crate) fn opened<R: Read>(
    input: R,
    key: &BackupKey,
) -> Result<age::stream::StreamReader<BufReader<io::Take<R>>>, StoreError> {
    let input = BufReader::new(input.take(LONGEST_BACKUP));
    let decryptor = Decryptor::new_buffered(input).map_err(|_| StoreError::BadBackup)?;
    let reader = match key {
        BackupKey::Passphrase(passphrase) => {
            let mut identity = age::scrypt::Identity::new(SecretString::from(passphrase.to_string()));
            identity.set_max_work_factor(MOST_WORK);
            decryptor.decrypt(iter::once(&identity as &dyn age::Identity))
        }
        BackupKey::Identity(text) => {
            let lines = text
                .lines()
                .map(str::trim)
                .filter(|line| !line.is_empty() && !line.starts_with('#'));
            let parsed: Result<Vec<x25519::Identity>, _> = lines.map(str::parse).collect();
            let parsed = parsed.map_err(|_| StoreError::BadAgeKey)?;
            decryptor.decrypt(parsed.iter().map(|identity| identity as &dyn age::Identity))
        }
    };
    reader.map_err(|error| match error {
        DecryptError::ExcessiveWork { .. } => StoreError::BackupTooCostly,
        DecryptError::DecryptionFailed | DecryptError::NoMatchingKeys | DecryptError::KeyDecryptionFailed => {
            StoreError::WrongPassphrase
        }
        _ => StoreError::BadBackup,
    })
}

/// The events of opened lines, as they tell them.
///
/// # Errors
/// `BadBackup`, `NewerFormat`.
pub fn read_lines(mut lines: impl BufRead) -> Result<Vec<Outside>, StoreError> {
    let mut line = Zeroizing::new(Vec::new());
    let mut next = |line: &mut Vec<u8>| {
        line.clear();
        let read = lines.by_ref().take(LONGEST as u64).read_until(b'\n', line);
        read.map_err(|_| StoreError::BadBackup)
    };
    next(&mut line)?;
    let first: FirstLine = serde_json::from_slice(&line).map_err(|_| StoreError::BadBackup)?;
    match (first.backup.as_str(), first.version) {
        ("wayfold", VERSION) => {}
        ("wayfold", newer) if newer > VERSION => return Err(StoreError::NewerFormat),
        _ => return Err(StoreError::BadBackup),
    }
    let mut events = Vec::new();
    while next(&mut line)? > 0 {
        if line.trim_ascii().is_empty() {
            continue;
        }
        events.push(serde_json::from_slice(&line).map_err(|_| StoreError::BadBackup)?);
    }
    Ok(events)
}

impl Store {
    /// Adds the events of another device that are not here yet, and returns them. Order does not matter, and merging
    /// twice changes nothing.
    ///
    /// # Errors
    /// As [`Store::append`]; nothing is added then.
    pub fn merge(&mut self, mut events: Vec<Event>) -> Result<Vec<Event>, StoreError> {
        events.retain(|event| !self.known.contains(&event.id));
        events.sort_by_key(|event| event.id);
        events.dedup_by_key(|event| event.id);
        self.append(&events)?;
        Ok(events)
    }

    /// Makes a new store that holds what a backup held.
    ///
    /// # Errors
    /// As [`Store::create_at`] and [`Store::append`]. A store that was there is left as it is; one that was made here and
    /// could not take the events is erased again, since half of it would stand in the way of the next try.
    pub fn restore(site: Site, unlock: &Unlock, events: &[Event]) -> Result<Self, StoreError> {
        let (place, anchor) = (site.place.clone(), site.anchor.clone());
        let mut store = Self::create_at(site, unlock)?;
        if let Err(error) = store.append(events) {
            drop(store);
            let mut made = Site::at(&place);
            made.anchor = anchor;
            let _ = Self::erase(made);
            return Err(error);
        }
        Ok(store)
    }
}
