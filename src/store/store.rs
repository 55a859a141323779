//! The store as the rest of the program meets it: make one, open one, append to it.

use std::collections::HashSet;
use std::fs::File;
use std::io;
use std::path::Path;

use rustc_hash::FxHashSet;
use zeroize::Zeroizing;

use crate::map::Event;
use crate::map::EventId;
use crate::store::Cost;
use crate::store::Notice;
use crate::store::Part;
use crate::store::Site;
use crate::store::StoreError;
use crate::store::Unlock;
use crate::store::chance::calibrate;
use crate::store::chance::fill;
use crate::store::chance::random;
use crate::store::chance::salts;
use crate::store::frame;
use crate::store::head::Head;
use crate::store::head::SLOT;
use crate::store::keys;
use crate::store::keys::KeyFile;
use crate::store::keys::Wrapped;
use crate::store::presence::exists_on;
use crate::store::presence::read_keys;
use crate::store::records::Records;
use crate::store::rest::Database;
use crate::store::seal;
use crate::store::seal::Body;
use crate::store::seal::KEY;
use crate::store::seal::Place;
use crate::store::seal::Sealer;
use crate::store::site;
use crate::store::site::make_directory;

/// An open store. Dropping it closes it.
pub struct Store {
    pub(crate) site: Site,
    pub(crate) sealer: Sealer,
    pub(crate) data: Zeroizing<[u8; KEY]>,
    pub(crate) wrapped: Wrapped,
    pub(crate) database: Database,
    pub(crate) head: Head,
    /// Where in the journal the next frame goes.
    pub(crate) journal_end: u64,
    /// How long the journal's file is.
    pub(crate) journal_room: u64,
    pub(crate) known: FxHashSet<EventId>,
    /// Whether both copies are known to hold exactly what the head says. Where not, they are compared before the next write.
    pub(crate) sound: bool,
    /// Why they do not, where it is known.
    pub(crate) trouble: Option<StoreError>,
    /// What was noticed when the copies were compared again while the store was open.
    pub(crate) since: Vec<Notice>,
    pub(crate) _lock: File,
}

/// What a store held when it was opened.
#[derive(Debug, Default)]
pub struct Opened {
    /// Every event, in the order in which they were appended.
    pub events: Vec<Event>,
    /// What there is to tell the person.
    pub notices: Vec<Notice>,
}

impl Store {
    /// Makes a new, empty store at a directory, which is made where it is missing.
    ///
    /// # Errors
    /// `Exists` where there is one; `DiskFull`, `ReadOnly` and faults of the disk.
    pub fn create(place: &Path, unlock: &Unlock) -> Result<Self, StoreError> {
        Self::create_at(Site::at(place), unlock)
    }

    /// As [`Store::create`], with choices.
    ///
    /// # Errors
    /// As [`Store::create`].
    pub fn create_at(mut site: Site, unlock: &Unlock) -> Result<Self, StoreError> {
        if Self::exists(&site.place) || exists_on(&mut site)? {
            return Err(StoreError::Exists);
        }
        make_directory(&site.place)?;
        let lock = site.lock()?;
        let mut data = Zeroizing::new([0; KEY]);
        fill(data.as_mut_slice())?;
        let store = random()?;
        let cost = match (site.cost, unlock) {
            (Some(cost), _) => cost,
            (None, Unlock::Passphrase(_)) => calibrate()?,
            (None, Unlock::KeyFile) => Cost::STANDARD,
        };
        let bytes = keys::wrap(&data, store, 0, unlock, cost, &salts()?)?;
        let KeyFile::Good(wrapped) = keys::read(&bytes) else {
            return Err(StoreError::Damaged);
        };
        let sealer = Sealer::new(&data, store);
        // The keys come last: where there are none, nothing was ever kept, and the making starts over.
        let mut journal = frame::heading(store);
        frame::fill_up(0, &mut journal);
        site.disk.replace(&site.file(site::JOURNAL), &journal)?;
        let mut store = Self {
            database: Database::Shut,
            head: Head::default(),
            journal_end: frame::HEADING as u64,
            journal_room: journal.len() as u64,
            known: FxHashSet::default(),
            sound: true,
            trouble: None,
            since: Vec::new(),
            sealer,
            data,
            wrapped,
            site,
            _lock: lock,
        };
        store.write_head_afresh()?;
        store.database = Database::Open(Records::rebuild(
            &store.site.file(site::RECORDS),
            std::iter::empty(),
        )?);
        for name in site::KEYS.iter().rev() {
            store.site.disk.replace(&store.site.file(name), &bytes)?;
        }
        Ok(store)
    }

    /// Opens the store at a directory, mends what can be mended, and reads every event.
    ///
    /// # Errors
    /// `Missing`, `WrongPassphrase`, `OtherLock`, `InUse`, `NewerFormat`, and `Damaged` only where both copies of the
    /// key material are. Loss of records is no error but a notice.
    pub fn open(place: &Path, unlock: &Unlock) -> Result<(Self, Opened), StoreError> {
        Self::open_at(Site::at(place), unlock)
    }

    /// As [`Store::open`], with choices.
    ///
    /// # Errors
    /// As [`Store::open`].
    pub fn open_at(mut site: Site, unlock: &Unlock) -> Result<(Self, Opened), StoreError> {
        // That there is none, or a newer one, is said without the lock; what they hold may change until it is ours.
        read_keys(&mut site)?;
        let lock = site.lock()?;
        site.clear_unfinished();
        let (mut wrapped, other) = read_keys(&mut site)?;
        let data = match (wrapped.unwrap(unlock), &other) {
            // A crash between the two writes of a new passphrase leaves the old one good for the other copy.
            (Err(StoreError::WrongPassphrase | StoreError::OtherLock), Some(other)) => {
                let data = other.unwrap(unlock)?;
                wrapped = other.clone();
                data
            }
            (data, _) => data?,
        };
        let same = other.is_some_and(|other| other.bytes() == wrapped.bytes());
        let sealer = Sealer::new(&data, wrapped.store);
        let mut store = Self {
            database: Database::Shut,
            head: Head::default(),
            journal_end: 0,
            journal_room: 0,
            known: FxHashSet::default(),
            sound: false,
            trouble: None,
            since: Vec::new(),
            sealer,
            data,
            wrapped,
            site,
            _lock: lock,
        };
        let mut opened = Opened::default();
        if !same {
            opened.notices.push(match store.write_keys() {
                Ok(()) => Notice::Mended {
                    part: Part::Keys,
                    records: 0,
                },
                Err(reason) => Notice::NotMended { reason },
            });
        }
        opened.events = store.settle(&mut opened.notices)?;
        Ok((store, opened))
    }

    /// Keeps events, all or none of them. When it returns without an error they are in both copies and durable: the journal
    /// has reached the device, which is what outlasts a power cut; the database outlasts the end of the program, and a
    /// power cut too where the device did not lose what it was handed, else it is mended from the journal at the next
    /// opening. An event whose identity is kept already is left as it is.
    ///
    /// # Errors
    /// `DiskFull`, `ReadOnly`, `TooLarge`, and faults of the disk. After an error the batch may or may not be kept, never
    /// a part of it; appending it again is safe.
    pub fn append(&mut self, events: &[Event]) -> Result<(), StoreError> {
        if !self.sound {
            self.settle_again()?;
            if !self.sound {
                return Err(self.trouble.unwrap_or(StoreError::ReadOnly));
            }
        }
        let mut ids = HashSet::new();
        let fresh: Vec<_> = events
            .iter()
            .filter(|event| !self.known.contains(&event.id) && ids.insert(event.id))
            .collect();
        if fresh.is_empty() {
            return Ok(());
        }
        if self.opened_database().is_err() {
            // It was whole a moment ago and is not now: both copies are read, and mended, once more.
            self.settle_again()?;
            self.opened_database()?;
        }
        let mut batch: Vec<Vec<u8>> = Vec::with_capacity(fresh.len());
        let mut before = self.head.last;
        for (index, event) in fresh.iter().enumerate() {
            let left = u32::try_from(fresh.len() - 1 - index).map_err(|_| StoreError::TooLarge)?;
            let place = Place {
                number: self.head.count + index as u64,
                left,
                before,
            };
            let body = Body::Event(json(event)?);
            let record = self
                .sealer
                .close_record(place, &random()?, &body)
                .ok_or(StoreError::TooLarge)?;
            before = seal::tag(&record);
            batch.push(record);
        }
        let frame = frame::frame(batch.iter().map(Vec::as_slice)).ok_or(StoreError::TooLarge)?;
        self.write_both(&batch, &frame)?;
        self.head.count += batch.len() as u64;
        self.head.last = before;
        self.journal_end += frame.len() as u64;
        self.known.extend(ids);
        // The batch is in both copies whatever becomes of the head, which only has to be near.
        self.sound = self.write_head().is_ok();
        Ok(())
    }

    /// What was noticed while the store was open, since it was last asked for.
    pub fn noticed(&mut self) -> Vec<Notice> {
        std::mem::take(&mut self.since)
    }

    /// Compares the copies once more; the events are with whoever opened the store already.
    pub(crate) fn settle_again(&mut self) -> Result<(), StoreError> {
        let mut notices = Vec::new();
        let settled = self.settle(&mut notices);
        self.since.append(&mut notices);
        settled.map(drop)
    }

    /// Writes a batch to the journal and to the database, both at once, and waits for both: the journal until it is on the
    /// device, the database until sled has flushed it, which on Linux hands it to the device without waiting for it.
    pub(crate) fn write_both(&mut self, batch: &[Vec<u8>], frame: &[u8]) -> Result<(), StoreError> {
        self.sound = false;
        let path = self.site.file(site::JOURNAL);
        let Database::Open(records) = &self.database else {
            return Err(StoreError::ReadOnly);
        };
        let (disk, end) = (&mut self.site.disk, self.journal_end);
        let mut bytes = frame.to_vec();
        if end + bytes.len() as u64 > self.journal_room {
            frame::fill_up(end, &mut bytes);
            self.journal_room = end + bytes.len() as u64;
        }
        let first = self.head.count;
        let numbered = (first..).zip(batch.iter().map(Vec::as_slice));
        let (journal, database) = records.append_beside(numbered, || {
            disk.write(&path, end, &bytes).and_then(|()| disk.sync(&path))
        });
        journal?;
        database
    }

    /// Writes the next head, to the store and to the anchor; not durable before it is synced.
    pub(crate) fn write_head(&mut self) -> Result<(), StoreError> {
        self.head.turn += 1;
        let slot = self
            .head
            .close(&self.sealer, &random()?)
            .ok_or(StoreError::Damaged)?;
        if let Some(anchor) = self.site.anchor.clone() {
            // The anchor is a second witness; the store does not fail for want of it.
            let _ = self.site.disk.write(&anchor, self.head.offset(), &slot);
        }
        self.site
            .disk
            .write(&self.site.file(site::HEAD), self.head.offset(), &slot)?;
        Ok(())
    }

    /// Writes both slots of the head, durably.
    pub(crate) fn write_head_afresh(&mut self) -> Result<(), StoreError> {
        if let Some(parent) = self.site.anchor.as_ref().and_then(|anchor| anchor.parent()) {
            let _ = make_directory(parent);
        }
        self.write_head()?;
        self.write_head()?;
        if let Some(anchor) = self.site.anchor.clone() {
            let _ = self.cut_head(&anchor);
        }
        let path = self.site.file(site::HEAD);
        self.cut_head(&path)?;
        self.site.disk.sync(&path)?;
        Ok(())
    }

    /// Takes away what lies behind the slots: it would be told as damage at every opening.
    fn cut_head(&mut self, path: &Path) -> io::Result<()> {
        match self.site.disk.read(path)? {
            Some(bytes) if bytes.len() > 2 * SLOT => self.site.disk.replace(path, &bytes[..2 * SLOT]),
            _ => Ok(()),
        }
    }

    /// Writes both files of the key material.
    pub(crate) fn write_keys(&mut self) -> Result<(), StoreError> {
        for name in site::KEYS {
            let path = self.site.file(name);
            self.site.disk.replace(&path, self.wrapped.bytes())?;
        }
        Ok(())
    }
}

impl Drop for Store {
    fn drop(&mut self) {
        // A database that was never opened still lies as the head says.
        if matches!(self.database, Database::AtRest | Database::Shut) || self.opened_database().is_err() {
            return;
        }
        self.shut();
        if self.sound {
            self.head.sum = Records::sum(&self.site.file(site::RECORDS));
            self.head.stated = self.head.sum.is_some_and(|sum| self.state_rest(sum).is_some());
            // Where this fails, the next opening compares the copies without the sum.
            if self.write_head().is_ok() {
                let _ = self.site.disk.sync(&self.site.file(site::HEAD));
            }
        }
    }
}

/// An event as JSON, in memory that is wiped. It is measured first, so that no half of it stays behind in memory that a
/// growing vector gave back.
pub(crate) fn json(event: &Event) -> Result<Zeroizing<Vec<u8>>, StoreError> {
    struct Length(usize);
    impl std::io::Write for Length {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0 += bytes.len();
            Ok(bytes.len())
        }
        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let mut length = Length(0);
    serde_json::to_writer(&mut length, event).map_err(|_| StoreError::TooLarge)?;
    let mut text = Zeroizing::new(Vec::with_capacity(length.0));
    serde_json::to_writer(&mut *text, event).map_err(|_| StoreError::TooLarge)?;
    Ok(text)
}
