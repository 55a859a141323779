//! Disks for tests: one in memory that can lose its power, be full, or fail at a chosen operation.

use std::collections::HashMap;
use std::io;
use std::path::Path;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::Mutex;

use wayfold::store::Disk;

/// A disk in memory. Its clones are the same disk.
#[derive(Clone, Default)]
pub(crate) struct MemoryDisk(Arc<Mutex<Inside>>);

#[derive(Default)]
struct Inside {
    /// What programs see.
    seen: HashMap<PathBuf, Vec<u8>>,
    /// What is there after the power went.
    durable: HashMap<PathBuf, Vec<u8>>,
    operations: usize,
    fails_at: Option<(usize, io::ErrorKind)>,
    from_then_on: bool,
    room: Option<usize>,
}

impl MemoryDisk {
    /// How many operations there were.
    pub(crate) fn operations(&self) -> usize {
        self.0.lock().expect("no panic").operations
    }

    /// Lets the operation with this number fail, and all after it if wished.
    pub(crate) fn fail_at(&self, operation: usize, kind: io::ErrorKind, from_then_on: bool) {
        let mut inside = self.0.lock().expect("no panic");
        inside.fails_at = Some((operation, kind));
        inside.from_then_on = from_then_on;
    }

    /// Everything works again.
    pub(crate) fn heal(&self) {
        let mut inside = self.0.lock().expect("no panic");
        inside.fails_at = None;
        inside.room = None;
    }

    /// Leaves room for this many bytes in all files together.
    pub(crate) fn room(&self, bytes: usize) {
        self.0.lock().expect("no panic").room = Some(bytes);
    }

    /// The same files on a disk of their own, out of reach for whoever uses this one.
    pub(crate) fn apart(&self) -> Self {
        let inside = self.0.lock().expect("no panic");
        Self(Arc::new(Mutex::new(Inside {
            seen: inside.seen.clone(),
            durable: inside.durable.clone(),
            ..Inside::default()
        })))
    }

    /// The power goes: what was not synced is gone.
    pub(crate) fn cut_power(&self) {
        let mut inside = self.0.lock().expect("no panic");
        let durable = inside.durable.clone();
        inside.seen = durable;
    }
}

impl Inside {
    /// Counts one operation; true where it fails half-way.
    fn step(&mut self) -> Option<io::Error> {
        let now = self.operations;
        self.operations += 1;
        let (at, kind) = self.fails_at?;
        (now == at || (self.from_then_on && now > at)).then(|| kind.into())
    }

    fn put(&mut self, path: &Path, at: usize, bytes: &[u8]) -> io::Result<()> {
        let used: usize = self.seen.values().map(Vec::len).sum();
        let file = self.seen.entry(path.to_path_buf()).or_default();
        let grows = (at + bytes.len()).saturating_sub(file.len());
        let fits = self.room.map_or(bytes.len(), |room| {
            let free = room.saturating_sub(used);
            if grows <= free {
                bytes.len()
            } else {
                bytes.len().saturating_sub(grows - free)
            }
        });
        if file.len() < at + fits {
            file.resize(at + fits, 0);
        }
        file[at..at + fits].copy_from_slice(&bytes[..fits]);
        if fits < bytes.len() {
            Err(io::ErrorKind::StorageFull.into())
        } else {
            Ok(())
        }
    }
}

impl Disk for MemoryDisk {
    fn read(&mut self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        let mut inside = self.0.lock().expect("no panic");
        inside.step().map_or(Ok(()), Err)?;
        Ok(inside.seen.get(path).cloned())
    }

    fn write(&mut self, path: &Path, at: u64, bytes: &[u8]) -> io::Result<()> {
        let mut inside = self.0.lock().expect("no panic");
        let at = usize::try_from(at).expect("small");
        if let Some(error) = inside.step() {
            inside.put(path, at, &bytes[..bytes.len() / 2])?;
            return Err(error);
        }
        inside.put(path, at, bytes)
    }

    fn sync(&mut self, path: &Path) -> io::Result<()> {
        let mut inside = self.0.lock().expect("no panic");
        inside.step().map_or(Ok(()), Err)?;
        if let Some(bytes) = inside.seen.get(path).cloned() {
            inside.durable.insert(path.to_path_buf(), bytes);
        }
        Ok(())
    }

    fn replace(&mut self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut inside = self.0.lock().expect("no panic");
        inside.step().map_or(Ok(()), Err)?;
        let beside = path.with_extension("new");
        if let Err(error) = inside.put(&beside, 0, bytes) {
            inside.seen.remove(&beside);
            return Err(error);
        }
        inside.seen.remove(&beside);
        inside.seen.insert(path.to_path_buf(), bytes.to_vec());
        inside.durable.insert(path.to_path_buf(), bytes.to_vec());
        Ok(())
    }

    fn remove(&mut self, path: &Path) -> io::Result<()> {
        let mut inside = self.0.lock().expect("no panic");
        inside.step().map_or(Ok(()), Err)?;
        inside.seen.remove(path);
        inside.durable.remove(path);
        Ok(())
    }
}
