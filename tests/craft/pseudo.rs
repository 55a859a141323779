//! The program in a language that is none: a whole sitting and every main command, with a person who writes in Greek
//! letters. A word in Latin letters is then one that no translation could reach, and a bracket without its other half
//! is a sentence that was cut.

use std::collections::BTreeSet;
use std::io::Write as _;
use std::process::Stdio;
use std::sync::LazyLock;

use serde_json::Value;

use crate::manual::commands;
use crate::program::Person;
use crate::program::demo_answers;

/// What a person types is the same in all languages: the program's name and its commands, as its help names them.
static TYPED: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
    let commands = commands(&Person::new());
    let names = commands.into_iter().flat_map(|(command, _)| command);
    names.chain(["wayfold".to_owned()]).collect()
});

/// English letters as Greek ones, so that nothing that the person says can be taken for the program's.
fn greek(text: &str) -> String {
    text.chars()
        .map(|sign| match sign.to_ascii_lowercase() {
            small @ 'a'..='x' => char::from_u32(0x3b1 + u32::from(small) - u32::from('a')).unwrap(),
            'y' => 'ψ',
            'z' => 'ω',
            _ => sign,
        })
        .collect()
}

/// The demo person's sitting. Answers of one word may be a choice, and stay; gives them too.
fn greek_answers() -> (String, Vec<String>) {
    let mut stay = Vec::new();
    let lines = demo_answers();
    let lines = lines.lines().map(|line| {
        if line.contains(' ') {
            greek(line)
        } else {
            stay.push(line.to_lowercase());
            line.to_owned()
        }
    });
    (lines.collect::<Vec<_>>().join("\n") + "\n", stay)
}

/// The demo person's eight weeks, told in Greek letters.
fn greek_weeks() -> String {
    let weeks = include_str!("../../demo-data/eight-weeks.jsonl");
    let mut told = String::new();
    for line in weeks.lines() {
        let mut event: Value = serde_json::from_str(line).unwrap();
        for part in ["words", "relief", "cost", "matters", "when", "act"] {
            if let Some(text) = event[part].as_str().map(greek) {
                event[part] = text.into();
            }
        }
        told += &format!("{event}\n");
    }
    told
}

/// Runs the program in the pseudo-language and gives all that it said.
fn says(person: &Person, arguments: &[&str], input: &str) -> String {
    let mut all = vec!["--no-passphrase"];
    all.extend(arguments);
    let mut child = person
        .command(&all)
        .env("WAYFOLD_PSEUDO", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // The program may end before it has read everything.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    let output = child.wait_with_output().unwrap();
    String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap()
}

/// Words in Latin letters that are neither typed nor names.
fn untranslated(said: &str, stay: &[String]) -> Vec<String> {
    // The help at a prompt tells what may follow some of its commands.
    let typed = [
        "/voice pause 3",
        "/hide keep, drop",
        "/lock 15, off",
        "/check on, off",
        "/people Olga 021 555 019",
    ];
    let names = ["New Zealand"];
    let said = typed
        .iter()
        .chain(&names)
        .fold(said.to_owned(), |said, part| said.replace(part, ""));
    said.split_whitespace()
        .map(|word| word.trim_matches(|sign: char| !sign.is_alphanumeric() && !"/-".contains(sign)))
        .filter(|word| word.chars().any(|sign| sign.is_ascii_alphabetic()))
        .filter(|word| {
            !word.starts_with(['/', '-']) && !word.contains(['.', '/']) && !word.starts_with("Ctrl-")
        })
        .filter(|word| word.chars().any(|sign| sign.is_ascii_lowercase()))
        .map(str::to_lowercase)
        // The arrow and the dot of drawings without box-drawing signs.
        .filter(|word| word != "v" && word != "o")
        .filter(|word| !TYPED.contains(word) && !stay.contains(word))
        .collect()
}

/// Whether each sentence that begins also ends, one inside the other.
fn is_whole(said: &str) -> bool {
    let mut depth = 0_i32;
    for sign in said.chars() {
        depth += i32::from(sign == '⟦') - i32::from(sign == '⟧');
        if depth < 0 {
            return false;
        }
    }
    depth == 0
}

fn holds(what: &str, said: &str, stay: &[String]) {
    assert!(
        said.contains('⟦'),
        "{what} said nothing from a words file:\n{said}"
    );
    let left = untranslated(said, stay);
    assert!(left.is_empty(), "{what} has {left:?}\n{said}");
    assert!(is_whole(said), "{what} cut a sentence:\n{said}");
}

#[test]
fn a_whole_sitting_says_nothing_that_cannot_be_translated() {
    let person = Person::new();
    let (answers, stay) = greek_answers();
    let said = says(&person, &["begin"], &answers);
    holds("the first sitting", &said, &stay);
    let map = person.map();
    assert!(
        map["entries"].as_array().unwrap().len() > 15,
        "the sitting was walked: {said}"
    );
    assert_eq!(map["loops"].as_array().unwrap().len(), 1, "to its end: {said}");
}

#[test]
fn the_main_commands_say_nothing_that_cannot_be_translated() {
    let person = Person::new();
    let weeks = person.folder().join("weeks.jsonl");
    std::fs::write(&weeks, greek_weeks()).unwrap();
    let weeks = weeks.to_str().unwrap().to_owned();
    holds(
        "store merge",
        &says(&person, &["store", "merge", &weeks], ""),
        &[],
    );
    let steps = person.folder().join("steps.ics").display().to_string();
    let commands: &[(&[&str], &str)] = &[
        (&[], "\n"),
        (&["loops"], ""),
        (&["loops", "--plain"], ""),
        (&["steps"], ""),
        (&["steps", "--calendar", &steps], ""),
        (&["lookback"], ""),
        (&["lookback", "--since", "2026-10-28"], ""),
        (&["lookback", "--plain"], ""),
        (&["map"], ""),
        (&["map", "--plain"], ""),
        (&["map", "--on", "2026-10-10"], ""),
        (&["map", "--since", "2026-10-10"], ""),
        (&["map", "--as", "text"], ""),
        (&["map", "--as", "markdown"], ""),
        (&["moment", "το λεωφορείο"], ""),
        (&["moment"], "1\n1\n1\n1\n"),
        (&["stuck"], "1\n4\n1\n1\n8\n2\n3\n1\n2\nένα βήμα\nμετά\n"),
        (&["review"], "/help\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n"),
        (&["practice"], "1\n1\n1\n\n\n\n\n\n\n"),
        (&["loops", "--trace"], "ένα\nδύο\nτρία\nτέσσερα\n\n\n\n\n"),
        (&["steps", "--add"], "ένα\nδύο\n4\nτρία\n8\n"),
        (&["store", "verify"], ""),
        (&["map", "--on", "soon"], ""),
        (&["map", "--since", "2026-10-10", "--as", "pdf"], ""),
    ];
    for (arguments, input) in commands {
        // The name of a file that was written, and what was given, are the person's.
        let said = says(&person, arguments, input).replace("soon", "");
        holds(&format!("{arguments:?}"), &said, &[]);
    }
}

#[test]
fn what_is_not_in_a_words_file_would_be_found() {
    assert_eq!(untranslated("⟦אב⟧ Kept. ⟦אב⟧ wayfold map --on", &[]), ["kept"]);
    assert!(is_whole("⟦א ⟦ב⟧ ג⟧ ⟦ד⟧"));
    assert!(!is_whole("⟦א ⟦ב⟧") && !is_whole("א⟧ ⟦ב"));
}

#[test]
fn every_command_stays_as_it_is_typed() {
    let commands = commands(&Person::new());
    assert!(commands.len() > 30, "only {} commands were found", commands.len());
    for (command, _) in commands {
        let typed = [&["wayfold".to_owned()], command.as_slice()].concat().join(" ");
        let line = wayfold::language::pseudo(&format!("To see it, type: {typed}"));
        assert!(line.ends_with(&format!(" {typed}⟧")), "{line}");
    }
}
