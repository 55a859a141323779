//! What is removed is gone from every copy, whatever the disk does meanwhile, and everything else is still there.

use std::fs;
use std::io;
use std::path::Path;

use proptest::prelude::*;
use tempfile::tempdir;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::store::Notice;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::StoreError;
use wayfold::store::Unlock;
use wayfold::store::parsers;

use super::disks::MemoryDisk;
use super::kit;

/// How many sealed or plain records of a closed store hold these words.
fn holding(place: &Path, words: &str) -> usize {
    // In a copy, since looking opens the database.
    let beside = tempdir().expect("a place");
    kit::copy(place, beside.path());
    let texts = parsers::texts(beside.path(), &Unlock::KeyFile).expect("read");
    texts
        .iter()
        .filter(|text| text.windows(words.len()).any(|part| part == words.as_bytes()))
        .count()
}

/// Seals of the records in a journal, as they lie in the file: what is left of one elsewhere is known by them.
fn pieces(journal: &[u8], from: usize) -> Vec<Vec<u8>> {
    journal[from..].chunks_exact(32).map(<[u8]>::to_vec).collect()
}

fn ids(events: &[Event]) -> Vec<EventId> {
    events.iter().map(|event| event.id).collect()
}

#[test]
fn what_is_removed_is_in_no_file_any_more_not_even_sealed() {
    let place = tempdir().expect("a place");
    let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..5)).expect("kept");
    let before = fs::read(place.path().join("journal")).expect("read");
    let end = before.iter().rposition(|&byte| byte != 0).expect("records") + 1;
    let planted = [
        kit::worded(5, "the grey ferry does not come back"),
        kit::worded_on(6, 1, "a bell under the grey ferry"),
    ];
    store.append(&planted).expect("kept");
    let after = fs::read(place.path().join("journal")).expect("read");
    let length = after.iter().rposition(|&byte| byte != 0).expect("records") + 1 - end;
    store.append(&kit::events(7..9)).expect("kept");
    drop(store);
    // Another opening, so that a snapshot holds them too.
    let (mut store, _) = kit::open(place.path());
    assert!(place.path().join("snapshot-0").exists());
    // Whole sealed text: the planted batch without its first and last record's edges.
    let planted_bytes = pieces(&after[..end + length], end);
    assert!(planted_bytes.len() > 10);
    let lies_in = |bytes: &[u8]| {
        planted_bytes
            .iter()
            .filter(|piece| bytes.windows(32).any(|part| part == piece.as_slice()))
            .count()
    };
    let seen: Vec<_> = ["journal", "snapshot-0"]
        .iter()
        .map(|name| lies_in(&fs::read(place.path().join(name)).expect("read")))
        .collect();
    assert!(
        seen.iter().all(|count| *count > 10),
        "the search finds what is there: {seen:?}"
    );
    store.remove(&ids(&planted)).expect("removed");
    for file in kit::files(place.path()) {
        let left = lies_in(&fs::read(&file).expect("read"));
        // A record's place and the seal before it stay; they hold none of its text.
        assert!(left <= 2, "{left} pieces are left in {}", file.display());
    }
    store.append(&kit::events(9..11)).expect("kept");
    drop(store);
    assert_eq!(holding(place.path(), "grey ferry"), 0);
    let (mut store, opened) = kit::open(place.path());
    assert_eq!(opened.notices, []);
    let rest: Vec<_> = (0..5).chain(7..11).map(kit::event).collect();
    assert_eq!(opened.events, rest);
    assert_eq!(store.verify().expect("checked").notices, []);
    // Merging what another device still has does not bring it back.
    assert_eq!(store.merge(planted.to_vec()).expect("merged"), []);
}

/// The fair copy is wiped while the store is still open, and made anew when it is closed.
#[test]
fn the_fair_copy_holds_what_is_kept_and_never_what_was_removed() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    let planted = kit::worded(3, "a lantern in the quarry");
    let (mut store, _) = kit::open(place.path());
    store.append(std::slice::from_ref(&planted)).expect("kept");
    drop(store);
    // The journal, the database and the fair copy, for nothing was kept long enough to be in a snapshot.
    assert_eq!(holding(place.path(), "lantern in the quarry"), 3);
    let (mut store, _) = kit::open(place.path());
    store.remove(&ids(&[planted])).expect("removed");
    let wiped = fs::read(place.path().join("rest")).expect("read");
    assert!(wiped.is_empty());
    drop(store);
    assert_eq!(holding(place.path(), "lantern in the quarry"), 0);
    let fair = fs::read(place.path().join("rest")).expect("read");
    assert!(!fair.is_empty());
    let (store, opened) = kit::open(place.path());
    assert_eq!((opened.events, opened.notices), (kit::events(0..3), Vec::new()));
    drop(store);
}

#[test]
fn the_last_record_can_be_removed_and_the_chain_goes_on() {
    let place = tempdir().expect("a place");
    let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..3)).expect("kept");
    store.remove(&ids(&kit::events(2..3))).expect("removed");
    drop(store);
    let (mut store, opened) = kit::open(place.path());
    assert_eq!((opened.events, opened.notices), (kit::events(0..2), vec![]));
    store.remove(&ids(&kit::events(0..2))).expect("removed");
    store.append(&kit::events(3..4)).expect("kept");
    drop(store);
    let (_store, opened) = kit::open(place.path());
    assert_eq!((opened.events, opened.notices), (kit::events(3..4), vec![]));
}

#[test]
fn an_older_copy_does_not_bring_it_back() {
    for name in ["journal", "records"] {
        let place = tempdir().expect("a place");
        let older = tempdir().expect("a place");
        let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
        store.append(&kit::events(0..4)).expect("kept");
        drop(store);
        kit::copy(place.path(), older.path());
        let (mut store, _) = kit::open(place.path());
        store.remove(&ids(&kit::events(1..3))).expect("removed");
        drop(store);
        let (from, to) = (older.path().join(name), place.path().join(name));
        if from.is_dir() {
            fs::remove_dir_all(&to).expect("removed");
            kit::copy(&from, &to);
        } else {
            fs::copy(&from, &to).expect("copied");
        }
        let (store, opened) = kit::open(place.path());
        assert_eq!(opened.events, [kit::event(0), kit::event(3)], "{name}");
        assert_ne!(opened.notices, [], "{name}: it is noticed");
        drop(store);
        assert_eq!(holding(place.path(), "part 1"), 0, "{name}");
    }
}

#[test]
fn every_operation_of_a_removal_may_fail() {
    let run = |fail: Option<(usize, bool)>| {
        let place = tempdir().expect("a place");
        let disk = MemoryDisk::default();
        let site = || Site::at(place.path()).disk(disk.clone());
        let mut store = Store::create_at(site(), &Unlock::KeyFile).expect("made");
        store.append(&kit::events(0..6)).expect("kept");
        drop(store);
        let (mut store, _) = Store::open_at(site(), &Unlock::KeyFile).expect("opened");
        let before = disk.operations();
        if let Some((at, from_then_on)) = fail {
            disk.fail_at(before + at, io::ErrorKind::Other, from_then_on);
        }
        let removed = store.remove(&ids(&kit::events(2..4)));
        let operations = disk.operations() - before;
        disk.cut_power();
        disk.fail_at(0, io::ErrorKind::Other, true);
        drop(store);
        disk.heal();
        let (mut store, opened) = Store::open_at(site(), &Unlock::KeyFile).expect("opened");
        let whole = [kit::events(0..2), kit::events(4..6)].concat();
        let without: Vec<_> = opened
            .events
            .iter()
            .filter(|event| !kit::events(2..4).contains(event))
            .cloned()
            .collect();
        assert_eq!(without, whole, "{fail:?}: {:?}", opened.notices);
        let gone = |notice: &Notice| matches!(notice, Notice::Lost { .. } | Notice::RolledBack { .. });
        assert!(!opened.notices.iter().any(gone), "{fail:?}: {:?}", opened.notices);
        if removed.is_ok() {
            assert_eq!(opened.events, whole, "{fail:?}");
        }
        // Asked again, it is finished.
        store.remove(&ids(&kit::events(2..4))).expect("removed");
        drop(store);
        let (_store, opened) = Store::open_at(site(), &Unlock::KeyFile).expect("opened");
        assert_eq!(opened.events, whole, "{fail:?}");
        (operations, removed)
    };
    let (operations, removed) = run(None);
    assert_eq!(removed, Ok(()));
    assert!(operations >= 10, "{operations}");
    let mut told = 0;
    for at in 0..operations {
        for from_then_on in [false, true] {
            told +=
                usize::from(run(Some((at, from_then_on))).1 == Err(StoreError::Disk(io::ErrorKind::Other)));
        }
    }
    assert!(told >= operations, "only {told} of the faults were told");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]
    #[test]
    fn any_part_can_be_removed_in_any_order(numbers in proptest::collection::vec(0_u64..12, 0..8), cut in 1_u64..11) {
        let place = tempdir().expect("a place");
        let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
        store.append(&kit::events(0..cut)).expect("kept");
        for number in &numbers {
            store.remove(&[kit::event(*number).id]).expect("removed");
        }
        let already: Vec<u64> = numbers.iter().copied().filter(|number| *number < cut).collect();
        store.append(&kit::events(cut..12)).expect("kept");
        drop(store);
        let (_store, opened) = kit::open(place.path());
        let left: Vec<_> = (0..12).filter(|number| !already.contains(number)).map(kit::event).collect();
        prop_assert_eq!(opened.events, left);
        prop_assert_eq!(opened.notices, vec![]);
    }
}

#[test]
fn a_database_that_is_just_being_opened_is_waited_for() {
    let place = tempdir().expect("a place");
    let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..40)).expect("kept");
    drop(store);
    for round in 0..20 {
        let (mut store, opened) = kit::open(place.path());
        assert_eq!(opened.notices, [], "round {round}");
        store.make_ready();
        match round % 3 {
            0 => store
                .remove(&ids(&kit::events(round..round + 1)))
                .expect("removed"),
            1 => store
                .append(&kit::events(100 + round..101 + round))
                .expect("kept"),
            _ => {}
        }
        drop(store);
    }
    let (mut store, opened) = kit::open(place.path());
    let gone = (0..20).filter(|round| round % 3 == 0);
    let kept = (0..20).filter(|round| round % 3 == 1).map(|round| 100 + round);
    let wanted: Vec<_> = (0..40)
        .filter(|at| !gone.clone().any(|one| one == *at))
        .chain(kept)
        .map(kit::event)
        .collect();
    assert_eq!(opened.events, wanted);
    assert_eq!(store.verify().expect("checked").notices, []);
}
