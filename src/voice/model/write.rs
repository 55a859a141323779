//! A file that is there whole or not at all: written under another name, checked, synced and then renamed, with its
//! checksum beside it.

use std::fs::File;
use std::io;
use std::io::BufWriter;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;

use super::VoiceError;
use super::checksum;
use super::checksum_path;

/// Writes `target` through `content`, checks it, and gives it its name.
pub(super) fn atomically(
    target: &Path,
    content: impl FnOnce(&mut dyn Write) -> Result<(), VoiceError>,
    check: impl FnOnce(&Path) -> Result<(), VoiceError>,
) -> Result<PathBuf, VoiceError> {
    let unfinished = beside(target, &format!("part-{}", std::process::id()));
    let leftover = Leftover(&unfinished);
    let failed = |error: &io::Error| VoiceError::file(target, error);
    let mut file = BufWriter::with_capacity(
        1 << 18,
        File::create(&unfinished).map_err(|error| failed(&error))?,
    );
    content(&mut file).map_err(|error| named(error, Path::new(""), target))?;
    let file = file.into_inner().map_err(|error| failed(error.error()))?;
    file.sync_all().map_err(|error| failed(&error))?;
    check(&unfinished).map_err(|error| named(error, &unfinished, target))?;
    let sum = checksum(&unfinished)?;
    std::fs::rename(&unfinished, target).map_err(|error| failed(&error))?;
    drop(leftover);
    let name = target.file_name().unwrap_or_default().to_string_lossy();
    let sum_file = beside(target, &format!("sum-{}", std::process::id()));
    let leftover = Leftover(&sum_file);
    std::fs::write(&sum_file, format!("{sum}  {name}\n")).map_err(|error| failed(&error))?;
    std::fs::rename(&sum_file, checksum_path(target)).map_err(|error| failed(&error))?;
    drop(leftover);
    Ok(target.to_owned())
}

/// Copies a file the same way.
pub(super) fn copy(
    from: &Path,
    target: &Path,
    check: impl FnOnce(&Path) -> Result<(), VoiceError>,
) -> Result<PathBuf, VoiceError> {
    let mut source = File::open(from).map_err(|error| VoiceError::file(from, &error))?;
    let content = |out: &mut dyn Write| {
        io::copy(&mut source, out)
            .map(|_| ())
            .map_err(|error| VoiceError::file(from, &error))
    };
    atomically(target, content, check)
}

/// A hidden name in the same folder, so that renaming cannot cross file systems.
fn beside(target: &Path, mark: &str) -> PathBuf {
    let name = target.file_name().unwrap_or_default().to_string_lossy();
    target.with_file_name(format!(".{name}.{mark}"))
}

/// An error of the file under its other name, or while it has none, is an error of the file that was to be.
fn named(error: VoiceError, before: &Path, target: &Path) -> VoiceError {
    let target = target.to_owned();
    match error {
        VoiceError::File { path, kind } if path == before => VoiceError::File { path: target, kind },
        VoiceError::BadModel { path, fault } if path == before => {
            VoiceError::BadModel { path: target, fault }
        }
        other => other,
    }
}

/// Takes a half-written file away, whatever went wrong.
struct Leftover<'a>(&'a Path);

impl Drop for Leftover<'_> {
    fn drop(&mut self) {
        // After a rename it is not there any more, and that is well.
        let _ = std::fs::remove_file(self.0);
    }
}
