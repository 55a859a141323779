//! What the memory of the real program holds of what was typed: while the sitting is open, and when the screen was hidden
//! and the program is about to end. strace holds it at its very last call, so that its whole memory can be searched.
//!
//! Only the superuser may look. The program forbids it to everyone else, and that is all that is shown where the tests do
//! not run as root.

#![cfg(target_os = "linux")]

use std::fs;
use std::fs::File;
use std::io::ErrorKind;
use std::os::unix::fs::FileExt;
use std::process::Command;
use std::thread;
use std::time::Duration;

use rexpect::session::PtySession;
use rexpect::session::spawn_command;

use crate::program::Person;
use crate::program::is_root;

const SENTENCES: usize = 200;
/// The number of the sentence that is the passphrase.
const PASSPHRASE: usize = 777;

fn sentence(number: usize) -> String {
    format!("the heron at weir number {number:03}")
}

/// How many of the planted sentences lie in a process's memory, written as bytes, as UTF-16 or as UTF-32; nothing where
/// looking is forbidden.
fn found(process: u32) -> Option<Vec<(usize, String)>> {
    let memory = match File::open(format!("/proc/{process}/mem")) {
        Err(error) if error.kind() == ErrorKind::PermissionDenied => return None,
        opened => opened.unwrap(),
    };
    // As bytes, as UTF-16 and as UTF-32; the number is read from the first byte of each of its digits.
    let forms = ["", r"\x00", r"\x00\x00\x00"].map(|between| {
        let letters = "the heron at weir number "
            .chars()
            .map(|letter| format!("{letter}{between}"));
        let digits = format!("([0-9]){between}").repeat(3);
        regex::bytes::Regex::new(&format!("(?-u){}{digits}", letters.collect::<String>())).unwrap()
    });
    let mut seen = Vec::new();
    for line in fs::read_to_string(format!("/proc/{process}/maps"))
        .unwrap()
        .lines()
    {
        let (range, rest) = line.split_once(' ').unwrap();
        if !rest.starts_with("rw") {
            continue;
        }
        let (from, to) = range.split_once('-').unwrap();
        let [from, to] = [from, to].map(|end| u64::from_str_radix(end, 16).unwrap());
        let mut part = vec![0; usize::try_from(to - from).unwrap()];
        let read = memory.read_at(&mut part, from).unwrap_or(0);
        part.truncate(read);
        for captures in forms.iter().flat_map(|form| form.captures_iter(&part)) {
            let digits: String = (1..=3).map(|at| char::from(captures[at][0])).collect();
            let place = rest.split_whitespace().nth(4).unwrap_or("mapped").to_owned();
            seen.push((digits.parse().unwrap(), place));
        }
    }
    Some(seen)
}

/// The only child of a process, once there is one.
fn child(parent: u32) -> u32 {
    loop {
        let children = fs::read_to_string(format!("/proc/{parent}/task/{parent}/children")).unwrap();
        if let Some(child) = children.split_whitespace().next() {
            return child.parse().unwrap();
        }
        thread::sleep(Duration::from_millis(10));
    }
}

/// A sitting in a terminal under strace, which stops the program for a while as it makes its last call.
fn sitting(person: &Person) -> (PtySession, u32) {
    let program = person.command(&["begin"]);
    let mut traced = Command::new("strace");
    traced
        .args(["-qq", "--seccomp-bpf", "-f", "-o", "/dev/null"])
        .args([
            "-e",
            "trace=exit_group",
            "-e",
            "inject=exit_group:delay_enter=120000000",
        ])
        .arg(program.get_program())
        .args(program.get_args())
        .env_clear()
        .env("TERM", "xterm-256color")
        .env("COLUMNS", "80");
    for (name, value) in program.get_envs() {
        traced.env(name, value.unwrap_or_default());
    }
    let mut terminal = spawn_command(traced, Some(120_000)).unwrap();
    for asked in ["Choose a passphrase", "The same once more:"] {
        terminal.exp_string(asked).unwrap();
        terminal.send_line(&sentence(PASSPHRASE)).unwrap();
    }
    terminal.exp_string("> ").unwrap();
    let watched = u32::try_from(terminal.process.child_pid.as_raw()).unwrap();
    (terminal, child(watched))
}

#[test]
fn nothing_that_was_typed_is_in_memory_after_the_screen_was_hidden() {
    let person = Person::new();
    let (mut terminal, process) = sitting(&person);
    terminal.send_line("").unwrap();
    for number in 0..SENTENCES {
        terminal.exp_string("> ").unwrap();
        terminal.send_line(&sentence(number)).unwrap();
    }
    terminal.exp_string("> ").unwrap();
    // Half a line that is never sent.
    terminal.send(&sentence(SENTENCES)).unwrap();
    terminal.flush().unwrap();
    terminal.exp_string(&sentence(SENTENCES)).unwrap();
    let open = found(process);
    // Not even the person's other programs may look.
    assert_eq!(
        open.is_some(),
        is_root(),
        "who may look into the program's memory"
    );
    let Some(open) = open else { return };
    let held = (0..SENTENCES)
        .filter(|number| open.iter().any(|(one, _)| one == number))
        .count();
    assert!(held > 100, "only {held} sentences are found where they must be");
    let passphrase = open.iter().filter(|(number, _)| *number == PASSPHRASE).count();
    assert_eq!(
        passphrase, 0,
        "the passphrase is wiped as soon as the key is made"
    );
    terminal.send_control('g').unwrap();
    terminal.exp_string("\u{1b}[2J\u{1b}[3J").unwrap();
    // The program stands at its last call once nothing of the store is open any more.
    let last_call = format!("/proc/{process}/syscall");
    let exit_group = if cfg!(target_arch = "x86_64") {
        "231 "
    } else {
        "94 "
    };
    while !fs::read_to_string(&last_call).unwrap().starts_with(exit_group) {
        thread::sleep(Duration::from_millis(50));
    }
    let left = found(process).unwrap();
    terminal
        .process
        .kill(rexpect::process::signal::Signal::SIGKILL)
        .unwrap();
    assert!(left.is_empty(), "{} are left: {left:?}", left.len());
}
