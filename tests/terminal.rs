//! The program at a real terminal: a pseudo-terminal stands in for the person's window.

use std::time::Duration;

use rexpect::session::PtySession;
use rexpect::session::spawn_command;

use crate::program::Person;
use crate::program::demo_answers;

/// Long enough for a loaded machine; nothing here measures time.
const PATIENCE: Duration = Duration::from_mins(1);

fn sit_down(person: &Person, arguments: &[&str], columns: &str) -> PtySession {
    let mut command = person.command(arguments);
    command.env("TERM", "xterm-256color").env("COLUMNS", columns);
    spawn_command(command, Some(u64::try_from(PATIENCE.as_millis()).unwrap())).unwrap()
}

#[test]
fn a_whole_sitting_is_typed_at_a_terminal() {
    let person = Person::new();
    let mut terminal = sit_down(&person, &["begin", "--no-passphrase"], "80");
    terminal.exp_string("are you in New Zealand?").unwrap();
    for line in demo_answers().lines() {
        // The prompt's sign, behind it the line editor waits.
        terminal.exp_string("> ").unwrap();
        terminal.send_line(line).unwrap();
    }
    terminal.exp_string("That is all for today.").unwrap();
    terminal.exp_eof().unwrap();
    let by_pipe = Person::new();
    by_pipe.says(&["begin"], &demo_answers());
    for field in ["matters", "inner", "away", "toward"] {
        assert_eq!(person.field(field), by_pipe.field(field));
    }
}

/// Who to call is there before any map opens, also where a passphrase is asked for; and no passphrase is made of it.
#[test]
fn who_to_call_is_shown_where_a_passphrase_is_asked_for() {
    let person = Person::new();
    let mut terminal = sit_down(&person, &["begin"], "80");
    let secret = "seven brass buttons";
    terminal.exp_string("Choose a passphrase").unwrap();
    terminal.send_line("/crisis").unwrap();
    terminal.exp_string("1737").unwrap();
    terminal.exp_string("guess from this machine").unwrap();
    terminal.exp_string("Choose a passphrase").unwrap();
    terminal.send_line(secret).unwrap();
    terminal.exp_string("once more").unwrap();
    terminal.send_line(secret).unwrap();
    terminal.exp_string("are you in New Zealand?").unwrap();
    terminal.send_line("/pause").unwrap();
    terminal.exp_eof().unwrap();
    let mut terminal = sit_down(&person, &["map"], "80");
    for _ in 0..5 {
        terminal.exp_string("Your passphrase").unwrap();
        terminal.send_line("/crisis").unwrap();
        terminal.exp_string("1737").unwrap();
    }
    terminal.exp_string("Your passphrase").unwrap();
    terminal.send_line(secret).unwrap();
    let shown = terminal.exp_eof().unwrap();
    assert!(!shown.contains("did not open"), "{shown}");
}

/// Whoever mistypes a country does not mean the one that was guessed.
#[test]
fn a_country_that_is_not_known_takes_the_guess_away() {
    let person = Person::new();
    let mut terminal = sit_down(&person, &["begin", "--no-passphrase"], "80");
    terminal.exp_string("are you in New Zealand?").unwrap();
    terminal.send_line("xyz").unwrap();
    terminal.exp_string("I do not know the letters xyz").unwrap();
    terminal.exp_string("which country are you in?").unwrap();
    terminal.send_line("IE").unwrap();
    terminal.exp_string("Lines for Ireland").unwrap();
    terminal.send_line("/pause").unwrap();
    terminal.exp_string("Kept.").unwrap();
    terminal.exp_eof().unwrap();
}

#[test]
fn a_passphrase_is_asked_for_and_never_shown() {
    let person = Person::new();
    let mut terminal = sit_down(&person, &["begin"], "80");
    let secret = "seven brass buttons";
    terminal.exp_string("Choose a passphrase").unwrap();
    terminal.send_line(secret).unwrap();
    terminal.exp_string("once more").unwrap();
    terminal.send_line(secret).unwrap();
    let shown = terminal.exp_string("are you in New Zealand?").unwrap();
    assert!(!shown.contains("brass"), "{shown}");
    terminal.send_line("").unwrap();
    terminal.exp_string("Press Enter").unwrap();
    terminal.send_control('d').unwrap();
    terminal.exp_string("Kept.").unwrap();
    terminal.exp_eof().unwrap();

    let refused = person.run(&["map", "--as", "json"], "");
    assert!(
        !refused.status.success(),
        "a locked map opened without its passphrase"
    );
    let mut again = sit_down(&person, &["map", "--as", "json"], "80");
    again.exp_string("Your passphrase:").unwrap();
    again.send_line("not this one").unwrap();
    again.exp_string("did not open it").unwrap();
    again.send_line(secret).unwrap();
    again.exp_string("\"version\": 1").unwrap();
    again.exp_eof().unwrap();
}

/// Whoever takes the first screen in sees all of it at once, cautions and the question for a passphrase too.
#[test]
fn the_first_screen_has_room_on_a_small_terminal() {
    let person = Person::new();
    let mut terminal = sit_down(&person, &["begin"], "80");
    let shown = terminal.exp_string("to go without:").unwrap();
    assert!(shown.lines().count() < 24, "{shown}");
    let said = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    for caution in [
        "not a medical device",
        "licensed professional",
        "/crisis shows who to call",
        "can miss danger",
        "Nothing is sent anywhere",
        "If you lose it, no one can open the map",
    ] {
        assert!(said.contains(caution), "{caution}: {said}");
    }
}

#[test]
fn a_passphrase_of_a_backup_may_be_typed_again_and_the_place_is_told() {
    let person = Person::new();
    person.says(&["begin"], "NZ\n");
    let (word, backup) = (person.folder().join("word"), person.folder().join("b.age"));
    std::fs::write(&word, "oar and rowlock\n").unwrap();
    let (word, backup) = (word.to_str().unwrap(), backup.to_str().unwrap());
    person.says(&["store", "backup", backup, "--backup-passphrase-file", word], "");
    let restore = ["--no-passphrase", "store", "restore", backup];
    let other = Person::new();
    let mut terminal = sit_down(&other, &restore, "80");
    for typed in ["ore", "/crisis", "rowlock"] {
        terminal.exp_string("The passphrase of the backup:").unwrap();
        terminal.send_line(typed).unwrap();
        let told = if typed == "/crisis" {
            "1737"
        } else {
            "did not open it"
        };
        terminal.exp_string(told).unwrap();
    }
    terminal.exp_string("The passphrase of the backup:").unwrap();
    terminal.send_line("oar and rowlock").unwrap();
    terminal.exp_string("The map is back").unwrap();
    let told = terminal.exp_eof().unwrap();
    assert!(told.contains(other.store().to_str().unwrap()), "{told}");
    let other = Person::new();
    let mut terminal = sit_down(&other, &restore, "80");
    for _ in 0..3 {
        terminal.exp_string("The passphrase of the backup:").unwrap();
        terminal.send_line("ore").unwrap();
    }
    let told = terminal.exp_eof().unwrap();
    assert!(told.contains("That does not open this file."), "{told}");
    assert!(!other.store().exists());
}

#[test]
fn one_key_chord_clears_screen_and_scrollback() {
    let person = Person::new();
    let mut terminal = sit_down(&person, &["begin", "--no-passphrase"], "80");
    terminal.exp_string("are you in New Zealand?").unwrap();
    terminal.send_line("").unwrap();
    terminal.exp_string("Press Enter").unwrap();
    terminal.exp_string("> ").unwrap();
    terminal.send_control('g').unwrap();
    terminal.exp_string("\u{1b}[2J\u{1b}[3J").unwrap();
    let after = terminal.exp_eof().unwrap();
    assert!(after.trim().is_empty(), "{after:?}");
    let resumed = person.says(&["begin"], "");
    assert!(resumed.contains("Press Enter"), "{resumed}");
}

#[test]
fn a_hidden_sitting_is_dropped_if_that_was_chosen() {
    let person = Person::new();
    let mut terminal = sit_down(&person, &["begin", "--no-passphrase"], "80");
    for line in demo_answers().lines().take(9) {
        terminal.exp_string("> ").unwrap();
        terminal.send_line(line).unwrap();
    }
    terminal.exp_string("> ").unwrap();
    terminal.send_line("/hide drop").unwrap();
    terminal.exp_string("this sitting is dropped").unwrap();
    terminal.exp_string("> ").unwrap();
    terminal.send_control('g').unwrap();
    terminal.exp_eof().unwrap();
    assert_eq!(person.map()["entries"], serde_json::json!([]));
}

/// Goes up to the first question for an entry, pastes lines there, and says yes to keeping each as its own.
fn paste(person: &Person, lines: &str) -> PtySession {
    let answers = demo_answers();
    let mut terminal = sit_down(person, &["begin", "--no-passphrase"], "80");
    for line in answers.lines().take_while(|line| *line != "my brother Jonas") {
        terminal.exp_string("> ").unwrap();
        terminal.send_line(line).unwrap();
    }
    terminal.exp_string("Who matters to you?").unwrap();
    terminal.exp_string("> ").unwrap();
    terminal.send(&format!("\u{1b}[200~{lines}\u{1b}[201~")).unwrap();
    terminal.send_line("").unwrap();
    terminal.exp_string("Enter for yes").unwrap();
    terminal.send_line("").unwrap();
    terminal
}

#[test]
fn several_pasted_lines_become_several_entries_after_asking() {
    let person = Person::new();
    let mut terminal = paste(&person, "my sister Ana\nold Mr Reyes");
    terminal.exp_string("Who else").unwrap();
    terminal.send_control('d').unwrap();
    terminal.exp_string("Kept.").unwrap();
    terminal.exp_eof().unwrap();
    assert_eq!(person.field("matters"), ["my sister Ana", "old Mr Reyes"]);
}

#[test]
fn pasted_lines_that_go_beyond_their_question_are_told_and_go_nowhere_else() {
    let person = Person::new();
    // The third says that there are no more, so the next question is another one.
    let mut terminal = paste(&person, "my sister Ana\nold Mr Reyes\ndone\nthe two cousins");
    terminal.exp_string("was not kept:").unwrap();
    terminal.exp_string("- the two cousins").unwrap();
    terminal.exp_string("> ").unwrap();
    terminal.send_control('d').unwrap();
    terminal.exp_string("Kept.").unwrap();
    terminal.exp_eof().unwrap();
    assert_eq!(person.field("matters"), ["my sister Ana", "old Mr Reyes"]);
}

#[test]
fn danger_and_commands_count_at_a_question_of_the_programs_own_too() {
    let person = Person::new();
    let answers = demo_answers();
    let mut terminal = sit_down(&person, &["begin", "--no-passphrase"], "80");
    for line in answers.lines().take_while(|line| *line != "my brother Jonas") {
        terminal.exp_string("> ").unwrap();
        terminal.send_line(line).unwrap();
    }
    terminal.exp_string("Who matters to you?").unwrap();
    for said in ["/crisis", "I keep thinking about killing myself"] {
        terminal.exp_string("> ").unwrap();
        terminal
            .send("\u{1b}[200~my sister Ana\nold Mr Reyes\u{1b}[201~")
            .unwrap();
        terminal.send_line("").unwrap();
        terminal.exp_string("Enter for yes").unwrap();
        terminal.send_line(said).unwrap();
        terminal.exp_string("111").unwrap();
        if said == "/crisis" {
            // The question stands.
            terminal.exp_string("Enter for yes").unwrap();
            terminal.send_line("").unwrap();
            terminal.exp_string("Who else").unwrap();
        }
    }
    terminal.exp_string("> ").unwrap();
    terminal.send_control('d').unwrap();
    terminal.exp_eof().unwrap();
    assert_eq!(
        person.field("matters"),
        ["my sister Ana", "old Mr Reyes"],
        "danger is no yes"
    );
}
