//! `wayfold try`: lines in, an answer for each out, whatever the lines are.

use std::io::Write;
use std::process::Stdio;

use serde_json::Value;

use crate::program::Person;

/// What the program says to some bytes, a line each.
fn tried(arguments: &[&str], input: &[u8]) -> Vec<String> {
    let person = Person::new();
    let mut child = person
        .command(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{arguments:?}");
    assert!(!person.store().exists(), "nothing is kept");
    String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .map(str::to_owned)
        .collect()
}

const LINES: &[u8] =
    b"I want to kill myself\r\n\xff\xfe the ferry was late\n\nmy brother took an overdose just now";

#[test]
fn each_line_is_screened_and_answered() {
    let rows: Vec<Value> = tried(&["try", "safety", "--json"], LINES)
        .iter()
        .map(|row| serde_json::from_str(row).unwrap())
        .collect();
    let levels: Vec<_> = rows.iter().map(|row| row["level"].as_str().unwrap()).collect();
    assert_eq!(levels, ["stop", "none", "none", "emergency"]);
    let abouts: Vec<_> = rows.iter().map(|row| row["about"].as_str().unwrap()).collect();
    assert_eq!(abouts, ["self", "-", "-", "other"]);
    assert!(rows.iter().zip(1..).all(|(row, number)| row["line"] == number));
    assert_eq!(rows[0]["topics"], serde_json::json!(["suicide"]));
    assert_eq!(rows[1]["findings"], serde_json::json!([]));
    assert_eq!(tried(&["try", "safety"], LINES), levels);
}

#[test]
fn each_line_is_tried_as_an_entry_of_its_field() {
    let lines = b"I feel sad\nran for the bus\n";
    for (field, question) in [
        ("toward", true),
        ("away", true),
        ("inner", false),
        ("matters", true),
    ] {
        let rows: Vec<Value> = tried(&["try", "entry", "--field", field, "--json"], lines)
            .iter()
            .map(|row| serde_json::from_str(row).unwrap())
            .collect();
        assert_eq!(rows.len(), 2);
        assert_eq!(rows[0]["verdict"] == "question", question, "{field}: {rows:?}");
        let brief = tried(&["try", "entry", "--field", field], lines);
        assert_eq!(brief[0].starts_with("question "), question, "{field}: {brief:?}");
    }
}
