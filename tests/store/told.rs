//! What an opening tells, to the word: a write that was cut off, copies that lag, heads that are not as they were left. Each
//! is told once, and nothing beside it.

use std::fs;
use std::path::Path;

use tempfile::tempdir;
use wayfold::store::Notice;
use wayfold::store::Part;
use wayfold::store::Store;
use wayfold::store::Unlock;

use super::kit;

/// Bytes in one slot of the head.
const SLOT: usize = 101;

const fn mended(part: Part, records: u64) -> Notice {
    Notice::Mended { part, records }
}

/// A store as a crash leaves it, with so many events, one a batch, and its head as it was some batches earlier.
fn crashed(place: &Path, count: u64, behind: u64) {
    let live = tempdir().expect("a place");
    let head = live.path().join("head");
    let mut store = Store::create(live.path(), &Unlock::KeyFile).expect("made");
    let mut left = fs::read(&head).expect("read");
    for number in 0..count {
        store.append(&[kit::event(number)]).expect("kept");
        if number + behind < count {
            left = fs::read(&head).expect("read");
        }
    }
    kit::copy(live.path(), place);
    fs::write(place.join("head"), left).expect("written");
}

/// Changes the bytes of one file of a store.
fn change(place: &Path, name: &str, change: impl FnOnce(&mut Vec<u8>)) {
    let path = place.join(name);
    let mut bytes = fs::read(&path).expect("read");
    change(&mut bytes);
    fs::write(&path, bytes).expect("written");
}

/// Opens a store that holds the first `count` events all the same, tells `notices` and nothing else, and nothing at all
/// the next time.
fn tells_once(place: &Path, count: u64, notices: &[Notice], why: &str) {
    let opened = kit::open(place).1;
    assert_eq!(opened.notices, notices, "{why}");
    assert_eq!(opened.events, kit::events(0..count), "{why}");
    assert_eq!(kit::open(place).1.notices, [], "{why}: told twice");
}

#[test]
fn a_head_that_is_one_batch_behind_is_a_write_that_was_cut_off_and_more_is_a_head_to_mend() {
    for (behind, notices) in [
        (0, Vec::new()),
        (1, vec![Notice::Unfinished { kept: 1 }]),
        (2, vec![mended(Part::Head, 0)]),
    ] {
        let place = tempdir().expect("a place");
        crashed(place.path(), 4, behind);
        tells_once(place.path(), 4, &notices, &format!("{behind} behind"));
    }
}

/// The database lacks nothing that was acknowledged, so there is nothing else to tell of it.
#[test]
fn a_batch_that_reached_the_journal_alone_is_completed_and_told_as_cut_off() {
    let place = tempdir().expect("a place");
    let [early, later] = ["early", "later"].map(|name| place.path().join(name));
    kit::filled(&early, 3);
    kit::copy(&early, &later);
    kit::open(&later).0.append(&[kit::event(3)]).expect("kept");
    fs::copy(later.join("journal"), early.join("journal")).expect("copied");
    tells_once(&early, 4, &[Notice::Unfinished { kept: 1 }], "the journal alone");
}

/// Half a frame behind the last is what a crash leaves of a batch that nobody was told is kept.
#[test]
fn a_torn_end_is_told_as_cut_off_and_as_a_journal_to_mend_only_where_it_was_acknowledged() {
    let place = tempdir().expect("a place");
    crashed(place.path(), 3, 0);
    change(place.path(), "journal", |journal| {
        let last = kit::frames(journal).pop().expect("a frame");
        journal.copy_within(last.start..last.end - 60, last.end);
    });
    let notices = [Notice::Unfinished { kept: 0 }];
    tells_once(place.path(), 3, &notices, "never acknowledged");

    let place = tempdir().expect("a place");
    crashed(place.path(), 3, 0);
    change(place.path(), "journal", |journal| {
        let last = kit::frames(journal).pop().expect("a frame");
        journal[last.end - 60..last.end].fill(0);
    });
    tells_once(place.path(), 3, &[mended(Part::Journal, 1)], "acknowledged");
}

#[test]
fn what_the_journal_lacks_is_told_beside_a_write_that_was_cut_off() {
    let place = tempdir().expect("a place");
    crashed(place.path(), 4, 1);
    change(place.path(), "journal", |journal| {
        let second = kit::frames(journal)[1].clone();
        journal[second.start + 100] ^= 1;
    });
    let notices = [Notice::Unfinished { kept: 1 }, mended(Part::Journal, 1)];
    tells_once(place.path(), 4, &notices, "both at once");
}

/// The database holds every record, but not in the files that were left.
#[test]
fn a_database_that_was_touched_is_told_even_where_it_lacks_no_record() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    fs::write(place.path().join("records/somebody's note"), "put here").expect("written");
    change(place.path(), "journal", |journal| {
        let last = kit::frames(journal).pop().expect("a frame");
        journal[last].fill(0);
    });
    let notices = [mended(Part::Journal, 1), mended(Part::Records, 0)];
    tells_once(place.path(), 3, &notices, "touched");
}

#[test]
fn a_head_with_one_bad_slot_or_an_older_one_twice_is_told_and_whole_at_the_next_opening() {
    for slot in [0, SLOT] {
        let place = tempdir().expect("a place");
        kit::filled(place.path(), 3);
        change(place.path(), "head", |head| head[slot + 50] ^= 1);
        tells_once(place.path(), 3, &[mended(Part::Head, 0)], "one bad slot");

        let place = tempdir().expect("a place");
        kit::filled(place.path(), 3);
        change(place.path(), "head", |head| {
            head.copy_within(slot..slot + SLOT, SLOT - slot);
        });
        tells_once(place.path(), 3, &[mended(Part::Head, 0)], "one slot twice");
    }
}

#[test]
fn a_head_with_something_behind_its_slots_is_told_and_cut() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    for more in [1, SLOT, 5_000] {
        change(place.path(), "head", |head| head.extend(vec![0; more]));
        tells_once(place.path(), 3, &[mended(Part::Head, 0)], &format!("{more} more"));
    }
}

/// The sum of the database's files was taken when it was closed; the journal's lies in the statement of good order.
#[test]
fn a_journal_that_is_gone_from_a_store_closed_in_good_order_is_told_and_mended() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    fs::remove_file(place.path().join("journal")).expect("removed");
    tells_once(place.path(), 3, &[mended(Part::Journal, 3)], "gone");
}

/// An earlier lock opens again where its files are put back: the head, which counts the locks, says so.
#[test]
fn key_files_of_an_earlier_lock_are_told() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    let earlier = fs::read(place.path().join("keys")).expect("read");
    kit::open(place.path())
        .0
        .change_lock(&Unlock::KeyFile)
        .expect("changed");
    assert_eq!(kit::open(place.path()).1.notices, []);
    for name in ["keys", "keys.copy"] {
        fs::write(place.path().join(name), &earlier).expect("written");
    }
    let opened = kit::open(place.path()).1;
    assert_eq!(opened.notices, [Notice::OlderKeys]);
    assert_eq!(opened.events, kit::events(0..3));
}
