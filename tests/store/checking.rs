//! Checking an open store: what was damaged since it was opened is told and mended.

use std::fs;

use tempfile::tempdir;
use wayfold::store::Checked;
use wayfold::store::Notice;
use wayfold::store::Part;

use super::kit;

const fn mended(part: Part) -> Notice {
    Notice::Mended { part, records: 0 }
}

#[test]
fn key_files_that_are_spoiled_while_the_store_is_open_are_both_good_again() {
    for name in ["keys", "keys.copy"] {
        let place = tempdir().expect("a place");
        kit::filled(place.path(), 3);
        let (mut store, _) = kit::open(place.path());
        let keys = || ["keys", "keys.copy"].map(|name| fs::read(place.path().join(name)).expect("read"));
        let before = keys();
        fs::write(place.path().join(name), "no key at all").expect("written");
        let checked = store.verify().expect("checked");
        assert_eq!(checked.notices, [mended(Part::Keys)], "{name}");
        assert!(keys() == before, "{name}");
        assert_eq!(store.verify().expect("checked").notices, [], "{name}: told twice");
    }
}

/// Each harm leaves every record readable, or all but the last: a snapshot that is not as it was written is not counted on.
#[test]
fn a_snapshot_that_is_not_as_it_was_written_is_told_and_taken_anew() {
    type Harm = fn(&mut Vec<u8>);
    let harms: [(&str, Harm); 4] = [
        ("its heading is spoiled", |snapshot| snapshot[0] ^= 1),
        ("something lies between two frames", |snapshot| {
            let length = snapshot.len();
            let second = kit::frames(snapshot)[1].start;
            snapshot.splice(second..second, *b"put here");
            snapshot.truncate(length);
        }),
        ("it is cut at its end", |snapshot| {
            snapshot.pop();
        }),
        ("its last frame is cut", |snapshot| {
            let last = kit::frames(snapshot).pop().expect("a frame");
            snapshot[last.end - 30..].fill(0);
        }),
    ];
    for (what, harm) in harms {
        let place = tempdir().expect("a place");
        kit::filled(place.path(), 3);
        let (mut store, _) = kit::open(place.path());
        let path = place.path().join("snapshot-0");
        let mut snapshot = fs::read(&path).expect("read");
        harm(&mut snapshot);
        fs::write(&path, snapshot).expect("written");
        let told = Checked {
            events: 3,
            snapshots: 0,
            notices: vec![mended(Part::Snapshots)],
        };
        assert_eq!(store.verify(), Ok(told), "{what}");
        let checked = store.verify().expect("checked");
        assert_eq!((checked.snapshots, checked.notices), (1, Vec::new()), "{what}");
    }
}

/// Older days are what a snapshot is for: one that is damaged is taken anew in its own place, however often it is checked.
#[test]
fn a_damaged_snapshot_takes_no_older_one_with_it() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    let path = |slot: u32| place.path().join(format!("snapshot-{slot}"));
    let (mut store, _) = kit::open(place.path());
    for slot in 1..7 {
        // As if a day had gone by between any two.
        fs::copy(place.path().join("journal"), path(slot)).expect("copied");
        store.append(&[kit::event(2 + u64::from(slot))]).expect("kept");
    }
    fs::write(path(2), "nothing that was ever sealed").expect("written");
    let older = || [0, 1, 3, 4, 5, 6].map(|slot| fs::read(path(slot)).expect("read"));
    let before = older();
    for round in 0..9 {
        let checked = store.verify().expect("checked");
        let expected: &[Notice] = if round == 0 {
            &[mended(Part::Snapshots)]
        } else {
            &[]
        };
        assert_eq!(checked.notices, expected, "round {round}");
        assert!(older() == before, "round {round}");
    }
}
