//! The empty sheet, the page for an appointment, and what a screen reader gets.

use std::fs;

use crate::program::Person;
use crate::sharing::DAY;
use crate::sharing::demo;
use crate::sharing::holds_only;
use crate::sharing::lines;
use crate::sharing::map;
use crate::sharing::text_of;

#[test]
fn an_empty_sheet_needs_no_store_and_holds_no_entry() {
    let (known, new) = (demo(), Person::new());
    for plainer in [&["--blank"][..], &["--blank", "--plainer", "--replace"]] {
        for name in ["sheet.pdf", "sheet.svg", "sheet.png", "sheet.txt", "sheet.md"] {
            let made = [&known, &new].map(|person| {
                let file = person.folder().join(name);
                map(person, plainer, Some(&file), "");
                fs::read(file).unwrap()
            });
            assert!(made[0] == made[1], "{name} differs with a store");
        }
    }
    assert!(!new.store().exists());
    let holds = |name: &str, words: &str| {
        assert!(
            text_of(&new.folder().join(name)).contains(words),
            "{name}: {words}"
        );
    };
    // The last two written are in plainer words.
    holds("sheet.pdf", "What hard stuff turns up in your head or body?");
    holds("sheet.txt", "What hard stuff turns up in your head or body?");
    holds_only(&known, &known.folder().join("sheet.pdf"), &[]);
}

#[test]
fn a_page_for_an_appointment_carries_the_question() {
    let person = demo();
    for name in [
        "talk.pdf",
        "talk.svg",
        "talk.png",
        "talk.txt",
        "talk.md",
        "talk.json",
    ] {
        let file = person.folder().join(name);
        map(
            &person,
            &["--appointment"],
            Some(&file),
            "May we speak of Sundays?\n",
        );
        if !matches!(name, "talk.svg" | "talk.png") {
            let text = text_of(&file);
            assert!(
                text.contains("May we speak of Sundays?") && text.contains("the choir"),
                "{name}: {text}"
            );
        }
    }
    let open = person.folder().join("open.txt");
    for input in ["", "\n", "/skip\n"] {
        map(&person, &["--appointment", "--replace"], Some(&open), input);
        assert!(
            fs::read_to_string(&open)
                .unwrap()
                .ends_with("What I would like to ask\n\n________________\n________________\n")
        );
    }
    // Where the page itself goes to standard output, the question is asked beside it.
    let output = person.run(
        &[
            "--no-passphrase",
            "map",
            "--appointment",
            "--as",
            "text",
            "--on",
            DAY,
        ],
        "\n",
    );
    assert!(output.stdout.starts_with(b"For our talk\n2031-05-17\n"));
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .starts_with("Is there a question you want to bring?\n")
    );
}

#[test]
fn a_question_to_bring_is_looked_at_first() {
    let person = demo();
    let file = person.folder().join("talk.txt");
    let calm = map(
        &person,
        &["--appointment"],
        Some(&file),
        "May we speak of Sundays?\n",
    );
    assert!(!calm.contains("111"), "{calm}");
    let said = map(
        &person,
        &["--appointment", "--replace"],
        Some(&file),
        "I want to kill myself\n",
    );
    assert!(
        said.contains("In an emergency in New Zealand, call: 111"),
        "{said}"
    );
    // It is the person's own page for the one who helps them, so the words stay on it.
    assert!(
        fs::read_to_string(&file)
            .unwrap()
            .contains("I want to kill myself")
    );
}

#[test]
fn plain_manner_draws_nothing() {
    let person = demo();
    let said = [
        map(&person, &["--plain"], None, ""),
        map(&person, &["--plain", "--blank"], None, ""),
        map(&person, &["--plain", "--appointment"], None, "\n"),
        map(
            &person,
            &["--plain", "--share"],
            None,
            &lines(&["1", "all", "all", "3", "2", "2", "no"]),
        ),
    ];
    for text in said {
        let drawn = |sign: &char| matches!(sign, '\u{1b}' | '\u{2500}'..='\u{25ff}' | '|' | '+' | '>');
        assert_eq!(text.chars().find(drawn), None, "{text}");
        assert!(text.contains("What matters"));
    }
}
