//! `wayfold store` as a person uses it: backups that the standard tools open, maps that come together, passphrases
//! that change, and the end of a map.

use std::fs;
use std::path::PathBuf;
use std::process::Command;
use std::process::Output;

use crate::program::Person;
use crate::program::demo_answers;
use crate::store::kit;

fn demo() -> Person {
    let person = Person::new();
    person.says(&["begin"], &demo_answers());
    person
}

fn file(person: &Person, name: &str) -> String {
    person.folder().join(name).to_str().unwrap().to_owned()
}

fn written(person: &Person, name: &str, text: &str) -> String {
    fs::write(person.folder().join(name), text).unwrap();
    file(person, name)
}

/// Lines as an export writes them, with one entry for each of these words.
fn lines(words: &[&str]) -> String {
    let mut all = "{\"backup\":\"wayfold\",\"version\":1}\n".to_owned();
    for (number, words) in words.iter().enumerate() {
        let id = format!("01980000-0000-7000-8000-0000000000{number:02x}");
        let entry = format!("01980000-0000-7000-8000-0000000001{number:02x}");
        let event = serde_json::json!({
            "id": id, "at": "2026-03-14T09:30:00Z", "what": "entry-added", "entry": entry, "field": "inner", "words": words,
        });
        all.push_str(&event.to_string());
        all.push('\n');
    }
    all
}

/// What was said, each run of blanks as one, so that wrapping does not matter.
fn said(output: &Output) -> String {
    let all = [output.stdout.clone(), output.stderr.clone()].concat();
    String::from_utf8(all)
        .unwrap()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

fn export(person: &Person) -> Vec<u8> {
    let all = file(person, "all.jsonl");
    person.says(&["store", "export", &all, "--yes"], "");
    fs::read(all).unwrap()
}

#[test]
fn the_age_program_opens_a_backup_for_a_recipient() {
    let person = demo();
    let (keys, backup) = (file(&person, "keys"), file(&person, "b.age"));
    let made = Command::new("age-keygen")
        .args(["-o", &keys])
        .output()
        .expect("age is needed");
    assert!(made.status.success(), "{made:?}");
    let recipient = Command::new("age-keygen").args(["-y", &keys]).output().unwrap();
    let recipient = String::from_utf8(recipient.stdout).unwrap();
    person.says(&["store", "backup", &backup, "--recipient", recipient.trim()], "");
    let opened = Command::new("age")
        .args(["-d", "-i", &keys, &backup])
        .output()
        .unwrap();
    assert!(opened.status.success(), "{opened:?}");
    assert_eq!(opened.stdout, export(&person));
    let other = Person::new();
    other.says(&["store", "restore", &backup, "--identity", &keys], "");
    assert_eq!(other.map()["entries"], person.map()["entries"]);
}

#[test]
fn a_backup_with_a_passphrase_opens_with_pyrage_and_comes_back() {
    let person = demo();
    let word = written(&person, "word", "oar and rowlock\n");
    let backup = file(&person, "b.age");
    person.says(
        &["store", "backup", &backup, "--backup-passphrase-file", &word],
        "",
    );
    let opened = kit::python("store_backup.py", &[&backup, "passphrase", "oar and rowlock"]);
    assert!(opened == export(&person));

    let other = Person::new();
    let from = ["store", "restore", &backup, "--backup-passphrase-file"];
    let wrong = written(&person, "wrong", "ore and rowlock\n");
    let refused = other.run(&[&["--no-passphrase"], &from[..], &[&wrong]].concat(), "");
    assert_eq!(refused.status.code(), Some(1));
    assert!(
        said(&refused).contains("That does not open this file."),
        "{}",
        said(&refused)
    );
    assert!(!other.store().exists(), "a refused backup makes no map");
    other.says(&[&from[..], &[&word]].concat(), "");
    assert_eq!(other.map()["entries"], person.map()["entries"]);
    assert_eq!(other.map()["steps"], person.map()["steps"]);
    let again = other.run(&[&["--no-passphrase"], &from[..], &[&word]].concat(), "");
    assert_eq!(again.status.code(), Some(1));
    assert!(
        said(&again).contains("There is a map in that place already"),
        "{}",
        said(&again)
    );
}

#[test]
fn merging_twice_and_in_both_orders_gives_the_same_map() {
    let (first, second) = (demo(), Person::new());
    second.says(&["begin"], "NZ\n");
    let own = written(
        &second,
        "own.jsonl",
        &lines(&["a knot before phoning", "not enough time"]),
    );
    second.says(&["store", "merge", &own], "");
    let all = [&first, &second].map(|person| {
        export(person);
        file(person, "all.jsonl")
    });
    let maps = [[0, 1, 1, 0], [1, 0, 0, 1]].map(|order| {
        let person = Person::new();
        for index in order {
            person.says(&["store", "merge", &all[index]], "");
        }
        person.map()
    });
    assert_eq!(maps[0]["entries"], maps[1]["entries"]);
    assert_eq!(maps[0]["links"], maps[1]["links"]);
    let count = |map: &serde_json::Value| map["entries"].as_array().unwrap().len();
    assert_eq!(count(&maps[0]), count(&first.map()) + 2);
}

#[test]
fn danger_in_words_that_come_in_shows_the_lines_once_and_refuses_nothing() {
    let person = Person::new();
    person.says(&["begin"], "NZ\n");
    let words = [
        "a cold kitchen",
        "I want to kill myself",
        "I am going to end my life tonight",
    ];
    let dark = written(&person, "dark.jsonl", &lines(&words));
    let told = person.says(&["store", "merge", &dark], "");
    assert_eq!(
        told.matches("In an emergency in New Zealand, call: 111").count(),
        1,
        "{told}"
    );
    assert_eq!(person.field("inner"), words);
    let calm = written(&person, "calm.jsonl", &lines(&words[..1]));
    let told = person.says(&["store", "merge", &calm], "");
    assert!(!told.contains("In an emergency"), "{told}");
}

#[test]
fn files_that_are_no_backup_are_refused_and_change_nothing() {
    let person = Person::new();
    let good = written(&person, "good.jsonl", &lines(&["a cold kitchen"]));
    person.says(&["store", "merge", &good], "");
    let before = person.map()["entries"].clone();
    let text = lines(&["one", "two"]);
    let hostile = [
        (
            "cut",
            text[..text.len() - 9].to_owned(),
            "no backup that I can read",
        ),
        (
            "foreign",
            "a list of seeds to buy\n".to_owned(),
            "no backup that I can read",
        ),
        ("empty", String::new(), "no backup that I can read"),
        (
            "newer",
            "{\"backup\":\"wayfold\",\"version\":2}\n".to_owned(),
            "by a newer wayfold",
        ),
        (
            "sealed",
            "age-encryption.org/v1\n-> scrypt AAAA 18\n".to_owned(),
            "no backup that I can read",
        ),
        (
            "bomb",
            "age-encryption.org/v1\n-> scrypt bBjlhJVYZeE4aqUdmtRHfw 40\n\
             gUjEymFKMVXQEKdMMHL24oYexjE3TIC0O0zGSqJ2aUY\n--- IkgBGcEQw0Pqx+UbJj4nBZ9zTgLXQZkAEoUAzq5EiYg\n\
             and sixteen bytes of a nonce and of a payload"
                .to_owned(),
            "more work or room than any real backup",
        ),
    ];
    let word = written(&person, "word", "oar\n");
    for (name, bytes, expected) in hostile {
        let path = written(&person, name, &bytes);
        let refused = person.run(&["store", "merge", &path, "--backup-passphrase-file", &word], "");
        assert_eq!(refused.status.code(), Some(1), "{name}");
        assert!(said(&refused).contains(expected), "{name}: {}", said(&refused));
    }
    let no_key = person.run(&["store", "merge", &file(&person, "sealed")], "");
    assert_eq!(no_key.status.code(), Some(2), "{}", said(&no_key));
    let missing = person.run(&["store", "merge", &file(&person, "nowhere")], "");
    assert_eq!(missing.status.code(), Some(1));
    assert!(
        said(&missing).contains("there is no such file"),
        "{}",
        said(&missing)
    );
    assert_eq!(person.map()["entries"], before);
}

#[test]
fn what_is_written_is_for_the_person_alone_and_takes_no_other_files_place() {
    use std::os::unix::fs::PermissionsExt;
    let person = Person::new();
    person.says(&["begin"], "NZ\n");
    let letter = written(&person, "letter", "Dear Vera, the boat is dry.");
    for arguments in [
        ["store", "export", &letter, "--yes"],
        ["store", "backup", &letter, "--recipient=age1x"],
    ] {
        let refused = person.run(&arguments, "");
        assert_eq!(refused.status.code(), Some(1));
        assert!(
            said(&refused).contains("something there already"),
            "{}",
            said(&refused)
        );
    }
    assert_eq!(
        fs::read_to_string(&letter).unwrap(),
        "Dear Vera, the boat is dry."
    );
    let asked = person.run(&["store", "export", &file(&person, "plain")], "no\n");
    assert_eq!(asked.status.code(), Some(1));
    assert!(
        said(&asked).contains("Anyone who can open that file can read it"),
        "{}",
        said(&asked)
    );
    assert!(!person.folder().join("plain").exists());
    person.says(&["store", "export", &file(&person, "plain")], "export\n");
    person.says(&["store", "export", &file(&person, "plain"), "--yes"], "");
    let mode = fs::metadata(file(&person, "plain")).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    let bad = person.run(
        &[
            "store",
            "backup",
            &file(&person, "b"),
            "--recipient",
            "age1nonsense",
        ],
        "",
    );
    assert_eq!(bad.status.code(), Some(1));
    assert!(said(&bad).contains("no age key"), "{}", said(&bad));
}

#[cfg(unix)]
#[test]
fn a_pipe_is_written_into_and_not_waited_for() {
    let person = demo();
    let pipe = file(&person, "pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let reader = {
        let pipe = pipe.clone();
        std::thread::spawn(move || fs::read(pipe).unwrap())
    };
    person.says(&["store", "export", &pipe, "--yes"], "");
    assert_eq!(reader.join().unwrap(), export(&person));
}

#[test]
fn a_passphrase_is_set_changed_and_removed() {
    let person = Person::new();
    person.says(&["begin"], "NZ\n");
    let (old, new) = (
        written(&person, "old", "the low gate\n"),
        written(&person, "new", "the high gate\n"),
    );
    let run = |arguments: &[&str]| {
        let output = person.run(arguments, "");
        (output.status.code(), said(&output))
    };
    assert_eq!(
        run(&["store", "passphrase"]).0,
        Some(2),
        "nobody can be asked here"
    );
    assert!(
        run(&["store", "where"])
            .1
            .ends_with("To set one: wayfold store passphrase")
    );
    assert!(
        run(&["store", "passphrase", "--new-passphrase-file", &old])
            .1
            .contains("has a passphrase from now on")
    );
    assert_eq!(
        run(&["store", "verify"]).0,
        Some(2),
        "a locked map opens with its passphrase alone"
    );
    let change = [
        "store",
        "passphrase",
        "--passphrase-file",
        &old,
        "--new-passphrase-file",
        &new,
    ];
    assert!(run(&change).1.contains("The passphrase is changed"));
    let marked = written(&person, "marked", "\u{feff}the high gate\r\n");
    let (code, words) = run(&["store", "verify", "--passphrase-file", &marked]);
    assert_eq!(code, Some(0), "an editor's mark is no part of it: {words}");
    let (code, words) = run(&["store", "verify", "--passphrase-file", &old]);
    assert_eq!(code, Some(1));
    assert!(
        words.contains("That passphrase does not open this map"),
        "{words}"
    );
    assert_eq!(run(&["store", "verify", "--passphrase-file", &new]).0, Some(0));
    assert!(
        run(&["store", "passphrase", "--remove", "--passphrase-file", &new])
            .1
            .contains("no passphrase now")
    );
    assert_eq!(run(&["store", "verify"]).0, Some(0));
}

#[test]
fn erasing_asks_for_a_word_and_leaves_nothing() {
    let person = demo();
    let asked = person.run(&["store", "erase"], "yes\n");
    assert_eq!(asked.status.code(), Some(1));
    assert!(
        said(&asked).contains("It cannot reach backups"),
        "{}",
        said(&asked)
    );
    assert!(
        person.field("matters").len() >= 2,
        "the wrong word leaves it as it is"
    );
    person.says(&["store", "erase"], "erase\n");
    let left: Vec<PathBuf> = kit::files(person.folder());
    assert!(left.is_empty(), "{left:?}");
    assert!(!person.store().exists());
    let none = person.run(&["store", "verify"], "");
    assert_eq!(none.status.code(), Some(1));
    assert!(
        said(&none).contains("There is no map here yet"),
        "{}",
        said(&none)
    );
}

#[test]
fn an_older_copy_in_the_place_of_the_map_is_noticed() {
    let person = Person::new();
    person.says(&["begin"], "NZ\n");
    let copy = person.folder().join("copy");
    kit::copy(&person.store(), &copy);
    person.says(
        &["begin"],
        &demo_answers()
            .lines()
            .skip(1)
            .flat_map(|line| [line, "\n"])
            .collect::<String>(),
    );
    fs::remove_dir_all(person.store()).unwrap();
    kit::copy(&copy, &person.store());
    let told = person.run(&["store", "verify"], "");
    assert_eq!(told.status.code(), Some(1), "{}", said(&told));
    assert!(
        said(&told).contains("older than it was when last closed here"),
        "{}",
        said(&told)
    );
}
