//! Whole sittings with the real program: to the end, cut anywhere, killed anywhere, and with hostile input.

use std::io::Read;
use std::io::Write;
use std::process::Child;
use std::process::Stdio;
use std::sync::mpsc;
use std::sync::mpsc::Receiver;
use std::thread;
use std::time::Duration;

use crate::dropping::at_an_entry;
use crate::program::Person;
use crate::program::demo_answers;

/// The map without what differs from one run to the next: identities and times become the order of the entries.
pub(crate) fn told(map: &serde_json::Value) -> serde_json::Value {
    let entries = map["entries"].as_array().unwrap();
    let text_of = |id: &serde_json::Value| {
        entries
            .iter()
            .find(|entry| entry["id"] == *id)
            .map(|entry| entry["text"].clone())
            .unwrap_or_default()
    };
    let texts = |ids: &serde_json::Value| -> Vec<_> {
        ids.as_array()
            .map(|ids| ids.iter().map(text_of).collect())
            .unwrap_or_default()
    };
    serde_json::json!({
        "entries": entries.iter().map(|e| serde_json::json!([e["field"], e["kind"], e["text"]])).collect::<Vec<_>>(),
        "links": map["links"].as_array().unwrap().iter()
            .map(|l| serde_json::json!([text_of(&l["from"]), text_of(&l["to"]), l["kind"]])).collect::<Vec<_>>(),
        "steps": map["steps"].as_array().unwrap().iter()
            .map(|s| serde_json::json!([s["when"], s["act"], texts(&s["serves"]), s["confidence"]])).collect::<Vec<_>>(),
    })
}

fn whole_sitting() -> (Person, serde_json::Value) {
    let person = Person::new();
    person.says(&["begin"], &demo_answers());
    let map = told(&person.map());
    (person, map)
}

#[test]
fn the_first_sitting_makes_a_whole_map() {
    let (person, _) = whole_sitting();
    let map = person.map();
    assert!(map["entries"].as_array().unwrap().len() >= 14, "{map:#}");
    for field in ["matters", "inner", "away", "toward"] {
        assert!(person.field(field).len() >= 2, "{field}: {map:#}");
    }
    assert!(map["links"].as_array().unwrap().len() >= 4, "{map:#}");
    assert_eq!(map["loops"].as_array().unwrap().len(), 1, "{map:#}");
    assert_eq!(map["steps"].as_array().unwrap().len(), 1, "{map:#}");
}

#[test]
fn answers_cut_anywhere_and_continued_give_the_same_map() {
    let answers = demo_answers();
    let lines: Vec<_> = answers.lines().collect();
    let (_, whole) = whole_sitting();
    let stride = if std::env::var_os("WAYFOLD_LONG").is_some() {
        1
    } else {
        7
    };
    for cut in (1..lines.len()).step_by(stride) {
        let person = Person::new();
        person.says(&["begin"], &(lines[..cut].join("\n") + "\n"));
        person.says(&["begin"], &(lines[cut..].join("\n") + "\n"));
        assert_eq!(told(&person.map()), whole, "cut after line {cut}");
    }
}

#[test]
fn every_answer_on_its_own_gives_the_same_map() {
    let (_, whole) = whole_sitting();
    let person = Person::new();
    for line in demo_answers().lines() {
        person.says(&["begin"], &format!("{line}\n"));
    }
    assert_eq!(told(&person.map()), whole);
}

#[test]
fn going_back_and_answering_again_gives_the_same_map() {
    let (_, whole) = whole_sitting();
    let answers = demo_answers();
    let mut lines = answers.lines();
    let region = lines.next().unwrap();
    // Every answer is given, taken back, and given again. The very first prompt has nothing before it.
    let twice: String = lines.flat_map(|line| [line, "\n/back\n", line, "\n"]).collect();
    let person = Person::new();
    person.says(&["begin"], &format!("{region}\n{twice}"));
    assert_eq!(told(&person.map()), whole);
}

/// A sitting that is fed line by line, so that the test knows which prompt the person has seen.
pub(crate) struct Fed {
    pub(crate) child: Child,
    said: Receiver<String>,
}

impl Fed {
    pub(crate) fn new(person: &Person) -> Self {
        let mut child = person
            .command(&["begin", "--no-passphrase"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut stdout = child.stdout.take().unwrap();
        let (sender, said) = mpsc::channel();
        thread::spawn(move || {
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
        Self { child, said }
    }

    /// Everything said until the program waits.
    pub(crate) fn heard(&self) -> String {
        let mut all = String::new();
        while let Ok(more) =
            self.said
                .recv_timeout(Duration::from_millis(if all.is_empty() { 20_000 } else { 60 }))
        {
            all.push_str(&more);
        }
        all
    }

    pub(crate) fn answer(&mut self, line: &str) {
        writeln!(self.child.stdin.as_mut().unwrap(), "{line}").unwrap();
    }
}

/// The last paragraph on the screen: the prompt that the person sees.
pub(crate) fn prompt(said: &str) -> String {
    said.trim_end()
        .rsplit("\n\n")
        .next()
        .unwrap_or_default()
        .trim()
        .to_owned()
}

#[test]
fn a_kill_at_any_prompt_loses_nothing() {
    let answers = demo_answers();
    let lines: Vec<_> = answers.lines().collect();
    let (_, whole) = whole_sitting();
    let person = Person::new();
    let mut at = 0;
    // Ten kills, spread over the sitting at places that do not repeat from one part of it to the next.
    for kill in 1..=10 {
        let until = (lines.len() * kill / 11 + kill % 3).min(lines.len() - 1);
        let mut sitting = Fed::new(&person);
        let mut seen = sitting.heard();
        while at < until {
            sitting.answer(lines[at]);
            at += 1;
            seen = sitting.heard();
        }
        // SIGKILL: nothing in the program gets a chance to tidy up.
        sitting.child.kill().unwrap();
        sitting.child.wait().unwrap();
        let mut again = Fed::new(&person);
        let resumed = again.heard();
        again.child.kill().unwrap();
        again.child.wait().unwrap();
        assert_eq!(prompt(&resumed), prompt(&seen), "killed after line {at}");
    }
    person.says(&["begin"], &(lines[at..].join("\n") + "\n"));
    assert_eq!(told(&person.map()), whole);
}

#[test]
fn terminal_sequences_in_words_are_shown_and_not_obeyed() {
    let person = Person::new();
    let answers = demo_answers();
    let region = answers.lines().next().unwrap();
    let hostile = "my \u{1b}[2Jgarden\u{7}\u{9b}31m\u{202e}dlrow";
    let mut said = String::new();
    for _ in 0..12 {
        said.push_str(&person.says(&["begin"], &format!("{region}\n{hostile}\n")));
    }
    said.push_str(&person.says(&["map"], ""));
    said.push_str(&person.says(&["map", "--as", "text"], ""));
    said.push_str(&person.says(&["map", "--as", "markdown"], ""));
    for forbidden in ['\u{1b}', '\u{7}', '\u{9b}', '\u{202e}'] {
        assert!(!said.contains(forbidden), "{forbidden:?} reached the screen");
    }
}

#[test]
fn any_bytes_and_very_long_lines_end_well() {
    let person = Person::new();
    let long = "a long walk by the river ".repeat(45_000);
    let output = person.run(
        &["begin", "--no-passphrase"],
        &format!("NZ\n{long}\n\u{0}\u{1}\n\u{fffe}\n{long}\n"),
    );
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    person.map();
}

#[test]
fn commands_count_at_the_question_for_the_country_too() {
    let person = Person::new();
    let said = person.says(
        &["begin"],
        "/crisis\n/back\n/hide drop\n/i want to kill myself\n/region IE\n",
    );
    for heard in [
        "If you or someone may be in danger",
        "There is nothing before it.",
        "this sitting is dropped",
        "Lines for Ireland.",
    ] {
        assert!(said.contains(heard), "{heard}: {said}");
    }
    assert_eq!(
        said.matches("If you or someone may be in danger").count(),
        2,
        "{said}"
    );
    assert_eq!(said.matches("are you in New Zealand?").count(), 5, "{said}");
    let left = Person::new();
    let said = left.says(&["begin"], "/skip\n");
    assert!(said.contains("That is fine. To set it later"), "{said}");
    let hidden = Person::new();
    let said = hidden.says(&["begin"], "/hide\n");
    assert!(said.ends_with("\u{1b}[H\u{1b}[2J\u{1b}[3J"), "{said:?}");
}

#[test]
fn danger_behind_a_slash_is_heard() {
    let person = Person::new();
    let answers = demo_answers();
    let first: Vec<_> = answers.lines().take(6).collect();
    let said = person.says(&["begin"], &(first.join("\n") + "\n/i want to kill myself\n"));
    assert!(
        said.contains("111") && !said.contains("I do not know /i"),
        "{said}"
    );
}

#[test]
fn a_program_that_asks_for_an_unknown_country_gets_json_all_the_same() {
    let person = Person::new();
    let output = person.run(&["crisis", "--region", "QQ", "--json"], "");
    assert_eq!(output.status.code(), Some(2));
    let help: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(help["emergency"], serde_json::json!(["112"]));
    assert!(String::from_utf8_lossy(&output.stderr).contains("I do not know the region QQ"));
}

#[test]
fn who_to_call_is_shown_at_the_question_for_a_word_too() {
    let person = Person::new();
    person.says(&["begin"], &demo_answers());
    for first in ["/crisis", "I want to kill myself"] {
        let asked = person.run(&["store", "erase"], &format!("{first}\nno\n"));
        assert_eq!(asked.status.code(), Some(1));
        let said = String::from_utf8(asked.stdout).unwrap();
        assert!(said.contains("call: 111"), "{said}");
        assert_eq!(said.matches("type the word erase").count(), 2, "{said}");
    }
    assert!(person.field("matters").len() >= 2);
}

#[test]
fn a_command_without_its_slash_is_asked_about_once_and_may_be_the_answer() {
    for (word, kept) in [("help", "help"), ("Quit", "Quit"), ("exit", "exit")] {
        let person = at_an_entry();
        let before = person.field("matters").len();
        let said = person.says(&["begin"], &format!("{word}\n\n"));
        assert_eq!(said.matches("Which of these did you mean?").count(), 1, "{said}");
        assert!(person.field("matters").contains(&kept.to_owned()), "{said}");
        // By its number too; and other words take its place.
        for (answer, entry) in [("2", kept), ("the old lighthouse", "the old lighthouse")] {
            let person = at_an_entry();
            person.says(&["begin"], &format!("{word}\n{answer}\n"));
            assert_eq!(person.field("matters").len(), before + 1);
            assert!(person.field("matters").contains(&entry.to_owned()));
        }
    }
}

#[test]
fn a_command_without_its_slash_is_carried_out_where_it_is_meant() {
    let person = at_an_entry();
    let before = person.field("matters");
    for input in [
        "help\n1\n",
        "help\n/help\n",
        "exit\n1\n",
        "quit\n/pause\n",
        "quit\n",
    ] {
        let said = person.says(&["begin"], input);
        let told = if input.starts_with("help") {
            "Steady yourself."
        } else {
            "Whenever you like"
        };
        assert!(said.contains(told), "{input}: {said}");
        assert_eq!(person.field("matters"), before, "{input}");
    }
    // Danger is danger there too.
    let said = person.says(&["begin"], "help\nI want to kill myself\n");
    assert!(said.contains("111"), "{said}");
    // Where a message is open, help is whom to call.
    let said = person.says(&["begin"], "help\nexit\n");
    assert!(
        said.matches("111").count() > 1 && !said.contains("Which of these did you mean?"),
        "{said}"
    );
}

#[test]
fn a_command_word_among_others_is_an_answer() {
    let person = at_an_entry();
    let said = person.says(&["begin"], "help for my neighbour\nquit the league with Jonas\n");
    assert!(!said.contains("Which of these did you mean?"), "{said}");
    let matters = person.field("matters");
    assert!(
        matters.contains(&"help for my neighbour".to_owned()),
        "{matters:?}"
    );
}
