//! Files that the person asked for, on their way to the disk.

use std::fs;
use std::io;
use std::io::Write;
use std::path::Path;

use crate::shell::trouble::Trouble;

/// Refuses, before anything is asked or made, a file that is there already, unless the person said that it may go. A pipe
/// or a device is written into, and is never in the way.
pub(crate) fn free_for(file: &Path, replace: bool) -> Result<(), Trouble> {
    if replace || !file.is_file() {
        Ok(())
    } else {
        Err(Trouble::Usage("trouble.file-there", file.display().to_string()))
    }
}

/// Puts a whole file in place, all or nothing, for the person's account only. No older file makes room for it.
pub(crate) fn put_new(file: &Path, bytes: &[u8], replace: bool) -> Result<(), Trouble> {
    free_for(file, replace)?;
    put(file, bytes)
}

/// The same, in place of an older file that the person knows of.
pub(crate) fn put(file: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    put_whole(file, bytes).map_err(|error| Trouble::Write(file.to_owned(), error))
}

fn put_whole(file: &Path, bytes: &[u8]) -> io::Result<()> {
    // A link stays a link: what it points to is what gets the new content.
    let file = fs::canonicalize(file).unwrap_or_else(|_| file.to_owned());
    if fs::metadata(&file).is_ok_and(|about| !about.is_file()) {
        // A pipe or a device cannot be put in place of itself.
        return fs::OpenOptions::new().write(true).open(&file)?.write_all(bytes);
    }
    let folder = file
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    // It is readable by the person's account only from the first byte on, and removed if anything goes wrong.
    let mut beside = tempfile::Builder::new().prefix(".wayfold-").tempfile_in(folder)?;
    beside.write_all(bytes)?;
    beside.as_file().sync_all()?;
    beside.persist(&file).map_err(|failed| failed.error)?;
    Ok(())
}
