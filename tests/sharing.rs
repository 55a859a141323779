//! What leaves the store for someone else: only what was chosen, shown before it is written, and nothing beside it.

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

use expect_test::expect_file;

use crate::program::Person;
use crate::program::demo_answers;

/// The day on which every file of these tests is made.
pub(crate) const DAY: &str = "2031-05-17";

/// The choice of most tests: two people and a thing, one inner entry, one away move, one toward move, no dates, a PDF.
const CHOICE: [&str; 13] = [
    "2", "1 2 3 4", "1 3 6", "2", "1", "2", "", "", "", "", "1", "yes", "",
];
/// How many of these come before the kind of the file is asked about, where its name does not say it.
const BEFORE_KIND: usize = 10;

/// Answers, one a line.
pub(crate) fn lines(answers: &[&str]) -> String {
    answers.iter().flat_map(|answer| [*answer, "\n"]).collect()
}

/// Someone with the demo map.
pub(crate) fn demo() -> Person {
    let person = Person::new();
    person.says(&["begin"], &demo_answers());
    person
}

/// Runs `wayfold map` with more arguments and gives everything it said. The file is named by `file`.
pub(crate) fn map(person: &Person, arguments: &[&str], file: Option<&Path>, input: &str) -> String {
    let mut all = vec!["map", "--on", DAY];
    all.extend(arguments);
    if let Some(file) = file {
        all.extend(["--out", file.to_str().unwrap()]);
    }
    person.says(&all, input)
}

/// Shares with these answers and gives the file's path.
pub(crate) fn share(person: &Person, name: &str, answers: &[&str]) -> PathBuf {
    let file = person.folder().join(name);
    let said = map(person, &["--share"], Some(&file), &lines(answers));
    assert!(file.exists(), "{said}");
    file
}

/// What another program says about a file.
pub(crate) fn tool(program: &str, arguments: &[&str]) -> Vec<u8> {
    let done = Command::new(program).args(arguments).output();
    let done = done.unwrap_or_else(|error| panic!("{program}: {error}; ./scripts/test brings it"));
    // qpdf ends with 3 where it only warned.
    assert!(
        matches!(done.status.code(), Some(0 | 3)),
        "{program}: {}",
        String::from_utf8_lossy(&done.stderr)
    );
    done.stdout
}

/// What can be read in a file.
pub(crate) fn text_of(file: &Path) -> String {
    let text = match file.extension().unwrap().to_str().unwrap() {
        "pdf" => String::from_utf8(tool("pdftotext", &["-raw", file.to_str().unwrap(), "-"])).unwrap(),
        _ => fs::read_to_string(file).unwrap().replace('\\', ""),
    };
    squeezed(&text)
}

/// The text with every stretch of space as one space, however its lines were broken.
pub(crate) fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The file with everything unpacked, in both ways in which a PDF writes text of its structure.
pub(crate) fn unpacked(file: &Path) -> String {
    let bytes = match file.extension().unwrap().to_str().unwrap() {
        "pdf" => tool(
            "qpdf",
            &["--qdf", "--object-streams=disable", file.to_str().unwrap(), "-"],
        ),
        _ => fs::read(file).unwrap(),
    };
    let wide: String = bytes
        .iter()
        .filter(|byte| **byte != 0)
        .map(|byte| char::from(*byte))
        .collect();
    format!("{}\n{wide}", String::from_utf8_lossy(&bytes))
}

/// Every text that the store holds.
fn everything(person: &Person) -> Vec<String> {
    let map = person.map();
    let mut texts = Vec::new();
    let mut add = |value: &serde_json::Value| texts.extend(value.as_str().map(str::to_owned));
    for entry in map["entries"].as_array().unwrap() {
        add(&entry["text"]);
    }
    for one in map["loops"].as_array().unwrap() {
        for part in ["relief", "cost", "matters"] {
            add(&one[part]);
        }
    }
    for step in map["steps"].as_array().unwrap() {
        add(&step["act"]);
        add(&step["when"]);
    }
    assert!(texts.len() >= 24, "{texts:?}");
    texts
}

/// The file holds these texts of the store and no other.
pub(crate) fn holds_only(person: &Person, file: &Path, chosen: &[&str]) {
    // What begins a line may have got a capital.
    let (text, raw) = (text_of(file).to_lowercase(), unpacked(file).to_lowercase());
    for known in everything(person) {
        let is_chosen = chosen.contains(&&*known);
        let known = known.to_lowercase();
        if is_chosen {
            assert!(text.contains(&known), "{known} is missing in {text}");
        } else {
            assert!(!text.contains(&known), "{known} is in {text}");
            assert!(!raw.contains(&known), "{known} is in the unpacked file");
        }
    }
}

const CHOSEN: [&str; 6] = [
    "my brother Jonas",
    "the choir",
    "restoring the old rowing boat",
    "everyone hears my wrong notes",
    "cancel choir practice with an excuse",
    "sand one plank of the boat",
];

#[test]
fn a_share_holds_what_was_chosen_and_nothing_else() {
    let person = demo();
    // The kind is not asked about where the file's name says it.
    let choice: Vec<_> = CHOICE
        .iter()
        .enumerate()
        .filter(|(at, _)| *at != BEFORE_KIND)
        .map(|(_, answer)| *answer)
        .collect();
    for name in ["some.pdf", "some.md"] {
        holds_only(&person, &share(&person, name, &choice), &CHOSEN);
    }
}

#[test]
fn a_loop_and_a_step_come_along_only_when_they_are_chosen() {
    let person = demo();
    let choice = ["2", "1 2 3 4", "1 3 6", "2", "1", "2", "1", "all", "3", "", "yes"];
    let mut chosen = CHOSEN.to_vec();
    let map = person.map();
    let text = |value: &'_ serde_json::Value| value.as_str().unwrap().to_owned();
    let one = &map["loops"][0];
    let step = &map["steps"][0];
    let more = [
        text(&one["relief"]),
        text(&one["cost"]),
        text(&one["matters"]),
        text(&step["act"]),
        text(&step["when"]),
    ];
    chosen.extend(more.iter().map(String::as_str));
    for name in ["more.pdf", "more.md"] {
        let file = share(&person, name, &choice);
        holds_only(&person, &file, &chosen);
        assert!(text_of(&file).contains(DAY));
    }
}

#[test]
fn someone_close_gets_what_matters_and_toward_only() {
    let person = demo();
    let mut chosen = person.field("matters");
    chosen.extend(person.field("toward"));
    for name in ["close.pdf", "close.md"] {
        let file = share(&person, name, &["1", "all", "all", "", "", "yes"]);
        holds_only(
            &person,
            &file,
            &chosen.iter().map(String::as_str).collect::<Vec<_>>(),
        );
        let file = share(&person, name, &["1", "all", "all", "", "2", "yes"]);
        let text = text_of(&file);
        for name in ["Jonas", "Vera"] {
            assert!(!text.contains(name) && !unpacked(&file).contains(name), "{text}");
        }
        assert!(text.contains("my brother J."), "{text}");
    }
}

#[test]
fn what_the_preview_shows_is_what_the_file_holds() {
    let person = demo();
    let file = person.folder().join("seen.md");
    let said = map(
        &person,
        &["--share"],
        Some(&file),
        &lines(&["1", "1 2", "3", "2", "", "yes"]),
    );
    let words = |text: &str| {
        let kept = text
            .chars()
            .filter(|sign| sign.is_alphanumeric() || sign.is_whitespace())
            .collect::<String>();
        kept.split_whitespace().map(str::to_owned).collect::<Vec<_>>()
    };
    let seen = said
        .split("This is all that goes in:")
        .nth(1)
        .unwrap()
        .split("That is all.")
        .next()
        .unwrap();
    assert_eq!(words(seen), words(&fs::read_to_string(file).unwrap()));
}

#[test]
fn nothing_is_written_without_a_yes() {
    let person = demo();
    let file = person.folder().join("never.pdf");
    let all: Vec<_> = CHOICE
        .iter()
        .filter(|answer| **answer != "yes")
        .copied()
        .collect();
    let before = fs::read_dir(person.folder()).unwrap().count();
    for end in ["", "1", "n", "no"] {
        let mut answers = CHOICE[..BEFORE_KIND].to_vec();
        answers.push(end);
        let said = map(&person, &["--share"], Some(&file), &lines(&answers));
        assert!(
            said.contains("This is all that goes in:") && said.ends_with("Nothing was written.\n"),
            "{said}"
        );
    }
    // However far it came, an input that ends, or /pause, writes nothing.
    for cut in 0..=BEFORE_KIND {
        for end in ["", "/pause\nyes\n"] {
            let input = lines(&all[..cut]) + end;
            let arguments = [
                "--no-passphrase",
                "map",
                "--on",
                DAY,
                "--share",
                "--out",
                file.to_str().unwrap(),
            ];
            let output = person.run(&arguments, &input);
            assert_eq!(output.status.code(), Some(130), "{cut}");
            assert!(
                String::from_utf8(output.stdout)
                    .unwrap()
                    .ends_with("Nothing was written.\n")
            );
        }
    }
    assert_eq!(fs::read_dir(person.folder()).unwrap().count(), before);
}

#[test]
fn nothing_chosen_is_nothing_written() {
    let person = demo();
    let file = person.folder().join("empty.pdf");
    for answers in [
        &["1", "", ""][..],
        &["2", "", ""],
        &["2", "1 3", "none", "none", ""],
    ] {
        let said = map(&person, &["--share"], Some(&file), &lines(answers));
        assert!(
            said.ends_with("Nothing is chosen, so nothing was written.\n"),
            "{said}"
        );
    }
    assert!(!file.exists());
}

#[test]
fn going_back_takes_a_choice_back() {
    let person = demo();
    let twice = [
        "/ground", "/pause", "1", "/back", "1", "all", "/back", "1", "2", "/back", "2", "/help", "sideways",
        "", "", "yes",
    ];
    let file = share(&person, "back.md", &twice);
    holds_only(
        &person,
        &file,
        &["my brother Jonas", "sand one plank of the boat"],
    );
}

#[test]
fn a_long_entry_is_told_in_brief_where_one_chooses_and_goes_in_whole() {
    let person = Person::new();
    let long = format!(
        "the lantern in the boat house, {}and its key",
        "its hook, its glass, ".repeat(30)
    );
    let mut rows = "{\"backup\":\"wayfold\",\"version\":1}\n".to_owned();
    for (number, words) in [(1, &*long), (2, "the choir")] {
        let event = serde_json::json!({
            "id": format!("01980000-0000-7000-8000-00000000000{number}"), "at": "2026-03-14T09:30:00Z",
            "what": "entry-added", "entry": format!("01980000-0000-7000-8000-00000000010{number}"),
            "field": "matters", "words": words,
        });
        rows.push_str(&(event.to_string() + "\n"));
    }
    let all = person.folder().join("all.jsonl");
    fs::write(&all, rows).unwrap();
    person.says(&["store", "merge", all.to_str().unwrap()], "");
    let file = person.folder().join("long.md");
    let said = map(&person, &["--share"], Some(&file), &lines(&["1", "1", "", "yes"]));
    let (asked, shown) = said.split_once("This is all that goes in:").unwrap();
    let listed: Vec<_> = asked
        .lines()
        .skip_while(|line| !line.contains("  1  the lantern"))
        .take_while(|line| !line.starts_with("  2  "))
        .collect();
    assert_eq!(listed.len(), 2, "{listed:?}");
    assert!(listed[1].ends_with(" ...") && listed.iter().all(|line| line.chars().count() <= 76));
    assert!(squeezed(shown).contains(&long), "{shown}");
    assert!(text_of(&file).contains(&long));
}

#[test]
fn a_file_that_is_there_stays_unless_it_may_go() {
    let person = demo();
    let file = person.folder().join("map.md");
    fs::write(&file, "a list of ropes").unwrap();
    let name = file.to_str().unwrap();
    for arguments in [
        &["map"][..],
        &["map", "--as", "text"],
        &["map", "--blank"],
        &["map", "--appointment"],
        &["map", "--since", "2026-01-01"],
        &["steps", "--calendar", name],
        &["script", "draw", "stuck"],
    ] {
        let out: &[&str] = if arguments.contains(&"--calendar") {
            &[]
        } else {
            &["--out", name]
        };
        let all = [&["--no-passphrase"], arguments, out].concat();
        let refused = person.run(&all, "");
        assert_eq!(refused.status.code(), Some(2), "{arguments:?}");
        let told = squeezed(&String::from_utf8(refused.stderr).unwrap());
        assert!(
            told.contains("map.md already. It was left as it is.") && told.contains("--replace"),
            "{told}"
        );
        assert_eq!(fs::read_to_string(&file).unwrap(), "a list of ropes");
        let done = person.run(&[&all[..], &["--replace"]].concat(), "\n");
        assert!(done.status.success(), "{arguments:?}: {done:?}");
        assert_ne!(
            fs::read_to_string(&file).unwrap(),
            "a list of ropes",
            "{arguments:?}"
        );
        fs::write(&file, "a list of ropes").unwrap();
    }
}

#[test]
fn the_conversation_reads_like_one() {
    let person = demo();
    let answers = [
        "2",
        "1 2 4",
        "1 3",
        "everything",
        "all",
        "3",
        "3",
        "1",
        "2",
        "2",
        "3",
        "yes",
    ];
    let file = person.folder().join("for-a-friend.pdf");
    let mut whole = String::new();
    let mut heard = 0;
    for count in 0..=answers.len() {
        let _ = fs::remove_file(&file);
        let arguments = [
            "--no-passphrase",
            "map",
            "--on",
            DAY,
            "--share",
            "--out",
            file.to_str().unwrap(),
        ];
        let said = String::from_utf8(person.run(&arguments, &lines(&answers[..count])).stdout).unwrap();
        let said = said.strip_suffix("Nothing was written.\n").unwrap_or(&said);
        whole.push_str(&said[heard..]);
        heard = said.len();
        if let Some(answer) = answers.get(count) {
            whole.extend(["> ", answer, "\n"]);
        }
    }
    let whole = whole.replace(file.to_str().unwrap(), "for-a-friend.pdf");
    expect_file!["data/share/conversation.txt"].assert_eq(&whole);
}
