//! What can go wrong with a store, and what it has to say when it opens, as data. The shell words both.

use std::io;

use jiff::Timestamp;

/// Why the store could not do what was asked. Nothing that was acknowledged earlier is lost by any of these.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreError {
    /// The passphrase does not fit.
    WrongPassphrase,
    /// The store needs a passphrase and none was given, or has none and one was given.
    OtherLock,
    /// Another program has the store open.
    InUse,
    /// The store was written by a newer program; it was left untouched.
    NewerFormat,
    /// There is no room left on the disk.
    DiskFull,
    /// The store's place cannot be written to.
    ReadOnly,
    /// Both copies of something that is needed are damaged.
    Damaged,
    /// There is no store at the place.
    Missing,
    /// There is a store at the place already.
    Exists,
    /// The backup cannot be read: cut off, altered, or no backup of this program.
    BadBackup,
    /// The backup asks for more work or room than is reasonable, so it was refused.
    BackupTooCostly,
    /// The recipient or identity text is not one that age knows.
    BadAgeKey,
    /// One entry or batch is larger than the store's format can hold.
    TooLarge,
    /// The operating system gave no randomness.
    NoRandomness,
    /// Another fault of the disk or the system.
    Disk(io::ErrorKind),
}

impl From<io::Error> for StoreError {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::DiskFull,
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => Self::ReadOnly,
            kind => Self::Disk(kind),
        }
    }
}

/// One of the places that hold a copy of what must not be lost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The database of records.
    Records,
    /// The journal: every record once more, in another form.
    Journal,
    /// The sealed count of records and the end of their chain.
    Head,
    /// The two copies of the key material.
    Keys,
    /// The count kept outside the store's own directory.
    Anchor,
    /// The sealed snapshots.
    Snapshots,
}

/// Something to tell the person when the store opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notice {
    /// A part was damaged or behind, and was mended from its other copy. Nothing was lost.
    Mended {
        /// Which part.
        part: Part,
        /// How many records came from the other copy; 0 where the damage touched none.
        records: u64,
    },
    /// Records missing from both copies came back from a snapshot.
    FromSnapshot {
        /// How many.
        records: u64,
    },
    /// Records are gone from both copies and from the snapshots.
    Lost {
        /// How many.
        records: u64,
        /// The time of the last record before them.
        after: Option<Timestamp>,
        /// The time of the next record after them; nothing when they were the newest.
        before: Option<Timestamp>,
    },
    /// The store's files are older than the count kept apart says: the newest records are missing.
    RolledBack {
        /// How many records are missing at the end.
        records: u64,
        /// The time of the newest record that is left.
        newest: Option<Timestamp>,
    },
    /// A write that was never acknowledged, cut off by a crash, was tidied away or completed.
    Unfinished {
        /// How many whole records were kept from it.
        kept: u64,
    },
    /// Records are genuine, but hold a kind of event that this program does not know. They are kept.
    Unknown {
        /// How many.
        records: u64,
    },
    /// The key files are older than the count kept apart says: an earlier lock was put back.
    OlderKeys,
    /// A record opens but does not follow the one before it: somebody put together two states of the store.
    OutOfChain {
        /// The record's number, counted from 0.
        record: u64,
    },
    /// Something could not be mended now, for this reason. The store can be read, and tries again at the next write.
    NotMended {
        /// The reason.
        reason: StoreError,
    },
}
