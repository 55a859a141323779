//! The rim between the store and the disk: six methods, so that tests can cut the power between any two of them, fill
//! the disk, or let a single one fail. The database writes its own files and does not pass through here.

use std::collections::HashMap;
use std::fs;
use std::fs::File;
use std::fs::OpenOptions;
use std::io;
use std::io::Read;
use std::io::Seek;
use std::io::SeekFrom;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;

/// How much of a file is read at once where only its sum is wanted.
const PART: usize = 64 << 10;

/// What the store asks of a disk.
pub trait Disk: Send {
    /// The whole file; nothing where there is none.
    ///
    /// # Errors
    /// When the file is there and cannot be read.
    fn read(&mut self, path: &Path) -> io::Result<Option<Vec<u8>>>;

    /// The checksum (CRC-32) and the length of the whole file; nothing where there is none.
    ///
    /// # Errors
    /// As [`Disk::read`].
    fn sum(&mut self, path: &Path) -> io::Result<Option<(u32, u64)>> {
        let bytes = self.read(path)?;
        Ok(bytes.map(|bytes| (crc32fast::hash(&bytes), bytes.len() as u64)))
    }

    /// Writes into a file at an offset, making it where it is missing. Not durable before [`Disk::sync`].
    ///
    /// # Errors
    /// When not all of it could be written; some of it may have been.
    fn write(&mut self, path: &Path, at: u64, bytes: &[u8]) -> io::Result<()>;

    /// Makes what was written into a file durable.
    ///
    /// # Errors
    /// When it may not be durable.
    fn sync(&mut self, path: &Path) -> io::Result<()>;

    /// Puts a whole file in the place of another, durably, all or nothing.
    ///
    /// # Errors
    /// When the old file is still there, or was and is not known to be replaced durably.
    fn replace(&mut self, path: &Path, bytes: &[u8]) -> io::Result<()>;

    /// Removes a file; no error where there is none.
    ///
    /// # Errors
    /// When the file is still there.
    fn remove(&mut self, path: &Path) -> io::Result<()>;
}

/// The machine's own disk. Files that are written to stay open, and are readable by the person's account only.
#[derive(Debug, Default)]
pub struct RealDisk {
    open: HashMap<PathBuf, File>,
}

impl Disk for RealDisk {
    fn read(&mut self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        match fs::read(path) {
            Ok(bytes) => Ok(Some(bytes)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    fn sum(&mut self, path: &Path) -> io::Result<Option<(u32, u64)>> {
        match File::open(path) {
            Ok(mut file) => {
                let mut sum = crc32fast::Hasher::new();
                let length = sum_up(&mut file, &mut sum)?;
                Ok(Some((sum.finalize(), length)))
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    fn write(&mut self, path: &Path, at: u64, bytes: &[u8]) -> io::Result<()> {
        if !self.open.contains_key(path) {
            let new = !path.exists();
            let file = private(OpenOptions::new().create(true).truncate(false)).open(path)?;
            if new {
                sync_directory(path)?;
            }
            self.open.insert(path.to_path_buf(), file);
        }
        let Some(file) = self.open.get_mut(path) else {
            return Err(io::ErrorKind::NotFound.into());
        };
        file.seek(SeekFrom::Start(at))?;
        file.write_all(bytes)
    }

    fn sync(&mut self, path: &Path) -> io::Result<()> {
        self.open.get(path).map_or(Ok(()), File::sync_data)
    }

    fn replace(&mut self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.open.remove(path);
        let beside = unfinished(path);
        let mut file = private(OpenOptions::new().create(true).truncate(true)).open(&beside)?;
        let written = file.write_all(bytes).and_then(|()| file.sync_all());
        drop(file);
        let old = only_here(path);
        if let Err(error) = written.and_then(|()| fs::rename(&beside, path)) {
            // What is left of the attempt is sealed; removing it only gives the room back.
            let _ = fs::remove_file(&beside);
            return Err(error);
        }
        sync_directory(path)?;
        if let Some(old) = old {
            // The new file is in place and durable whatever becomes of the old one.
            let _ = write_over(&old);
        }
        Ok(())
    }

    fn remove(&mut self, path: &Path) -> io::Result<()> {
        self.open.remove(path);
        match fs::remove_file(path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }
}

/// What stands behind a file's name while it is being written anew.
pub(crate) const UNFINISHED: &str = ".new";

/// The name under which a file is written before it takes another's place. A crash may leave one behind.
pub(crate) fn unfinished(path: &Path) -> PathBuf {
    let mut beside = path.as_os_str().to_owned();
    beside.push(UNFINISHED);
    PathBuf::from(beside)
}

/// Adds a file's bytes to a sum, a part at a time, so that no memory is asked for that holds all of a large file. Gives how
/// many there were.
pub(crate) fn sum_up(file: &mut File, sum: &mut crc32fast::Hasher) -> io::Result<u64> {
    let mut part = vec![0; PART];
    let mut length = 0;
    loop {
        let read = file.read(&mut part)?;
        if read == 0 {
            return Ok(length);
        }
        sum.update(&part[..read]);
        length += read as u64;
    }
}

fn private(options: &mut OpenOptions) -> &mut OpenOptions {
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(options, 0o600);
    options.write(true)
}

/// A file that is about to be replaced, where it has no other name: what a second name holds is somebody's copy.
fn only_here(path: &Path) -> Option<File> {
    let about = fs::symlink_metadata(path).ok()?;
    #[cfg(unix)]
    let alone = std::os::unix::fs::MetadataExt::nlink(&about) == 1;
    #[cfg(not(unix))]
    let alone = true;
    if !about.is_file() || !alone {
        return None;
    }
    OpenOptions::new().write(true).open(path).ok()
}

/// Writes zeros over a file that has no name any more. Where the file system or the device writes in place, what it held is
/// gone; elsewhere the old blocks wait for their turn.
fn write_over(mut old: &File) -> io::Result<()> {
    let mut left = old.metadata()?.len();
    let zeros = vec![0; 64 << 10];
    while left > 0 {
        let some = left.min(zeros.len() as u64);
        old.write_all(&zeros[..usize::try_from(some).unwrap_or(0)])?;
        left -= some;
    }
    old.sync_data()
}

/// Makes the name of a new file durable. Only Unix lets a directory be opened for that.
fn sync_directory(path: &Path) -> io::Result<()> {
    match path.parent() {
        Some(parent) if cfg!(unix) => File::open(parent)?.sync_all(),
        _ => Ok(()),
    }
}
