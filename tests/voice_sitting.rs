//! Whole sittings that are spoken: recordings given by name, and a real recording through the sound libraries from a
//! private server, with the real program and the map at the end.

use std::io::Read;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;
use std::sync::mpsc;
use std::sync::mpsc::Receiver;
use std::time::Duration;

use crate::program::Person;
use crate::program::demo_answers;
use crate::voice::models;
use crate::voice_server::Server;
use crate::voice_server::surroundings;

/// How long a test waits for a line before it gives up: for a loaded machine; nothing here measures time.
const PATIENCE: Duration = Duration::from_mins(2);

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The lines that lead to the first question for an entry.
fn opening() -> String {
    let answers = demo_answers();
    let lines: Vec<_> = answers
        .lines()
        .take_while(|line| *line != "my brother Jonas")
        .collect();
    lines.join("\n") + "\n"
}

/// Makes a recording of a sentence with a speaking program.
fn speak(text: &str, file: &Path) {
    let status = Command::new("espeak-ng")
        .args(["-v", "en-gb", "-s", "140", "-w"])
        .arg(file)
        .arg(text)
        .status();
    assert!(status.expect("espeak-ng is installed").success());
}

/// The program with the models of this machine.
fn program(person: &Person, folder: &Path, arguments: &[&str]) -> Command {
    let mut command = person.command(arguments);
    command.env("WAYFOLD_MODELS", folder);
    command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

fn run(mut command: Command, input: &str) -> (String, String) {
    let mut child = command.spawn().unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{output:?}");
    (
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
    )
}

/// Lower-case words without signs: how an entry is compared with what was said.
fn plain(text: &str) -> String {
    let letters = text
        .to_lowercase()
        .replace(|c: char| !c.is_alphanumeric() && c != ' ' && c != '\'', " ");
    letters.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_recording_becomes_an_entry_once_it_is_confirmed() {
    let Some(folder) = models() else { return };
    let person = Person::new();
    let file = root().join("demo-data/spoken-entry.wav");
    let voice = format!("{}/voice {}\n", opening(), file.display());
    let (said, errors) = run(program(&person, &folder, &["begin", "--no-passphrase"]), &voice);
    assert_eq!(errors, "");
    assert!(said.contains("Enter keeps it"), "{said}");
    assert!(
        person.field("matters").is_empty(),
        "nothing counts before it is confirmed"
    );
    // What was heard is not kept before it is confirmed, not even sealed; so it is said again. The entry check asks
    // whether an act belongs here; the first choice keeps it.
    let again = format!("/voice {}\n\n1\n", file.display());
    let (said, errors) = run(program(&person, &folder, &["begin", "--no-passphrase"]), &again);
    assert_eq!(errors, "");
    let kept = person.field("matters");
    assert_eq!(kept.len(), 1, "{kept:?} {said}");
    assert!(kept[0].split(' ').count() > 2, "{kept:?}");
}

#[test]
fn a_recording_said_again_stands_in_place_of_the_first() {
    let Some(folder) = models() else { return };
    let person = Person::new();
    let files = tempfile::tempdir().unwrap();
    let (first, second) = (files.path().join("1.wav"), files.path().join("2.wav"));
    speak("my neighbour next door", &first);
    speak("my old teacher from school", &second);
    let input = format!(
        "{}/voice {}\n/voice {}\n\n",
        opening(),
        first.display(),
        second.display()
    );
    run(program(&person, &folder, &["begin", "--no-passphrase"]), &input);
    let kept: Vec<_> = person.field("matters").iter().map(|words| plain(words)).collect();
    assert_eq!(kept, ["my old teacher from school"]);
}

#[test]
fn spoken_danger_stops_the_sitting_before_anything_is_confirmed() {
    let Some(folder) = models() else { return };
    let person = Person::new();
    let files = tempfile::tempdir().unwrap();
    let file = files.path().join("dark.wav");
    speak("I am going to kill myself tonight.", &file);
    let input = format!("{}/voice {}\n", opening(), file.display());
    let (said, _) = run(program(&person, &folder, &["begin", "--no-passphrase"]), &input);
    let numbers = said.rfind("111").or_else(|| said.rfind("1737"));
    assert!(numbers.is_some(), "the numbers for New Zealand are shown: {said}");
    assert!(!said.contains("Enter keeps it"), "{said}");
    assert!(person.field("matters").is_empty());
}

#[test]
fn spoken_commands_and_choices_do_what_they_say() {
    let Some(folder) = models() else { return };
    let person = Person::new();
    let files = tempfile::tempdir().unwrap();
    let say = |name: &str, text: &str| {
        let file = files.path().join(name);
        speak(text, &file);
        format!("/voice {}\n", file.display())
    };
    let input = [
        opening(),
        say("help.wav", "Help please."),
        say("back.wav", "One back."),
        say("pause.wav", "Take a pause."),
    ];
    let (said, errors) = run(
        program(&person, &folder, &["begin", "--no-passphrase"]),
        &input.concat(),
    );
    assert_eq!(errors, "");
    for heard in [
        "Type an answer and press Enter",
        "Back one question.",
        "Kept. Whenever you like",
    ] {
        assert!(said.contains(heard), "{heard}: {said}");
    }
}

#[test]
fn what_is_missing_is_told_in_one_line_and_typing_goes_on() {
    let person = Person::new();
    let empty = tempfile::tempdir().unwrap();
    let lost = empty.path().join("lost.wav");
    for (voice, told) in [
        (format!("/voice {}\n", lost.display()), "there is no such file"),
        (
            format!("/voice {}\n", root().join("Cargo.toml").display()),
            "as a WAV recording",
        ),
        ("/voice pause 9\n".to_owned(), "1.5 to 8 seconds"),
        ("/voice pause 3\n".to_owned(), "A pause of 3 seconds"),
    ] {
        let input = if person.store().exists() {
            voice
        } else {
            opening() + &voice
        };
        let (said, errors) = run(
            program(&person, empty.path(), &["begin", "--no-passphrase"]),
            &input,
        );
        assert!(said.contains(told), "{told}: {said}");
        assert_eq!(errors, "");
    }
    run(
        program(&person, empty.path(), &["begin", "--no-passphrase"]),
        "Aunt Vera\n",
    );
    assert_eq!(
        person.field("matters").last().map(String::as_str),
        Some("Aunt Vera")
    );
}

/// A spoken sitting that is watched as it goes.
struct Spoken {
    child: Child,
    said: Receiver<String>,
    all: String,
    /// How much of `all` was waited for already.
    seen: usize,
}

impl Spoken {
    fn begin(person: &Person, server: &Server, folder: &Path, arguments: &[&str]) -> Self {
        let mut command = program(person, folder, arguments);
        surroundings(&mut command, server.folder());
        command.env("WAYFOLD_STORE", person.store());
        let mut child = command.spawn().unwrap();
        let mut stdout = child.stdout.take().unwrap();
        let (sender, said) = mpsc::channel();
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(read) = stdout.read(&mut bytes) {
                if read == 0
                    || sender
                        .send(String::from_utf8_lossy(&bytes[..read]).into_owned())
                        .is_err()
                {
                    break;
                }
            }
        });
        Self {
            child,
            said,
            all: String::new(),
            seen: 0,
        }
    }

    /// Waits until the program has said this, after what was waited for before; gives what it said up to there.
    fn until(&mut self, text: &str) -> String {
        loop {
            if let Some(at) = self.all[self.seen..].find(text) {
                let end = self.seen + at + text.len();
                let passage = self.all[self.seen..end].to_owned();
                self.seen = end;
                return passage;
            }
            match self.said.recv_timeout(PATIENCE) {
                Ok(more) => self.all.push_str(&more),
                Err(why) => panic!("never said {text:?}: {why}: {}", self.all),
            }
        }
    }

    fn types(&mut self, line: &str) {
        writeln!(self.child.stdin.as_mut().unwrap(), "{line}").unwrap();
    }

    /// Ends it, and gives what reached standard error.
    fn end(mut self) -> String {
        let _ = self.child.kill();
        let mut errors = String::new();
        self.child
            .stderr
            .take()
            .unwrap()
            .read_to_string(&mut errors)
            .unwrap();
        self.child.wait().unwrap();
        errors
    }
}

/// Plays a sentence once the program listens. The server's loopback idles for about two seconds at its start, so the
/// sentence comes after a silence.
fn say(server: &Server, files: &Path, text: &str) {
    let file = files.join("said.wav");
    let _ = std::fs::remove_file(&file);
    speak(text, &file);
    std::thread::sleep(Duration::from_millis(2_200));
    server.play(&file);
}

#[test]
fn words_spoken_into_a_microphone_are_on_the_map_after_a_spoken_keep() {
    let Some(folder) = models() else { return };
    let (person, server, files) = (Person::new(), Server::start(), tempfile::tempdir().unwrap());
    run(
        program(&person, &folder, &["begin", "--no-passphrase"]),
        &opening(),
    );
    let kept = files.path().join("take.wav");
    let take = kept.to_str().unwrap();
    let arguments = [
        "begin",
        "--no-passphrase",
        "--voice",
        "--pause",
        "1.5",
        "--keep-audio",
        take,
    ];
    let mut sitting = Spoken::begin(&person, &server, &folder, &arguments);
    sitting.until("Listening");
    say(&server, files.path(), "my old teacher from school");
    sitting.until("Say: keep it");
    sitting.until("Listening");
    say(&server, files.path(), "keep it");
    sitting.until("Who else?");
    sitting.until("Listening");
    say(&server, files.path(), "take a pause");
    sitting.until("Whenever you like");
    assert_eq!(sitting.end(), "", "sound libraries stay silent");
    let entries: Vec<_> = person.field("matters").iter().map(|words| plain(words)).collect();
    // What came through the microphone is on the map. How well each word is heard is measured on recordings; a machine
    // under load may lose a word here.
    assert_eq!(entries.len(), 1, "{entries:?}");
    assert!(entries[0].contains("teacher"), "{entries:?}");
    assert!(
        wayfold::voice::wav::read(&kept).unwrap().seconds() > 2.0,
        "the recording that was asked for"
    );
}

#[test]
fn a_server_that_dies_in_mid_sentence_loses_only_that_recording() {
    let Some(folder) = models() else { return };
    let (person, mut server) = (Person::new(), Server::start());
    run(
        program(&person, &folder, &["begin", "--no-passphrase"]),
        &(opening() + "Aunt Vera\n"),
    );
    let mut sitting = Spoken::begin(
        &person,
        &server,
        &folder,
        &["begin", "--no-passphrase", "--voice"],
    );
    sitting.until("Listening");
    server.dies();
    sitting.until("The microphone went away.");
    sitting.types("the choir");
    sitting.types("/pause");
    sitting.until("Whenever you like");
    assert_eq!(sitting.end(), "", "sound libraries stay silent");
    assert_eq!(person.field("matters"), ["Aunt Vera", "the choir"]);
}

#[test]
fn the_check_tells_every_part_and_tries_the_microphone() {
    let Some(folder) = models() else { return };
    let (person, server, files) = (Person::new(), Server::start(), tempfile::tempdir().unwrap());
    let mut check = Spoken::begin(&person, &server, &folder, &["voice", "check", "--pause", "1.5"]);
    check.until("The speech model is ready");
    check.until("The microphone is ready");
    check.until("Listening");
    say(&server, files.path(), "the harbour in the morning");
    let heard = check.until("Heard: ");
    assert!(!heard.contains("nobody"), "{heard}");
    // How well it hears is measured on recordings; a machine under load may lose some of what a microphone brings.
    let words = check.until("\n");
    assert!(words.chars().any(char::is_alphabetic), "{words}");
    check.child.wait().unwrap();
    assert_eq!(check.end(), "", "sound libraries stay silent");
}

#[test]
fn without_any_sound_the_check_says_so_and_nothing_else_is_on_the_screen() {
    let Some(folder) = models() else { return };
    let (person, nothing) = (Person::new(), tempfile::tempdir().unwrap());
    let mut command = program(&person, &folder, &["voice", "check"]);
    surroundings(&mut command, nothing.path());
    std::fs::write(nothing.path().join("sound.conf"), "</usr/share/alsa/alsa.conf>\n").unwrap();
    let output = command.output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("No microphone could be opened"), "{said}");
    assert_eq!(output.status.code(), Some(1), "not everything is ready");
    assert!(output.stderr.is_empty(), "sound libraries stay silent");
}
