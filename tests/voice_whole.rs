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
    /// A person who sits down, and has typed these lines before.
    fn begin(folder: &Path, before: &str) -> Self {
        let (person, server) = (Person::new(), Server::start());
        if !before.is_empty() {
            person.says(&["begin"], before);
        }
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
        let over =
            ["That is all for today.", "Whenever you like"].map(|end| ReadUntil::String(end.to_owned()));
        let (before, which) = self
            .terminal
            .exp_any([listens].into_iter().chain(over).collect())
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
            None if self.0.is_empty() => !heard.to_lowercase().contains("keep"),
            None => heard.to_lowercase().contains("keep") || plain(heard) == plain(self.0),
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
    let (mut at, mut tries, mut given) = (0, 0, false);
    // Whether what was said last was the answer itself, or the word that keeps it.
    let mut own = false;
    while let Some(screen) = sitting.until_it_listens() {
        let answer = Answer(answers.get(at).copied().unwrap_or_default());
        let again = screen.has("fits here") || screen.has("fit here") || screen.has("heard nobody");
        let wrong = own && screen.heard().is_some_and(|heard| !answer.is(heard));
        let words = answer.numbers().is_none() && !answer.0.is_empty();
        let speed = SPEEDS[tries / 2 % SPEEDS.len()];
        assert!(
            tries < TRIES,
            "{:?} was never understood: {:?}",
            answer.0,
            screen.0
        );
        own = true;
        let say = if screen.has("For crisis lines") {
            // The first answer, until it is understood.
            given = true;
            "yes".to_owned()
        } else if screen.has("Which of these did you mean") {
            own = false;
            screen
                .choice(if words { "None of these" } else { "done" })
                .unwrap_or("none of these".to_owned())
        } else if screen.has("Keep each one") {
            own = false;
            "no".to_owned()
        } else if let Some(keep) = screen.choice("Keep it as it is") {
            own = false;
            keep
        } else if let Some(heard) = screen.to_confirm() {
            if !words {
                tries += 1;
                own = false;
                "go back".to_owned()
            } else if plain(&heard) != plain(answer.0) && tries == 0 {
                tries += 1;
                answer.aloud(tries)
            } else {
                "keep it".to_owned()
            }
        } else if given && wrong && !again && !screen.has("Back one question") {
            tries += 1;
            own = false;
            "go back".to_owned()
        } else {
            if given && !again && !screen.has("Back one question") {
                at += 1;
                tries = 0;
            } else {
                tries += usize::from(given);
            }
            given = true;
            match answers.get(at) {
                Some(answer) => Answer(answer).aloud(tries),
                None => "take a pause".to_owned(),
            }
        };
        if std::env::var_os("WAYFOLD_LONG").is_some() {
            println!("{}\n>>> {say} ({at}, {tries})", screen.0.join("\n"));
        }
        sitting.says(&say, speed);
    }
}

/// A map without identities and words: every entry's field, and what links, loops and steps join, by place.
fn shape(map: &Value) -> Vec<String> {
    let list = |name: &str| map[name].as_array().unwrap().clone();
    let all = list("entries");
    let place = |id: &Value| all.iter().position(|entry| &entry["id"] == id);
    let mut shape: Vec<String> = Vec::new();
    for entry in &all {
        shape.push(entry["field"].to_string());
    }
    for link in list("links") {
        let (from, to) = (place(&link["from"]), place(&link["to"]));
        shape.push(format!("{} {from:?} {to:?}", link["kind"]));
    }
    for one in list("loops") {
        let round = ["hook", "away", "back_to"].map(|part| place(&one[part]));
        shape.push(format!("loop {round:?}"));
    }
    for step in list("steps") {
        let serves = step["serves"].as_array().unwrap().iter().map(place);
        shape.push(format!("step {:?}", serves.collect::<Vec<_>>()));
    }
    shape
}

/// Everything on a map that a person said in words of their own, in its order.
fn words(map: &Value) -> Vec<String> {
    let list = |name: &str, parts: &[&str]| -> Vec<String> {
        let all = map[name].as_array().unwrap().iter();
        all.flat_map(|one| {
            parts
                .iter()
                .map(|part| one[*part].as_str().unwrap_or_default().to_owned())
        })
        .collect()
    };
    let mut words = list("entries", &["text"]);
    words.extend(list("loops", &["relief", "cost", "matters"]));
    words.extend(list("steps", &["when", "act"]));
    words
}

/// Wrong words of the reference's, after the published normaliser.
fn wrong(typed: &str, spoken: &str) -> usize {
    let pair = format!("{typed}\t{spoken}\n");
    reference("voice_words.py", &[], &pair).trim().parse().unwrap()
}

/// Lays the words of two maps beside each other, tells what was misheard, and gives how many words were, and of how many.
fn misheard(typed: &Value, spoken: &Value) -> (usize, usize) {
    let (typed, spoken) = (words(typed), words(spoken));
    assert_eq!(typed.len(), spoken.len(), "{typed:?} {spoken:?}");
    let (mut same, mut errors, mut count) = (0, 0, 0);
    for (typed, spoken) in typed.iter().zip(&spoken) {
        let wrong = wrong(typed, spoken);
        let all = typed.split_whitespace().count();
        if wrong == 0 {
            same += 1;
        } else {
            println!("{wrong} of {all} words: {typed:?} was heard as {spoken:?}");
        }
        errors += wrong;
        count += all;
    }
    println!(
        "{same} of {} answers the same; {errors} of {count} words wrong",
        typed.len()
    );
    (errors, count)
}

/// Part of the long campaign, for it takes a quarter of an hour: every word has to be spoken.
#[test]
fn a_whole_sitting_is_spoken_and_nothing_is_typed() {
    let Some(folder) = models() else { return };
    if std::env::var_os("WAYFOLD_LONG").is_none() {
        return;
    }
    let mut sitting = Sitting::begin(&folder, "");
    let answers = demo_answers();
    speak_all(&mut sitting, &answers.lines().collect::<Vec<_>>());
    let _ = sitting.terminal.exp_eof();
    let typed = Person::new();
    typed.says(&["begin"], &demo_answers());
    let (spoken, typed) = (sitting.person.map(), typed.map());
    println!("{} times something was said", sitting.said);
    let (errors, count) = misheard(&typed, &spoken);
    assert_eq!(shape(&typed), shape(&spoken));
    // What kind of thing an entry is may be read from its words, so it is the same where they are.
    let entries = |map: &Value| map["entries"].as_array().unwrap().clone();
    for (typed, spoken) in entries(&typed).iter().zip(&entries(&spoken)) {
        if typed["text"] == spoken["text"] {
            assert_eq!(typed["kind"], spoken["kind"], "{typed}");
        }
    }
    // Measured: 18 of 122.
    assert!(errors * 3 <= count, "{errors} of {count}");
}

/// A few of the same answers, in every run.
#[test]
fn two_entries_are_spoken_at_a_terminal_and_the_sitting_is_paused() {
    let Some(folder) = models() else { return };
    let answers = demo_answers();
    let before: Vec<&str> = answers
        .lines()
        .take_while(|line| *line != "my brother Jonas")
        .collect();
    let mut sitting = Sitting::begin(&folder, &(before.join("\n") + "\n"));
    speak_all(&mut sitting, &["my brother Jonas", "the choir"]);
    let _ = sitting.terminal.exp_eof();
    let kept = sitting.person.field("matters");
    assert_eq!(kept.len(), 2, "{kept:?}");
    let errors = wrong("my brother Jonas the choir", &kept.join(" "));
    assert!(errors <= 2, "{errors}: {kept:?}");
}
