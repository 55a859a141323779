//! Reading aloud: the speech service's protocol against a stand-in that records what it is told, and the fallback.

#![cfg(unix)]

use std::io::BufRead;
use std::io::BufReader;
use std::io::Write;
use std::os::unix::net::UnixListener;
use std::process::Command;
use std::time::Duration;

use wayfold::voice::Line;
use wayfold::voice::Service;
use wayfold::voice::Speaker;

/// Set in the process that speaks, to a file that is there once the service has a message.
const SPEAKS: &str = "WAYFOLD_TEST_SPEAKS";

/// A speech service as its manual describes it, for one client: answers each command, and gives what it was told.
/// A message that holds "long" never ends by itself.
fn service(listener: &UnixListener) -> Vec<String> {
    let mut told = Vec::new();
    let (stream, _) = listener.accept().unwrap();
    let mut out = stream.try_clone().unwrap();
    let mut lines = BufReader::new(stream).lines().map_while(Result::ok);
    while let Some(line) = lines.next() {
        told.push(line.clone());
        let answer = match line.as_str() {
            "SPEAK" => {
                out.write_all(b"230 OK RECEIVING DATA\r\n").unwrap();
                let text: Vec<String> = lines.by_ref().take_while(|line| line != ".").collect();
                let long = text.iter().any(|line| line.contains("long"));
                told.extend(text);
                let ended = if long {
                    ""
                } else {
                    "702-21\r\n702-1\r\n702 END\r\n"
                };
                format!("225-21\r\n225 OK MESSAGE QUEUED\r\n701-21\r\n701-1\r\n701 BEGIN\r\n{ended}")
            }
            "CANCEL SELF" => "210 OK CANCELED\r\n".to_owned(),
            other if other.starts_with("SET SELF") => "203 OK SET\r\n".to_owned(),
            _ => "300 ERR UNKNOWN\r\n".to_owned(),
        };
        if out.write_all(answer.as_bytes()).is_err() {
            break;
        }
        if line == "SPEAK" {
            let socket = listener.local_addr().unwrap().as_pathname().unwrap().to_owned();
            std::fs::write(socket.with_extension("begun"), "").unwrap();
        }
    }
    told
}

fn line(text: &str) -> Line {
    Line {
        text: text.to_owned(),
        pause: Duration::from_millis(5),
    }
}

fn again(test: &str, socket: &std::path::Path) -> std::process::Child {
    let name = format!("voice_speaker::{test}");
    let mut command = Command::new(std::env::current_exe().unwrap());
    command
        .args(["--exact", &name])
        .env(SPEAKS, socket.with_extension("begun"));
    command.env("SPEECHD_ADDRESS", format!("unix_socket:{}", socket.display()));
    command.spawn().unwrap()
}

#[test]
fn the_speech_service_is_told_each_line_in_its_own_protocol() {
    if std::env::var_os(SPEAKS).is_some() {
        let mut speaker = Speaker::through(Service::Dispatcher, "en").unwrap();
        speaker.say(vec![line("Take your time."), line(".\n.hidden\r\nQUIT")]);
        speaker.wait().unwrap();
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let socket = folder.path().join("speech");
    let listener = UnixListener::bind(&socket).unwrap();
    let mut child = again(
        "the_speech_service_is_told_each_line_in_its_own_protocol",
        &socket,
    );
    let told = service(&listener);
    assert!(child.wait().unwrap().success());
    assert_eq!(told[0], "SET SELF CLIENT_NAME user:wayfold:guide");
    let spoken: Vec<&str> = told
        .iter()
        .skip_while(|line| *line != "SPEAK")
        .map(String::as_str)
        .collect();
    // The lone full stops are doubled, so the text can neither end its message nor give a command.
    assert_eq!(
        spoken,
        ["SPEAK", "Take your time.", "SPEAK", "..", "..hidden", "QUIT"]
    );
}

#[test]
fn a_running_service_is_preferred() {
    if std::env::var_os(SPEAKS).is_some() {
        assert_eq!(Speaker::open("en").unwrap().service(), Service::Dispatcher);
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let socket = folder.path().join("speech");
    let listener = UnixListener::bind(&socket).unwrap();
    let mut child = again("a_running_service_is_preferred", &socket);
    let told = service(&listener);
    assert!(child.wait().unwrap().success());
    assert_eq!(told, ["SET SELF CLIENT_NAME user:wayfold:guide"]);
}

#[test]
fn stopping_cancels_the_message_and_the_lines_after_it() {
    if let Some(begun) = std::env::var_os(SPEAKS) {
        let mut speaker = Speaker::through(Service::Dispatcher, "en").unwrap();
        speaker.say(vec![line("A long line."), line("Never read.")]);
        while !std::path::Path::new(&begun).exists() {
            std::thread::sleep(Duration::from_millis(10));
        }
        assert!(speaker.speaking());
        speaker.stop();
        assert!(!speaker.speaking());
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let socket = folder.path().join("speech");
    let listener = UnixListener::bind(&socket).unwrap();
    let mut child = again("stopping_cancels_the_message_and_the_lines_after_it", &socket);
    let told = service(&listener);
    assert!(child.wait().unwrap().success());
    let spoken: Vec<&str> = told
        .iter()
        .skip_while(|line| *line != "SPEAK")
        .map(String::as_str)
        .collect();
    assert_eq!(spoken, ["SPEAK", "A long line.", "CANCEL SELF"]);
}

#[test]
fn a_sitting_is_read_aloud_and_its_last_words_to_their_end() {
    let person = crate::program::Person::new();
    let socket = person.folder().join("speech");
    let listener = UnixListener::bind(&socket).unwrap();
    let (sender, told) = std::sync::mpsc::channel();
    // Each reading is a client of its own.
    std::thread::spawn(move || while sender.send(service(&listener)).is_ok() {});
    let mut command = person.command(&["begin", "--no-passphrase", "--aloud"]);
    command.env("SPEECHD_ADDRESS", format!("unix_socket:{}", socket.display()));
    let mut child = command
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"yes\n").unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    let shown = String::from_utf8(output.stdout).unwrap();
    assert!(!shown.contains("No speech service"), "{shown}");
    let read: Vec<String> = std::iter::from_fn(|| told.recv_timeout(Duration::from_millis(500)).ok())
        .flatten()
        .collect();
    let last = "Kept. Whenever you like, wayfold begin goes on from here.";
    assert!(read.iter().any(|line| line == last), "{read:?}");
}

#[test]
fn a_missing_voice_is_told_once_and_the_sitting_goes_on() {
    let person = crate::program::Person::new();
    let mut command = person.command(&["begin", "--no-passphrase", "--aloud"]);
    // A folder without programs, so that no speaking program is found either.
    command.env("PATH", person.folder());
    command
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped());
    let mut child = command.spawn().unwrap();
    child.stdin.take().unwrap().write_all(b"yes\n").unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    let shown = String::from_utf8(output.stdout).unwrap();
    assert_eq!(shown.matches("No speech service was found").count(), 1, "{shown}");
    assert!(shown.contains("Press Enter to go on."), "{shown}");
}

#[test]
fn a_missing_program_is_an_error_and_a_language_is_no_option() {
    let unknown = Speaker::through(Service::Program("not-a-speaking-program"), "en");
    assert_eq!(unknown.unwrap_err(), wayfold::voice::VoiceError::NoSpeaker);
    let mut speaker = Speaker::through(Service::Program("espeak"), "--path=/").unwrap();
    speaker.say(Vec::new());
    assert_eq!(speaker.wait(), Ok(()));
    assert!(!speaker.speaking());
}
