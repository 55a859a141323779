//! Where a store lies: its directory, the disk under it, and the place outside for the count that notices a roll-back.

use std::fs;
use std::fs::File;
use std::fs::OpenOptions;
use std::fs::TryLockError;
use std::io;
use std::path::Path;
use std::path::PathBuf;
use std::thread;
use std::time::Duration;

use crate::store::Cost;
use crate::store::Disk;
use crate::store::RealDisk;
use crate::store::StoreError;
use crate::store::care::SNAPSHOTS;
use crate::store::care::snapshot;
use crate::store::disk::UNFINISHED;

/// A place for a store, with the choices that a caller may make about it.
pub struct Site {
    pub(crate) place: PathBuf,
    pub(crate) anchor: Option<PathBuf>,
    pub(crate) cost: Option<Cost>,
    pub(crate) disk: Box<dyn Disk>,
}

impl Site {
    /// A directory on the machine's own disk.
    #[must_use]
    pub fn at(place: &Path) -> Self {
        Self {
            place: place.to_path_buf(),
            anchor: None,
            cost: None,
            disk: Box::<RealDisk>::default(),
        }
    }

    /// Also keeps the sealed count in this file, which should lie outside the store's directory, best in the platform's
    /// state directory. Only with it can a roll-back of the whole directory be noticed.
    #[must_use]
    pub fn anchor(mut self, file: &Path) -> Self {
        self.anchor = Some(file.to_path_buf());
        self
    }

    /// Uses this much work for a passphrase, in place of measuring what takes about half a second.
    #[must_use]
    pub fn cost(mut self, cost: Cost) -> Self {
        self.cost = Some(cost);
        self
    }

    /// Uses another disk.
    #[must_use]
    pub fn disk(mut self, disk: impl Disk + 'static) -> Self {
        self.disk = Box::new(disk);
        self
    }

    pub(crate) fn file(&self, name: &str) -> PathBuf {
        self.place.join(name)
    }

    /// Takes the store for this program alone, until the file is dropped.
    pub(crate) fn lock(&self) -> Result<File, StoreError> {
        let path = self.file(LOCK);
        let file = OpenOptions::new()
            .create(true)
            .truncate(false)
            .write(true)
            .open(&path);
        let file = file.map_err(StoreError::from).or_else(|error| match error {
            // A store that can only be read is still guarded against a program that is writing it.
            StoreError::ReadOnly => File::open(&self.place).map_err(StoreError::from),
            error => Err(error),
        })?;
        // A program that this one is just starting holds the lock for a moment too, so a taken lock is tried again.
        for _ in 0..TRIES {
            if is_ours(file.try_lock())? {
                return Ok(file);
            }
            thread::sleep(BETWEEN);
        }
        Err(StoreError::InUse)
    }
}

impl Site {
    /// Takes away what a crash left of files that were to take another's place: it counts for nothing, and may hold, sealed,
    /// what was removed since. Called under the lock.
    pub(crate) fn clear_unfinished(&self) {
        for entry in fs::read_dir(&self.place).into_iter().flatten().flatten() {
            let name = entry.file_name();
            let Some(name) = name.to_str().and_then(|name| name.strip_suffix(UNFINISHED)) else {
                continue;
            };
            let ours = KEYS.contains(&name)
                || [HEAD, JOURNAL, JOURNAL_DAMAGED, REST].contains(&name)
                || (0..SNAPSHOTS).any(|slot| snapshot(slot) == name);
            if ours {
                // Where it cannot be removed now, the next write of the file takes its place.
                let _ = fs::remove_file(entry.path());
            }
        }
    }
}

/// Whether a lock that was tried is ours; false where another program has it.
fn is_ours(tried: Result<(), TryLockError>) -> Result<bool, StoreError> {
    match tried {
        Ok(()) => Ok(true),
        Err(TryLockError::WouldBlock) => Ok(false),
        // Some network file systems have no locks; the database then guards itself.
        Err(TryLockError::Error(error)) if error.kind() == io::ErrorKind::Unsupported => Ok(true),
        Err(TryLockError::Error(error)) => Err(error.into()),
    }
}

/// How often a taken lock is tried, and how long the waits are: half a second in all.
const TRIES: u32 = 50;
const BETWEEN: Duration = Duration::from_millis(10);

/// The file names within a store. None of them says anything about the person.
pub(crate) const LOCK: &str = "lock";
pub(crate) const KEYS: [&str; 2] = ["keys", "keys.copy"];
pub(crate) const HEAD: &str = "head";
pub(crate) const JOURNAL: &str = "journal";
pub(crate) const JOURNAL_DAMAGED: &str = "journal.damaged";
pub(crate) const REST: &str = "rest";
pub(crate) const RECORDS: &str = "records";

/// A directory that only the person's account may enter.
pub(crate) fn make_directory(place: &Path) -> Result<(), StoreError> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    Ok(builder.create(place)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_file_system_without_locks_is_used_without_one() {
        let failed = |kind: io::ErrorKind| Err(TryLockError::Error(kind.into()));
        for (tried, ours) in [
            (Ok(()), Ok(true)),
            (Err(TryLockError::WouldBlock), Ok(false)),
            (failed(io::ErrorKind::Unsupported), Ok(true)),
            (failed(io::ErrorKind::PermissionDenied), Err(StoreError::ReadOnly)),
            (
                failed(io::ErrorKind::Interrupted),
                Err(StoreError::Disk(io::ErrorKind::Interrupted)),
            ),
        ] {
            assert_eq!(is_ours(tried), ours);
        }
    }
}
