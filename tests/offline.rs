//! The program beside the rest of the machine: it opens no socket, and it bears other programs, odd places, full and
//! read-only disks, and a clock that was set back.

use std::fs;
use std::io::Read;
use std::io::Write;
use std::path::Path;
use std::process::Command;
use std::process::Stdio;

use wayfold::map::EventId;

use crate::program::Person;
use crate::program::demo_answers;
use crate::program::is_root;

/// A command run under strace, which notes every call that has to do with a network, local sockets too.
fn traced(command: &Command, notes: &Path) -> Command {
    let mut traced = Command::new("strace");
    traced
        .args(["-f", "-qq", "-e", "trace=network", "-o"])
        .arg(notes)
        .arg(command.get_program())
        .args(command.get_args());
    traced.env_clear();
    for (name, value) in command.get_envs() {
        if let Some(value) = value {
            traced.env(name, value);
        }
    }
    traced.env("PATH", "/usr/bin:/bin");
    traced
}

/// The calls in strace's notes; signals and ends of processes are no calls.
fn calls(notes: &Path) -> Vec<String> {
    let text = fs::read_to_string(notes).unwrap();
    text.lines()
        .filter(|line| !line.contains("+++") && !line.contains("---"))
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_whole_sitting_opens_no_socket() {
    let person = Person::new();
    let notes = person.folder().join("notes");
    let answers = person.folder().join("answers");
    fs::write(&answers, demo_answers()).unwrap();
    for arguments in [
        ["begin", "--no-passphrase"],
        ["map", "--no-passphrase"],
        ["crisis", "--json"],
    ] {
        let mut command = traced(&person.command(&arguments), &notes);
        let output = command
            .stdin(fs::File::open(&answers).unwrap())
            .output()
            .expect("strace is needed");
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        assert_eq!(calls(&notes), Vec::<String>::new(), "{arguments:?}");
    }
    assert!(person.field("matters").len() >= 2, "the sitting was a whole one");
}

#[test]
fn a_socket_would_be_seen() {
    let person = Person::new();
    let notes = person.folder().join("notes");
    let mut python = Command::new("python3");
    python.args(["-c", "import socket; socket.socket()"]);
    let output = traced(&python, &notes).output().expect("strace is needed");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    assert!(calls(&notes).iter().any(|call| call.contains("socket(")));
}

#[test]
fn a_second_program_is_told_that_the_map_is_open() {
    let person = Person::new();
    let mut first = person
        .command(&["begin", "--no-passphrase"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut said = [0; 1];
    // The first words come before the store is made, the question about the country after.
    let mut all = Vec::new();
    while !String::from_utf8_lossy(&all).contains("New Zealand") {
        first.stdout.as_mut().unwrap().read_exact(&mut said).unwrap();
        all.push(said[0]);
    }
    for arguments in [
        &["map", "--as", "json"][..],
        &["store", "verify"],
        &["store", "erase", "--yes"],
    ] {
        let second = person.run(arguments, "");
        assert_eq!(second.status.code(), Some(1), "{arguments:?}");
        let words = String::from_utf8_lossy(&second.stderr).into_owned();
        assert!(words.contains("Another wayfold has this map open"), "{words}");
    }
    drop(first.stdin.take());
    assert!(first.wait().unwrap().success());
    person.says(&["store", "verify"], "");
}

#[test]
fn places_with_odd_names_hold_a_map() {
    let person = Person::new();
    for name in [
        "two words",
        "apostrophe's",
        "\u{1f33f}\u{301} \u{5e9}",
        "-dash",
        "new\nline",
        "%s{value}",
        "a'b\"c\\d",
    ] {
        let place = person.folder().join("odd").join(name);
        let mut command = person.command(&["--no-passphrase", "begin"]);
        let output = command
            .env("WAYFOLD_STORE", &place)
            .stdin(Stdio::null())
            .output()
            .unwrap();
        assert!(
            output.status.success(),
            "{name:?}: {}",
            String::from_utf8_lossy(&output.stderr)
        );
        let verified = person
            .command(&["store", "verify"])
            .env("WAYFOLD_STORE", &place)
            .output()
            .unwrap();
        assert!(
            verified.status.success(),
            "{name:?}: {}",
            String::from_utf8_lossy(&verified.stderr)
        );
        let named = person
            .command(&["store", "where"])
            .env("WAYFOLD_STORE", &place)
            .output()
            .unwrap();
        let shown = String::from_utf8(named.stdout).unwrap();
        assert!(
            !shown.contains('\u{1b}') && shown.lines().count() == 2,
            "{shown:?}"
        );
        assert!(place.join("journal").exists(), "{name:?}");
    }
}

/// A small disk of its own, which only root can make; it goes with the value.
struct SmallDisk<'a>(&'a Path);

impl<'a> SmallDisk<'a> {
    fn new(place: &'a Path) -> Option<Self> {
        if !is_root() {
            return None;
        }
        fs::create_dir_all(place).unwrap();
        mount(&["-t", "tmpfs", "-o", "size=1m", "tmpfs", place.to_str().unwrap()]);
        Some(Self(place))
    }
}

impl Drop for SmallDisk<'_> {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(self.0).status();
    }
}

fn mount(arguments: &[&str]) {
    assert!(
        Command::new("mount").args(arguments).status().unwrap().success(),
        "{arguments:?}"
    );
}

#[test]
fn a_full_disk_is_said_and_loses_nothing() {
    let person = Person::new();
    let place = person.store();
    let Some(disk) = SmallDisk::new(&place) else {
        return;
    };
    let begun = person.run(&["begin", "--no-passphrase"], "NZ\n");
    let words = String::from_utf8_lossy(&begun.stderr).into_owned();
    assert!(begun.status.success(), "{words}");
    let before = identities(&person);
    assert!(!before.is_empty());
    // What is left of the disk is taken by something else.
    let mut room = fs::File::create(disk.0.join("other")).unwrap();
    while room.write(&[0; 4096]).is_ok_and(|written| written > 0) {}
    drop(room);
    let answers: String = demo_answers()
        .lines()
        .skip(1)
        .flat_map(|line| [line, "\n"])
        .collect();
    let output = person.run(&["begin", "--no-passphrase"], &answers.repeat(3));
    let all = [output.stdout, output.stderr].concat();
    let said = String::from_utf8_lossy(&all)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(said.contains("The disk is full"), "{said}");
    assert!(!said.contains("broke"), "{said}");
    fs::remove_file(disk.0.join("other")).unwrap();
    assert!(identities(&person).starts_with(&before));
    person.says(&["store", "verify"], "");
}

#[test]
fn a_place_that_can_only_be_read_is_said_and_still_shows_the_map() {
    let person = Person::new();
    let place = person.store();
    let Some(_disk) = SmallDisk::new(&place) else {
        return;
    };
    person.says(&["begin"], "NZ\n");
    mount(&["-o", "remount,ro", place.to_str().unwrap()]);
    let map = person.run(&["map", "--as", "json", "--no-passphrase"], "");
    assert!(map.status.success(), "{}", String::from_utf8_lossy(&map.stderr));
    let nowhere = person.folder().join("map").join("below");
    let output = person
        .command(&["begin", "--no-passphrase", "--store", nowhere.to_str().unwrap()])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    let words = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(words.contains("cannot be written to"), "{words}");
}

/// The identities of all events, in the order in which they were kept.
fn identities(person: &Person) -> Vec<EventId> {
    let file = person.folder().join("all.jsonl");
    person.says(&["store", "export", file.to_str().unwrap(), "--yes"], "");
    let text = fs::read_to_string(&file).unwrap();
    let ids = text
        .lines()
        .skip(1)
        .map(|line| serde_json::from_str::<serde_json::Value>(line).unwrap()["id"].clone());
    ids.map(|id| serde_json::from_value(id).unwrap()).collect()
}

#[test]
fn after_the_clock_was_set_back_new_events_still_come_last() {
    let person = Person::new();
    // Made when the clock stood at 2090-01-01 (3 786 912 000 s after 1970), as a version 7 UUID tells it.
    let ahead = "0371b58b-6800-7000-8000-000000000001";
    let line = format!(
        "{{\"id\":\"{ahead}\",\"at\":\"2090-01-01T00:00:00Z\",\"what\":\"setting-chosen\",\"name\":\"region\",\"value\":\"IE\"}}"
    );
    let file = person.folder().join("ahead.jsonl");
    fs::write(
        &file,
        format!("{{\"backup\":\"wayfold\",\"version\":1}}\n{line}\n"),
    )
    .unwrap();
    person.says(&["store", "merge", file.to_str().unwrap()], "");
    person.says(&["begin"], "/region NZ\n");
    let ids = identities(&person);
    assert!(ids.len() >= 2, "{ids:?}");
    assert_eq!(ids[0].0.to_string(), ahead);
    assert!(ids.is_sorted(), "{ids:?}");
}
