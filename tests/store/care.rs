//! Changing the lock, snapshots, checking, erasing, and stores of earlier formats.

use std::fs;
use std::path::Path;

use tempfile::tempdir;
use wayfold::store::Checked;
use wayfold::store::Cost;
use wayfold::store::Locked;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::StoreError;
use wayfold::store::Unlock;

use super::kit;

#[test]
fn the_lock_can_be_set_changed_and_removed() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    let site = || Site::at(place.path()).cost(kit::CHEAP);
    let opens =
        |unlock: &Unlock| Store::open_at(site(), unlock).map(|(_, opened)| (opened.events, opened.notices));
    let all = (kit::events(0..3), Vec::new());
    let change = |from: &Unlock, to: &Unlock| {
        Store::open_at(site(), from)
            .expect("opened")
            .0
            .change_lock(to)
            .expect("changed");
    };
    change(&Unlock::KeyFile, &kit::passphrase("first"));
    assert_eq!(Store::how_locked(place.path()), Ok(Locked::Passphrase));
    assert_eq!(opens(&Unlock::KeyFile).err(), Some(StoreError::OtherLock));
    assert_eq!(opens(&kit::passphrase("first")).ok(), Some(all.clone()));
    change(&kit::passphrase("first"), &kit::passphrase("second"));
    assert_eq!(
        opens(&kit::passphrase("first")).err(),
        Some(StoreError::WrongPassphrase)
    );
    assert_eq!(opens(&kit::passphrase("second")).ok(), Some(all.clone()));
    change(&kit::passphrase("second"), &Unlock::KeyFile);
    assert_eq!(opens(&Unlock::KeyFile).ok(), Some(all));
}

#[test]
fn the_last_seven_days_with_something_new_are_kept_as_snapshots() {
    let place = tempdir().expect("a place");
    drop(Store::create(place.path(), &Unlock::KeyFile).expect("made"));
    for day in 0..9 {
        let (mut store, _) = kit::open(place.path());
        store
            .append(&[kit::worded_on(day, day, "sweep the chapel steps")])
            .expect("kept");
    }
    let (mut store, _) = kit::open(place.path());
    assert_eq!(
        store.verify(),
        Ok(Checked {
            events: 9,
            snapshots: 7,
            notices: Vec::new()
        })
    );
}

#[test]
fn a_day_makes_one_snapshot_however_often_the_store_is_opened() {
    let place = tempdir().expect("a place");
    drop(Store::create(place.path(), &Unlock::KeyFile).expect("made"));
    // In the morning, at half past eleven in the evening, and soon after midnight, by UTC.
    let snapshots = [0, 880, 920].map(|minute| {
        kit::open(place.path())
            .0
            .append(&[kit::event(minute)])
            .expect("kept");
        let (mut store, _) = kit::open(place.path());
        store.verify().expect("checked").snapshots
    });
    assert_eq!(snapshots, [1, 1, 2]);
}

#[test]
fn a_new_passphrase_is_never_worth_less_work_than_the_one_before() {
    let place = tempdir().expect("a place");
    // Where the key file says how many passes are made over the memory.
    let passes = || {
        let keys = fs::read(place.path().join("keys")).expect("read");
        u32::from_be_bytes(keys[15..19].try_into().expect("four bytes"))
    };
    let cost = Cost {
        passes: 12,
        ..kit::CHEAP
    };
    let site = Site::at(place.path()).cost(cost);
    drop(Store::create_at(site, &kit::passphrase("first")).expect("made"));
    assert_eq!(passes(), 12);
    let (mut store, _) = Store::open(place.path(), &kit::passphrase("first")).expect("opened");
    store.change_lock(&kit::passphrase("second")).expect("changed");
    assert!(passes() >= 12, "{}", passes());
}

#[test]
fn erasing_leaves_nothing_of_the_store_and_everything_else() {
    let place = tempdir().expect("a place");
    let inside = place.path().join("store");
    kit::filled(&inside, 3);
    fs::write(inside.join("mine.txt"), "not the store's").expect("written");
    // What a crash may leave of a write that was about to take its place.
    for name in ["keys", "keys.copy", "head", "journal", "snapshot-0"] {
        fs::copy(inside.join("keys"), inside.join(format!("{name}.new"))).expect("copied");
    }
    let (store, _) = kit::open(&inside);
    assert_eq!(Store::erase(Site::at(&inside)), Err(StoreError::InUse));
    drop(store);
    assert_eq!(Store::erase(Site::at(&inside)), Ok(()));
    assert_eq!(kit::files(place.path()), [inside.join("mine.txt")]);
    assert!(!Store::exists(&inside));
}

/// A crash in the middle of a replacement leaves a file that counts for nothing and may hold what was removed since.
#[test]
fn what_a_crash_left_unfinished_is_taken_away_at_the_next_opening() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 2);
    let left =
        ["journal.new", "keys.copy.new", "snapshot-0.new", "mine.new"].map(|name| place.path().join(name));
    for file in &left {
        fs::write(file, b"half a file").expect("written");
    }
    assert_eq!(kit::open(place.path()).1.events, kit::events(0..2));
    assert_eq!(left.map(|file| file.exists()), [false, false, false, true]);
}

#[test]
fn erasing_goes_on_where_it_was_cut_off_and_says_what_it_could_not_erase() {
    let place = tempdir().expect("a place");
    let inside = place.path().join("store");
    kit::filled(&inside, 3);
    let records = inside.join("records");
    fs::remove_dir_all(&records).expect("removed");
    fs::write(&records, "something else").expect("written");
    assert!(Store::erase(Site::at(&inside)).is_err());
    fs::remove_file(&records).expect("removed");
    assert_eq!(Store::erase(Site::at(&inside)), Ok(()));
    assert!(!inside.exists());
}

/// A store written by the first format of this program, whose parts are described in `src/store`.
#[test]
fn a_kept_store_of_the_first_format_opens() {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/store/format-1");
    let place = tempdir().expect("a place");
    kit::copy(&kept, place.path());
    let (mut store, opened) =
        Store::open(place.path(), &kit::passphrase("kept from the first day")).expect("opened");
    assert_eq!((opened.events, opened.notices), (kit::events(0..12), Vec::new()));
    store.append(&kit::events(12..13)).expect("kept");
}

/// Through a second name of the same file the test sees what becomes of the old one; but a file with a second name is left
/// alone, so it holds the file open instead.
#[cfg(unix)]
#[test]
fn old_key_files_are_written_over_unless_somebody_keeps_them_under_another_name() {
    use std::io::Read;
    use std::io::Seek;
    let place = tempdir().expect("a place");
    drop(Store::create(place.path(), &Unlock::KeyFile).expect("made"));
    let copied = place.path().join("somebody's copy");
    fs::hard_link(place.path().join("keys.copy"), &copied).expect("linked");
    let before = fs::read(&copied).expect("read");
    let mut old = fs::File::open(place.path().join("keys")).expect("opened");
    let (mut store, _) = kit::open(place.path());
    store
        .change_lock(&kit::passphrase("a new lock"))
        .expect("changed");
    let mut left = Vec::new();
    old.rewind()
        .and_then(|()| old.read_to_end(&mut left))
        .expect("read");
    assert_eq!(left, vec![0; before.len()]);
    assert_eq!(fs::read(&copied).expect("read"), before);
}
