//! The database of records: sled, one sealed record a value, its number the key.
//!
//! Measured before this was built: with one byte flipped or its file cut, sled opens without complaint and with fewer
//! records, and sometimes panics. So every call into it is guarded, its files are summed when it is closed and
//! compared before it is opened again, and what it holds is never believed without the journal. Nor is its flush enough
//! against a power cut: on Linux it is `sync_file_range`, which leaves the file's length and the device's own memory out.

use std::cell::Cell;
use std::fs;
use std::fs::File;
use std::io;
use std::panic;
use std::panic::AssertUnwindSafe;
use std::path::Path;
use std::path::PathBuf;
use std::sync::Once;
use std::sync::mpsc;
use std::sync::mpsc::Receiver;
use std::sync::mpsc::Sender;
use std::thread;
use std::thread::JoinHandle;
use std::time::Duration;

use sled::Batch;
use sled::Config;
use sled::Db;
use sled::IVec;
use sled::Mode;

use crate::store::StoreError;
use crate::store::disk::sum_up;

/// Memory for sled's own cache; all records are read once, at opening, so it need not be large.
const CACHE: u64 = 4 << 20;
/// Bytes in one segment of sled's file; smaller ones than sled's own choice make opening and small stores cheaper.
const SEGMENT: usize = 128 << 10;

/// The open database, and a thread that writes to it while the journal is being written.
pub(crate) struct Records {
    db: Db,
    batches: Option<Sender<Batch>>,
    outcomes: Receiver<Result<(), StoreError>>,
    writer: Option<JoinHandle<()>>,
}

/// Every record with its number, as the database tells it.
pub(crate) type Told = Vec<(u64, IVec)>;

impl Records {
    /// Opens the database, or makes a new one.
    ///
    /// # Errors
    /// `Damaged` where sled cannot read its files or panicked over them.
    pub(crate) fn open(directory: &Path) -> Result<Self, StoreError> {
        let config = Config::new()
            .path(directory)
            .cache_capacity(CACHE)
            .mode(Mode::HighThroughput)
            .segment_size(SEGMENT)
            .flush_every_ms(None);
        // sled's threads may hold its lock for a moment after it was closed in this same process.
        for _ in 0..100 {
            match guarded(|| config.open()) {
                Err(StoreError::InUse) => thread::sleep(Duration::from_millis(10)),
                opened => return opened.and_then(Self::with_writer),
            }
        }
        Err(StoreError::InUse)
    }

    fn with_writer(db: Db) -> Result<Self, StoreError> {
        let (batches, to_write) = mpsc::channel::<Batch>();
        let (written, outcomes) = mpsc::channel();
        let database = db.clone();
        let writer = thread::Builder::new().spawn(move || {
            for batch in to_write {
                let outcome = guarded(|| {
                    database.apply_batch(batch)?;
                    database.flush().map(drop)
                });
                if written.send(outcome).is_err() {
                    break;
                }
            }
        })?;
        Ok(Self {
            db,
            batches: Some(batches),
            outcomes,
            writer: Some(writer),
        })
    }

    /// Everything in it, and whether it was readable to the end.
    pub(crate) fn all(&self) -> (Told, bool) {
        let mut told = Vec::new();
        let whole = guarded(|| {
            for pair in self.db.iter() {
                let (key, value) = pair?;
                let Ok(number) = key.as_ref().try_into() else {
                    return Err(sled::Error::Unsupported(String::new()));
                };
                told.push((u64::from_be_bytes(number), value));
            }
            Ok(())
        });
        (told, whole.is_ok())
    }

    /// Adds records, all or none, while something else is done, and returns when both are over.
    pub(crate) fn append_beside<'a, T>(
        &self,
        records: impl Iterator<Item = (u64, &'a [u8])>,
        other: impl FnOnce() -> T,
    ) -> (T, Result<(), StoreError>) {
        let mut batch = Batch::default();
        for (number, record) in records {
            batch.insert(&number.to_be_bytes(), record);
        }
        let begun = self
            .batches
            .as_ref()
            .is_some_and(|batches| batches.send(batch).is_ok());
        let done = other();
        let outcome = if begun {
            self.outcomes.recv().unwrap_or(Err(StoreError::Damaged))
        } else {
            Err(StoreError::Damaged)
        };
        (done, outcome)
    }

    /// Makes the database anew from records whose other copy is durable.
    pub(crate) fn rebuild<'a>(
        directory: &Path,
        records: impl Iterator<Item = (u64, &'a [u8])>,
    ) -> Result<Self, StoreError> {
        match fs::remove_dir_all(directory) {
            Err(error) if error.kind() == io::ErrorKind::NotADirectory => fs::remove_file(directory)?,
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error.into()),
            _ => {}
        }
        let fresh = Self::open(directory)?;
        fresh.append_beside(records, || ()).1?;
        Ok(fresh)
    }

    /// A sum over the names, lengths and bytes of the closed database's files; nothing where they cannot be read.
    pub(crate) fn sum(directory: &Path) -> Option<u64> {
        let mut files = Vec::new();
        list(directory, &mut files).ok()?;
        files.sort();
        let mut sum = crc32fast::Hasher::new();
        let mut length = 0_u64;
        for path in files {
            sum.update(path.strip_prefix(directory).ok()?.as_os_str().as_encoded_bytes());
            let mut file = File::open(&path).ok()?;
            let own = file.metadata().ok()?.len();
            sum.update(&own.to_be_bytes());
            length += sum_up(&mut file, &mut sum).ok().filter(|length| *length == own)?;
        }
        Some(u64::from(sum.finalize()) << 32 | (length & 0xffff_ffff))
    }
}

impl Drop for Records {
    /// The database is closed when its last handle is gone, so the writer's must go first.
    fn drop(&mut self) {
        self.batches = None;
        if let Some(writer) = self.writer.take() {
            let _ = writer.join();
        }
    }
}

fn list(directory: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    for entry in fs::read_dir(directory)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            list(&entry.path(), files)?;
        } else {
            files.push(entry.path());
        }
    }
    Ok(())
}

thread_local! {
    static GUARDED: Cell<bool> = const { Cell::new(false) };
}

/// Calls into sled; a panic becomes `Damaged`, and says nothing on the person's screen.
fn guarded<T>(call: impl FnOnce() -> sled::Result<T>) -> Result<T, StoreError> {
    static HOOK: Once = Once::new();
    HOOK.call_once(|| {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            if !GUARDED.get() {
                before(info);
            }
        }));
    });
    GUARDED.set(true);
    let outcome = panic::catch_unwind(AssertUnwindSafe(call));
    GUARDED.set(false);
    match outcome {
        Ok(Ok(value)) => Ok(value),
        Ok(Err(sled::Error::Io(error))) if error.kind() == io::ErrorKind::WouldBlock => {
            Err(StoreError::InUse)
        }
        // sled words a lock that is taken as "other", with this text.
        Ok(Err(sled::Error::Io(error))) if error.to_string().contains("could not acquire lock") => {
            Err(StoreError::InUse)
        }
        Ok(Err(sled::Error::Io(error))) => match StoreError::from(error) {
            known @ (StoreError::DiskFull | StoreError::ReadOnly) => Err(known),
            _ => Err(StoreError::Damaged),
        },
        Ok(Err(_)) | Err(_) => Err(StoreError::Damaged),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A lock that is taken is waited for, a full disk is told; everything else makes the database be built anew.
    #[test]
    fn what_sled_says_is_told_apart() {
        let told = |error: io::Error| guarded::<()>(|| Err(sled::Error::Io(error)));
        let taken = "could not acquire lock on \"db\"";
        for (error, expected) in [
            (io::ErrorKind::WouldBlock.into(), StoreError::InUse),
            (io::Error::other(taken), StoreError::InUse),
            (io::Error::other("torn"), StoreError::Damaged),
            (io::ErrorKind::NotFound.into(), StoreError::Damaged),
            (io::ErrorKind::StorageFull.into(), StoreError::DiskFull),
            (io::ErrorKind::PermissionDenied.into(), StoreError::ReadOnly),
        ] {
            assert_eq!(told(error), Err(expected));
        }
        let corrupt = sled::Error::Unsupported(String::new());
        assert_eq!(guarded::<()>(|| Err(corrupt)), Err(StoreError::Damaged));
        assert_eq!(guarded::<()>(|| panic!("in sled")), Err(StoreError::Damaged));
        assert_eq!(guarded(|| Ok(7)), Ok(7));
    }

    #[test]
    fn a_database_that_is_open_is_in_use() {
        let place = tempfile::tempdir().expect("a place");
        let first = Records::open(place.path()).expect("opened");
        assert_eq!(Records::open(place.path()).err(), Some(StoreError::InUse));
        drop(first);
        assert!(Records::open(place.path()).is_ok());
    }
}
