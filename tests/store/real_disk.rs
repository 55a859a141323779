//! The machine's own disk does what the store asks of a disk, and says so where it cannot.

use std::fs;

use tempfile::tempdir;
use wayfold::store::Disk;
use wayfold::store::RealDisk;

use super::kit;

/// What lies there and is no file stands in for a file that cannot be read, which a superuser always can.
#[test]
fn what_is_there_and_cannot_be_read_or_removed_is_an_error_and_what_is_missing_is_none() {
    let place = tempdir().expect("a place");
    let mut disk = RealDisk::default();
    let missing = place.path().join("missing");
    assert_eq!(disk.read(&missing).expect("no error"), None);
    assert_eq!(disk.sum(&missing).expect("no error"), None);
    disk.remove(&missing).expect("no error");
    let no_file = place.path().join("no file");
    fs::create_dir(&no_file).expect("made");
    assert!(disk.read(&no_file).is_err());
    assert!(disk.sum(&no_file).is_err());
    assert!(disk.remove(&no_file).is_err());
    assert!(no_file.exists());
}

#[test]
fn what_is_written_lies_at_its_offset_and_leaves_the_rest() {
    let place = tempdir().expect("a place");
    let mut disk = RealDisk::default();
    let file = place.path().join("file");
    disk.write(&file, 0, b"a gate by the lane").expect("written");
    disk.write(&file, 2, b"door").expect("written");
    disk.sync(&file).expect("synced");
    // Another program that opens it later neither cuts it.
    RealDisk::default().write(&file, 10, b"his").expect("written");
    assert_eq!(
        disk.read(&file).expect("read").as_deref(),
        Some(b"a door by his lane".as_slice())
    );
    disk.remove(&file).expect("removed");
    disk.write(&file, 0, b"anew").expect("written");
    assert_eq!(fs::read(&file).expect("a file of this name"), b"anew");
}

#[test]
fn a_file_that_cannot_be_replaced_stays_and_nothing_is_left_beside_it() {
    let place = tempdir().expect("a place");
    let mut disk = RealDisk::default();
    let taken = place.path().join("taken");
    fs::create_dir(&taken).expect("made");
    fs::write(taken.join("inside"), "kept").expect("written");
    assert!(disk.replace(&taken, b"new").is_err());
    assert_eq!(kit::files(place.path()), [taken.join("inside")]);
    let file = place.path().join("file");
    disk.replace(&file, b"a long first text").expect("made");
    disk.replace(&file, b"second").expect("replaced");
    assert_eq!(fs::read(&file).expect("read"), b"second");
    assert_eq!(kit::files(place.path()), [file, taken.join("inside")]);
}
