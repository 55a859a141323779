//! What can go wrong with speech. The kinds carry facts, never wording: the shell words them in one place.

use std::io;
use std::path::PathBuf;

/// Why speech did not work. Typing always goes on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum VoiceError {
    /// The program was built without the feature `voice`.
    NotBuilt,
    /// No speech model is in any of these folders, or the wanted one is in none of them.
    NoModel {
        /// The folders that were looked at, in order.
        looked: Vec<PathBuf>,
    },
    /// A speech model is there, but the small model that tells speech from silence is not.
    NoActivityModel {
        /// The folders that were looked at, in order.
        looked: Vec<PathBuf>,
    },
    /// A model file is damaged, cut, hostile or of another kind.
    BadModel {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        fault: ModelFault,
    },
    /// A file could not be read or written.
    File {
        /// The file.
        path: PathBuf,
        /// The system's answer.
        kind: io::ErrorKind,
    },
    /// The file is not a WAV file, or it is cut or damaged.
    NotWav {
        /// The file.
        path: PathBuf,
    },
    /// The recording is longer than may be heard at once, in seconds.
    TooLong {
        /// The longest length, in seconds.
        most: u32,
    },
    /// A sample is not a number, so the recording is damaged.
    NotFinite,
    /// There is no microphone, or its sound service is not running.
    NoMicrophone,
    /// Another program holds the microphone.
    MicrophoneBusy,
    /// The system does not let this program listen.
    NotAllowed,
    /// The microphone went away while it was listening; nothing of that utterance is kept.
    Unplugged,
    /// The microphone's format is none that can be read.
    MicrophoneFormat,
    /// Hearing took longer than the bound and was given up.
    TookTooLong,
    /// The speech library gave up for a reason of its own.
    Engine,
    /// No speech service and no speaking program was found.
    NoSpeaker,
}

/// What is wrong with a model file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ModelFault {
    /// It is none of the kinds known here.
    UnknownKind,
    /// It ends before its own tables say it should.
    Cut,
    /// It goes on after its own tables say it should end.
    Trailing,
    /// A number in it is outside the range that any real model has.
    Range,
    /// A tensor is missing, doubled, unknown, or not of the shape that the model's sizes ask for.
    Tensor,
    /// The list of words is missing or does not fit the model.
    Vocabulary,
    /// Its checksum is not the one that was written beside it, or not the published one.
    Checksum,
}

impl VoiceError {
    /// The error of a file operation.
    pub(super) fn file(path: &std::path::Path, error: &io::Error) -> Self {
        Self::File {
            path: path.to_owned(),
            kind: error.kind(),
        }
    }

    /// The error of a model file.
    pub(super) fn model(path: &std::path::Path, fault: ModelFault) -> Self {
        Self::BadModel {
            path: path.to_owned(),
            fault,
        }
    }
}
