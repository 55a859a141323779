//! What is kept is there again; locks fit only their keys; nobody else gets in.

use std::fs;

use tempfile::tempdir;
use wayfold::store::Locked;
use wayfold::store::Notice;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::StoreError;
use wayfold::store::Unlock;

use super::kit;

#[test]
fn what_is_kept_is_there_again_in_order_and_without_a_word() {
    let place = tempdir().expect("a place");
    let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..3)).expect("kept");
    store.append(&kit::events(3..4)).expect("kept");
    drop(store);
    for round in 0..20_u64 {
        let (mut store, opened) = kit::open(place.path());
        assert_eq!(opened.events, kit::events(0..4 + round), "round {round}");
        assert_eq!(opened.notices, [], "round {round}");
        store.append(&kit::events(4 + round..5 + round)).expect("kept");
    }
}

/// Enough events for every processor to read a share of them. Without its file `rest` the store is read from both copies.
#[test]
fn the_fair_copy_and_the_journal_tell_the_same() {
    let place = tempdir().expect("a place");
    let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..2_200)).expect("kept");
    store
        .remove(&[kit::event(7).id, kit::event(2_199).id])
        .expect("removed");
    drop(store);
    let (store, fair) = kit::open(place.path());
    drop(store);
    fs::remove_file(place.path().join("rest")).expect("removed");
    let (mut store, read) = kit::open(place.path());
    assert_eq!(fair.events, read.events);
    assert_eq!(fair.notices, []);
    assert!(
        read.notices
            .iter()
            .any(|notice| matches!(notice, Notice::Mended { .. }))
    );
    // What was removed is known in either case.
    assert_eq!(store.merge(kit::events(5..9)).expect("merged"), []);
    drop(store);
    let (mut store, _) = kit::open(place.path());
    assert_eq!(store.merge(kit::events(5..9)).expect("merged"), []);
}

#[test]
fn an_event_that_is_kept_already_is_not_kept_twice() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    let (mut store, _) = kit::open(place.path());
    store
        .append(&[kit::event(2), kit::event(3), kit::event(3)])
        .expect("kept");
    drop(store);
    assert_eq!(kit::open(place.path()).1.events, kit::events(0..4));
}

#[test]
fn a_passphrase_opens_only_its_own_store() {
    let place = tempdir().expect("a place");
    let mut store = Store::create_at(
        Site::at(place.path()).cost(kit::CHEAP),
        &kit::passphrase("tin whistle"),
    )
    .expect("made");
    store.append(&kit::events(0..2)).expect("kept");
    drop(store);
    assert_eq!(Store::how_locked(place.path()), Ok(Locked::Passphrase));
    let refused = |unlock: &Unlock| {
        Store::open(place.path(), unlock)
            .map(|_| ())
            .expect_err("must not open")
    };
    assert_eq!(
        refused(&kit::passphrase("tin whistl")),
        StoreError::WrongPassphrase
    );
    assert_eq!(refused(&kit::passphrase("")), StoreError::WrongPassphrase);
    assert_eq!(refused(&Unlock::KeyFile), StoreError::OtherLock);
    let (_store, opened) = Store::open(place.path(), &kit::passphrase("tin whistle")).expect("opened");
    assert_eq!(opened.events, kit::events(0..2));
}

#[test]
fn two_programs_do_not_write_one_store() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 1);
    let (store, _) = kit::open(place.path());
    assert_eq!(
        Store::open(place.path(), &Unlock::KeyFile).map(|_| ()),
        Err(StoreError::InUse)
    );
    drop(store);
    assert_eq!(kit::open(place.path()).1.events, kit::events(0..1));
}

#[test]
fn a_store_is_made_once_and_a_missing_one_is_not_opened() {
    let place = tempdir().expect("a place");
    let inside = place.path().join("new/deep");
    assert!(!Store::exists(&inside));
    assert_eq!(Store::how_locked(&inside), Err(StoreError::Missing));
    assert_eq!(
        Store::open(&inside, &Unlock::KeyFile).map(|_| ()),
        Err(StoreError::Missing)
    );
    drop(Store::create(&inside, &Unlock::KeyFile).expect("made"));
    assert!(Store::exists(&inside));
    assert_eq!(Store::how_locked(&inside), Ok(Locked::KeyFile));
    assert_eq!(
        Store::create(&inside, &Unlock::KeyFile).map(|_| ()),
        Err(StoreError::Exists)
    );
}

#[test]
fn odd_names_are_names_like_any_other() {
    let place = tempdir().expect("a place");
    for name in [
        "with blank",
        "ünï 家",
        "-dash",
        "quote'\"$HOME;`",
        "new\nline",
        "...",
    ] {
        let inside = place.path().join(name);
        kit::filled(&inside, 2);
        assert_eq!(kit::open(&inside).1.events, kit::events(0..2), "{name:?}");
    }
}
