//! Around the database: something else lies where it was, and what it would write on the person's screen.

use std::env;
use std::fs;
use std::process::Command;

use tempfile::tempdir;
use wayfold::store::Notice;
use wayfold::store::Part;

use super::kit;

const PANICS: &str = "WAYFOLD_TEST_PANICS";
const NAME: &str = "store::database::a_panic_of_the_program_itself_is_still_said";
const SAID: &str = "the lantern went out";

#[test]
fn a_file_where_the_database_was_makes_way_for_it() {
    let place = tempdir().expect("a place");
    kit::filled(place.path(), 3);
    let records = place.path().join("records");
    fs::remove_dir_all(&records).expect("removed");
    fs::write(&records, "something else").expect("written");
    let (mut store, opened) = kit::open(place.path());
    assert_eq!(opened.events, kit::events(0..3));
    assert_eq!(
        opened.notices,
        [Notice::Mended {
            part: Part::Records,
            records: 3
        }]
    );
    store.append(&[kit::event(3)]).expect("kept");
    drop(store);
    let again = kit::open(place.path()).1;
    assert_eq!((again.events, again.notices), (kit::events(0..4), Vec::new()));
}

/// A store keeps the database's panics from the screen, and no others. The test binary starts itself again as the program
/// that panics.
#[test]
fn a_panic_of_the_program_itself_is_still_said() {
    if env::var_os(PANICS).is_some() {
        let place = tempdir().expect("a place");
        kit::filled(place.path(), 1);
        panic!("{SAID}");
    }
    let output = Command::new(env::current_exe().expect("a path"))
        .args(["--exact", NAME, "--nocapture"])
        .env(PANICS, "1")
        .output()
        .expect("ran");
    assert!(!output.status.success());
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains(SAID), "{said}");
}
