//! Caring for a store: checking it, changing its lock, snapshots, and the end of it.

use std::fs;
use std::io;
use std::path::PathBuf;

use crate::map::Event;
use crate::store::Cost;
use crate::store::Locked;
use crate::store::Notice;
use crate::store::Part;
use crate::store::Site;
use crate::store::Store;
use crate::store::StoreError;
use crate::store::Unlock;
use crate::store::chance::calibrate;
use crate::store::chance::salts;
use crate::store::disk::unfinished;
use crate::store::frame;
use crate::store::keys;
use crate::store::keys::KeyFile;
use crate::store::site;

/// How many snapshots are kept.
pub(crate) const SNAPSHOTS: u64 = 7;

/// What a check found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checked {
    /// How many events are kept.
    pub events: u64,
    /// How many snapshots there are.
    pub snapshots: u64,
    /// What was found and mended.
    pub notices: Vec<Notice>,
}

impl Store {
    /// How this store is locked.
    #[must_use]
    pub fn locked(&self) -> Locked {
        self.wrapped.locked
    }

    /// Reads every copy of everything again, compares, and mends.
    ///
    /// # Errors
    /// Where a copy cannot be read for a fault of the disk.
    pub fn verify(&mut self) -> Result<Checked, StoreError> {
        let mut notices = Vec::new();
        let mut same = true;
        for name in site::KEYS {
            let bytes = self.site.disk.read(&self.site.file(name))?;
            same &= bytes.as_deref() == Some(self.wrapped.bytes());
        }
        if !same {
            self.write_keys()?;
            notices.push(Notice::Mended {
                part: Part::Keys,
                records: 0,
            });
        }
        // A database at rest is opened first, so that what it holds is read too.
        let _ = self.opened_database();
        let events = self.settle(&mut notices)?;
        let mut snapshots = 0;
        let mut damaged = Vec::new();
        for slot in 0..SNAPSHOTS {
            let path = self.site.file(&snapshot(slot));
            let Some(bytes) = self.site.disk.read(&path)? else {
                if slot < self.head.snapshots {
                    damaged.push(path);
                }
                continue;
            };
            let found = frame::read(&bytes, self.wrapped.store);
            let genuine =
                |range: &std::ops::Range<usize>| self.sealer.open_record(&bytes[range.clone()]).is_some();
            if found.heading && !found.broken && !found.torn && found.records.iter().all(genuine) {
                snapshots += 1;
            } else {
                damaged.push(path);
            }
        }
        if !damaged.is_empty() {
            self.renew_snapshots(&damaged)?;
            notices.push(Notice::Mended {
                part: Part::Snapshots,
                records: 0,
            });
        }
        Ok(Checked {
            events: events.len() as u64,
            snapshots,
            notices,
        })
    }

    /// Locks the store in another way from now on: sets, changes or removes the passphrase.
    ///
    /// The data key stays the same and is wrapped anew, and the old key files are written over once the new ones are
    /// durable. So it takes two small files, all or nothing, where sealing every record, snapshot and head under a new key
    /// would be a long time with two keys, in which a crash must lose nothing. The price: an old copy of the key files,
    /// from a snapshot of the disk or a worn-out cell, opens with the old lock, and opens the records of today too. A
    /// backup that is restored into a new store has a new data key.
    ///
    /// # Errors
    /// Faults of the disk. The old lock may then still be the right one, but one of the two always is.
    pub fn change_lock(&mut self, unlock: &Unlock) -> Result<(), StoreError> {
        let cost = match (self.site.cost, unlock) {
            (Some(cost), _) => cost,
            (None, Unlock::KeyFile) => Cost::STANDARD,
            (None, Unlock::Passphrase(_)) => {
                let now = calibrate()?;
                Cost {
                    passes: now.passes.max(self.wrapped.cost.passes.min(4 * now.passes)),
                    ..now
                }
            }
        };
        let generation = self.wrapped.generation.max(self.head.keys) + 1;
        let bytes = keys::wrap(
            &self.data,
            self.wrapped.store,
            generation,
            unlock,
            cost,
            &salts()?,
        )?;
        let KeyFile::Good(wrapped) = keys::read(&bytes) else {
            return Err(StoreError::Damaged);
        };
        // Before the old key material goes, the new one is tried.
        if *wrapped.unwrap(unlock)? != *self.data {
            return Err(StoreError::Damaged);
        }
        let before = std::mem::replace(&mut self.wrapped, wrapped);
        if let Err(error) = self.write_keys() {
            self.wrapped = before;
            return Err(error);
        }
        self.head.keys = generation;
        self.sound &= self.write_head().is_ok();
        Ok(())
    }

    /// Ends the store at a site: its key first, then its files. What lies elsewhere, backups, snapshots of the disk and
    /// remnants in the cells of a solid-state disk, is out of reach.
    ///
    /// # Errors
    /// `InUse`, and faults of the disk.
    pub fn erase(mut site: Site) -> Result<(), StoreError> {
        let lock = site.lock()?;
        let keys = site::KEYS.map(|name| site.file(name));
        for path in keys.iter().map(|path| unfinished(path)).chain(keys.clone()) {
            if let Some(bytes) = site.disk.read(&path)? {
                site.disk.write(&path, 0, &vec![0; bytes.len()])?;
                site.disk.sync(&path)?;
                site.disk.remove(&path)?;
            }
        }
        let snapshots = (0..SNAPSHOTS).map(snapshot);
        let named = [site::HEAD, site::REST, site::JOURNAL, site::JOURNAL_DAMAGED].map(str::to_owned);
        for name in named.into_iter().chain(snapshots) {
            let path = site.file(&name);
            site.disk.remove(&unfinished(&path))?;
            site.disk.remove(&path)?;
        }
        if let Some(anchor) = site.anchor.clone() {
            site.disk.remove(&anchor)?;
        }
        match fs::remove_dir_all(site.file(site::RECORDS)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error.into()),
            _ => {}
        }
        fs::remove_file(site.file(site::LOCK))?;
        drop(lock);
        // A directory that holds something else of the person's stays.
        let _ = fs::remove_dir(&site.place);
        Ok(())
    }

    /// Takes a snapshot on the first opening after a day with something new in it.
    pub(crate) fn snapshot_when_due(&mut self, newest: Option<&Event>) -> Result<(), StoreError> {
        let Some(day) = newest.map(|event| event.at.as_second().div_euclid(24 * 60 * 60)) else {
            return Ok(());
        };
        if self.head.snapshots > 0 && self.head.snapshot_day == day {
            return Ok(());
        }
        self.take_snapshot(day)
    }

    fn take_snapshot(&mut self, day: i64) -> Result<(), StoreError> {
        let Some(bytes) = self.site.disk.read(&self.site.file(site::JOURNAL))? else {
            return Ok(());
        };
        self.site.disk.replace(
            &self.site.file(&snapshot(self.head.snapshots % SNAPSHOTS)),
            &bytes,
        )?;
        self.head.snapshots += 1;
        self.head.snapshot_day = day;
        self.write_head()
    }

    /// Puts what the journal holds into the places of damaged snapshots, and leaves the older ones beside them as they are.
    fn renew_snapshots(&mut self, damaged: &[PathBuf]) -> Result<(), StoreError> {
        let journal = self.site.disk.read(&self.site.file(site::JOURNAL))?;
        for path in damaged {
            match &journal {
                Some(bytes) => self.site.disk.replace(path, bytes)?,
                None => self.site.disk.remove(path)?,
            }
        }
        Ok(())
    }

    /// What the snapshots hold, as they are.
    pub(crate) fn read_snapshots(&mut self) -> Vec<Vec<u8>> {
        let paths: Vec<_> = (0..SNAPSHOTS)
            .map(|slot| self.site.file(&snapshot(slot)))
            .collect();
        paths
            .iter()
            .filter_map(|path| self.site.disk.read(path).ok().flatten())
            .collect()
    }
}

/// The file name of a snapshot.
pub(crate) fn snapshot(slot: u64) -> String {
    format!("snapshot-{slot}")
}
