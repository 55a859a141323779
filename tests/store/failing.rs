//! The disk fails at every operation in turn, fills up, or loses power: what was acknowledged is there afterwards.

use std::io;
use std::path::Path;
use std::process::Command;

use tempfile::tempdir;
use wayfold::map::Event;
use wayfold::store::Disk;
use wayfold::store::Notice;
use wayfold::store::Part;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::StoreError;
use wayfold::store::Unlock;

use super::disks::MemoryDisk;
use super::kit;

/// A sitting: makes or opens the store, appends batches of one to three, opens it again, appends more. Returns what was
/// acknowledged and the first error.
fn sitting(place: &Path, disk: &MemoryDisk) -> (Vec<Event>, Option<StoreError>) {
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

fn holds_all(place: &Path, disk: &MemoryDisk, kept: &[Event], why: &str) {
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
    for room in (0..240_000).step_by(6_000) {
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
    assert_eq!(store.append(&kit::events(2..400)), Err(StoreError::DiskFull));
    assert_eq!(store.append(&kit::events(2..400)), Err(StoreError::DiskFull));
    disk.heal();
    store.append(&kit::events(2..401)).expect("kept");
    drop(store);
    let (_store, opened) = Store::open_at(site(), &Unlock::KeyFile).expect("opened");
    let mut events = opened.events;
    events.sort_by_key(|event| event.id);
    events.dedup();
    assert_eq!(events, kit::events(0..401));
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

#[test]
fn what_is_left_of_a_store_on_any_disk_is_not_taken_for_none() {
    let place = tempdir().expect("a place");
    let mut disk = MemoryDisk::default();
    let site = || Site::at(place.path()).disk(disk.clone());
    let mut store = Store::create_at(site(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..2)).expect("kept");
    drop(store);
    let again = Site::at(place.path()).disk(disk.clone());
    for name in ["keys", "keys.copy"] {
        disk.remove(&place.path().join(name)).expect("removed");
    }
    let opened = Store::open_at(again, &Unlock::KeyFile);
    assert_eq!(opened.map(drop), Err(StoreError::Damaged));
}

#[test]
fn a_store_that_cannot_be_mended_removes_nothing_until_it_can() {
    let place = tempdir().expect("a place");
    let disk = MemoryDisk::default();
    let site = || Site::at(place.path()).disk(disk.clone());
    let mut store = Store::create_at(site(), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..3)).expect("kept");
    disk.room(0);
    assert_eq!(store.append(&kit::events(3..400)), Err(StoreError::DiskFull));
    let removed = [kit::event(1).id];
    assert_eq!(store.remove(&removed), Err(StoreError::DiskFull));
    disk.heal();
    assert_eq!(store.remove(&removed), Ok(()));
    drop(store);
    let (_store, opened) = Store::open_at(site(), &Unlock::KeyFile).expect("opened");
    let first_three = opened.events.iter().map(kit::number).filter(|number| *number < 3);
    assert_eq!(first_three.collect::<Vec<_>>(), [0, 2]);
}

/// A disk that lets everything be read and nothing written.
struct OnlyToRead(MemoryDisk);

impl Disk for OnlyToRead {
    fn read(&mut self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        self.0.read(path)
    }
    fn write(&mut self, _: &Path, _: u64, _: &[u8]) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }
    fn sync(&mut self, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }
    fn replace(&mut self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }
    fn remove(&mut self, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }
}

#[test]
fn a_store_that_can_only_be_read_opens_and_says_so() {
    let place = tempdir().expect("a place");
    let disk = MemoryDisk::default();
    let mut store =
        Store::create_at(Site::at(place.path()).disk(disk.clone()), &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..3)).expect("kept");
    drop(store);
    let site = Site::at(place.path()).disk(OnlyToRead(disk));
    let (mut store, opened) = Store::open_at(site, &Unlock::KeyFile).expect("opened");
    assert_eq!(opened.events, kit::events(0..3));
    assert_eq!(
        opened.notices,
        [Notice::NotMended {
            reason: StoreError::ReadOnly
        }]
    );
    assert_eq!(store.append(&kit::events(3..4)), Err(StoreError::ReadOnly));
}

/// With real permissions. They bind the superuser as little as anyone who owns the disk, so a superuser runs this as another
/// account.
#[cfg(unix)]
#[test]
fn a_directory_without_permission_to_write_opens_and_says_so() {
    use std::os::unix::fs::PermissionsExt;
    use std::os::unix::process::CommandExt;

    const PLACE: &str = "WAYFOLD_TEST_READ_ONLY_AT";
    const NAME: &str = "store::failing::a_directory_without_permission_to_write_opens_and_says_so";
    if let Some(place) = std::env::var_os(PLACE) {
        let place = Path::new(&place);
        let (mut store, opened) = Store::open(place, &Unlock::KeyFile).expect("opened");
        assert_eq!(opened.events, kit::events(0..3));
        assert_eq!(
            opened.notices,
            [Notice::NotMended {
                reason: StoreError::ReadOnly
            }]
        );
        assert_eq!(store.append(&kit::events(3..4)), Err(StoreError::ReadOnly));
        let inside = place.join("new");
        assert_eq!(
            Store::create(&inside, &Unlock::KeyFile).map(drop),
            Err(StoreError::ReadOnly)
        );
        return;
    }
    let place = tempdir().expect("a place");
    let inside = place.path().join("store");
    kit::filled(&inside, 3);
    let program = place.path().join("tests");
    std::fs::copy(std::env::current_exe().expect("a path"), &program).expect("copied");
    let allow = |path: &Path, mode: u32| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).expect("changed");
    };
    for file in kit::files(&inside) {
        allow(&file, 0o444);
    }
    allow(&program, 0o555);
    allow(place.path(), 0o755);
    allow(&inside.join("records"), 0o555);
    allow(&inside, 0o555);
    let mut command = Command::new(&program);
    command
        .args(["--exact", NAME, "--nocapture"])
        .env(PLACE, &inside)
        .current_dir("/");
    if rustix::process::geteuid().is_root() {
        command.uid(65_534).gid(65_534);
    }
    let output = command.output().expect("ran");
    allow(&inside.join("records"), 0o755);
    allow(&inside, 0o755);
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
}

/// After an error the copies are compared before the next batch, and what they had lost meanwhile is said, not only mended.
#[test]
fn what_is_noticed_while_the_store_is_open_is_told() {
    let place = tempdir().expect("a place");
    let mut disk = MemoryDisk::default();
    let site = Site::at(place.path()).disk(disk.clone());
    let mut store = Store::create_at(site, &Unlock::KeyFile).expect("made");
    store.append(&kit::events(0..3)).expect("kept");
    disk.room(0);
    assert_eq!(store.append(&kit::events(3..400)), Err(StoreError::DiskFull));
    disk.heal();
    assert_eq!(store.noticed(), []);
    let journal = place.path().join("journal");
    let mut bytes = disk.read(&journal).expect("read").expect("there");
    bytes[200] ^= 1;
    disk.replace(&journal, &bytes).expect("written");
    store.append(&kit::events(3..4)).expect("kept");
    let told = store.noticed();
    assert!(
        told.iter().any(|notice| matches!(
            notice,
            Notice::Mended {
                part: Part::Journal,
                records: 1..
            }
        )),
        "{told:?}"
    );
    assert_eq!(store.noticed(), [], "told once");
}
