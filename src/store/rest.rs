//! A store that was closed in good order is read from its fair copy, or from its journal alone. The database lies as the
//! head says it was left, and is opened only when something is to be added, or shortly before.

use std::thread;
use std::thread::JoinHandle;

use zeroize::Zeroizing;

use crate::map::Event;
use crate::store::Notice;
use crate::store::Store;
use crate::store::StoreError;
use crate::store::chance::random;
use crate::store::fair_copy;
use crate::store::fair_copy::FairCopy;
use crate::store::frame;
use crate::store::frame::Found;
use crate::store::head::Head;
use crate::store::reconcile::Copies;
use crate::store::reconcile::reconcile;
use crate::store::records::Records;
use crate::store::seal::NONCE;
use crate::store::seal::Sealer;
use crate::store::settle::Heads;
use crate::store::settle::last_tag;
use crate::store::site;

/// What the statement's seal is bound to beside the store.
const LABEL: &[u8; 16] = b"wayfold rest   1";

/// The database of an open store.
pub(crate) enum Database {
    /// It lies as it was closed; its files' sum fits the head.
    AtRest,
    /// It is being opened beside other work.
    Opening(JoinHandle<Result<Records, StoreError>>),
    /// It is open.
    Open(Records),
    /// It could not be opened, or is about to be made anew.
    Shut,
}

impl Store {
    /// Opens the database beside other work, so that the first append does not wait for it. Does nothing where it is open.
    pub fn make_ready(&mut self) {
        if matches!(self.database, Database::AtRest) && self.take_in_use().is_ok() {
            let directory = self.site.file(site::RECORDS);
            let opening = thread::Builder::new().spawn(move || Records::open(&directory));
            // Where no thread can be had, the first append opens it.
            self.database = opening.map_or(Database::AtRest, Database::Opening);
        }
    }

    /// Closes the database, or waits until it is open and closes it: nothing of it is at work when its files are made anew.
    pub(crate) fn shut(&mut self) {
        match std::mem::replace(&mut self.database, Database::Shut) {
            Database::Opening(opening) => drop(opening.join()),
            Database::AtRest | Database::Open(_) | Database::Shut => {}
        }
    }

    /// The open database, once it is open.
    ///
    /// # Errors
    /// Faults of the disk; `Damaged` where the files no longer are what they were when the store was opened.
    pub(crate) fn opened_database(&mut self) -> Result<&Records, StoreError> {
        let opened = match std::mem::replace(&mut self.database, Database::Shut) {
            Database::AtRest => {
                self.take_in_use()?;
                Records::open(&self.site.file(site::RECORDS))
            }
            Database::Opening(opening) => opening.join().unwrap_or(Err(StoreError::Damaged)),
            Database::Open(records) => Ok(records),
            Database::Shut => Err(self.trouble.unwrap_or(StoreError::ReadOnly)),
        };
        self.database = Database::Open(opened?);
        match &self.database {
            Database::Open(records) => Ok(records),
            _ => Err(StoreError::Damaged),
        }
    }

    /// From now on the database's files may change, so the sum is taken back first.
    pub(crate) fn take_in_use(&mut self) -> Result<(), StoreError> {
        self.head.sum = None;
        self.write_head()
    }

    /// Reads the events where the journal, both witnesses of the head and the sum of the database's files all agree.
    /// Nothing where they do not; nothing is changed then.
    pub(crate) fn read_at_rest(
        &mut self,
        heads: &Heads,
        journal: &[u8],
        found: &Found,
        notices: &mut Vec<Notice>,
    ) -> Option<Vec<Event>> {
        let own: Head = *heads.agreed(self.site.anchor.is_some())?;
        let sum = own.sum?;
        let stated = self.statement()?;
        let beyond = stated.strip_prefix(statement(sum, journal).as_slice())?;
        if !found.is_whole()
            || found.records.len() as u64 != own.count
            || own.keys > self.wrapped.generation
            || Records::sum(&self.site.file(site::RECORDS)) != Some(sum)
        {
            return None;
        }
        let copy = match fair_copy::read(beyond) {
            Some(copy) => copy,
            None => {
                let (copy, unknown) = self.read_journal(&own, journal, found)?;
                if unknown > 0 {
                    notices.push(Notice::Unknown { records: unknown });
                }
                copy
            }
        };
        self.known = copy.removed.into_iter().collect();
        self.journal_end = found.end as u64;
        self.journal_room = journal.len() as u64;
        self.head = own;
        self.database = Database::AtRest;
        self.sound = true;
        self.trouble = None;
        Some(copy.events)
    }

    /// Reads the journal where it holds exactly what a head says, and tells how many of its records this program does not
    /// know.
    fn read_journal(&self, head: &Head, journal: &[u8], found: &Found) -> Option<(FairCopy, u64)> {
        let copies = Copies {
            journal: found
                .records
                .iter()
                .map(|range| &journal[range.clone()])
                .collect(),
            records: Vec::new(),
            snapshots: Vec::new(),
        };
        let mut agreed = reconcile(&copies, &self.sealer, Some(head));
        let whole = agreed.journal_whole
            && agreed.count == head.count
            && agreed.gaps().is_empty()
            && last_tag(&agreed, &[]) == head.last
            && agreed.out_of_chain(Some(head)).is_empty();
        if !whole {
            return None;
        }
        let (events, unknown) = agreed.take_events();
        let removed = agreed.removed().collect();
        Some((FairCopy { events, removed }, unknown))
    }

    /// States that both copies lie in good order, and copies the events fair where this program knows all of them. Where
    /// this fails, the next opening reads both.
    pub(crate) fn state_rest(&mut self, sum: u64) -> Option<()> {
        let journal = self.site.disk.read(&self.site.file(site::JOURNAL)).ok()??;
        let found = frame::read(&journal, self.wrapped.store);
        let stated = Zeroizing::new(statement(sum, &journal));
        let mut text = match self.read_journal(&self.head, &journal, &found) {
            Some((copy, 0)) => fair_copy::write(&stated, &copy)?,
            _ => stated,
        };
        let nonce = random().ok()?;
        self.sealer.close(&nonce, &self.sealer.label(LABEL), &mut text)?;
        let length = u32::try_from(text.len()).ok()?.to_be_bytes();
        let bytes = [length.as_slice(), &nonce, &text].concat();
        let path = self.site.file(site::REST);
        let disk = &mut self.site.disk;
        disk.write(&path, 0, &bytes).and_then(|()| disk.sync(&path)).ok()
    }

    /// Takes the statement back, and the fair copy with it, for good.
    pub(crate) fn unsay_rest(&mut self) -> Result<(), StoreError> {
        self.take_in_use()?;
        let path = self.site.file(site::REST);
        match self.site.disk.read(&path)? {
            Some(bytes) if !bytes.is_empty() => Ok(self.site.disk.replace(&path, &[])?),
            _ => Ok(()),
        }
    }

    /// Whether the head says that good order was stated, and the statement is gone, damaged, or of another time.
    pub(crate) fn lacks_statement(&mut self, own: &Head) -> bool {
        let stated = |sum: u64| move |text: Zeroizing<Vec<u8>>| text.starts_with(&sum.to_be_bytes());
        own.stated
            && own
                .sum
                .is_some_and(|sum| !self.statement().is_some_and(stated(sum)))
    }

    fn statement(&mut self) -> Option<Zeroizing<Vec<u8>>> {
        let bytes = self.site.disk.read(&self.site.file(site::REST)).ok()??;
        opened(&bytes, &self.sealer)
    }
}

/// The text of a file that states good order: its length, a nonce, and the sealed text. Behind it may lie what is left of a
/// longer one.
pub(crate) fn opened(bytes: &[u8], sealer: &Sealer) -> Option<Zeroizing<Vec<u8>>> {
    let (length, rest) = bytes.split_first_chunk::<4>()?;
    let (nonce, rest) = rest.split_first_chunk::<NONCE>()?;
    let sealed = rest.get(..usize::try_from(u32::from_be_bytes(*length)).ok()?)?;
    sealer.open(nonce, &sealer.label(LABEL), sealed)
}

fn statement(sum: u64, journal: &[u8]) -> Vec<u8> {
    let mut text = sum.to_be_bytes().to_vec();
    text.extend_from_slice(&crc32fast::hash(journal).to_be_bytes());
    text.extend_from_slice(&(journal.len() as u64).to_be_bytes());
    text
}
