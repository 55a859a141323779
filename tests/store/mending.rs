//! What an opening mended stays mended, though the program crashes or the power goes right after it.

use std::fs;
use std::io;

use tempfile::TempDir;
use tempfile::tempdir;
use wayfold::map::Event;
use wayfold::store::Disk;
use wayfold::store::Notice;
use wayfold::store::Opened;
use wayfold::store::Part;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::Unlock;

use super::disks::MemoryDisk;
use super::kit;

/// A place with a disk in memory, and whether the count is kept beside the store too.
struct Machine {
    place: TempDir,
    disk: MemoryDisk,
    counts_elsewhere: bool,
}

impl Machine {
    /// With a store of three events that crashed; its snapshot of the day was taken before the last two. Gives the head and
    /// the count elsewhere, where there is one, as they were before the last event.
    fn crashed(counts_elsewhere: bool) -> (Self, [Option<Vec<u8>>; 2]) {
        let mut machine = Self {
            place: tempdir().expect("a place"),
            disk: MemoryDisk::default(),
            counts_elsewhere,
        };
        let mut store = Store::create_at(machine.site(), &Unlock::KeyFile).expect("made");
        store.append(&[kit::event(0)]).expect("kept");
        drop(store);
        let mut store = machine.open().0;
        store.append(&[kit::event(1)]).expect("kept");
        let before = ["head", "elsewhere"].map(|name| machine.read(name));
        store.append(&[kit::event(2)]).expect("kept");
        machine.crash(store);
        (machine, before)
    }

    fn site(&self) -> Site {
        let site = Site::at(self.place.path()).disk(self.disk.clone());
        if self.counts_elsewhere {
            site.anchor(&self.place.path().join("elsewhere"))
        } else {
            site
        }
    }

    fn open(&self) -> (Store, Opened) {
        Store::open_at(self.site(), &Unlock::KeyFile).expect("opened")
    }

    /// Opens the store, which holds these events and tells these notices.
    fn opens_with(&self, events: &[Event], notices: &[Notice], why: &str) -> Store {
        let (store, opened) = self.open();
        assert_eq!(opened.notices, notices, "{why}");
        assert_eq!(opened.events, events, "{why}");
        store
    }

    fn read(&mut self, name: &str) -> Option<Vec<u8>> {
        self.disk.read(&self.place.path().join(name)).expect("read")
    }

    fn put(&mut self, name: &str, bytes: &[u8]) {
        self.disk
            .replace(&self.place.path().join(name), bytes)
            .expect("written");
    }

    /// The program ends, and nothing that it still does reaches the disk.
    fn crash(&mut self, store: Store) {
        let left = self.disk.apart();
        drop(store);
        self.disk = left;
    }

    /// The same as the power goes: what was not synced is gone too.
    fn cut_power(&mut self, store: Store) {
        self.disk.cut_power();
        self.crash(store);
    }
}

const fn mended(part: Part, records: u64) -> Notice {
    Notice::Mended { part, records }
}

#[test]
fn a_head_that_was_behind_or_spoiled_is_whole_though_the_power_goes_after_the_opening() {
    for spoiled in [false, true] {
        let why = format!("spoiled: {spoiled}");
        let (mut machine, [before, _]) = Machine::crashed(false);
        let mut head = before.expect("a head");
        let told = if spoiled {
            head.fill(1);
            mended(Part::Head, 0)
        } else {
            Notice::Unfinished { kept: 1 }
        };
        machine.put("head", &head);
        let store = machine.opens_with(&kit::events(0..3), &[told], &why);
        machine.cut_power(store);
        machine.opens_with(&kit::events(0..3), &[], &why);
    }
}

#[test]
fn a_count_elsewhere_that_lagged_is_in_step_though_the_program_crashes_after_the_opening() {
    let (mut machine, [_, before]) = Machine::crashed(true);
    machine.put("elsewhere", &before.expect("a count"));
    for opening in ["first", "second"] {
        let store = machine.opens_with(&kit::events(0..3), &[], opening);
        machine.crash(store);
    }
}

/// Two lines of one store, as a backup of some of its files makes them: the head of one with the copies of the other.
#[test]
fn a_head_of_another_line_is_told_once_though_the_power_goes_after_the_opening() {
    let (mut machine, _) = Machine::crashed(false);
    let names = ["head", "journal", "rest"];
    let aside = tempdir().expect("a place");
    let records = machine.place.path().join("records");
    drop(machine.open());
    let before = names.map(|name| machine.read(name).expect("there"));
    kit::copy(&records, aside.path());
    let mut store = machine.open().0;
    store.append(&[kit::event(3)]).expect("kept");
    let other = machine.read("head").expect("a head");
    drop(store);

    for (name, bytes) in names.iter().zip(before) {
        machine.put(name, &bytes);
    }
    fs::remove_dir_all(&records).expect("removed");
    kit::copy(aside.path(), &records);
    let mut store = machine.open().0;
    store.append(&[kit::event(4)]).expect("kept");
    machine.crash(store);
    machine.put("head", &other);

    let kept = [0, 1, 2, 4].map(kit::event);
    let store = machine.opens_with(&kept, &[Notice::OutOfChain { record: 3 }], "first");
    machine.cut_power(store);
    machine.opens_with(&kept, &[], "second");
}

/// The journal's checksum stands in the statement of good order, whatever disk it lies on.
#[test]
fn a_journal_that_was_altered_after_a_close_in_good_order_is_told_and_mended() {
    let (mut machine, _) = Machine::crashed(false);
    drop(machine.open());
    let mut journal = machine.read("journal").expect("a journal");
    journal[200] ^= 1;
    machine.put("journal", &journal);
    machine.opens_with(&kit::events(0..3), &[mended(Part::Journal, 1)], "altered");
}

/// The key files are in place before the head that counts them is written.
#[test]
fn a_lock_that_was_changed_while_the_head_could_not_be_written_holds_and_what_follows_is_kept() {
    let (mut machine, _) = Machine::crashed(false);
    let mut store = machine.open().0;
    // Two key files, then the head.
    let head = machine.disk.operations() + 2;
    machine.disk.fail_at(head, io::ErrorKind::Other, false);
    assert_eq!(store.change_lock(&Unlock::KeyFile), Ok(()));
    assert_eq!(store.noticed(), []);
    store.append(&[kit::event(3)]).expect("kept");
    assert_eq!(
        store.noticed(),
        [mended(Part::Head, 0)],
        "the head was looked at before anything was built on it"
    );
    machine.crash(store);
    machine.opens_with(&kit::events(0..4), &[], "after it");
}
