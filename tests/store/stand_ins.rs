//! What stands where records were lost: the chain goes on over it, and what turns up later takes its place.

use std::fs;
use std::path::Path;

use tempfile::tempdir;
use wayfold::map::Event;
use wayfold::store::Notice;
use wayfold::store::Part;

use super::kit;

/// Takes the database and the snapshots away, and spoils frames of the journal.
fn lose(place: &Path, frames: &[usize]) {
    fs::remove_dir_all(place.join("records")).expect("removed");
    for slot in 0..7 {
        let _ = fs::remove_file(place.join(format!("snapshot-{slot}")));
    }
    spoil(place, frames);
}

/// Spoils frames of the journal.
fn spoil(place: &Path, frames: &[usize]) {
    let path = place.join("journal");
    let mut journal = fs::read(&path).expect("read");
    let all = kit::frames(&journal);
    for &frame in frames {
        journal[all[frame].start + 100] ^= 1;
    }
    fs::write(&path, journal).expect("written");
}

fn numbers(events: &[Event]) -> Vec<u64> {
    events.iter().map(kit::number).collect()
}

/// The record behind a hole repeats a seal that is gone; what stands in the hole must say it, or every later opening would
/// take the store for two that were put together.
#[test]
fn a_hole_is_told_once_and_the_chain_goes_on_behind_it() {
    for hole in [vec![1], vec![1, 2], vec![0, 1, 2]] {
        let place = tempdir().expect("a place");
        kit::filled(place.path(), 5);
        lose(place.path(), &hole);
        let (store, opened) = kit::open(place.path());
        let records = hole.len() as u64;
        let lost = |notice: &Notice| matches!(notice, Notice::Lost { records: told, .. } if *told == records);
        assert!(opened.notices.iter().any(lost), "{hole:?}: {:?}", opened.notices);
        let broken = |notice: &Notice| matches!(notice, Notice::OutOfChain { .. });
        assert!(
            !opened.notices.iter().any(broken),
            "{hole:?}: {:?}",
            opened.notices
        );
        drop(store);
        let mut left = numbers(&kit::events(0..5));
        left.retain(|number| !hole.iter().any(|gone| *gone as u64 == *number));
        let (mut store, again) = kit::open(place.path());
        assert_eq!(
            (numbers(&again.events), again.notices),
            (left.clone(), Vec::new())
        );
        store.append(&[kit::event(5)]).expect("kept");
        drop(store);
        left.push(5);
        let again = kit::open(place.path()).1;
        assert_eq!((numbers(&again.events), again.notices), (left, Vec::new()));
    }
}

/// What was kept since then follows the lost record, so that it fits where it is found again.
#[test]
fn the_newest_event_comes_back_when_the_database_that_had_it_turns_up() {
    let place = tempdir().expect("a place");
    let [live, found] = ["live", "found"].map(|name| place.path().join(name));
    kit::filled(&live, 3);
    kit::copy(&live.join("records"), &found.join("records"));
    lose(&live, &[2]);
    let (mut store, opened) = kit::open(&live);
    let newest = Some(kit::event(1).at);
    assert!(
        opened
            .notices
            .contains(&Notice::RolledBack { records: 1, newest }),
        "{:?}",
        opened.notices
    );
    store.append(&[kit::event(3)]).expect("kept");
    // As a crash leaves it, but for the database.
    for file in kit::files(&live) {
        let name = file.strip_prefix(&live).expect("below");
        if !name.starts_with("records") {
            fs::copy(&file, found.join(name)).expect("copied");
        }
    }
    drop(store);
    let opened = kit::open(&found).1;
    assert_eq!(opened.events, kit::events(0..4));
    let mended = [Part::Journal, Part::Records].map(|part| Notice::Mended { part, records: 1 });
    assert_eq!(opened.notices, mended);
    assert_eq!(kit::open(&found).1.notices, []);
}

/// Without a head nothing says how many records there are, and the snapshot knows more than both copies.
#[test]
fn what_only_a_snapshot_has_beyond_both_copies_stays_when_more_is_kept() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 5);
    // This opening takes the snapshot.
    drop(kit::open(place.path()));
    fs::remove_file(place.path().join("head")).expect("removed");
    fs::remove_dir_all(place.path().join("records")).expect("removed");
    let path = place.path().join("journal");
    let mut journal = fs::read(&path).expect("read");
    let frames = kit::frames(&journal);
    journal[frames[3].start..].fill(0);
    fs::write(&path, journal).expect("written");
    spoil(place.path(), &[1]);
    let (mut store, opened) = kit::open(place.path());
    assert_eq!(opened.events, kit::events(0..5));
    assert!(
        opened.notices.contains(&Notice::FromSnapshot { records: 3 }),
        "{:?}",
        opened.notices
    );
    store.append(&[kit::event(5)]).expect("kept");
    drop(store);
    let again = kit::open(place.path()).1;
    assert_eq!((again.events, again.notices), (kit::events(0..6), Vec::new()));
}
