//! When something goes wrong: what happened, what is safe, what to do next. Every other room reports errors as data;
//! this is the one place that words them.

use std::io;
use std::path::PathBuf;
use std::process::ExitCode;

use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::speaking;
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
            Self::Store(error) => store_words(error),
            Self::Voice(error) => speaking::words(error),
            Self::Read(path, error) => {
                filled("trouble.read", &[("file", &path.display().to_string()), ("why", &why(error))])
            }
            Self::Write(path, error) => {
                filled("trouble.write", &[("file", &path.display().to_string()), ("why", &why(error))])
            }
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

fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => phrase("why.not-found"),
        io::ErrorKind::PermissionDenied => phrase("why.not-allowed"),
        io::ErrorKind::StorageFull => phrase("why.disk-full"),
        io::ErrorKind::ReadOnlyFilesystem => phrase("why.read-only"),
        io::ErrorKind::AlreadyExists => phrase("why.exists"),
        _ => phrase("why.other"),
    }
}

fn store_words(error: &StoreError) -> String { format!("{error:?}") }
/// What the store noticed.
pub(crate) fn notice_words(notice: &crate::store::Notice) -> String { format!("{notice:?}") }
