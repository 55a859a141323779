//! The map and a share at a real terminal: moving, leaving, hiding.

use std::process::Command;

use rexpect::process::wait::WaitStatus;
use rexpect::session::PtySession;
use rexpect::session::spawn_command;

use crate::program::Person;
use crate::sharing::demo;

/// The program at a terminal of a size. Only its rows and columns make it another one than the plain pseudo-terminal.
fn at_terminal(person: &Person, (rows, columns): (u16, u16), arguments: &[&str]) -> PtySession {
    let program = person.command(&[]);
    let mut command = Command::new("sh");
    let sized = format!("stty rows {rows} cols {columns}; exec \"$0\" \"$@\"");
    command
        .args(["-c", &sized])
        .arg(program.get_program())
        .arg("--no-passphrase")
        .args(arguments);
    command
        .env_clear()
        .env("PATH", "/usr/bin:/bin")
        .env("TERM", "xterm");
    command.envs(
        program
            .get_envs()
            .filter_map(|(name, value)| Some((name, value?))),
    );
    // Long enough for a loaded machine; nothing here measures time.
    spawn_command(command, Some(60_000)).unwrap()
}

/// What else the program shows until it ends, and its exit code.
fn ends(mut terminal: PtySession) -> (String, i32) {
    let rest = terminal.exp_eof().unwrap();
    match terminal.process.wait().unwrap() {
        WaitStatus::Exited(_, code) => (rest, code),
        other => panic!("{other:?}"),
    }
}

/// What shows the other screen, and what leaves it.
const OTHER_SCREEN: &str = "\u{1b}[?1049h";
const BACK_AGAIN: &str = "\u{1b}[?1049l";
/// The screen and what can be scrolled back to are cleared.
const CLEARED: &str = "\u{1b}[H\u{1b}[2J\u{1b}[3J";

#[test]
fn a_map_taller_than_the_screen_moves_under_keys() {
    let person = demo();
    let mut terminal = at_terminal(&person, (14, 80), &["map"]);
    let mut next = |key: &str| {
        let shown = terminal.exp_string("keys move.").unwrap();
        terminal.send(key).unwrap();
        terminal.flush().unwrap();
        shown
    };
    let first = next("j");
    assert!(
        first.contains(OTHER_SCREEN) && first.contains("1 to 13 of ") && !first.contains("hum one line"),
        "{first}"
    );
    let second = next("\u{1b}[6~");
    assert!(second.contains("2 to 14 of "), "{second}");
    let third = next("\u{1b}[F");
    assert!(third.contains("14 to 26 of "), "{third}");
    let last = next("q");
    assert!(last.contains("hum one line"), "{last}");
    let (rest, code) = ends(terminal);
    assert!(rest.contains(BACK_AGAIN) && !rest.contains("choir"), "{rest}");
    assert_eq!(code, 0);
}

#[test]
fn a_map_that_fits_and_a_plain_one_are_printed_once() {
    let person = demo();
    for (size, arguments) in [((200, 80), &["map"][..]), ((14, 80), &["--plain", "map"])] {
        let (shown, code) = ends(at_terminal(&person, size, arguments));
        assert!(
            shown.contains("hum one line") && !shown.contains(OTHER_SCREEN),
            "{shown}"
        );
        assert_eq!(code, 0);
    }
}

#[test]
fn the_hiding_chord_clears_the_view() {
    let person = demo();
    let mut terminal = at_terminal(&person, (14, 80), &["map"]);
    terminal.exp_string("keys move.").unwrap();
    terminal.send("\u{7}").unwrap();
    terminal.flush().unwrap();
    let (rest, code) = ends(terminal);
    assert!(rest.contains(BACK_AGAIN) && rest.ends_with(CLEARED), "{rest}");
    assert_eq!(code, 0);
}

#[test]
fn leaving_a_share_at_a_terminal_writes_nothing() {
    let person = demo();
    let file = person.folder().join("hidden.pdf");
    let arguments = ["map", "--share", "--out", file.to_str().unwrap()];
    for (key, code) in [('g', 0), ('c', 130), ('d', 130)] {
        let mut terminal = at_terminal(&person, (24, 80), &arguments);
        terminal.exp_string("from the list.").unwrap();
        terminal.exp_string("> ").unwrap();
        terminal.send_line("1").unwrap();
        terminal.exp_string("for none.").unwrap();
        terminal.exp_string("> ").unwrap();
        terminal.send_control(key).unwrap();
        let (rest, ended) = ends(terminal);
        assert_eq!(ended, code, "{rest}");
        if key == 'g' {
            assert!(rest.trim_end().ends_with(CLEARED), "{rest:?}");
        } else {
            assert!(rest.contains("Nothing was written."), "{rest}");
        }
    }
    assert!(!file.exists());
}
