//! What records hold, once their seals are opened: one by one, or many on every processor.

use std::num::NonZero;
use std::thread;

use uuid::Uuid;

use crate::map::Event;
use crate::map::EventId;
use crate::store::seal;
use crate::store::seal::Body;
use crate::store::seal::Place;
use crate::store::seal::Sealer;
use crate::store::seal::Tag;

/// How many records are worth a thread.
const SHARE: usize = 500;

/// What a genuine record holds.
pub(crate) struct Content {
    pub(crate) place: Place,
    /// The seal that its follower repeats.
    pub(crate) tag: Tag,
    /// Whether it stands in for one that was lost.
    pub(crate) lost: bool,
    /// The event that was removed where it stands.
    pub(crate) removed: Option<EventId>,
    /// The event, where this program can read it.
    pub(crate) event: Option<Event>,
}

/// Opens a record's seal; nothing where it is not genuine.
pub(crate) fn read(sealer: &Sealer, bytes: &[u8]) -> Option<Content> {
    let (place, body) = sealer.open_record(bytes)?;
    let own = seal::tag(bytes);
    let (tag, lost, removed, event) = match body {
        Body::Event(json) => (own, false, None, serde_json::from_slice(&json).ok()),
        Body::Lost(tag) => (tag.unwrap_or(own), true, None, None),
        Body::Removed(tag, id) => (tag, false, Some(EventId(Uuid::from_bytes(id))), None),
    };
    Some(Content {
        place,
        tag,
        lost,
        removed,
        event,
    })
}

/// Opens many seals, in order. Where there are enough of them, every processor opens a share.
pub(crate) fn read_all(sealer: &Sealer, records: &[&[u8]]) -> Vec<Option<Content>> {
    let each = |records: &[&[u8]]| {
        records
            .iter()
            .map(|bytes| read(sealer, bytes))
            .collect::<Vec<_>>()
    };
    // The count of processors is asked for only where it matters: it takes as long as opening a hundred seals.
    let most = records.len() / SHARE;
    let shares = match most {
        0 | 1 => 1,
        _ => thread::available_parallelism().map_or(1, NonZero::get).min(most),
    };
    if shares < 2 {
        return each(records);
    }
    thread::scope(|scope| {
        let (own, others) = records.split_at(records.len().div_ceil(shares));
        let begun: Vec<_> = others
            .chunks(own.len())
            .map(|share| (share, thread::Builder::new().spawn_scoped(scope, || each(share))))
            .collect();
        let mut contents = each(own);
        for (share, begun) in begun {
            // Where no thread can be had, or it broke off, the share is read here.
            let read = begun.ok().and_then(|begun| begun.join().ok());
            contents.extend(read.unwrap_or_else(|| each(share)));
        }
        contents
    })
}
