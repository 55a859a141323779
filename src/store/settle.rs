//! Settling, where the store was not closed in good order or is to be looked through: both copies are read and put side by
//! side, each is mended from the other, and what is gone is said.

use std::path::Path;

use crate::map::Event;
use crate::store::Notice;
use crate::store::Part;
use crate::store::Store;
use crate::store::StoreError;
use crate::store::agreed::Agreed;
use crate::store::chance::random;
use crate::store::frame;
use crate::store::frame::Found;
use crate::store::head::Head;
use crate::store::reconcile::Copies;
use crate::store::reconcile::reconcile;
use crate::store::records::Records;
use crate::store::records::Told;
use crate::store::rest::Database;
use crate::store::seal;
use crate::store::seal::Body;
use crate::store::seal::Place;
use crate::store::site;

/// A record that stands for a lost one: its number, its bytes, and the seal that its follower repeats.
type StandIn = (u64, Vec<u8>, seal::Tag);

/// The heads that are left.
pub(crate) struct Heads {
    own: Option<Head>,
    own_whole: bool,
    kept_elsewhere: Option<Head>,
    elsewhere_damaged: bool,
}

impl Heads {
    /// The store's own head, where it and the one kept elsewhere are undamaged and of the same turn.
    pub(crate) fn agreed(&self, kept_elsewhere: bool) -> Option<&Head> {
        let own = self
            .own
            .as_ref()
            .filter(|_| self.own_whole && !self.elsewhere_damaged)?;
        let in_step = match &self.kept_elsewhere {
            Some(kept) => kept.turn == own.turn,
            None => !kept_elsewhere,
        };
        in_step.then_some(own)
    }

    /// The one that knows most.
    fn known(&self) -> Option<&Head> {
        [self.own.as_ref(), self.kept_elsewhere.as_ref()]
            .into_iter()
            .flatten()
            .max_by_key(|head| head.count)
    }
}

impl Store {
    /// Reads everything, mends what can be mended, and returns the events.
    pub(crate) fn settle(&mut self, notices: &mut Vec<Notice>) -> Result<Vec<Event>, StoreError> {
        self.shut();
        self.sound = false;
        let heads = self.read_heads()?;
        if let Some(events) = self.read_at_rest(&heads, notices) {
            self.finish(&events, notices);
            return Ok(events);
        }
        let journal = self
            .site
            .disk
            .read(&self.site.file(site::JOURNAL))?
            .unwrap_or_default();
        let found = frame::read(&journal, self.wrapped.store);
        let directory = self.site.file(site::RECORDS);
        // Where the sum does not fit, the database is not even opened unless the journal needs it.
        let altered = heads
            .own
            .is_some_and(|head| head.sum.is_some_and(|sum| Records::sum(&directory) != Some(sum)));
        let journal_good = found.is_whole();
        if heads.own.is_some_and(|own| self.lacks_statement(&own)) {
            notices.push(Notice::Mended {
                part: Part::Head,
                records: 0,
            });
        }
        self.mark_in_use(&heads);
        let mut told = Told::new();
        let mut readable = false;
        let mut refused = None;
        if !(altered && journal_good && self.is_complete(&journal, &found, &heads)) {
            match Records::open(&directory) {
                Ok(records) => {
                    (told, readable) = records.all();
                    self.database = Database::Open(records);
                }
                Err(StoreError::Damaged) => {}
                Err(StoreError::InUse) => return Err(StoreError::InUse),
                Err(reason) => refused = Some(reason),
            }
        }
        let mut copies = Copies {
            journal: found
                .records
                .iter()
                .map(|range| &journal[range.clone()])
                .collect(),
            records: told
                .iter()
                .map(|(number, record)| (*number, record.as_ref()))
                .collect(),
            snapshots: Vec::new(),
        };
        let mut agreed = reconcile(&copies, &self.sealer, heads.known());
        let snapshots;
        if !agreed.gaps().is_empty() {
            snapshots = self.read_snapshots();
            for bytes in &snapshots {
                let found = frame::read(bytes, self.wrapped.store);
                copies
                    .snapshots
                    .extend(found.records.into_iter().map(|range| &bytes[range]));
            }
            agreed = reconcile(&copies, &self.sealer, heads.known());
        }
        let records_good = refused.is_some() || (agreed.records_whole && readable && !altered);
        let journal_good = journal_good && agreed.journal_whole;
        tell(
            notices,
            &agreed,
            &heads,
            &found,
            (journal_good, records_good),
            refused.is_some() && told.is_empty(),
        );
        let good = (journal_good, records_good);
        self.journal_end = found.end as u64;
        self.journal_room = journal.len() as u64;
        let events = self.stand(agreed, &heads, good, refused, notices)?;
        self.finish(&events, notices);
        Ok(events)
    }

    /// What follows every reading: which events are known, and a snapshot where one is due.
    fn finish(&mut self, events: &[Event], notices: &mut Vec<Notice>) {
        self.known.extend(events.iter().map(|event| event.id));
        if self.sound {
            self.trouble = self.snapshot_when_due(events.last()).err();
        }
        notices.extend(self.trouble.map(|reason| Notice::NotMended { reason }));
    }

    /// Makes what was agreed the state of the store and of its files, and returns the events.
    fn stand(
        &mut self,
        mut agreed: Agreed<'_>,
        heads: &Heads,
        (journal_good, records_good): (bool, bool),
        refused: Option<StoreError>,
        notices: &mut Vec<Notice>,
    ) -> Result<Vec<Event>, StoreError> {
        let stand_ins = self.stand_ins(&agreed, heads.known())?;
        let (events, unknown) = agreed.take_events();
        self.known = agreed.removed().collect();
        if unknown > 0 {
            notices.push(Notice::Unknown { records: unknown });
        }
        let stood = agreed
            .standing
            .iter()
            .map(|(number, record)| (*number, record.bytes));
        let mut all: Vec<(u64, &[u8])> = stood.collect();
        all.extend(
            stand_ins
                .iter()
                .map(|(number, record, _)| (*number, record.as_slice())),
        );
        all.sort_unstable_by_key(|(number, _)| *number);
        let turns = [heads.own, heads.kept_elsewhere].map(|head| head.map_or(0, |head| head.turn));
        self.head = Head {
            turn: turns[0].max(turns[1]).max(self.head.turn),
            count: agreed.count,
            last: last_tag(&agreed, &stand_ins),
            sum: None,
            ..heads.known().copied().unwrap_or_default()
        };
        if self.head.keys > self.wrapped.generation {
            notices.push(Notice::OlderKeys);
        }
        let loss = !stand_ins.is_empty();
        let mended = self.mend(&all, (journal_good && !loss, records_good && !loss), loss, heads);
        let mended = mended.and_then(|()| refused.map_or(Ok(()), Err));
        self.sound = mended.is_ok();
        self.trouble = mended.err();
        Ok(events)
    }

    fn read_heads(&mut self) -> Result<Heads, StoreError> {
        let bytes = self
            .site
            .disk
            .read(&self.site.file(site::HEAD))?
            .unwrap_or_default();
        let (own, own_whole) = Head::read(&bytes, &self.sealer);
        let mut heads = Heads {
            own,
            own_whole,
            kept_elsewhere: None,
            elsewhere_damaged: false,
        };
        if let Some(anchor) = self.site.anchor.clone()
            && let Ok(Some(bytes)) = self.site.disk.read(&anchor)
        {
            let (kept, whole) = Head::read(&bytes, &self.sealer);
            heads.kept_elsewhere = kept;
            heads.elsewhere_damaged = !whole;
        }
        Ok(heads)
    }

    /// From now on the database's files may change, so the sum is taken back first.
    fn mark_in_use(&mut self, heads: &Heads) {
        if let Some(own) = heads.own.filter(|head| head.sum.is_some()) {
            self.head = own;
            // Where this fails, a crash before the next head makes the database be built anew, and nothing worse.
            let _ = self.take_in_use();
        }
    }

    /// Whether the journal alone holds every number that the heads know.
    fn is_complete(&self, journal: &[u8], found: &Found, heads: &Heads) -> bool {
        let known = heads.known().map_or(0, |head| head.count);
        found.records.len() as u64 == known
            && (0..).zip(&found.records).all(|(number, range)| {
                self.sealer
                    .open_record(&journal[range.clone()])
                    .is_some_and(|(place, _)| place.number == number)
            })
    }

    /// Records that stand where others were lost, so that the loss is said once and the numbers stay without holes.
    fn stand_ins(&self, agreed: &Agreed<'_>, known: Option<&Head>) -> Result<Vec<StandIn>, StoreError> {
        let mut made = Vec::new();
        for gap in agreed.gaps() {
            let mut before = gap
                .start
                .checked_sub(1)
                .and_then(|last| agreed.standing.get(&last))
                .map(|r| r.tag);
            for number in gap.clone() {
                let stated = if number + 1 == gap.end {
                    let at_end = known.filter(|head| head.count == gap.end).map(|head| head.last);
                    agreed.tag_before(gap.end).or(at_end)
                } else {
                    None
                };
                let place = Place {
                    number,
                    left: 0,
                    before: before.unwrap_or_default(),
                };
                let record = self.sealer.close_record(place, &random()?, &Body::Lost(stated));
                let record = record.ok_or(StoreError::TooLarge)?;
                let tag = stated.unwrap_or_else(|| seal::tag(&record));
                before = Some(tag);
                made.push((number, record, tag));
            }
        }
        Ok(made)
    }

    /// Writes what is not as it should be: the journal first, then the database, then the head.
    fn mend(
        &mut self,
        all: &[(u64, &[u8])],
        good: (bool, bool),
        loss: bool,
        heads: &Heads,
    ) -> Result<(), StoreError> {
        let (journal_good, records_good) = good;
        let directory = self.site.file(site::RECORDS);
        let path = self.site.file(site::JOURNAL);
        if loss {
            self.set_aside(&path)?;
        }
        if !journal_good {
            let records: Vec<&[u8]> = all.iter().map(|(_, record)| *record).collect();
            let (bytes, end) = self.as_journal(&records)?;
            self.journal_end = end;
            self.journal_room = bytes.len() as u64;
            self.site.disk.replace(&path, &bytes)?;
        }
        if !records_good {
            self.shut();
            self.database = Database::Open(Records::rebuild(&directory, all.iter().copied())?);
        }
        let stands = heads
            .own
            .is_some_and(|own| own.count == self.head.count && own.last == self.head.last);
        let in_step = self.site.anchor.is_none()
            || heads.kept_elsewhere.map(|head| head.turn) == heads.own.map(|head| head.turn);
        if stands && in_step && heads.own_whole && !heads.elsewhere_damaged && journal_good && records_good {
            self.write_head()
        } else {
            self.write_head_afresh()
        }
    }

    /// Keeps the damaged files, still sealed, where something was lost from both: a later program may read more of them.
    fn set_aside(&mut self, journal: &Path) -> Result<(), StoreError> {
        if let Some(bytes) = self.site.disk.read(journal)? {
            self.site
                .disk
                .replace(&self.site.file(site::JOURNAL_DAMAGED), &bytes)?;
        }
        Ok(())
    }
}

/// The seal that the next record repeats.
pub(crate) fn last_tag(agreed: &Agreed<'_>, stand_ins: &[StandIn]) -> seal::Tag {
    let stood = agreed
        .standing
        .last_key_value()
        .map(|(number, record)| (*number, record.tag));
    let stand_in = stand_ins.last().map(|(number, _, tag)| (*number, *tag));
    stood.max(stand_in).map(|(_, tag)| tag).unwrap_or_default()
}

/// Says what was found.
fn tell(
    notices: &mut Vec<Notice>,
    agreed: &Agreed<'_>,
    heads: &Heads,
    found: &Found,
    (journal_good, records_good): (bool, bool),
    unread: bool,
) {
    let (kept, batches) = agreed.beyond;
    let unfinished =
        heads.own.is_some() && (agreed.dropped || batches == 1 || (found.torn && agreed.journal_lacked == 0));
    if unfinished {
        notices.push(Notice::Unfinished { kept });
    }
    if agreed.journal_lacked > 0 || (!journal_good && !unfinished) {
        notices.push(Notice::Mended {
            part: Part::Journal,
            records: agreed.journal_lacked,
        });
    }
    if !unread && (agreed.records_lacked > 0 || (!records_good && !unfinished)) {
        notices.push(Notice::Mended {
            part: Part::Records,
            records: agreed.records_lacked,
        });
    }
    if !heads.own_whole || batches > 1 {
        notices.push(Notice::Mended {
            part: Part::Head,
            records: 0,
        });
    }
    if heads.elsewhere_damaged {
        notices.push(Notice::Mended {
            part: Part::Anchor,
            records: 0,
        });
    }
    if agreed.from_snapshot > 0 {
        notices.push(Notice::FromSnapshot {
            records: agreed.from_snapshot,
        });
    }
    notices.extend(agreed.losses());
    notices.extend(agreed.out_of_chain(heads.known()));
}
