//! The program is killed at random moments while it keeps events. The test binary starts itself again as the one to be
//! killed, and tells the two apart by the environment.

use std::collections::BTreeSet;
use std::env;
use std::io::BufRead;
use std::io::BufReader;
use std::io::Write;
use std::path::Path;
use std::process::Command;
use std::process::Stdio;
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use tempfile::tempdir;
use wayfold::store::Notice;
use wayfold::store::Store;
use wayfold::store::Unlock;

use super::kit;
use super::kit::Dice;

const PLACE: &str = "WAYFOLD_TEST_KILLED_AT";
const NAME: &str = "store::killed::a_kill_at_any_moment_loses_nothing_that_was_acknowledged";

/// The numbers of a batch: one to three events.
fn batch(number: u64) -> std::ops::Range<u64> {
    number * 3..number * 3 + 1 + number % 3
}

/// Keeps batches until killed, and says on standard output which are acknowledged.
fn keep_on(place: &Path) {
    let (mut store, opened) = match Store::create(place, &Unlock::KeyFile) {
        Ok(store) => (store, wayfold::store::Opened::default()),
        Err(_) => kit::open(place),
    };
    let first = opened.events.last().map_or(0, |event| kit::number(event) / 3 + 1);
    let mut out = std::io::stdout();
    for number in first.. {
        // Opening and closing are moments like any other.
        if number % 40 == 39 {
            drop(store);
            store = kit::open(place).0;
        }
        store.append(&kit::events(batch(number))).expect("kept");
        writeln!(out, "kept {number}")
            .and_then(|()| out.flush())
            .expect("said");
    }
}

#[test]
fn a_kill_at_any_moment_loses_nothing_that_was_acknowledged() {
    if let Some(place) = env::var_os(PLACE) {
        return keep_on(Path::new(&place));
    }
    let mut dice = Dice(11);
    let mut acknowledged: Vec<u64> = Vec::new();
    let mut place = tempdir().expect("a place");
    let kills = kit::trials(20, 1_000);
    let mut total = 0;
    for kill in 0..kills {
        if kill % 10 == 0 {
            place = tempdir().expect("a place");
            acknowledged.clear();
        }
        let mut child = Command::new(env::current_exe().expect("a path"))
            .args(["--exact", NAME, "--nocapture"])
            .env(PLACE, place.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("started");
        let out = child.stdout.take().expect("a pipe");
        let (begun, has_begun) = mpsc::channel();
        let reader = thread::spawn(move || {
            let lines = BufReader::new(out).lines().map_while(Result::ok);
            lines
                .filter_map(|line| line.strip_prefix("kept ")?.parse().ok())
                .inspect(|_| {
                    let _ = begun.send(());
                })
                .collect::<Vec<u64>>()
        });
        // Every other kill may fall into the opening; the rest wait until something was kept, however slow the machine.
        if kill % 2 == 1 {
            let _ = has_begun.recv_timeout(Duration::from_mins(1));
        }
        thread::sleep(Duration::from_micros(dice.roll(250_000)));
        child.kill().expect("killed");
        child.wait().expect("ended");
        let kept = reader.join().expect("read");
        total += kept.len();
        acknowledged.extend(kept);
        if !Store::exists(place.path()) {
            assert!(acknowledged.is_empty(), "kill {kill}: the store is gone");
            continue;
        }
        let (_store, opened) = kit::open(place.path());
        let harmless = |notice: &Notice| matches!(notice, Notice::Unfinished { .. } | Notice::Mended { .. });
        assert!(
            opened.notices.iter().all(harmless),
            "kill {kill}: {:?}",
            opened.notices
        );
        for &number in &acknowledged {
            for event in kit::events(batch(number)) {
                assert!(
                    opened.events.contains(&event),
                    "kill {kill}: batch {number} is not whole"
                );
            }
        }
        let batches: BTreeSet<u64> = opened.events.iter().map(|event| kit::number(event) / 3).collect();
        let whole: usize = batches.into_iter().map(|number| batch(number).count()).sum();
        assert_eq!(
            whole,
            opened.events.len(),
            "kill {kill}: a part of a batch is there"
        );
    }
    assert!(
        total > 20,
        "only {total} batches were acknowledged before the kills"
    );
}
