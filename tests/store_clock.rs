//! The machine's clock is set back by years between two parts of a sitting, and forward again: the real program under
//! libfaketime, which answers for the system's clock.

use std::io::Write;
use std::process::Command;
use std::process::Stdio;

use crate::program::Person;
use crate::program::demo_answers;
use crate::sitting::told;

/// Runs the program at a made-up time and gives what it said.
fn says_at(time: &str, person: &Person, arguments: &[&str], input: &str) -> String {
    let program = person.command(&[&["--no-passphrase"], arguments].concat());
    let mut command = Command::new("faketime");
    command.env_clear().env("FAKETIME_DONT_FAKE_MONOTONIC", "1");
    for (name, value) in program.get_envs() {
        command.env(name, value.unwrap_or_default());
    }
    let mut child = command
        .args(["-f", time])
        .arg(program.get_program())
        .args(program.get_args())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("faketime is needed: run ./scripts/test");
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(
        output.status.success(),
        "at {time}: {said}\n{}",
        String::from_utf8_lossy(&output.stderr)
    );
    said
}

#[test]
fn a_clock_that_is_set_back_between_two_parts_of_a_sitting_changes_nothing() {
    let whole = Person::new();
    whole.says(&["begin"], &demo_answers());
    let person = Person::new();
    let answers = demo_answers();
    let lines: Vec<_> = answers.lines().collect();
    let parts: Vec<_> = lines.chunks(lines.len().div_ceil(4)).collect();
    let times = [
        "2027-03-01 10:00:00",
        "2019-06-01 10:00:00",
        "1999-12-31 23:59:58",
        "2027-03-01 09:00:00",
    ];
    assert_eq!(parts.len(), times.len());
    for (part, time) in parts.iter().zip(times) {
        let said = says_at(time, &person, &["begin"], &(part.join("\n") + "\n"));
        assert!(!said.contains("mended") && !said.contains("older"), "{said}");
    }
    assert_eq!(told(&person.map()), told(&whole.map()));
    // The clock did reach the program: the identities' times never go back, but what was recorded says the clock's own year.
    let out = person.folder().join("out.jsonl");
    person.says(&["store", "export", "--yes", out.to_str().unwrap()], "");
    let lines = std::fs::read_to_string(out).unwrap();
    let events: Vec<serde_json::Value> = lines
        .lines()
        .skip(1)
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    let years: Vec<&str> = events
        .iter()
        .map(|event| &event["at"].as_str().unwrap()[..4])
        .collect();
    for year in ["2027", "2019"] {
        assert!(years.contains(&year), "{years:?}");
    }
    let ids: Vec<_> = events.iter().map(|event| event["id"].as_str().unwrap()).collect();
    assert!(ids.is_sorted(), "{ids:?}");
    // Everything later is said at the right time again.
    let map = person.says(&["map", "--as", "text"], "");
    assert!(map.contains("my brother Jonas"), "{map}");
    let checked = person.says(&["store", "verify"], "");
    assert!(!checked.contains("missing"), "{checked}");
}
