//! After the store and its events are dropped, as when the screen locks, the process holds none of what it read.
//!
//! The test binary starts itself again: the process that reads never made the sentences, it only opened a store with them.

#![cfg(target_os = "linux")]

use std::env;
use std::fs;
use std::fs::File;
use std::os::unix::fs::FileExt;
use std::path::Path;
use std::process::Command;

use tempfile::tempdir;
use wayfold::store;
use wayfold::store::Store;

use super::kit;

const PLACE: &str = "WAYFOLD_TEST_MEMORY_OF";
const NAME: &str = "store::memory::nothing_that_was_read_stays_in_memory";
/// What every planted sentence starts with, each byte changed, so that this text is not itself found.
const HIDDEN: [u8; 24] = veil(b"the heron at weir number");

const fn veil(plain: &[u8; 24]) -> [u8; 24] {
    let mut hidden = [0; 24];
    let mut at = 0;
    while at < 24 {
        hidden[at] = plain[at] ^ 0x55;
        at += 1;
    }
    hidden
}

/// How often a planted sentence lies in this process's memory.
fn found() -> usize {
    let memory = File::open("/proc/self/mem").expect("own memory");
    let maps = fs::read_to_string("/proc/self/maps").expect("own maps");
    let mut count = 0;
    for line in maps.lines().filter(|line| line.contains(" rw")) {
        let range = line.split(' ').next().expect("a range");
        let (from, to) = range.split_once('-').expect("two ends");
        let [from, to] = [from, to].map(|end| u64::from_str_radix(end, 16).expect("hex"));
        let mut part = vec![0; usize::try_from(to - from).expect("fits")];
        let Ok(read) = memory.read_at(&mut part, from) else {
            continue;
        };
        count += part[..read]
            .windows(24)
            .filter(|here| here.iter().zip(HIDDEN).all(|(a, b)| *a ^ 0x55 == b))
            .count();
        part.fill(0);
    }
    count
}

#[test]
fn nothing_that_was_read_stays_in_memory() {
    if let Some(place) = env::var_os(PLACE) {
        let guarded = store::guard_memory();
        assert!(guarded.no_core_file && guarded.not_readable, "{guarded:?}");
        let (kept, opened) = Store::open(Path::new(&place), &kit::passphrase("low water")).expect("opened");
        assert_eq!(opened.events.len(), 200);
        assert!(found() >= 200, "the search finds what is there");
        drop(opened);
        drop(kept);
        assert_eq!(found(), 0, "sentences stay in memory");
        return;
    }
    let place = tempdir().expect("a place");
    let start = String::from_utf8(HIDDEN.iter().map(|byte| byte ^ 0x55).collect()).expect("text");
    let events: Vec<_> = (0..200)
        .map(|number| kit::worded(number, &format!("{start} {number}\n \"quoted\"")))
        .collect();
    let site = store::Site::at(place.path()).cost(kit::CHEAP);
    let mut store = Store::create_at(site, &kit::passphrase("low water")).expect("made");
    store.append(&events).expect("kept");
    drop(store);
    let output = Command::new(env::current_exe().expect("a path"))
        .args(["--exact", NAME, "--nocapture"])
        .env(PLACE, place.path())
        .output()
        .expect("ran");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
}
