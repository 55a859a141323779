//! What stands after the copies were put side by side: its records in order, what is gone, and what follows nothing.

use std::collections::BTreeMap;

use jiff::Timestamp;

use crate::map::Event;
use crate::map::EventId;
use crate::store::Notice;
use crate::store::head::Head;
use crate::store::seal::Place;
use crate::store::seal::Tag;

/// The record that stands at a number.
pub(crate) struct Standing<'a> {
    /// Its bytes.
    pub(crate) bytes: &'a [u8],
    pub(super) place: Place,
    /// The seal that its follower repeats.
    pub(crate) tag: Tag,
    pub(super) lost: bool,
    pub(super) removed: Option<EventId>,
    pub(super) event: Option<Event>,
    pub(super) in_journal: bool,
    pub(super) in_records: bool,
}

/// What stands after putting the copies side by side.
pub(crate) struct Agreed<'a> {
    /// By number; a number that is missing below `count` is lost.
    pub(crate) standing: BTreeMap<u64, Standing<'a>>,
    /// How many numbers there are.
    pub(crate) count: u64,
    /// Records that the journal lacked, of those that were acknowledged.
    pub(crate) journal_lacked: u64,
    /// Whether the journal's file holds exactly what stands.
    pub(crate) journal_whole: bool,
    /// Records that the database lacked, of those that were acknowledged.
    pub(crate) records_lacked: u64,
    /// Whether the database holds exactly what stands.
    pub(crate) records_whole: bool,
    /// Records that only a snapshot still had.
    pub(crate) from_snapshot: u64,
    /// Records newer than the head that stay, and in how many batches.
    pub(crate) beyond: (u64, u64),
    /// Whether records newer than the head were dropped, their batch not being whole.
    pub(crate) dropped: bool,
}

impl Agreed<'_> {
    /// The ranges of numbers at which nothing stands.
    pub(crate) fn gaps(&self) -> Vec<std::ops::Range<u64>> {
        let mut gaps = Vec::new();
        let mut next = 0;
        for &number in self.standing.keys() {
            if number > next {
                gaps.push(next..number);
            }
            next = number + 1;
        }
        if next < self.count {
            gaps.push(next..self.count);
        }
        gaps
    }

    /// What is gone, with dates.
    pub(crate) fn losses(&self) -> impl Iterator<Item = Notice> {
        self.gaps().into_iter().map(|gap| {
            let records = gap.end - gap.start;
            let after = first_time(self.standing.range(..gap.start).rev());
            if gap.end == self.count {
                Notice::RolledBack {
                    records,
                    newest: after,
                }
            } else {
                Notice::Lost {
                    records,
                    after,
                    before: first_time(self.standing.range(gap.end..)),
                }
            }
        })
    }

    /// Records that do not follow the one before them.
    pub(crate) fn out_of_chain(&self, known: Option<&Head>) -> Vec<Notice> {
        let mut notices = Vec::new();
        let mut before: Option<(u64, Tag)> = None;
        for (&number, record) in &self.standing {
            let follows = match before {
                _ if number == 0 => record.place.before == Tag::default(),
                Some((last, tag)) if last + 1 == number => record.place.before == tag,
                _ => true,
            };
            if !follows {
                notices.push(Notice::OutOfChain { record: number });
            }
            before = Some((number, record.tag));
        }
        if let Some(head) = known
            && let Some(last) = head.count.checked_sub(1)
            && self
                .standing
                .get(&last)
                .is_some_and(|record| record.tag != head.last)
        {
            notices.push(Notice::OutOfChain { record: last });
        }
        notices
    }

    /// The seal that the record before a gap, or the gap's last record, had.
    pub(crate) fn tag_before(&self, number: u64) -> Option<Tag> {
        self.standing.get(&number).map(|record| record.place.before)
    }

    /// The identities of events that were removed.
    pub(crate) fn removed(&self) -> impl Iterator<Item = EventId> {
        self.standing.values().filter_map(|record| record.removed)
    }

    /// The events, oldest number first, taken out; and how many genuine records hold something this program does not know.
    pub(crate) fn take_events(&mut self) -> (Vec<Event>, u64) {
        let mut unknown = 0;
        let mut events = Vec::with_capacity(self.standing.len());
        for record in self.standing.values_mut() {
            match record.event.take() {
                Some(event) => events.push(event),
                None => unknown += u64::from(!record.lost && record.removed.is_none()),
            }
        }
        (events, unknown)
    }
}

/// The time of the first of these records that is an event.
fn first_time<'s, 'a: 's>(
    mut records: impl Iterator<Item = (&'s u64, &'s Standing<'a>)>,
) -> Option<Timestamp> {
    records.find_map(|(_, record)| record.event.as_ref().map(|event| event.at))
}
