//! When something goes wrong: what happened, what is safe, what to do next. Every other room reports errors as data;
//! this is the one place that words them.

use std::io;
use std::path::PathBuf;
use std::process::ExitCode;

use jiff::Timestamp;

use crate::shell::dates;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::speaking;
use crate::store::Notice;
use crate::store::StoreError;
use crate::voice::VoiceError;

/// Anything that ends a command early.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// The store could not do what was asked.
    Store(StoreError),
    /// Speech could not do what was asked.
    Voice(VoiceError),
    /// A file could not be read.
    Read(PathBuf, io::Error),
    /// A file could not be written.
    Write(PathBuf, io::Error),
    /// A value on the command line does not fit: the phrase that says what would.
    Usage(&'static str, String),
    /// Something that a phrase says whole, with one blank.
    Told(&'static str, String),
    /// The person stopped it.
    Interrupted,
}

impl From<StoreError> for Trouble {
    fn from(error: StoreError) -> Self {
        Self::Store(error)
    }
}

impl From<VoiceError> for Trouble {
    fn from(error: VoiceError) -> Self {
        Self::Voice(error)
    }
}

impl Trouble {
    /// The lines for the person.
    pub(crate) fn words(&self) -> String {
        match self {
            Self::Store(error) => store_words(*error),
            Self::Voice(error) => speaking::words(error),
            Self::Read(path, error) => filled(
                "trouble.read",
                &[("file", &path.display().to_string()), ("why", &why(error.kind()))],
            ),
            Self::Write(path, error) => filled(
                "trouble.write",
                &[("file", &path.display().to_string()), ("why", &why(error.kind()))],
            ),
            Self::Usage(name, value) | Self::Told(name, value) => filled(name, &[("value", value)]),
            Self::Interrupted => phrase("trouble.interrupted"),
        }
    }

    /// The exit code: 1 failed, 2 usage, 130 interrupted.
    pub(crate) fn code(&self) -> ExitCode {
        match self {
            Self::Usage(..) => ExitCode::from(2),
            Self::Interrupted => ExitCode::from(130),
            _ => ExitCode::FAILURE,
        }
    }
}

/// What the system said of a file.
pub(crate) fn why(kind: io::ErrorKind) -> String {
    match kind {
        io::ErrorKind::NotFound => phrase("why.not-found"),
        io::ErrorKind::PermissionDenied => phrase("why.not-allowed"),
        io::ErrorKind::StorageFull => phrase("why.disk-full"),
        io::ErrorKind::ReadOnlyFilesystem => phrase("why.read-only"),
        io::ErrorKind::AlreadyExists => phrase("why.exists"),
        _ => phrase("why.other"),
    }
}

fn store_words(error: StoreError) -> String {
    let name = match error {
        StoreError::WrongPassphrase => "store.wrong-passphrase",
        StoreError::OtherLock => "store.other-lock",
        StoreError::InUse => "store.in-use",
        StoreError::NewerFormat => "store.newer-format",
        StoreError::DiskFull => "store.disk-full",
        StoreError::ReadOnly => "store.read-only",
        StoreError::Damaged => "store.damaged",
        StoreError::Missing => "store.none",
        StoreError::Exists => "store.exists",
        StoreError::BadBackup => "store.bad-backup",
        StoreError::BackupTooCostly => "store.backup-too-costly",
        StoreError::BadAgeKey => "store.bad-age-key",
        StoreError::TooLarge => "store.too-large",
        StoreError::NoRandomness => "store.no-randomness",
        StoreError::Disk(kind) => return filled("store.disk", &[("why", &kind.to_string())]),
    };
    phrase(name)
}

/// What the store noticed on opening; nothing where the person need not know.
pub(crate) fn notice_words(notice: &Notice) -> Option<String> {
    let day = |at: &Option<Timestamp>| {
        at.map_or_else(
            || phrase("notice.unknown-day"),
            |at| dates::day_of(at).to_string(),
        )
    };
    Some(match notice {
        Notice::Unfinished { .. } | Notice::Mended { records: 0, .. } => return None,
        Notice::Mended { records, .. } => counted("notice.mended", *records, &[]),
        Notice::FromSnapshot { records } => counted("notice.from-snapshot", *records, &[]),
        Notice::Lost {
            records,
            after,
            before,
        } => {
            let (after, before) = (day(after), day(before));
            counted("notice.lost", *records, &[("after", &after), ("before", &before)])
        }
        Notice::RolledBack { records, newest } => {
            counted("notice.rolled-back", *records, &[("newest", &day(newest))])
        }
        Notice::Unknown { records } => counted("notice.unknown", *records, &[]),
        Notice::OlderKeys => phrase("notice.older-keys"),
        Notice::OutOfChain { .. } => phrase("notice.out-of-chain"),
        Notice::NotMended { reason } => filled("notice.not-mended", &[("why", &store_words(*reason))]),
    })
}
