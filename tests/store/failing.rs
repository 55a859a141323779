//! The disk fails at every operation in turn, fills up, or loses power: what was acknowledged is there afterwards.

use std::io;

use tempfile::tempdir;
use wayfold::map::Event;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::StoreError;
use wayfold::store::Unlock;

use super::disks::MemoryDisk;
use super::kit;

/// A sitting: makes or opens the store, appends batches of one to three, opens it again, appends more. Returns what was
/// acknowledged and the first error.
fn sitting(place: &std::path::Path, disk: &MemoryDisk) -> (Vec<Event>, Option<StoreError>) {
    let mut kept = Vec::new();
    let mut first = None;
    for round in 0..2_u64 {
        let site = || {
            Site::at(place)
                .anchor(&place.join("elsewhere"))
                .disk(disk.clone())
        };
        let opened = match Store::create_at(site(), &Unlock::KeyFile) {
            Err(StoreError::Exists) => Store::open_at(site(), &Unlock::KeyFile).map(|(store, _)| store),
            made => made,
        };
        let mut store = match opened {
            Ok(store) => store,
            Err(error) => {
                first.get_or_insert(error);
                continue;
            }
        };
        for batch in 0..4 {
            let start = round * 100 + batch * 3;
            let events = kit::events(start..start + 1 + batch % 3);
            match store.append(&events) {
                Ok(()) => kept.extend(events),
                Err(error) => {
                    first.get_or_insert(error);
                }
            }
        }
    }
    (kept, first)
}

fn holds_all(place: &std::path::Path, disk: &MemoryDisk, kept: &[Event], why: &str) {
    let site = Site::at(place)
        .anchor(&place.join("elsewhere"))
        .disk(disk.clone());
    match Store::open_at(site, &Unlock::KeyFile) {
        Ok((_, opened)) => {
            for event in kept {
                assert!(
                    opened.events.contains(event),
                    "{why}: an acknowledged event is gone: {:?}",
                    opened.notices
                );
            }
            whole_batches(&opened.events, why);
        }
        Err(error) => assert!(
            kept.is_empty() && error == StoreError::Missing,
            "{why}: {error:?}"
        ),
    }
}

/// A batch is there whole or not at all.
fn whole_batches(events: &[Event], why: &str) {
    for round in 0..2_u64 {
        for batch in 0..4 {
            let start = round * 100 + batch * 3;
            let wanted = kit::events(start..start + 1 + batch % 3);
            let there = wanted.iter().filter(|event| events.contains(event)).count();
            assert!(
                there == 0 || there == wanted.len(),
                "{why}: {there} of {} in a batch",
                wanted.len()
            );
        }
    }
}

#[test]
fn every_operation_in_turn_may_fail() {
    let all = {
        let place = tempdir().expect("a place");
        let disk = MemoryDisk::default();
        let (kept, error) = sitting(place.path(), &disk);
        assert_eq!((kept.len(), error), (14, None));
        disk.operations()
    };
    assert!(all > 40, "{all} operations");
    let mut errors = 0;
    for operation in 0..all {
        for from_then_on in [false, true] {
            let place = tempdir().expect("a place");
            let disk = MemoryDisk::default();
            disk.fail_at(operation, io::ErrorKind::Other, from_then_on);
            let (kept, error) = sitting(place.path(), &disk);
            errors += usize::from(error.is_some());
            disk.heal();
            holds_all(
                place.path(),
                &disk,
                &kept,
                &format!("operation {operation}, on {from_then_on}"),
            );
        }
    }
    assert!(errors > all / 2, "only {errors} of the faults were told");
}

#[test]
fn a_full_disk_is_told_and_loses_nothing() {
    let mut full = 0;
    for room in (0..9_000).step_by(450) {
        let place = tempdir().expect("a place");
        let disk = MemoryDisk::default();
        disk.room(room);
        let (kept, error) = sitting(place.path(), &disk);
        full += usize::from(error == Some(StoreError::DiskFull));
        assert!(
            matches!(error, None | Some(StoreError::DiskFull)),
            "{room}: {error:?}"
        );
        holds_all(place.path(), &disk, &kept, &format!("still full at {room}"));
        disk.heal();
        holds_all(place.path(), &disk, &kept, &format!("room again after {room}"));
    }
    assert!(full > 5, "{full}");
}

#[test]
fn a_store_that_met_a_full_disk_goes_on_when_there_is_room_again() {
    let place = tempdir().expect("a place");
    let disk = MemoryDisk::default();
    let site = || Site::at(place.path()).disk(disk.clone());
    let mut store = Store::create_at(site(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..2)).expect("kept");
    disk.room(0);
    assert_eq!(store.append(&kit::events(2..4)), Err(StoreError::DiskFull));
    assert_eq!(store.append(&kit::events(2..4)).is_err(), true);
    disk.heal();
    store.append(&kit::events(2..5)).expect("kept");
    drop(store);
    let (_store, opened) = Store::open_at(site(), &Unlock::KeyFile).expect("opened");
    let mut events = opened.events;
    events.sort_by_key(|event| event.id);
    events.dedup();
    assert_eq!(events, kit::events(0..5));
}

#[test]
fn a_power_cut_loses_nothing_that_was_acknowledged() {
    for batches in 1..12_u64 {
        let place = tempdir().expect("a place");
        let disk = MemoryDisk::default();
        let site = || Site::at(place.path()).disk(disk.clone());
        let mut store = Store::create_at(site(), &Unlock::KeyFile).expect("made");
        for batch in 0..batches {
            store.append(&[kit::event(batch)]).expect("kept");
        }
        disk.cut_power();
        // What the program still does as it ends does not reach a disk without power.
        disk.fail_at(0, io::ErrorKind::Other, true);
        drop(store);
        disk.heal();
        // The database's own files are as an earlier moment left them, at worst gone.
        std::fs::remove_dir_all(place.path().join("records")).expect("removed");
        let (_store, opened) = Store::open_at(site(), &Unlock::KeyFile).expect("opened");
        assert_eq!(opened.events, kit::events(0..batches));
        assert_ne!(opened.notices, []);
    }
}
