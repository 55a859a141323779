//! Speech models: which are there, whether they are sound, and how one is put in place. A speech library trusts
//! the file it reads, so every file is checked here first, in bounded memory.

#[cfg_attr(not(feature = "voice"), allow(dead_code))]
mod check;
mod convert;
mod layout;
mod mel;
mod q8;
#[cfg(feature = "voice")]
mod reach;
mod source;
mod write;

use std::collections::HashSet;
use std::fmt::Write as _;
use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::path::PathBuf;

use sha2::Digest;
use sha2::Sha256;

use super::ModelFault;
use super::VoiceError;

pub use q8::quantise;
#[cfg(feature = "voice")]
pub(super) use reach::Reach;
#[cfg(feature = "voice")]
pub(super) use reach::load;

/// The file name of the model that tells speech from silence (Silero, version 6.2, MIT licence).
pub const ACTIVITY: &str = "ggml-silero-v6.2.0.bin";

/// The checksum of [`ACTIVITY`] as published in the package that carries it.
const ACTIVITY_CHECKSUM: &str = "2aa269b785eeb53a82983a20501ddf7c1d9c48e33ab63a41391ac6c9f7fb6987";

/// Models in the order in which they are taken when none is asked for: the default, then what a slow machine has.
const PREFERRED: &[&str] = &["base", "base.en", "tiny.en", "tiny", "small", "small.en"];

/// A model and the activity model beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The speech model.
    pub model: PathBuf,
    /// The model that tells speech from silence.
    pub activity: PathBuf,
}

/// A model that is in place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Installed {
    /// The short name to ask for it by, such as `base-q8_0`.
    pub name: String,
    /// The file.
    pub path: PathBuf,
    /// Its length in bytes.
    pub bytes: u64,
    /// What is wrong with it, if anything is.
    pub fault: Option<ModelFault>,
}

/// Looks for a model in these folders, in order. `wanted` is a path, or a name such as `base` or `tiny.en`; without
/// it the best one there is. The activity model may lie beside the model or in any of the folders.
///
/// # Errors
/// `NoModel` or `NoActivityModel`, with the folders.
pub fn find(folders: &[PathBuf], wanted: Option<&Path>) -> Result<Found, VoiceError> {
    let looked = || folders.to_vec();
    let model = match wanted {
        Some(path) if path.is_file() => Some(path.to_owned()),
        Some(name) => name.to_str().and_then(|name| named(folders, name)),
        None => PREFERRED.iter().find_map(|name| named(folders, name)),
    };
    let model = model.ok_or_else(|| VoiceError::NoModel { looked: looked() })?;
    let beside = model.parent().map(Path::to_path_buf);
    let activity = beside
        .iter()
        .chain(folders)
        .map(|folder| folder.join(ACTIVITY))
        .find(|path| path.is_file());
    let activity = activity.ok_or_else(|| VoiceError::NoActivityModel { looked: looked() })?;
    Ok(Found { model, activity })
}

/// Every model in a folder, by name, each checked whole. A folder that is not there holds none.
///
/// # Errors
/// `File` if the folder cannot be read.
pub fn list(folder: &Path) -> Result<Vec<Installed>, VoiceError> {
    let entries = match std::fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(VoiceError::file(folder, &error)),
    };
    let mut found = Vec::new();
    for entry in entries {
        let path = entry.map_err(|error| VoiceError::file(folder, &error))?.path();
        let Some(name) = short_name(&path) else { continue };
        let checked = if path.ends_with(ACTIVITY) {
            check_activity(&path)
        } else {
            check(&path)
        };
        let fault = match checked {
            Ok(()) => None,
            Err(VoiceError::BadModel { fault, .. }) => Some(fault),
            Err(_) => Some(ModelFault::Cut),
        };
        let bytes = path.metadata().map_or(0, |facts| facts.len());
        found.push(Installed {
            name,
            path,
            bytes,
            fault,
        });
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(found)
}

/// Puts one model in place from its files: a `CTranslate2` model (`model.bin`, or its parts in order, with
/// `vocabulary.txt` given or beside it), a ready ggml Whisper file, or the activity model. The new file is checked
/// before it takes its name, and an older one of that name is replaced at once or not at all.
///
/// # Errors
/// `File` if a file cannot be read or written, `BadModel` if it is not a sound model of these kinds.
pub fn install(files: &[PathBuf], into: &Path) -> Result<Installed, VoiceError> {
    let none = || VoiceError::model(into, ModelFault::UnknownKind);
    let is_words = |path: &&PathBuf| path.file_name().is_some_and(|name| name == "vocabulary.txt");
    let parts: Vec<PathBuf> = files.iter().filter(|path| !is_words(path)).cloned().collect();
    let first = parts.first().ok_or_else(none)?;
    std::fs::create_dir_all(into).map_err(|error| VoiceError::file(into, &error))?;
    let path = match kind(first)? {
        Kind::Activity => write::copy(first, &into.join(ACTIVITY), check_activity)?,
        Kind::Ggml => {
            let facts = check::structure(first)?;
            write::copy(first, &into.join(facts.file_name()), check)?
        }
        Kind::CTranslate2 => {
            let beside = first.with_file_name("vocabulary.txt");
            let words = files.iter().find(is_words).unwrap_or(&beside);
            let source = source::Source::open(&parts)?;
            let sizes = source.sizes()?;
            let words = convert::vocabulary(words, &sizes)?;
            let target = into.join(sizes.file_name());
            write::atomically(
                &target,
                |file| convert::write(source, &sizes, &words, file),
                check,
            )?
        }
    };
    let bytes = path
        .metadata()
        .map_err(|error| VoiceError::file(&path, &error))?
        .len();
    let name = short_name(&path).unwrap_or_default();
    Ok(Installed {
        name,
        path,
        bytes,
        fault: None,
    })
}

/// Whether a file is a sound ggml Whisper model, and, where a checksum lies beside it, the very one installed.
///
/// # Errors
/// `File` or `BadModel`.
pub fn check(path: &Path) -> Result<(), VoiceError> {
    check::structure(path)?;
    match checksum_beside(path) {
        Some(sum) if sum != checksum(path)? => Err(VoiceError::model(path, ModelFault::Checksum)),
        _ => Ok(()),
    }
}

/// Whether a file is the published activity model.
///
/// # Errors
/// `File` or `BadModel`.
pub fn check_activity(path: &Path) -> Result<(), VoiceError> {
    if checksum(path)? == ACTIVITY_CHECKSUM {
        Ok(())
    } else {
        Err(VoiceError::model(path, ModelFault::Checksum))
    }
}

enum Kind {
    Ggml,
    CTranslate2,
    Activity,
}

fn kind(path: &Path) -> Result<Kind, VoiceError> {
    let failed = |error: std::io::Error| VoiceError::file(path, &error);
    let mut file = File::open(path).map_err(failed)?;
    let mut head = [0; 4];
    file.read_exact(&mut head)
        .map_err(|_| VoiceError::model(path, ModelFault::Cut))?;
    let small = file.metadata().map_err(failed)?.len() < 4_000_000;
    match u32::from_le_bytes(head) {
        layout::MAGIC if small && checksum(path)? == ACTIVITY_CHECKSUM => Ok(Kind::Activity),
        layout::MAGIC => Ok(Kind::Ggml),
        source::VERSION => Ok(Kind::CTranslate2),
        _ => Err(VoiceError::model(path, ModelFault::UnknownKind)),
    }
}

fn named(folders: &[PathBuf], name: &str) -> Option<PathBuf> {
    // A name is no way out of the folder.
    if name.contains(['/', '\\']) {
        return None;
    }
    let files = [
        format!("ggml-{name}-q8_0.bin"),
        format!("ggml-{name}.bin"),
        name.to_owned(),
    ];
    let tries = folders
        .iter()
        .flat_map(|folder| files.iter().map(move |file| folder.join(file)));
    let mut seen = HashSet::new();
    tries
        .filter(|path| seen.insert(path.clone()))
        .find(|path| path.is_file())
}

fn short_name(path: &Path) -> Option<String> {
    let name = path.file_name()?.to_str()?;
    Some(name.strip_prefix("ggml-")?.strip_suffix(".bin")?.to_owned())
}

/// The checksum that was written beside a model when it was put in place.
fn checksum_beside(path: &Path) -> Option<String> {
    let line = std::fs::read_to_string(checksum_path(path)).ok()?;
    Some(line.split_whitespace().next().unwrap_or_default().to_owned())
}

fn checksum_path(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".sha256");
    PathBuf::from(name)
}

/// SHA-256 of a file as lower-case hexadecimal digits.
fn checksum(path: &Path) -> Result<String, VoiceError> {
    let failed = |error: std::io::Error| VoiceError::file(path, &error);
    let mut file = File::open(path).map_err(failed)?;
    let mut sum = Sha256::new();
    let mut block = vec![0; 1 << 18];
    loop {
        let read = file.read(&mut block).map_err(failed)?;
        if read == 0 {
            break;
        }
        sum.update(&block[..read]);
    }
    Ok(digits(sum))
}

fn digits(sum: Sha256) -> String {
    let mut digits = String::with_capacity(64);
    for byte in sum.finalize() {
        // Writing to a string cannot fail.
        let _ = write!(digits, "{byte:02x}");
    }
    digits
}
