//! A first sitting heard through a real screen reader: `yasr` runs the program on a terminal of its own, and what it would
//! have a voice say is written down. Everything that the program says is read out once and in order, and nothing else is
//! but the prompts and what the person types.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

use crate::plain::transcript_of;
use crate::program::Person;
use crate::program::demo_answers;
use crate::program::has;

/// The package's own settings: its keys, above all.
const SETTINGS: &str = "/etc/yasr/yasr.conf";

/// A small shell script that can be run.
fn script(file: PathBuf, line: &str) -> PathBuf {
    fs::write(&file, format!("#!/bin/sh\n{line}\n")).unwrap();
    fs::set_permissions(&file, fs::Permissions::from_mode(0o755)).unwrap();
    file
}

/// The screen reader around a command of this person's. Its voice is a program that keeps what it is told to say, in the file
/// that is given back.
fn reader(person: &Person, arguments: &[&str]) -> (Command, PathBuf) {
    let folder = person.folder();
    let spoken = folder.join("spoken");
    let voice = script(folder.join("voice"), &format!("exec cat >'{}'", spoken.display()));
    let program = env!("CARGO_BIN_EXE_wayfold");
    let shell = script(
        folder.join("shell"),
        &format!("exec '{program}' --no-passphrase {}", arguments.join(" ")),
    );
    let settings: String = fs::read_to_string(SETTINGS)
        .unwrap()
        .lines()
        .map(|line| match line.split_once('=') {
            Some(("synthesizer", _)) => "synthesizer=emacspeak server\n".to_owned(),
            Some(("synthesizer port", _)) => format!("synthesizer port=|{}\n", voice.display()),
            Some(("shell", _)) => format!("shell={}\n", shell.display()),
            _ => format!("{line}\n"),
        })
        .collect();
    fs::write(folder.join(".yasr.conf"), settings).unwrap();

    let mut command = Command::new("yasr");
    let surroundings = person.command(&[]);
    command.env_clear();
    for (name, value) in surroundings.get_envs() {
        command.env(name, value.unwrap_or_default());
    }
    command.env("TERM", "linux").env("PATH", "/usr/bin:/bin");
    (command, spoken)
}

/// What the voice was told to say, in order, but for its word for an empty line.
fn heard(spoken: &Path) -> String {
    fs::read_to_string(spoken)
        .unwrap()
        .lines()
        .filter_map(|line| line.strip_prefix("q {")?.strip_suffix('}'))
        .filter(|words| *words != "blank")
        .map(letters)
        .collect()
}

/// A text without its spaces: the screen reader breaks lines where what it has read so far ends.
fn letters(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Where what was said, and the prompt after it, was not heard whole, once and in order; nothing where it was. Between them the reader
/// may say what is typed, as far as it comes to that; and it ends with the program, wherever it is in the last words.
fn not_heard(said: &[String], typed: &str, heard: &str) -> Option<String> {
    let mut typed = typed.lines();
    let mut line = "";
    let mut heard = heard;
    for (at, piece) in said.iter().enumerate() {
        let last = at + 1 == said.len();
        let wanted = letters(piece) + if last { "" } else { ":" };
        let follows = |heard: &str| heard.starts_with(&wanted) || last && wanted.starts_with(heard);
        let echoes = heard
            .char_indices()
            .map(|(echo, _)| echo)
            .chain([heard.len()])
            .take(line.len() + 1);
        let Some(echo) = echoes.into_iter().find(|echo| follows(&heard[*echo..])) else {
            let instead: String = heard.chars().take(200).collect();
            return Some(format!("said: {wanted}\nheard: {instead}"));
        };
        let mut rest = line.chars();
        if !heard[..echo]
            .chars()
            .all(|letter| rest.any(|other| other == letter))
        {
            return Some(format!("typed: {line}\nheard: {}", &heard[..echo]));
        }
        heard = heard.get(echo + wanted.len()..).unwrap_or_default();
        line = typed.next().unwrap_or_default();
    }
    (!heard.is_empty()).then(|| format!("heard at the end: {heard}"))
}

#[test]
fn a_first_sitting_is_heard_through_a_screen_reader() {
    if !has(Path::new(SETTINGS).exists(), "yasr", "WAYFOLD_NO_READER") {
        return;
    }
    let person = Person::new();
    let (command, spoken) = reader(&person, &["begin", "--plain"]);
    let answers = demo_answers();
    let whole = transcript_of(command, &answers);
    assert!(whole.said.len() > 50, "{} prompts", whole.said.len());
    assert!(
        person
            .field("toward")
            .contains(&"ring Jonas on Sunday".to_owned())
    );

    if let Some(fault) = not_heard(&whole.said, &answers, &heard(&spoken)) {
        panic!("{fault}");
    }
}

#[test]
fn what_is_not_heard_is_noticed() {
    let said = [
        "Who matters?\r\n",
        "Who else?\r\nTake your time.\r\n",
        "Goodbye.\r\n",
    ]
    .map(str::to_owned);
    let hears = |heard: &str| not_heard(&said, "Ines\n", &letters(heard)).is_none();
    assert!(hears("Who matters? : Ines Who else? Take your time. : Goodbye."));
    assert!(hears("Who matters? : ns Who else? Take your time. : Goodbye."));
    assert!(hears("Who matters? : Ines Who else? Take your time. : Good"));
    assert!(!hears("Who matters? : Ines Who else? : Goodbye."));
    assert!(!hears(
        "Who matters? : Ines Who else? Take your time. : Goodbye. Goodbye."
    ));
    assert!(!hears("Who matters? : Who Who else? Take your time. : Goodbye."));
}
