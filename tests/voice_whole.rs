//! A whole first sitting at a terminal in which nothing is typed: a speaking program gives the demo person's answers
//! through a private sound server, and the map at the end is laid beside the typed one, entry by entry.
//!
//! The speaking program is hard to make out, far harder than a person, so words are compared for how many came through,
//! and everything else, which was said and confirmed in numbers and commands, must be the same.

use std::path::Path;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;
use std::time::Duration;

use rexpect::ReadUntil;
use rexpect::session::PtySession;
use rexpect::session::spawn_command;
use serde_json::Value;

use crate::program::Person;
use crate::program::demo_answers;
use crate::voice::models;
use crate::voice::reference;
use crate::voice_server::Server;
use crate::voice_server::surroundings;

/// How long the program may take to listen again, in thousandths of a second: for a loaded machine; nothing here
/// measures time.
const PATIENCE: u64 = 180_000;

/// How often one answer is said until the person would give up.
const TRIES: usize = 13;

/// How fast each try is spoken, in words a minute.
const SPEEDS: [&str; 3] = ["140", "120", "160"];

/// A stream of silence, so that the server's loopback never idles and no beginning of a word is lost.
struct Silence(Child);

impl Silence {
    fn into_room(server: &Server) -> Self {
        let mut command = Command::new("paplay");
        surroundings(&mut command, server.folder());
        command.args(["--raw", "--rate=48000", "--channels=1", "/dev/zero"]);
        command.stdout(Stdio::null()).stderr(Stdio::null());
        Self(command.spawn().expect("pulseaudio-utils is installed"))
    }
}

impl Drop for Silence {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// A sitting at a terminal that is only spoken.
struct Sitting {
    terminal: PtySession,
    server: Server,
    _silence: Silence,
    person: Person,
    /// How often something was said.
    said: usize,
}

impl Sitting {
    fn begin(folder: &Path) -> Self {
        let (person, server) = (Person::new(), Server::start());
        let mut command = person.command(&["begin", "--no-passphrase", "--voice", "--pause", "1.5"]);
        command
            .env("WAYFOLD_MODELS", folder)
            .env("NO_COLOR", "1")
            .env("TERM", "xterm-256color")
            .env("COLUMNS", "80");
        surroundings(&mut command, server.folder());
        let silence = Silence::into_room(&server);
        Self {
            terminal: spawn_command(command, Some(PATIENCE)).unwrap(),
            server,
            _silence: silence,
            person,
            said: 0,
        }
    }

    /// What the program said until it listens again; nothing more once the sitting is over.
    fn until_it_listens(&mut self) -> Option<Screen> {
        let listens = ReadUntil::String("Listening.".to_owned());
        let over = ReadUntil::String("That is all for today.".to_owned());
        let (before, which) = self
            .terminal
            .exp_any(vec![listens, over])
            .unwrap_or_else(|why| panic!("it neither listens nor ends: {why}"));
        which
            .starts_with("Listening")
            .then(|| Screen::from_bytes(&before))
    }

    fn says(&mut self, text: &str, speed: &str) {
        self.said += 1;
        assert!(self.said < 300, "it goes round and round");
        let file = self.person.folder().join("said.wav");
        let mut command = Command::new("espeak-ng");
        command
            .args(["-v", "en-us", "-s", speed, "-w"])
            .arg(&file)
            .arg(text);
        assert!(command.status().expect("espeak-ng is installed").success());
        std::thread::sleep(Duration::from_millis(500));
        self.server.play(&file);
        std::fs::remove_file(&file).unwrap();
    }
}

/// What stands on the screen since the program listened last.
struct Screen(Vec<String>);

impl Screen {
    /// `rexpect` gives each byte as a letter. Of a line that is written over, what stands there at last counts.
    fn from_bytes(letters: &str) -> Self {
        let bytes: Vec<u8> = letters
            .chars()
            .filter_map(|letter| u8::try_from(letter).ok())
            .collect();
        let text = String::from_utf8_lossy(&bytes).replace("\u{1b}[K", "");
        let lines = text.replace("\r\n", "\n");
        let lines = lines
            .lines()
            .map(|line| line.rsplit('\r').next().unwrap_or_default().trim().to_owned());
        Self(lines.filter(|line| !line.is_empty()).collect())
    }

    fn has(&self, text: &str) -> bool {
        self.0.iter().any(|line| line.contains(text))
    }

    /// What was heard as a command, a number or a choice.
    fn heard(&self) -> Option<&str> {
        self.0.iter().find_map(|line| line.strip_prefix("Heard: "))
    }

    /// The words that stand to be confirmed.
    fn to_confirm(&self) -> Option<String> {
        let end = self.0.iter().position(|line| line.starts_with("Say: keep it"))?;
        let begin = self.0.iter().rposition(|line| line.contains("Keep it, or"))?;
        Some(self.0[begin + 1..end].join(" "))
    }

    /// The number of a choice on the screen.
    fn choice(&self, label: &str) -> Option<String> {
        let numbered = self.0.iter().filter_map(|line| line.split_once("  "));
        let mut found = numbered.filter(|(_, shown)| shown.trim() == label);
        found.next().map(|(number, _)| format!("number {number}"))
    }
}

/// An answer of the demo person.
#[derive(Clone, Copy)]
struct Answer<'a>(&'a str);

impl Answer<'_> {
    /// The numbers in it, if it has nothing else.
    fn numbers(self) -> Option<Vec<usize>> {
        let all: Result<Vec<usize>, _> = self.0.split_whitespace().map(str::parse).collect();
        all.ok().filter(|all| !all.is_empty())
    }

    /// How it is said at the first or a later try. A bare Enter has words of its own.
    fn aloud(self, tries: usize) -> String {
        let Some(numbers) = self.numbers() else {
            let bare = self.0.is_empty();
            let done = ["I am done", "nothing more", "done", "I am done"];
            return if bare {
                done[tries / 2 % done.len()]
            } else {
                self.0
            }
            .to_owned();
        };
        match numbers.as_slice() {
            [lone] => format!("number {lone}"),
            [before @ .., last] => {
                let before: Vec<_> = before.iter().map(ToString::to_string).collect();
                format!("numbers {} and {last}", before.join(", "))
            }
            [] => String::new(),
        }
    }

    /// Whether a line that begins with "Heard:" is this answer.
    fn is(self, heard: &str) -> bool {
        match self.numbers() {
            Some(numbers) => {
                let list = wayfold::voice::numbers::spoken_numbers(heard, 99);
                let scale = wayfold::voice::numbers::spoken_number(heard, 0, 10);
                list.is_some_and(|list| list == numbers) || scale == numbers.first().copied()
            }
            None => true,
        }
    }
}

fn plain(text: &str) -> String {
    let letters = text
        .to_lowercase()
        .replace(|c: char| !c.is_alphanumeric() && c != ' ' && c != '\'', " ");
    letters.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Says the answers one after the other, as a person would who looks at the screen: what was misheard is said anew, at
/// another speed; a wrong number is taken back.
fn speak_all(sitting: &mut Sitting, answers: &[&str]) {
    // The first is for the country, and is said until it is understood.
    let (mut at, mut tries, mut given) = (0, 0, true);
    while let Some(screen) = sitting.until_it_listens() {
        let answer = Answer(answers.get(at).copied().unwrap_or_default());
        let again = screen.has("fits here") || screen.has("fit here") || screen.has("heard nobody");
        let wrong = screen.heard().is_some_and(|heard| !answer.is(heard));
        let words = answer.numbers().is_none() && !answer.0.is_empty();
        let speed = SPEEDS[tries / 2 % SPEEDS.len()];
        assert!(
            tries < TRIES,
            "{:?} was never understood: {:?}",
            answer.0,
            screen.0
        );
        let say = if screen.has("For crisis lines") {
            "yes".to_owned()
        } else if screen.has("Which of these did you mean") {
            screen
                .choice(if words { "None of these" } else { "done" })
                .unwrap_or("none of these".to_owned())
        } else if screen.has("Keep each one") {
            "no".to_owned()
        } else if let Some(keep) = screen.choice("Keep it as it is") {
            keep
        } else if let Some(heard) = screen.to_confirm() {
            if !words {
                tries += 1;
                "go back".to_owned()
            } else if plain(&heard) != plain(answer.0) && tries == 0 {
                tries += 1;
                answer.aloud(tries)
            } else {
                "keep it".to_owned()
            }
        } else if given && wrong && !screen.has("Back one question") && !words {
            tries += 1;
            "go back".to_owned()
        } else {
            if given && !again && !screen.has("Back one question") {
                at += 1;
                tries = 0;
            } else {
                tries += usize::from(given);
            }
            given = true;
            Answer(answers.get(at).copied().unwrap_or_default()).aloud(tries)
        };
        if std::env::var_os("WAYFOLD_LONG").is_some() {
            println!("{}\n>>> {say} ({at}, {tries})", screen.0.join("\n"));
        }
        sitting.says(&say, speed);
    }
}

/// The entries of one field, each as kind and words.
fn entries(map: &Value, field: &str) -> Vec<(String, String)> {
    let all = map["entries"].as_array().unwrap().iter();
    all.filter(|entry| entry["field"] == field)
        .map(|entry| {
            (
                entry["kind"].to_string(),
                entry["text"].as_str().unwrap().to_owned(),
            )
        })
        .collect()
}

/// The links, loops and steps of a map, with every entry named by its place instead of its identity.
fn shape(map: &Value) -> Vec<String> {
    let all = map["entries"].as_array().unwrap();
    let place = |id: &Value| all.iter().position(|entry| &entry["id"] == id);
    let mut shape: Vec<String> = map["links"]
        .as_array()
        .unwrap()
        .iter()
        .map(|link| {
            format!(
                "{} {:?} {:?}",
                link["kind"],
                place(&link["from"]),
                place(&link["to"])
            )
        })
        .collect();
    for one in map["loops"].as_array().unwrap() {
        shape.push(format!(
            "loop {:?} {:?} {:?}",
            place(&one["hook"]),
            place(&one["away"]),
            place(&one["back_to"])
        ));
    }
    for step in map["steps"].as_array().unwrap() {
        let serves: Vec<_> = step["serves"].as_array().unwrap().iter().map(place).collect();
        shape.push(format!("step {serves:?} {}", step["confidence"]));
    }
    shape
}

#[test]
fn a_whole_sitting_is_spoken_and_nothing_is_typed() {
    let Some(folder) = models() else { return };
    let mut sitting = Sitting::begin(&folder);
    let answers = demo_answers();
    speak_all(&mut sitting, &answers.lines().collect::<Vec<_>>());
    let _ = sitting.terminal.exp_eof();
    let typed = Person::new();
    typed.says(&["begin"], &demo_answers());
    let (spoken, typed) = (sitting.person.map(), typed.map());
    println!("{spoken:#}");
    let _ = reference as fn(&str, &[&str], &str) -> String;
    for field in ["matters", "inner", "away", "toward"] {
        let (a, b) = (entries(&typed, field), entries(&spoken, field));
        for (a, b) in a.iter().zip(&b) {
            println!("{a:?}  {b:?}");
        }
        assert_eq!(a.len(), b.len());
    }
    assert_eq!(shape(&typed), shape(&spoken));
}
