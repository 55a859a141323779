//! On a real disk the name of a new file is made durable too: its directory is synced. A power cut cannot be had in a test,
//! so strace notes what the disk asks of the kernel.

#![cfg(target_os = "linux")]

use std::env;
use std::fs;
use std::path::Path;
use std::process::Command;

use tempfile::tempdir;
use wayfold::store::Disk;
use wayfold::store::RealDisk;

const PLACE: &str = "WAYFOLD_TEST_DURABLE_AT";
const NAME: &str = "store::durable::the_directory_of_a_new_file_is_synced";

/// Writes a new file into one directory, puts a whole one into another, and writes into one that is there in a third.
fn write(place: &Path) {
    let mut disk = RealDisk::default();
    disk.write(&place.join("written/file"), 0, b"a gate by the lane")
        .expect("written");
    disk.replace(&place.join("replaced/file"), b"a gate by the lane")
        .expect("replaced");
    disk.write(&place.join("known/file"), 2, b"door")
        .expect("written");
    disk.sync(&place.join("known/file")).expect("synced");
}

#[test]
fn the_directory_of_a_new_file_is_synced() {
    if let Some(place) = env::var_os(PLACE) {
        return write(Path::new(&place));
    }
    let place = tempdir().expect("a place");
    for name in ["written", "replaced", "known"] {
        fs::create_dir(place.path().join(name)).expect("made");
    }
    fs::write(place.path().join("known/file"), "a gate by the lane").expect("written");
    let notes = place.path().join("notes");
    let output = Command::new("strace")
        .args(["-f", "-qq", "-y", "-e", "trace=fsync,fdatasync", "-o"])
        .arg(&notes)
        .arg(env::current_exe().expect("a path"))
        .args(["--exact", NAME, "--nocapture"])
        .env(PLACE, place.path())
        .output()
        .expect("strace is needed");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let notes = fs::read_to_string(&notes).expect("notes");
    // With -y each number of an open file is followed by its name in angle brackets.
    let synced = ["written", "replaced", "known"].map(|name| {
        let directory = format!("<{}>", place.path().join(name).display());
        notes.lines().filter(|call| call.contains(&directory)).count()
    });
    assert_eq!(synced, [1, 1, 0], "{notes}");
}
