//! Any bytes at all, and bytes that are nearly right, in front of every reader of this room.

use std::fs;

use proptest::prelude::*;
use tempfile::tempdir;
use wayfold::store;
use wayfold::store::Store;
use wayfold::store::StoreError;
use wayfold::store::Unlock;
use wayfold::store::parsers;

use super::kit;

fn all(bytes: &[u8]) {
    let _ = (
        parsers::record(bytes),
        parsers::journal(bytes),
        parsers::head(bytes),
        parsers::key_file(bytes),
    );
    let _ = store::read_lines(bytes);
}

proptest! {
    #[test]
    fn no_bytes_make_a_reader_panic(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        all(&bytes);
        prop_assert!(!parsers::record(&bytes) && !parsers::head(&bytes) && !parsers::key_file(&bytes));
    }

    #[test]
    fn bytes_that_are_nearly_right_neither(cut in 0_usize..2_000, at in 0_usize..2_000, byte in any::<u8>(), file in 0_usize..4) {
        let name = ["journal", "head", "keys", "snapshot-0"][file];
        let kept = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/store/format-1").join(name);
        let mut bytes = fs::read(kept).expect("read");
        let length = bytes.len();
        bytes[at % length] = byte;
        all(&bytes);
        bytes.truncate(cut % length);
        all(&bytes);
    }
}

/// A journal made of nothing but false frames, each claiming half the file, is read within the time of reading it some times
/// over; without the bound this test would run for hours.
#[test]
fn a_journal_of_false_frames_takes_bounded_time() {
    let marker = [0xf3, 0x1d, 0x9c, 0x06, 0xb7, 0xe8, 0x52, 0xa9];
    let mut bytes = Vec::new();
    while bytes.len() < 16 << 20 {
        bytes.extend_from_slice(&marker);
        bytes.extend_from_slice(&(8_u32 << 20).to_be_bytes());
    }
    assert_eq!(parsers::journal(&bytes), 0);
}

#[test]
fn records_behind_false_frames_are_found() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 5);
    let journal = fs::read(place.path().join("journal")).expect("read");
    assert_eq!(parsers::journal(&journal), 5);
    let mut bytes = Vec::new();
    for _ in 0..4 {
        bytes.extend_from_slice(&[0xf3, 0x1d, 0x9c, 0x06, 0xb7, 0xe8, 0x52, 0xa9]);
        bytes.extend_from_slice(&100_u32.to_be_bytes());
        bytes.extend_from_slice(&[7; 40]);
    }
    bytes.extend_from_slice(&journal);
    assert_eq!(parsers::journal(&bytes), 5);
}

#[test]
fn a_directory_full_of_rubbish_is_damaged_and_a_lost_key_is_said_to_be() {
    let place = tempdir().expect("a place");
    for name in ["keys", "keys.copy", "head", "journal", "records"] {
        fs::write(place.path().join(name), name.repeat(100)).expect("written");
    }
    assert_eq!(
        Store::open(place.path(), &Unlock::KeyFile).map(drop),
        Err(StoreError::Damaged)
    );
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 2);
    for name in ["keys", "keys.copy"] {
        fs::remove_file(place.path().join(name)).expect("removed");
    }
    assert!(
        Store::exists(place.path()),
        "what is left of a store is not written over"
    );
    assert_eq!(
        Store::open(place.path(), &Unlock::KeyFile).map(drop),
        Err(StoreError::Damaged)
    );
    assert_eq!(
        Store::create(place.path(), &Unlock::KeyFile).map(drop),
        Err(StoreError::Exists)
    );
}

#[test]
fn a_clock_that_is_set_back_changes_nothing() {
    let place = tempdir().expect("a place");
    drop(Store::create(place.path(), &Unlock::KeyFile).expect("made"));
    let mut kept = Vec::new();
    for (number, day) in [(0, 5), (1, 4), (2, 900), (3, 0)] {
        let (mut store, opened) = kit::open(place.path());
        assert_eq!((opened.events, opened.notices), (kept.clone(), Vec::new()));
        kept.push(kit::worded_on(number, day, "oil the gate"));
        store.append(&kept[kept.len() - 1..]).expect("kept");
    }
    assert_eq!(kit::open(place.path()).1.events, kept);
}
