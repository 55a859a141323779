//! A prompt that nobody answers hides the screen by itself.

use std::time::Duration;

use rexpect::session::spawn_command;

use crate::program::Person;

#[test]
fn a_prompt_left_alone_hides_and_keeps_everything() {
    let person = Person::new();
    let mut command = person.command(&["begin", "--no-passphrase"]);
    command.env("TERM", "xterm-256color").env("COLUMNS", "80");
    let patience = Duration::from_secs(150);
    let mut terminal = spawn_command(command, Some(u64::try_from(patience.as_millis()).unwrap())).unwrap();
    terminal.exp_string("are you in New Zealand?").unwrap();
    terminal.send_line("").unwrap();
    terminal.exp_string("Press Enter").unwrap();
    terminal.exp_string("> ").unwrap();
    terminal.send_line("/lock never").unwrap();
    terminal.exp_string("from 1 to 1440").unwrap();
    terminal.exp_string("> ").unwrap();
    terminal.send_line("/lock 1").unwrap();
    terminal.exp_string("With no answer for 1 minute").unwrap();
    terminal.exp_string("> ").unwrap();
    // Something half typed does not keep the screen open.
    terminal.send("half a word").unwrap();
    terminal.flush().unwrap();
    terminal.exp_string("\u{1b}[2J\u{1b}[3J").unwrap();
    let after = terminal.exp_eof().unwrap();
    assert!(after.trim().is_empty(), "{after:?}");
    // It ended in good order: nothing needed to be mended.
    let resumed = person.says(&["begin"], "");
    assert!(resumed.contains("Press Enter"), "{resumed}");
    assert!(!resumed.contains("mended"), "{resumed}");
}
