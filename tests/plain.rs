//! The plain manner at a real terminal, for those who hear the screen or read it in braille: no drawing, no colour, nothing
//! is written over, each thing is said once, choices are numbered, and nothing is told by its place on the line alone.
//!
//! The one line that is being typed belongs to the line editor, which may move within it and nowhere else. The rules follow
//! what screen readers for consoles ask of programs; common practice, no source.

use std::process::Command;

use rexpect::ReadUntil;
use rexpect::session::spawn_command;

use crate::program::Person;
use crate::program::demo_answers;

/// The line editor begins to wait: it asks the terminal to mark what is pasted.
const WAITS: &str = "\u{1b}[?2004h";
/// The line editor has its line.
const HAS: &str = "\u{1b}[?2004l";
/// Enough for any of these commands.
const MOST_PROMPTS: usize = 120;

/// What the program says, piece by piece between its prompts, and what the line editor writes at each.
pub(crate) struct Transcript {
    pub(crate) said: Vec<String>,
    edited: Vec<String>,
}

/// Runs a command at a terminal and answers its prompts in turn; when there are no more answers, with Enter alone.
fn transcript(person: &Person, arguments: &[&str], answers: &str) -> Transcript {
    let mut all = vec!["--no-passphrase"];
    all.extend(arguments);
    let mut command = person.command(&all);
    command.env("TERM", "xterm-256color").env("COLUMNS", "80");
    transcript_of(command, answers)
}

/// The same for any program that hands a terminal on.
pub(crate) fn transcript_of(command: Command, answers: &str) -> Transcript {
    let shown = format!("{command:?}");
    let mut terminal = spawn_command(command, Some(60_000)).unwrap();
    let mut answers = answers.lines();
    let (mut said, mut edited) = (Vec::new(), Vec::new());
    for _ in 0..MOST_PROMPTS {
        let ends = vec![ReadUntil::String(WAITS.to_owned()), ReadUntil::EOF];
        let (mut before, end) = terminal.exp_any(ends).unwrap();
        let ended = end != WAITS;
        if ended {
            before.push_str(&end);
        }
        match from_bytes(&before).split_once(HAS) {
            Some((line, rest)) => {
                edited.push(line.to_owned());
                said.push(rest.to_owned());
            }
            None => said.push(from_bytes(&before)),
        }
        if ended {
            return Transcript { said, edited };
        }
        terminal.send_line(answers.next().unwrap_or_default()).unwrap();
    }
    panic!("{shown} has no end");
}

/// The text that the terminal got: `rexpect` gives each of its bytes as a letter.
fn from_bytes(letters: &str) -> String {
    let bytes: Vec<u8> = letters
        .chars()
        .filter_map(|letter| u8::try_from(letter).ok())
        .collect();
    String::from_utf8(bytes).expect("UTF-8")
}

/// Signs that draw rather than say: arrows, lines, blocks, shapes, braille patterns, pictographs.
fn draws(sign: char) -> bool {
    matches!(sign, '\u{2190}'..='\u{21ff}' | '\u{2500}'..='\u{27bf}' | '\u{2800}'..='\u{2bff}' | '\u{1f000}'..)
}

/// The number of an option, when a line is one.
fn option(line: &str) -> Option<usize> {
    let (number, _) = line.strip_prefix("  ")?.split_once("  ")?;
    number.trim_start().parse().ok()
}

/// What is wrong with a piece that was said between two prompts.
fn faults(piece: &str) -> Vec<String> {
    let mut found = Vec::new();
    let text = piece.replace("\r\n", "\n");
    for sign in text
        .chars()
        .filter(|c| draws(*c) || (c.is_control() && *c != '\n'))
    {
        found.push(format!("{sign:?} in {text:?}"));
    }
    let lines: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).collect();
    for (at, line) in lines.iter().enumerate() {
        if at > 0 && lines[at - 1] == *line {
            found.push(format!("said twice: {line}"));
        }
        if line.trim_start().contains("   ") {
            found.push(format!("set in columns: {line}"));
        }
    }
    let paragraphs: Vec<&str> = text
        .split("\n\n")
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    for (at, paragraph) in paragraphs.iter().enumerate() {
        if paragraphs[..at].contains(paragraph) {
            found.push(format!("said twice: {paragraph}"));
        }
    }
    let numbers: Vec<usize> = lines.iter().filter_map(|line| option(line)).collect();
    if !numbers.iter().copied().eq(1..=numbers.len()) {
        found.push(format!("numbered {numbers:?}: {text}"));
    }
    if numbers.is_empty() && (text.contains("from the list") || text.contains("One or more numbers")) {
        found.push(format!("choices without numbers: {text}"));
    }
    found
}

/// What the line editor wrote at a prompt that is not within that line.
fn wandering(edited: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for sequence in edited.split('\u{1b}').skip(1) {
        let end = sequence
            .find(|c: char| c.is_ascii_alphabetic())
            .unwrap_or_default();
        let within = match &sequence[end..=end] {
            // Marks for the terminal; to the right; the rest of the line away.
            "h" | "l" => sequence.starts_with("[?"),
            "C" | "K" => true,
            _ => false,
        };
        if !within {
            found.push(sequence);
        }
    }
    found
}

/// Runs a command in plain manner and holds all it writes to what plain means.
fn plain_transcript(person: &Person, arguments: &[&str], answers: &str) -> Transcript {
    let whole = transcript(person, &[arguments, &["--plain"]].concat(), answers);
    let found: Vec<_> = whole.said.iter().flat_map(|piece| faults(piece)).collect();
    assert!(found.is_empty(), "{arguments:?}: {found:#?}");
    for line in &whole.edited {
        assert_eq!(wandering(line), [""; 0], "{arguments:?}: {line:?}");
    }
    whole
}

/// The demo person's eight weeks, kept in a store of their own.
fn eight_weeks() -> Person {
    let person = Person::new();
    let weeks = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-data/eight-weeks.jsonl");
    person.says(&["store", "merge", weeks], "");
    person
}

#[test]
fn a_first_sitting_in_plain_manner_is_said_line_by_line() {
    let person = Person::new();
    let whole = plain_transcript(&person, &["begin"], &demo_answers());
    assert!(whole.edited.len() > 50, "{} prompts", whole.edited.len());
    let toward = person.field("toward");
    assert!(toward.contains(&"ring Jonas on Sunday".to_owned()), "{toward:?}");
}

#[test]
fn every_way_to_look_and_to_come_back_is_said_line_by_line() {
    let person = eight_weeks();
    for arguments in [
        &["stuck"] as &[_],
        &["moment"],
        &["review"],
        &["practice"],
        &["ground"],
        &["map"],
        &["loops"],
        &["steps"],
        &["lookback"],
        &["crisis", "--region", "NZ"],
        &[],
    ] {
        // Without a command the companion stays until it is told to go.
        let answers = if arguments.is_empty() { "/help\n/pause" } else { "" };
        let whole = plain_transcript(&person, arguments, answers);
        assert!(whole.said.concat().len() > 100, "{arguments:?}: {:?}", whole.said);
    }
}

#[test]
fn what_is_not_plain_would_be_seen() {
    let person = eight_weeks();
    let drawn = transcript(&person, &["map"], "").said.concat();
    assert!(
        faults(&drawn).iter().any(|fault| fault.contains("'\\u{1b}'")),
        "{drawn}"
    );
    assert!(drawn.chars().any(draws), "{drawn}");
    assert_eq!(faults("Who else?\r\nWho else?\r\n"), ["said twice: Who else?"]);
    assert_eq!(faults("Who else?\r\n\r\nTea.\r\n\r\nWho else?\r\n").len(), 1);
    assert_eq!(
        faults("toward      away\r\n"),
        ["set in columns: toward      away"]
    );
    assert_eq!(faults("  1  tea\r\n  3  rest\r\n").len(), 1);
    assert_eq!(faults("A number from the list.\r\n").len(), 1);
    assert_eq!(
        faults("  1  tea\r\n  2  rest\r\nA number from the list.\r\n"),
        [""; 0]
    );
    assert_eq!(
        wandering("\u{1b}[?2026h\r\u{1b}[K: \r\u{1b}[2C\u{1b}[?2026l"),
        [""; 0]
    );
    assert_eq!(wandering("\u{1b}[2A\u{1b}[2J"), ["[2A", "[2J"]);
}
