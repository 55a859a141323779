//! The fair copy: every event once more, behind the statement that the store lies in good order and in the same seal, so
//! that a large store is read by opening one seal and not ten thousand.

use postcard::ser_flavors::Size;
use zeroize::Zeroizing;

use crate::map::Event;
use crate::map::EventId;
use crate::map::compact::FORM;
use crate::map::compact::Read;
use crate::map::compact::Written;
use crate::store::seal;

/// What a fair copy holds.
#[derive(Debug)]
pub(crate) struct FairCopy {
    /// Every event, in the order in which they were appended.
    pub(crate) events: Vec<Event>,
    /// The identities of events that were removed.
    pub(crate) removed: Vec<EventId>,
}

/// A text with the copy behind it: the number of its form, the removed, how many events, and each of them. Only the text
/// where the copy would be too long for one seal.
pub(crate) fn write(text: &[u8], copy: &FairCopy) -> Option<Zeroizing<Vec<u8>>> {
    let lead = postcard::to_allocvec(&(&copy.removed, copy.events.len() as u64)).ok()?;
    let mut length = text.len() + 1 + lead.len();
    for event in &copy.events {
        length += postcard::serialize_with_flavor(&Written::from(event), Size::default()).ok()?;
    }
    if length > seal::LONGEST {
        return Some(Zeroizing::new(text.to_vec()));
    }
    // Room for everything at once, the seal too: a vector that grew would leave plain text behind in freed memory.
    let mut whole = Zeroizing::new(Vec::with_capacity(length + seal::TAG));
    whole.extend_from_slice(text);
    whole.push(FORM);
    whole.extend_from_slice(&lead);
    let mut at = whole.len();
    whole.resize(length, 0);
    for event in &copy.events {
        at += postcard::to_slice(&Written::from(event), &mut whole[at..])
            .ok()?
            .len();
    }
    Some(whole)
}

/// Reads what [`write()`] put behind a text; nothing where there is none, or it has another form.
pub(crate) fn read(copy: &[u8]) -> Option<FairCopy> {
    let (_, copy) = copy.split_first().filter(|(form, _)| **form == FORM)?;
    let ((removed, count), mut rest): ((_, u64), _) = postcard::take_from_bytes(copy).ok()?;
    // Each takes some bytes, so no count can ask for more room than the copy itself does.
    let count = usize::try_from(count).ok().filter(|count| *count <= rest.len())?;
    let mut events = Vec::with_capacity(count);
    for _ in 0..count {
        let (event, after): (Read, _) = postcard::take_from_bytes(rest).ok()?;
        events.push(Event::from(event));
        rest = after;
    }
    rest.is_empty().then_some(FairCopy { events, removed })
}

#[cfg(test)]
mod tests {
    use sha2::Digest;
    use sha2::Sha256;

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
        let text = write(b"before", &copy).expect("written");
        let read = read(text.strip_prefix(b"before").expect("the text before")).expect("read");
        assert_eq!((read.events, read.removed), (copy.events, copy.removed));
    }

    #[test]
    fn half_a_copy_is_none_and_so_is_one_of_another_form() {
        let whole = write(b"", &copy()).expect("written");
        assert!(read(&whole).is_some());
        for cut in 0..whole.len() {
            assert!(read(&whole[..cut]).is_none(), "cut to {cut}");
        }
        let mut strange = whole.to_vec();
        strange.push(0);
        assert!(read(&strange).is_none());
        strange.pop();
        strange[0] += 1;
        assert!(read(&strange).is_none());
    }

    /// Where this fails, the form of events has changed: raise [`FORM`], and write the new sum here.
    #[test]
    fn the_form_is_known_by_its_number() {
        let whole = write(b"", &copy()).expect("written");
        let sum = format!("{:x}", Sha256::digest(&whole));
        assert_eq!(
            (FORM, sum.as_str()),
            (
                1,
                "159474f54c57019f80cc443ea2f9d496ae5341ae02a285f5cd6f2ca467dfc841"
            )
        );
    }

    #[test]
    fn what_is_too_long_for_a_seal_is_not_copied() {
        let mut copy = copy();
        let one = write(b"", &copy).expect("written").len();
        let times = 2 * (seal::LONGEST / one);
        copy.events = std::iter::repeat_n(copy.events, times).flatten().collect();
        let text = write(b"before", &copy).expect("written");
        assert!(text.as_slice() == b"before", "{} bytes", text.len());
    }
}
