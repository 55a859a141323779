//! Putting the copies side by side: which record stands at each number, and what each copy lacks.
//!
//! Pure: bytes in, findings out. A record counts when its seal opens, wherever it was found.

use std::collections::BTreeMap;

use crate::store::agreed::Agreed;
use crate::store::agreed::Standing;
use crate::store::contents::Content;
use crate::store::contents::read;
use crate::store::contents::read_all;
use crate::store::head::Head;
use crate::store::seal;
use crate::store::seal::Sealer;

/// The copies as found.
pub(crate) struct Copies<'a> {
    /// The records of the journal, in the order of the file.
    pub(crate) journal: Vec<&'a [u8]>,
    /// The records of the database under their keys.
    pub(crate) records: Vec<(u64, &'a [u8])>,
    /// Records found in snapshots; only looked at where the others lack something.
    pub(crate) snapshots: Vec<&'a [u8]>,
}

/// Puts the copies side by side. `known` is the newest head that is left, of the store's own and the one kept elsewhere.
pub(crate) fn reconcile<'a>(copies: &Copies<'a>, sealer: &Sealer, known: Option<&Head>) -> Agreed<'a> {
    let mut standing = BTreeMap::new();
    for (&bytes, content) in copies.journal.iter().zip(read_all(sealer, &copies.journal)) {
        offer(
            &mut standing,
            bytes,
            None,
            || content,
            |record| {
                record.in_journal = true;
            },
        );
    }
    for &(number, bytes) in &copies.records {
        offer(
            &mut standing,
            bytes,
            Some(number),
            || read(sealer, bytes),
            |record| {
                record.in_records = true;
            },
        );
    }
    let known_count = known.map_or(0, |head| head.count);
    let mut count = standing
        .last_key_value()
        .map_or(0, |(number, _)| number + 1)
        .max(known_count);
    let mut from_snapshot = 0;
    if (standing.len() as u64) < count || standing.values().any(|record| record.lost) {
        for &bytes in &copies.snapshots {
            offer(&mut standing, bytes, None, || read(sealer, bytes), |_| {});
        }
        from_snapshot = standing
            .values()
            .filter(|record| !record.in_journal && !record.in_records)
            .count() as u64;
        count = count.max(standing.last_key_value().map_or(0, |(number, _)| number + 1));
    }
    let mut dropped = false;
    while count > known_count
        && standing
            .get(&(count - 1))
            .is_none_or(|record| record.place.left > 0)
    {
        count -= 1;
        dropped |= standing.remove(&count).is_some();
    }
    let lacked = |has: fn(&Standing<'_>) -> bool| {
        standing
            .range(..known_count)
            .filter(|(_, record)| !has(record))
            .count() as u64
    };
    let beyond = standing
        .range(known_count..)
        .filter(|(_, record)| record.place.left == 0)
        .count() as u64;
    Agreed {
        journal_lacked: lacked(|record| record.in_journal),
        records_lacked: lacked(|record| record.in_records),
        journal_whole: standing.values().all(|record| record.in_journal)
            && copies.journal.len() == standing.len(),
        records_whole: standing.values().all(|record| record.in_records)
            && copies.records.len() == standing.len(),
        from_snapshot,
        beyond: (count.saturating_sub(known_count), beyond),
        dropped,
        standing,
        count,
    }
}

/// Lets one found record stand at its number, where it is genuine and nothing better stands there.
fn offer<'a>(
    standing: &mut BTreeMap<u64, Standing<'a>>,
    bytes: &'a [u8],
    key: Option<u64>,
    content: impl FnOnce() -> Option<Content>,
    found: impl Fn(&mut Standing<'a>),
) {
    let Some(number) = seal::place(bytes).map(|place| place.number) else {
        return;
    };
    if key.is_some_and(|key| key != number) {
        return;
    }
    if let Some(known) = standing.get_mut(&number) {
        if known.bytes == bytes {
            found(known);
            return;
        }
        if known.removed.is_some() {
            return;
        }
    }
    let Some(content) = content() else {
        return;
    };
    let Content {
        place,
        tag,
        lost,
        removed,
        event,
    } = content;
    let rank = |lost: bool, removed: bool| u8::from(!lost) + u8::from(removed);
    // What was removed stays removed, whatever older record turns up; and an event is better than a stand-in for it.
    if let Some(known) = standing.get(&number)
        && rank(known.lost, known.removed.is_some()) >= rank(lost, removed.is_some())
    {
        return;
    }
    let mut record = Standing {
        bytes,
        place,
        tag,
        lost,
        removed,
        event,
        in_journal: false,
        in_records: false,
    };
    found(&mut record);
    standing.insert(number, record);
}

#[cfg(test)]
mod tests {
    use zeroize::Zeroizing;

    use super::*;
    use crate::store::Notice;
    use crate::store::seal::Body;
    use crate::store::seal::Place;
    use crate::store::seal::Tag;

    fn chain(sealer: &Sealer, lefts: &[u32]) -> Vec<Vec<u8>> {
        let mut before = Tag::default();
        (0..)
            .zip(lefts)
            .map(|(number, &left)| {
                let nonce = [u8::try_from(number).expect("small"); seal::NONCE];
                let body = Body::Event(Zeroizing::new(b"{}".to_vec()));
                let record = sealer
                    .close_record(Place { number, left, before }, &nonce, &body)
                    .expect("sealed");
                before = seal::tag(&record);
                record
            })
            .collect()
    }

    fn agree<'a>(
        sealer: &Sealer,
        journal: &'a [Vec<u8>],
        records: &[(u64, &'a [u8])],
        known: &Head,
    ) -> Agreed<'a> {
        let journal = journal.iter().map(Vec::as_slice).collect();
        let copies = Copies {
            journal,
            records: records.to_vec(),
            snapshots: Vec::new(),
        };
        reconcile(&copies, sealer, Some(known))
    }

    #[test]
    fn a_batch_beyond_the_head_that_is_not_whole_does_not_stand() {
        let sealer = Sealer::new(&[1; 32], [2; 16]);
        let chain = chain(&sealer, &[0, 2, 1, 0]);
        let head = Head {
            count: 1,
            last: seal::tag(&chain[0]),
            ..Head::default()
        };
        let cut = agree(&sealer, &chain[..3], &[], &head);
        assert_eq!((cut.count, cut.standing.len(), cut.dropped), (1, 1, true));
        let whole = agree(&sealer, &chain, &[], &head);
        assert_eq!((whole.count, whole.beyond, whole.dropped), (4, (3, 1), false));
    }

    #[test]
    fn a_record_from_another_line_of_the_same_store_is_out_of_chain() {
        let sealer = Sealer::new(&[1; 32], [2; 16]);
        let (one, other) = (chain(&sealer, &[0, 0, 0]), chain(&sealer, &[1, 0, 0]));
        let mixed = vec![one[0].clone(), other[1].clone(), one[2].clone()];
        let agreed = agree(
            &sealer,
            &mixed,
            &[],
            &Head {
                count: 3,
                last: seal::tag(&one[2]),
                ..Head::default()
            },
        );
        let expected = [1, 2].map(|record| Notice::OutOfChain { record });
        assert_eq!(agreed.out_of_chain(None), expected);
    }

    #[test]
    fn a_record_under_another_key_of_the_database_does_not_count() {
        let sealer = Sealer::new(&[1; 32], [2; 16]);
        let chain = chain(&sealer, &[0, 0]);
        let head = Head {
            count: 2,
            last: seal::tag(&chain[1]),
            ..Head::default()
        };
        let agreed = agree(&sealer, &[], &[(0, &chain[1]), (1, &chain[0])], &head);
        assert_eq!((agreed.standing.len(), agreed.count), (0, 2));
    }

    #[test]
    fn an_event_is_better_than_a_stand_in_for_it_whichever_copy_has_it() {
        let sealer = Sealer::new(&[1; 32], [2; 16]);
        let chain = chain(&sealer, &[0, 0, 0]);
        let place = Place {
            number: 1,
            left: 0,
            before: seal::tag(&chain[0]),
        };
        let lost = Body::Lost(Some(seal::tag(&chain[1])));
        let stand_in = sealer
            .close_record(place, &[9; seal::NONCE], &lost)
            .expect("sealed");
        let without = [chain[0].clone(), stand_in, chain[2].clone()];
        let copies = |journal: &[Vec<u8>], records: &[Vec<u8>], snapshots: &[Vec<u8>]| {
            let copies = Copies {
                journal: journal.iter().map(Vec::as_slice).collect(),
                records: (0..).zip(records.iter().map(Vec::as_slice)).collect(),
                snapshots: snapshots.iter().map(Vec::as_slice).collect(),
            };
            let agreed = reconcile(&copies, &sealer, None);
            let stands = agreed.standing[&1].bytes == chain[1];
            (stands, agreed.count, agreed.out_of_chain(None))
        };
        let found = (true, 3, Vec::new());
        assert_eq!(copies(&without, &chain, &[]), found);
        assert_eq!(copies(&chain, &without, &[]), found);
        assert_eq!(copies(&without, &without, &chain), found);
        assert_eq!(copies(&without, &without, &[]), (false, 3, Vec::new()));
    }

    #[test]
    fn what_this_program_does_not_know_is_counted_and_what_was_lost_or_removed_is_not() {
        let sealer = Sealer::new(&[1; 32], [2; 16]);
        // `{}` is no event that this program knows.
        let mut chain = chain(&sealer, &[0, 0]);
        for (number, body) in (2..).zip([Body::Lost(None), Body::Removed([3; 16], [4; 16])]) {
            let before = seal::tag(&chain[chain.len() - 1]);
            let left = 0;
            let place = Place { number, left, before };
            let nonce = [u8::try_from(number).expect("small"); seal::NONCE];
            chain.push(sealer.close_record(place, &nonce, &body).expect("sealed"));
        }
        let head = Head {
            count: 4,
            last: seal::tag(&chain[3]),
            ..Head::default()
        };
        let mut agreed = agree(&sealer, &chain, &[], &head);
        assert_eq!(agreed.take_events(), (Vec::new(), 2));
        assert_eq!(agreed.removed().count(), 1);
    }
}
