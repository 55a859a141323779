//! The fair copy: every event once more, behind the statement that the store lies in good order and in the same seal, so
//! that a large store is read by opening one seal and not ten thousand.
//!
//! In text: the identities of removed events as a line of JSON, then a line of JSON for each event: its identity, its time
//! and what happened.

use jiff::Timestamp;
use zeroize::Zeroizing;

use crate::map::Event;
use crate::map::EventId;
use crate::map::What;
use crate::store::contents::on_every_processor;
use crate::store::seal;
use crate::store::store::json;

/// What a fair copy holds.
#[derive(Debug)]
pub(crate) struct FairCopy {
    /// Every event, in the order in which they were appended.
    pub(crate) events: Vec<Event>,
    /// The identities of events that were removed.
    pub(crate) removed: Vec<EventId>,
}

/// A text with the copy behind it. Only the text where the copy would be too long for one seal.
pub(crate) fn write(text: &Zeroizing<Vec<u8>>, copy: &FairCopy) -> Option<Zeroizing<Vec<u8>>> {
    let mut lines = Vec::with_capacity(copy.events.len() + 1);
    lines.push(json(&copy.removed).ok()?);
    for Event { id, at, what } in &copy.events {
        lines.push(json(&(id, at, what)).ok()?);
    }
    let length = text.len() + lines.iter().map(|line| line.len() + 1).sum::<usize>();
    if length > seal::LONGEST {
        return Some(text.clone());
    }
    // Room for everything at once, the seal too: a vector that grew would leave plain text behind in freed memory.
    let mut whole = Zeroizing::new(Vec::with_capacity(length + seal::TAG));
    whole.extend_from_slice(text);
    for line in &lines {
        whole.push(b'\n');
        whole.extend_from_slice(line);
    }
    Some(whole)
}

/// Reads what [`write`] put behind a text; nothing where there is none, or this program cannot read all of it.
pub(crate) fn read(text: &[u8]) -> Option<FairCopy> {
    let mut lines = text.strip_prefix(b"\n")?.split(|byte| *byte == b'\n');
    let removed = serde_json::from_slice(lines.next()?).ok()?;
    let lines: Vec<&[u8]> = lines.collect();
    let events = on_every_processor(&lines, |line| {
        let (id, at, what): (EventId, Timestamp, What) = serde_json::from_slice(line).ok()?;
        Some(Event { id, at, what })
    });
    Some(FairCopy {
        events: events.into_iter().collect::<Option<_>>()?,
        removed,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One event of every sort, as a backup holds them.
    const EVENTS: &str = include_str!("../../tests/data/store/every-event.jsonl");

    fn copy() -> FairCopy {
        let events: Vec<Event> = EVENTS
            .lines()
            .map(|line| serde_json::from_str(line).expect("an event"))
            .collect();
        let removed = vec![events[1].id, events[3].id];
        FairCopy { events, removed }
    }

    #[test]
    fn every_sort_of_event_is_copied_fair() {
        let copy = copy();
        let text = write(&Zeroizing::new(b"before".to_vec()), &copy).expect("written");
        let read = read(text.strip_prefix(b"before").expect("the text before")).expect("read");
        assert_eq!((read.events, read.removed), (copy.events, copy.removed));
    }

    #[test]
    fn half_a_copy_is_none() {
        let whole = write(&Zeroizing::default(), &copy()).expect("written");
        assert!(read(&whole).is_some());
        assert!(read(b"").is_none() && read(&whole[1..]).is_none());
        assert!(read(&whole[..whole.len() - 1]).is_none());
        let mut strange = whole.clone();
        strange.extend_from_slice(b"\n[\"of a later program\"]");
        assert!(read(&strange).is_none());
    }

    #[test]
    fn what_is_too_long_for_a_seal_is_not_copied() {
        let mut copy = copy();
        let most = seal::LONGEST / EVENTS.len() + 1;
        copy.events = std::iter::repeat_n(copy.events, 2 * most).flatten().collect();
        let text = write(&Zeroizing::new(b"before".to_vec()), &copy).expect("written");
        assert_eq!(text.as_slice(), b"before");
    }
}
