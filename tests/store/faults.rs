//! Any one file of a store is flipped, cut, zeroed, deleted or swapped with an older version: it is noticed, nothing is
//! lost, and nothing panics.

use std::fs;
use std::path::Path;
use std::path::PathBuf;

use tempfile::TempDir;
use tempfile::tempdir;
use wayfold::store::Notice;
use wayfold::store::Store;
use wayfold::store::StoreError;
use wayfold::store::Unlock;

use super::kit;
use super::kit::Dice;

/// A store with events of several days, as it was earlier and as it is now, closed; and as a crash would leave it now.
struct States {
    _place: TempDir,
    older: PathBuf,
    closed: PathBuf,
    crashed: PathBuf,
    count: u64,
}

fn states() -> States {
    let place = tempdir().expect("a place");
    let [live, older, closed, crashed] =
        ["live", "older", "closed", "crashed"].map(|name| place.path().join(name));
    let count = 40;
    let days = |number: u64| kit::worded_on(number, number / 8, "carry the blue kayak down to the water");
    let mut store = Store::create(&live, &Unlock::KeyFile).expect("made");
    for number in 0..count {
        store.append(&[days(number)]).expect("kept");
        if number % 8 == 7 {
            if number == 23 {
                drop(store);
                kit::copy(&live, &older);
            } else if number == count - 1 {
                kit::copy(&live, &crashed);
                drop(store);
            } else {
                drop(store);
            }
            store = kit::open(&live).0;
        }
    }
    // A new lock of the same kind, so that older key files differ too.
    store.change_lock(&Unlock::KeyFile).expect("changed");
    drop(store);
    kit::copy(&live, &closed);
    States {
        _place: place,
        older,
        closed,
        crashed,
        count,
    }
}

/// Does one thing to one file, and says what; nothing where it would change nothing.
fn harm(state: &Path, older: &Path, dice: &mut Dice) -> Option<String> {
    let files: Vec<_> = kit::files(state)
        .into_iter()
        .filter(|file| !file.ends_with("lock"))
        .collect();
    let file = &files[usize::try_from(dice.roll(files.len() as u64)).expect("small")];
    let name = file.strip_prefix(state).expect("below");
    let before = fs::read(file).expect("read");
    let length = before.len() as u64;
    let at = usize::try_from(dice.roll(length)).expect("small");
    let mut after = before.clone();
    let what = match dice.roll(5) {
        0 if length > 0 => {
            after[at] ^= 1 << dice.roll(8);
            "flip"
        }
        1 => {
            after.truncate(at);
            "cut"
        }
        2 => {
            let page = at / 4096 * 4096;
            let end = (page + 4096).min(after.len());
            after[page..end].fill(0);
            "zero"
        }
        3 => {
            fs::remove_file(file).expect("removed");
            return Some(format!("delete {}", name.display()));
        }
        _ => {
            after = fs::read(older.join(name)).ok()?;
            "swap"
        }
    };
    if after == before {
        return None;
    }
    fs::write(file, after).expect("written");
    Some(format!("{what} {} at {at} of {length}", name.display()))
}

fn campaign(state: &Path, states: &States, seed: u64, trials: u64, closed: bool) {
    let mut dice = Dice(seed);
    let mut done = 0;
    while done < trials {
        let place = tempdir().expect("a place");
        kit::copy(state, place.path());
        let Some(harm) = harm(place.path(), &states.older, &mut dice) else {
            continue;
        };
        done += 1;
        let (mut store, opened) = Store::open(place.path(), &Unlock::KeyFile)
            .unwrap_or_else(|error| panic!("trial {done}, {harm}: refused with {error:?}"));
        assert_eq!(
            opened.events.len() as u64,
            states.count,
            "trial {done}, {harm}: {:?}",
            opened.notices
        );
        let gone = |notice: &Notice| matches!(notice, Notice::Lost { .. } | Notice::RolledBack { .. });
        assert!(
            !opened.notices.iter().any(gone),
            "trial {done}, {harm}: {:?}",
            opened.notices
        );
        let checked = store.verify().expect("checked");
        if closed {
            assert!(
                !opened.notices.is_empty() || !checked.notices.is_empty(),
                "trial {done}, {harm}: not noticed"
            );
        }
        store.append(&[kit::event(9_999)]).expect("kept");
        drop(store);
        let (_store, again) = kit::open(place.path());
        assert_eq!(
            again.events.len() as u64,
            states.count + 1,
            "trial {done}, {harm}"
        );
        assert_eq!(again.notices, [], "trial {done}, {harm}: mended, yet not well");
    }
}

#[test]
fn any_fault_in_any_one_file_is_noticed_and_loses_nothing() {
    let states = states();
    campaign(&states.closed, &states, 7, kit::trials(60, 1_000), true);
}

#[test]
fn a_fault_on_top_of_a_crash_loses_nothing() {
    let states = states();
    campaign(&states.crashed, &states, 8, kit::trials(30, 1_000), false);
}

#[test]
fn what_both_copies_lost_is_taken_from_a_snapshot_or_told_with_dates() {
    let states = states();
    let place = tempdir().expect("a place");
    kit::copy(&states.closed, place.path());
    fs::remove_dir_all(place.path().join("records")).expect("removed");
    fs::copy(states.older.join("journal"), place.path().join("journal")).expect("swapped");
    let both = tempdir().expect("a place");
    kit::copy(place.path(), both.path());
    for slot in 0..7 {
        let _ = fs::remove_file(both.path().join(format!("snapshot-{slot}")));
    }

    let (_store, opened) = kit::open(place.path());
    assert_eq!(opened.events.len() as u64, states.count, "{:?}", opened.notices);
    assert!(
        opened.notices.contains(&Notice::FromSnapshot { records: 16 }),
        "{:?}",
        opened.notices
    );

    let (store, opened) = kit::open(both.path());
    assert_eq!(opened.events.len(), 24);
    let newest = opened.events.last().map(|event| event.at);
    assert!(
        opened
            .notices
            .contains(&Notice::RolledBack { records: 16, newest }),
        "{:?}",
        opened.notices
    );
    drop(store);
    let (mut store, again) = kit::open(both.path());
    assert_eq!(again.notices, [], "a loss is told once");
    store.append(&[kit::event(9_999)]).expect("kept");
    drop(store);
    assert_eq!(kit::open(both.path()).1.notices, []);
}

#[test]
fn a_hole_in_both_copies_is_told_with_the_dates_around_it() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 9);
    for slot in 0..7 {
        let _ = fs::remove_file(place.path().join(format!("snapshot-{slot}")));
    }
    fs::remove_dir_all(place.path().join("records")).expect("removed");
    let path = place.path().join("journal");
    let mut bytes = fs::read(&path).expect("read");
    // Nine frames of equal length follow the heading of 30 bytes; the fifth is hit.
    let body = u32::from_be_bytes(bytes[38..42].try_into().expect("four bytes"));
    let frame = usize::try_from(body).expect("small") + 16;
    bytes[30 + 4 * frame + 100] ^= 1;
    fs::write(&path, bytes).expect("written");
    let (_store, opened) = kit::open(place.path());
    let (after, before) = (Some(kit::event(3).at), Some(kit::event(5).at));
    assert!(
        opened.notices.contains(&Notice::Lost {
            records: 1,
            after,
            before
        }),
        "{:?}",
        opened.notices
    );
    let left: Vec<_> = kit::events(0..9)
        .into_iter()
        .filter(|event| *event != kit::event(4))
        .collect();
    assert_eq!(opened.events, left);
}

#[test]
fn going_back_to_an_older_whole_directory_is_told_by_the_anchor() {
    let states = states();
    let anchor = tempdir().expect("a place");
    let site = |place: &Path| wayfold::store::Site::at(place).anchor(&anchor.path().join("count"));
    drop(Store::open_at(site(&states.closed), &Unlock::KeyFile).expect("opened"));
    let (_store, opened) = Store::open_at(site(&states.older), &Unlock::KeyFile).expect("opened");
    assert_eq!(opened.events.len(), 24);
    let newest = opened.events.last().map(|event| event.at);
    assert!(
        opened
            .notices
            .contains(&Notice::RolledBack { records: 16, newest }),
        "{:?}",
        opened.notices
    );
}

#[test]
fn a_newer_format_is_refused_and_left_as_it_is() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 2);
    for name in ["keys", "keys.copy"] {
        let path = place.path().join(name);
        let mut bytes = fs::read(&path).expect("read");
        bytes[9] = 2;
        let end = bytes.len() - 4;
        let sum = crc32fast::hash(&bytes[..end]).to_be_bytes();
        bytes[end..].copy_from_slice(&sum);
        fs::write(&path, bytes).expect("written");
    }
    let contents = || {
        kit::files(place.path())
            .into_iter()
            .map(|file| (fs::read(&file).expect("read"), file))
            .collect::<Vec<_>>()
    };
    let before = contents();
    assert_eq!(
        Store::open(place.path(), &Unlock::KeyFile).map(|_| ()),
        Err(StoreError::NewerFormat)
    );
    assert_eq!(Store::how_locked(place.path()), Err(StoreError::NewerFormat));
    assert!(before == contents(), "the store was touched");
}

#[test]
fn an_anchor_that_comes_later_lags_or_is_damaged_is_brought_into_step() {
    let place = tempdir().expect("a place");
    let inside = place.path().join("store");
    let anchor = place.path().join("count");
    kit::filled(&inside, 3);
    let open = || {
        let site = wayfold::store::Site::at(&inside).anchor(&anchor);
        Store::open_at(site, &Unlock::KeyFile).expect("opened")
    };
    for _ in 0..3 {
        assert_eq!(open().1.notices, []);
    }
    for number in 3..6 {
        kit::open(&inside).0.append(&[kit::event(number)]).expect("kept");
    }
    for _ in 0..3 {
        assert_eq!(open().1.notices, []);
    }
    fs::write(&anchor, "no count at all").expect("written");
    assert_eq!(
        open().1.notices,
        [Notice::Mended {
            part: wayfold::store::Part::Anchor,
            records: 0
        }]
    );
    assert_eq!(open().1.notices, []);
}
