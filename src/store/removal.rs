//! Removing events for good: in every copy a small record takes the place of each, which says that something was removed
//! here and nothing about what it was, and carries the seal that the next record repeats, so that the chain still holds.
//!
//! The fair copy goes first, then the snapshots, the journal, and the database. Until the journal is replaced, which happens all or
//! nothing, the events still count, and the removal can be asked for again; from then on the new records win over the old
//! ones wherever those are still found. What the disk keeps of files that are replaced is out of reach.

use std::collections::HashMap;
use std::collections::HashSet;

use serde::Deserialize;

use crate::map::EventId;
use crate::store::Store;
use crate::store::StoreError;
use crate::store::care::SNAPSHOTS;
use crate::store::care::snapshot;
use crate::store::chance::random;
use crate::store::frame;
use crate::store::records::Records;
use crate::store::rest::Database;
use crate::store::seal;
use crate::store::seal::Body;
use crate::store::site;

/// The most records in one frame when a file is written anew.
pub(crate) const PER_FRAME: usize = 256;

/// The identity of an event, with the rest of it left unread.
#[derive(Deserialize)]
struct Identity {
    id: EventId,
}

impl Store {
    /// Removes events for good from every copy and snapshot. Their identities stay known, so that merging does not bring
    /// them back. Identities that are not here change nothing. The time taken grows with the whole store.
    ///
    /// # Errors
    /// Faults of the disk. Some copies may then still hold the events; removing them again finishes it.
    pub fn remove(&mut self, events: &[EventId]) -> Result<(), StoreError> {
        if events.is_empty() {
            return Ok(());
        }
        if !self.sound {
            self.settle_again()?;
            if !self.sound {
                return Err(self.trouble.unwrap_or(StoreError::ReadOnly));
            }
        }
        let path = self.site.file(site::JOURNAL);
        let journal = self.site.disk.read(&path)?.unwrap_or_default();
        let found = frame::read(&journal, self.wrapped.store);
        let mut standing: Vec<&[u8]> = found
            .records
            .iter()
            .map(|range| &journal[range.clone()])
            .collect();
        let wanted: HashSet<EventId> = events.iter().copied().collect();
        let mut made: HashMap<&[u8], Vec<u8>> = HashMap::new();
        for record in &standing {
            if let Some(removed) = self.removed(record, &wanted)? {
                made.insert(record, removed);
            }
        }
        if made.is_empty() {
            return Ok(());
        }
        self.unsay_rest()?;
        for slot in 0..SNAPSHOTS {
            self.remove_from_copy(&snapshot(slot), &made)?;
        }
        self.remove_from_copy(site::JOURNAL_DAMAGED, &made)?;
        for record in &mut standing {
            *record = made.get(record).map_or(*record, Vec::as_slice);
        }
        let bytes = self.as_journal(&standing)?;
        // From here on until the end, the copies differ.
        self.sound = false;
        self.site.disk.replace(&path, &bytes.0)?;
        (self.journal_end, self.journal_room) = (bytes.1, bytes.0.len() as u64);
        self.shut();
        let numbered = standing
            .iter()
            .filter_map(|record| Some((seal::place(record)?.number, *record)));
        self.database = Database::Open(Records::rebuild(&self.site.file(site::RECORDS), numbered)?);
        self.sound = true;
        Ok(())
    }

    /// The record that takes this one's place, where it holds one of the events.
    fn removed(&self, record: &[u8], wanted: &HashSet<EventId>) -> Result<Option<Vec<u8>>, StoreError> {
        let Some((place, Body::Event(text))) = self.sealer.open_record(record) else {
            return Ok(None);
        };
        let identity: Option<Identity> = serde_json::from_slice(&text).ok();
        let Some(Identity { id }) = identity.filter(|identity| wanted.contains(&identity.id)) else {
            return Ok(None);
        };
        let body = Body::Removed(seal::tag(record), *id.0.as_bytes());
        let removed = self.sealer.close_record(place, &random()?, &body);
        removed.map(Some).ok_or(StoreError::TooLarge)
    }

    /// Replaces records in a file of the journal's form, where it holds any of them.
    fn remove_from_copy(&mut self, name: &str, made: &HashMap<&[u8], Vec<u8>>) -> Result<(), StoreError> {
        let path = self.site.file(name);
        let Some(bytes) = self.site.disk.read(&path)? else {
            return Ok(());
        };
        let found = frame::read(&bytes, self.wrapped.store);
        let mut records: Vec<&[u8]> = found.records.iter().map(|range| &bytes[range.clone()]).collect();
        if !records.iter().any(|record| made.contains_key(record)) {
            return Ok(());
        }
        for record in &mut records {
            *record = made.get(record).map_or(*record, Vec::as_slice);
        }
        let anew = self.as_journal(&records)?;
        Ok(self.site.disk.replace(&path, &anew.0)?)
    }

    /// Records in the journal's form, and where the last of them ends.
    pub(crate) fn as_journal(&self, records: &[&[u8]]) -> Result<(Vec<u8>, u64), StoreError> {
        let mut bytes = frame::heading(self.wrapped.store);
        for batch in records.chunks(PER_FRAME) {
            bytes.extend(frame::frame(batch.iter().copied()).ok_or(StoreError::TooLarge)?);
        }
        let end = bytes.len() as u64;
        frame::fill_up(0, &mut bytes);
        Ok((bytes, end))
    }
}
