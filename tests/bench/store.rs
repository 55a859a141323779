//! Measures the store beside what it is built on: appending against sled alone with flush and against SQLite with full
//! sync, and opening 100,000 records beside SQLite reading as many. Prints one figure a line: name, value, unit.
//!
//! sled's flush does not wait for the device on Linux, while an append of ours and a commit of SQLite do; so sled is measured
//! with a sync of its file, too. How long the device takes differs much from one disk and hour to the next.
//!
//! All in one run and in one directory, in turns, so that a busy disk is busy for all of them alike.

#![allow(clippy::print_stdout, reason = "the figures are its output")]

use std::env;
use std::fs;
use std::path::Path;
use std::time::Duration;
use std::time::Instant;

use jiff::Timestamp;
use uuid::Uuid;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::What;
use wayfold::safety;
use wayfold::store::Store;
use wayfold::store::Unlock;

#[path = "../python.rs"]
mod python;

const APPENDS: usize = 400;
const RECORDS: u64 = 100_000;

fn event(number: u64) -> Event {
    let id = 0x0190_0000_0000_7000_8000_0000_0000_0000_u128 + (u128::from(number) << 80);
    Event {
        id: EventId(Uuid::from_u128(id)),
        at: Timestamp::UNIX_EPOCH,
        what: What::EntryAdded {
            entry: EntryId(Uuid::from_u128(id + 1)),
            field: Field::Toward,
            kind: None,
            words: safety::screen("walk to the boat house with Ondine before work").into_words(),
        },
    }
}

fn main() {
    let place = env::temp_dir().join(format!("wayfold-bench-store-{}", std::process::id()));
    fs::create_dir_all(&place).expect("a place");
    appending(&place);
    starting(&place);
    opening(&place);
    fs::remove_dir_all(&place).expect("removed");
}

fn appending(place: &Path) {
    let mut store = Store::create(&place.join("ours"), &Unlock::KeyFile).expect("made");
    let alone = sled::Config::new()
        .path(place.join("alone"))
        .flush_every_ms(None)
        .open()
        .expect("opened");
    // A third, with what sled's flush leaves out on Linux: waiting for the device. On its own, since a sync changes what the
    // next flush costs.
    let other = sled::Config::new()
        .path(place.join("synced"))
        .flush_every_ms(None);
    let other = other.open().expect("opened");
    let file = fs::File::open(place.join("synced/db")).expect("sled's file");
    let (mut ours, mut sleds, mut durable) = (Vec::new(), Vec::new(), Vec::new());
    for number in 0..APPENDS as u64 {
        let event = event(number);
        let start = Instant::now();
        store.append(std::slice::from_ref(&event)).expect("kept");
        ours.push(start.elapsed());
        let plain = serde_json::to_vec(&event).expect("written");
        let start = Instant::now();
        alone.insert(number.to_be_bytes(), plain.clone()).expect("kept");
        alone.flush().expect("durable");
        sleds.push(start.elapsed());
        let start = Instant::now();
        other.insert(number.to_be_bytes(), plain).expect("kept");
        other.flush().expect("flushed");
        file.sync_data().expect("on the device");
        durable.push(start.elapsed());
    }
    let sqlite = sqlite(&[
        "append",
        place.join("a.sqlite").to_str().expect("a name"),
        &APPENDS.to_string(),
    ]);
    say("append, ours, median", at(&mut ours, 50), "ms");
    say("append, ours, 99th in 100", at(&mut ours, 99), "ms");
    say("append, sled alone with flush, median", at(&mut sleds, 50), "ms");
    say(
        "append, sled alone with flush, 99th in 100",
        at(&mut sleds, 99),
        "ms",
    );
    say(
        "append, sled with flush and sync of its file, median",
        at(&mut durable, 50),
        "ms",
    );
    say("append, SQLite with full sync, median", sqlite[0], "ms");
    say("append, SQLite with full sync, 99th in 100", sqlite[1], "ms");
    say(
        "append, ours to sled alone, medians",
        at(&mut ours, 50) / at(&mut sleds, 50),
        "times",
    );
    say(
        "append, ours to sled with sync, medians",
        at(&mut ours, 50) / at(&mut durable, 50),
        "times",
    );
    say(
        "append, ours to SQLite, medians",
        at(&mut ours, 50) / sqlite[0],
        "times",
    );
}

/// A small store, as most are, opened without a passphrase.
fn starting(place: &Path) {
    let (mut opens, mut closes) = (Vec::new(), Vec::new());
    for _ in 0..30 {
        let start = Instant::now();
        let (store, _) = Store::open(&place.join("ours"), &Unlock::KeyFile).expect("opened");
        opens.push(start.elapsed());
        let start = Instant::now();
        drop(store);
        closes.push(start.elapsed());
    }
    let mut sleds = Vec::new();
    for _ in 0..30 {
        let start = Instant::now();
        let alone = sled::Config::new()
            .path(place.join("alone"))
            .flush_every_ms(None)
            .open();
        sleds.push(start.elapsed());
        drop(alone);
        std::thread::sleep(Duration::from_millis(20));
    }
    say("opening 400 records, ours, median", at(&mut opens, 50), "ms");
    say("closing after it, ours, median", at(&mut closes, 50), "ms");
    say(
        "opening 400 records, sled alone, median",
        at(&mut sleds, 50),
        "ms",
    );
}

fn opening(place: &Path) {
    let inside = place.join("many");
    let mut store = Store::create(&inside, &Unlock::KeyFile).expect("made");
    let events: Vec<_> = (0..RECORDS).map(event).collect();
    for some in events.chunks(1_000) {
        store.append(some).expect("kept");
    }
    drop(store);
    let mut opens = Vec::new();
    let mut removals = Vec::new();
    for round in 0..3 {
        let start = Instant::now();
        let (mut store, opened) = Store::open(&inside, &Unlock::KeyFile).expect("opened");
        opens.push(start.elapsed());
        assert_eq!(
            (opened.events.len() as u64, opened.notices.len()),
            (RECORDS - round, 0)
        );
        let start = Instant::now();
        store.remove(&[event(round * 7).id]).expect("removed");
        removals.push(start.elapsed());
        drop(store);
    }
    let sqlite = sqlite(&[
        "read",
        place.join("b.sqlite").to_str().expect("a name"),
        &RECORDS.to_string(),
    ]);
    say("opening 100,000 records, ours, median", at(&mut opens, 50), "ms");
    say(
        "removing one of 100,000 records for good, ours, median",
        at(&mut removals, 50),
        "ms",
    );
    say(
        "opening 100,000 records, SQLite from Python, plain",
        sqlite[0],
        "ms",
    );
}

/// The figures that the Python script for SQLite prints.
fn sqlite(arguments: &[&str]) -> Vec<f64> {
    python::text("bench/store_sqlite.py", arguments, &[])
        .split_whitespace()
        .map(|figure| figure.parse().expect("a figure"))
        .collect()
}

/// The duration below which this many in a hundred lie, in milliseconds.
fn at(times: &mut [Duration], percent: usize) -> f64 {
    times.sort_unstable();
    times[(times.len() * percent / 100).min(times.len() - 1)].as_secs_f64() * 1_000.0
}

fn say(name: &str, value: f64, unit: &str) {
    println!("{name}: {value:.3} {unit}");
}
