//! Backups open with the standard tools and with us; hostile ones are refused in bounded time; merging is a union.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::process::Command;

use proptest::prelude::*;
use tempfile::tempdir;
use wayfold::map::Event;
use wayfold::store;
use wayfold::store::BackupKey;
use wayfold::store::BackupLock;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::StoreError;
use wayfold::store::Unlock;
use zeroize::Zeroizing;

use super::kit;

fn lock(text: &str) -> BackupLock {
    BackupLock::Passphrase(Zeroizing::new(text.to_owned()))
}

fn key(text: &str) -> BackupKey {
    BackupKey::Passphrase(Zeroizing::new(text.to_owned()))
}

fn backup(events: &[Event]) -> Vec<u8> {
    store::back_up_with(events, &lock("oar"), 2).expect("backed up")
}

fn lines(events: &[Event]) -> Vec<u8> {
    let mut plain = Vec::new();
    store::export(events, &mut plain).expect("exported");
    plain
}

/// An identity and its recipient, made by pyrage.
fn identity() -> (String, String) {
    let text = String::from_utf8(kit::python("store_identity.py", &[])).expect("text");
    let mut lines = text.lines().map(str::to_owned);
    (
        lines.next().expect("an identity"),
        lines.next().expect("a recipient"),
    )
}

#[test]
fn pyrage_opens_a_backup_with_a_passphrase() {
    let place = tempdir().expect("a place");
    let path = place.path().join("b.age");
    let events = kit::events(0..5);
    fs::write(
        &path,
        store::back_up(&events, &lock("oar and rowlock")).expect("backed up"),
    )
    .expect("written");
    let arguments = [path.to_str().expect("a name"), "passphrase", "oar and rowlock"];
    assert_eq!(kit::python("store_backup.py", &arguments), lines(&events));
}

#[test]
fn pyrage_and_the_age_tool_open_a_backup_for_a_recipient() {
    let place = tempdir().expect("a place");
    let path = place.path().join("b.age");
    let events = kit::events(0..5);
    let (identity, recipient) = identity();
    let sealed = store::back_up(&events, &BackupLock::Recipients(vec![recipient])).expect("backed up");
    fs::write(&path, &sealed).expect("written");
    let arguments = [path.to_str().expect("a name"), "identity", identity.as_str()];
    assert_eq!(kit::python("store_backup.py", &arguments), lines(&events));
    let keys = place.path().join("key.txt");
    fs::write(&keys, format!("# a comment\n{identity}\n")).expect("written");
    // Where the machine lacks the tool, pyrage above is the outside reader.
    if let Ok(output) = Command::new("age")
        .arg("-d")
        .arg("-i")
        .arg(&keys)
        .arg(&path)
        .output()
    {
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        assert_eq!(output.stdout, lines(&events));
    }
    let whole_file = BackupKey::Identity(Zeroizing::new(fs::read_to_string(&keys).expect("read")));
    assert_eq!(
        kit::let_in(store::read_backup(sealed.as_slice(), &whole_file).expect("read")),
        events
    );
}

#[test]
fn another_program_reads_the_journal_from_its_description_alone() {
    let place = tempdir().expect("a place");
    let site = Site::at(place.path()).cost(kit::CHEAP);
    let mut store = Store::create_at(site, &kit::passphrase("the low gate")).expect("made");
    store.append(&kit::events(0..4)).expect("kept");
    store.append(&kit::events(4..5)).expect("kept");
    let printed = kit::python(
        "store_journal.py",
        &[place.path().to_str().expect("a name"), "the low gate"],
    );
    let with_heading = lines(&kit::events(0..5));
    let start = with_heading
        .iter()
        .position(|&byte| byte == b'\n')
        .expect("a line")
        + 1;
    assert_eq!(
        String::from_utf8_lossy(&printed),
        String::from_utf8_lossy(&with_heading[start..])
    );
}

#[test]
fn a_backup_becomes_a_store_again() {
    let place = tempdir().expect("a place");
    let inside = place.path().join("new");
    let sealed = backup(&kit::events(0..7));
    let restore = |sealed: &[u8], word: &str| {
        let events = kit::let_in(store::read_backup(sealed, &key(word))?);
        Store::restore(Site::at(&inside), &Unlock::KeyFile, &events).map(drop)
    };
    assert_eq!(restore(&sealed, "ore"), Err(StoreError::WrongPassphrase));
    assert!(!Store::exists(&inside), "a refused backup makes no store");
    assert_eq!(restore(&sealed, "oar"), Ok(()));
    assert_eq!(restore(&sealed, "oar"), Err(StoreError::Exists));
    assert_eq!(kit::open(&inside).1.events, kit::events(0..7));
}

#[test]
fn hostile_backups_are_refused() {
    let sealed = backup(&kit::events(0..40));
    let read = |bytes: &[u8]| store::read_backup(bytes, &key("oar")).map(|events| events.len());
    assert_eq!(read(&sealed), Ok(40));
    for at in (0..sealed.len()).step_by(7) {
        assert!(read(&sealed[..at]).is_err(), "cut to {at}");
        let mut altered = sealed.clone();
        altered[at] ^= 4;
        assert!(read(&altered).is_err(), "flip at {at}");
    }
    let text = b"age-encryption.org/v1\n-> scrypt ";
    assert!(sealed.starts_with(text));
    let salt_end = text.len()
        + sealed[text.len()..]
            .iter()
            .position(|&byte| byte == b' ')
            .expect("a blank");
    let mut bomb = sealed[..=salt_end].to_vec();
    bomb.extend_from_slice(b"40");
    bomb.extend_from_slice(&sealed[salt_end + 2..]);
    assert_eq!(read(&bomb), Err(StoreError::BackupTooCostly));
    let foreign = |plain: &[u8]| {
        let recipient = identity();
        let parsed: age::x25519::Recipient = recipient.1.parse().expect("a recipient");
        let encryptor =
            age::Encryptor::with_recipients(std::iter::once(&parsed as &dyn age::Recipient)).expect("made");
        let mut bytes = Vec::new();
        let mut writer = encryptor.wrap_output(&mut bytes).expect("begun");
        writer
            .write_all(plain)
            .and_then(|()| writer.finish().map(drop))
            .expect("written");
        store::read_backup(
            bytes.as_slice(),
            &BackupKey::Identity(Zeroizing::new(recipient.0)),
        )
        .map(|events| events.len())
    };
    assert_eq!(foreign(b"a shopping list\n"), Err(StoreError::BadBackup));
    assert_eq!(
        foreign(b"{\"backup\":\"wayfold\",\"version\":2}\n"),
        Err(StoreError::NewerFormat)
    );
    assert_eq!(
        foreign(b"{\"backup\":\"wayfold\",\"version\":1}\n{\"id\":1}\n"),
        Err(StoreError::BadBackup)
    );
    let mut endless = b"{\"backup\":\"wayfold\",\"version\":1}\n".to_vec();
    endless.resize(20 << 20, b'[');
    assert_eq!(foreign(&endless), Err(StoreError::BadBackup));
    assert_eq!(read(b""), Err(StoreError::BadBackup));
    assert_eq!(
        store::back_up(&[], &BackupLock::Recipients(vec!["age1nonsense".to_owned()])),
        Err(StoreError::BadAgeKey)
    );
    assert_eq!(
        store::back_up(&[], &BackupLock::Recipients(Vec::new())),
        Err(StoreError::BadAgeKey)
    );
}

#[test]
fn a_page_for_someone_else_is_sealed_as_it_is() {
    let identity = age::x25519::Identity::generate();
    let recipient = identity.to_public().to_string();
    let page = b"for Ondine: the gate, the garden, Thursdays".as_slice();
    let sealed = store::seal_file(page, &BackupLock::Recipients(vec![recipient])).expect("sealed");
    let secret = age::secrecy::ExposeSecret::expose_secret(&identity.to_string()).to_owned();
    let key = BackupKey::Identity(Zeroizing::new(secret));
    let opened = store::parsers::age_contents(&sealed, &key).expect("opened");
    assert_eq!(opened.as_slice(), page);
}

#[test]
fn a_backup_and_plain_lines_are_told_apart_by_how_they_begin() {
    let (sealed, plain) = (backup(&kit::events(0..1)), lines(&kit::events(0..1)));
    assert!(store::is_sealed(&sealed) && !store::is_lines(&sealed));
    assert!(store::is_lines(&plain) && !store::is_sealed(&plain));
    assert!(!store::is_sealed(b"a shopping list") && !store::is_lines(b"a shopping list"));
}

#[test]
fn lines_of_a_version_that_never_was_are_no_newer_ones() {
    let read = |version: u32| {
        let line = format!("{{\"backup\":\"wayfold\",\"version\":{version}}}\n\n");
        store::read_lines(line.as_bytes()).map(|events| events.len())
    };
    assert_eq!(read(0), Err(StoreError::BadBackup));
    assert_eq!(read(1), Ok(0), "an empty line is no event");
    assert_eq!(read(2), Err(StoreError::NewerFormat));
    let other = b"{\"backup\":\"someone\",\"version\":2}\n".as_slice();
    assert_eq!(
        store::read_lines(other).map(|events| events.len()),
        Err(StoreError::BadBackup)
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn merging_in_any_order_and_twice_gives_the_same(
        parts in proptest::collection::vec(proptest::collection::btree_set(0_u64..30, 0..12), 1..4),
        order in proptest::collection::vec(0_usize..4, 0..6),
    ) {
        let backups: Vec<_> = parts
            .iter()
            .map(|part| backup(&part.iter().map(|&number| kit::event(number)).collect::<Vec<_>>()))
            .collect();
        let merged = |order: &mut dyn Iterator<Item = usize>| {
            let place = tempdir().expect("a place");
            let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
            for index in order {
                let sealed = backups[index % backups.len()].as_slice();
                let events = kit::let_in(store::read_backup(sealed, &key("oar")).expect("read"));
                store.merge(events).expect("merged");
            }
            drop(store);
            let events = kit::open(place.path()).1.events;
            let count = events.len();
            let by_id: BTreeMap<_, _> = events.into_iter().map(|event| (event.id, event)).collect();
            assert_eq!(by_id.len(), count, "an event is kept twice");
            by_id
        };
        let forward = merged(&mut (0..backups.len()));
        let other = merged(&mut order.into_iter().chain((0..backups.len()).rev()));
        prop_assert_eq!(forward.len(), parts.iter().flatten().collect::<std::collections::BTreeSet<_>>().len());
        prop_assert!(forward == other);
    }
}

#[test]
fn restoring_onto_a_map_that_is_there_leaves_it_as_it_is() {
    let place = tempdir().expect("a place");
    let mut store = Store::create(place.path(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..3)).expect("kept");
    drop(store);
    let refused = Store::restore(Site::at(place.path()), &Unlock::KeyFile, &kit::events(5..9));
    assert_eq!(refused.map(drop), Err(StoreError::Exists));
    assert_eq!(kit::open(place.path()).1.events, kit::events(0..3));
}
