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
use crate::store::head::Head;
use crate::store::reconcile::Copies;
use crate::store::reconcile::reconcile;
use crate::store::records::Records;
use crate::store::seal::NONCE;
use crate::store::seal::Sealer;
use crate::store::seal::Tag;
use crate::store::settle::Heads;
use crate::store::settle::last_tag;
use crate::store::site;

/// What the statement's seal is bound to beside the store.
const LABEL: &[u8; 16] = b"wayfold rest   1";

/// Bytes before the sealed text of a statement.
const LEAD: usize = 4 + NONCE;

/// How long a journal is worth another thread to sum up the database meanwhile.
const WORTH_A_THREAD: u64 = 1 << 20;

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
    pub(crate) fn read_at_rest(&mut self, heads: &Heads, notices: &mut Vec<Notice>) -> Option<Vec<Event>> {
        let own: Head = *heads.agreed(self.site.anchor.is_some())?;
        let text = self.statement()?;
        let (stated, copy) = Stated::read(&text)?;
        let fits = own.sum == Some(stated.records)
            && (own.count, own.last) == (stated.count, stated.last)
            && own.keys <= self.wrapped.generation;
        if !fits {
            return None;
        }
        // Of a large store the database is summed up beside the rest.
        let directory = self.site.file(site::RECORDS);
        let sum = move || Records::sum(&directory);
        let beside = (stated.journal.1 >= WORTH_A_THREAD)
            .then(|| thread::Builder::new().spawn(sum.clone()).ok())
            .flatten();
        let journal = self.site.disk.sum(&self.site.file(site::JOURNAL));
        let copy = fair_copy::read(copy);
        let records = match beside {
            Some(beside) => beside.join().ok().flatten(),
            None => sum(),
        };
        if !matches!(journal, Ok(Some(sum)) if sum == stated.journal) || records != Some(stated.records) {
            return None;
        }
        let copy = if let Some(copy) = copy {
            copy
        } else {
            let (copy, unknown) = self.read_journal(&own)?;
            if unknown > 0 {
                notices.push(Notice::Unknown { records: unknown });
            }
            copy
        };
        self.known = copy.removed.into_iter().collect();
        self.journal_end = stated.journal_end;
        self.journal_room = stated.journal.1;
        self.head = own;
        self.database = Database::AtRest;
        self.sound = true;
        self.trouble = None;
        Some(copy.events)
    }

    /// Reads the journal where it holds exactly what a head says, and tells how many of its records this program does not
    /// know.
    fn read_journal(&mut self, head: &Head) -> Option<(FairCopy, u64)> {
        let journal = self.site.disk.read(&self.site.file(site::JOURNAL)).ok()??;
        let found = frame::read(&journal, self.wrapped.store);
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
        let whole = found.is_whole()
            && agreed.journal_whole
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
    pub(crate) fn state_rest(&mut self, records: u64) -> Option<()> {
        let head = self.head;
        let (copy, unknown) = self.read_journal(&head)?;
        let stated = Stated {
            records,
            journal: self.site.disk.sum(&self.site.file(site::JOURNAL)).ok()??,
            journal_end: self.journal_end,
            count: head.count,
            last: head.last,
        };
        let mut text = Zeroizing::new(stated.bytes());
        if unknown == 0 {
            text = fair_copy::write(&text, &copy)?;
        }
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
        let Some(sum) = own.sum.filter(|_| own.stated) else {
            return false;
        };
        let text = self.statement();
        let stated = text.as_deref().and_then(|text| Stated::read(text));
        stated.is_none_or(|(stated, _)| stated.records != sum)
    }

    fn statement(&mut self) -> Option<Zeroizing<Vec<u8>>> {
        let bytes = self.site.disk.read(&self.site.file(site::REST)).ok()??;
        opened(bytes, &self.sealer)
    }
}

/// What is stated of a store that was closed in good order.
struct Stated {
    /// The sum of the database's files.
    records: u64,
    /// The journal's checksum and length.
    journal: (u32, u64),
    /// Where in the journal the next frame goes.
    journal_end: u64,
    /// How many records there are.
    count: u64,
    /// The seal of the last one.
    last: Tag,
}

impl Stated {
    fn bytes(&self) -> Vec<u8> {
        let mut bytes = self.records.to_be_bytes().to_vec();
        bytes.extend_from_slice(&self.journal.0.to_be_bytes());
        for number in [self.journal.1, self.journal_end, self.count] {
            bytes.extend_from_slice(&number.to_be_bytes());
        }
        bytes.extend_from_slice(&self.last);
        bytes
    }

    /// Reads what [`Self::bytes`] wrote; gives what stands behind it too.
    fn read(text: &[u8]) -> Option<(Self, &[u8])> {
        let (records, text) = text.split_first_chunk()?;
        let (sum, text) = text.split_first_chunk()?;
        let (length, text) = text.split_first_chunk()?;
        let (end, text) = text.split_first_chunk()?;
        let (count, text) = text.split_first_chunk()?;
        let (last, text) = text.split_first_chunk()?;
        let stated = Self {
            records: u64::from_be_bytes(*records),
            journal: (u32::from_be_bytes(*sum), u64::from_be_bytes(*length)),
            journal_end: u64::from_be_bytes(*end),
            count: u64::from_be_bytes(*count),
            last: *last,
        };
        Some((stated, text))
    }
}

/// The text of a file that states good order: its length, a nonce, and the sealed text. Behind it may lie what is left of a
/// longer one.
pub(crate) fn opened(mut bytes: Vec<u8>, sealer: &Sealer) -> Option<Zeroizing<Vec<u8>>> {
    let (length, rest) = bytes.split_first_chunk::<4>()?;
    let nonce: [u8; NONCE] = *rest.first_chunk()?;
    let end = LEAD.checked_add(usize::try_from(u32::from_be_bytes(*length)).ok()?)?;
    if bytes.len() < end {
        return None;
    }
    bytes.truncate(end);
    bytes.drain(..LEAD);
    sealer.open_in_place(&nonce, &sealer.label(LABEL), Zeroizing::new(bytes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Unlock;
    use crate::store::seal;
    use crate::store::seal::Body;
    use crate::store::seal::Place;

    /// The record of a program to come: genuine, and not known here.
    fn keep_a_later_record(store: &mut Store) {
        let place = Place {
            number: store.head.count,
            left: 0,
            before: store.head.last,
        };
        let body = Body::Event(Zeroizing::new(br#"{"what":"later"}"#.to_vec()));
        let nonce = random().expect("a nonce");
        let record = store.sealer.close_record(place, &nonce, &body).expect("sealed");
        let frame = frame::frame(std::iter::once(record.as_slice())).expect("a frame");
        store.opened_database().expect("open");
        store
            .write_both(std::slice::from_ref(&record), &frame)
            .expect("kept");
        store.head.count += 1;
        store.head.last = seal::tag(&record);
        store.journal_end += frame.len() as u64;
        store.sound = store.write_head().is_ok();
    }

    #[test]
    fn what_a_later_program_kept_is_told_at_every_opening_and_stays() {
        let place = tempfile::tempdir().expect("a place");
        let event = include_str!("../../tests/data/store/every-event.jsonl")
            .lines()
            .next();
        let event: Event = serde_json::from_str(event.expect("a line")).expect("an event");
        let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
        store.append(std::slice::from_ref(&event)).expect("kept");
        keep_a_later_record(&mut store);
        drop(store);
        for _ in 0..2 {
            let (mut store, opened) = Store::open(place.path(), &Unlock::KeyFile).expect("opened");
            assert_eq!(opened.events, std::slice::from_ref(&event));
            assert_eq!(opened.notices, [Notice::Unknown { records: 1 }]);
            assert!(
                matches!(store.database, Database::AtRest),
                "the journal alone was read"
            );
            store.opened_database().expect("open");
        }
    }
}
