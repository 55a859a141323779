//! What is made for packages from the table of arguments: a page for each command, and completions that a shell takes.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::program::Person;

/// What a command says of itself.
fn help(person: &Person, command: &[String]) -> String {
    let mut asked: Vec<&str> = command.iter().map(String::as_str).collect();
    asked.push("--help");
    let output = person.run(&asked, "");
    assert!(output.status.success(), "{command:?}");
    String::from_utf8(output.stdout).unwrap()
}

/// Every command that help names, from the program itself down, with what its help says.
pub(crate) fn commands(person: &Person) -> Vec<(Vec<String>, String)> {
    let mut open = vec![Vec::new()];
    let mut found = Vec::new();
    while let Some(command) = open.pop() {
        let text = help(person, &command);
        let listed = text
            .lines()
            .skip_while(|line| *line != "Commands:")
            .skip(1)
            .take_while(|line| !line.is_empty())
            .filter(|line| line.starts_with("  ") && !line.starts_with("   "));
        for line in listed {
            let mut below = command.clone();
            below.extend(line.split_whitespace().next().map(str::to_owned));
            open.push(below);
        }
        found.push((command, text));
    }
    found
}

#[test]
fn every_command_shows_an_example_and_has_a_page_with_it() {
    let person = Person::new();
    let folder = person.folder().join("pages");
    person.says(&["manual", "--into", folder.to_str().unwrap()], "");
    let commands = commands(&person);
    assert!(commands.len() > 30, "only {} commands were found", commands.len());
    for (command, text) in &commands {
        assert!(text.contains("\nExample"), "{command:?}: {text}");
        let name = [&["wayfold".to_owned()], command.as_slice()].concat().join("-");
        let page = fs::read_to_string(folder.join(format!("{name}.1"))).expect(&name);
        assert!(page.contains(".SH EXAMPLES\n"), "{name}");
    }
    let pages = fs::read_dir(&folder).unwrap().filter(|entry| {
        entry
            .as_ref()
            .unwrap()
            .path()
            .extension()
            .is_some_and(|ending| ending == "1")
    });
    assert_eq!(pages.count(), commands.len(), "a page of no command");
}

/// What bash offers after these words, the last of which is unfinished, with the completions in this folder.
fn offered(folder: &Path, words: &[&str]) -> Vec<String> {
    let script = r#"
        source "$1/wayfold.bash"; shift
        COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMPREPLY=()
        _wayfold "$1" "${@: -1}" "${@: -2:1}"
        printf '%s\n' "${COMPREPLY[@]}"
    "#;
    let output = Command::new("bash")
        .args(["-c", script, "bash"])
        .arg(folder)
        .args(words)
        .output()
        .unwrap();
    assert!(
        output.stderr.is_empty(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let said = String::from_utf8(output.stdout).unwrap();
    said.lines().map(str::to_owned).collect()
}

#[test]
fn bash_completes_commands_options_and_values() {
    let person = Person::new();
    let folder = person.folder();
    person.says(&["manual", "--into", folder.to_str().unwrap()], "");
    assert_eq!(offered(folder, &["wayfold", "cri"]), ["crisis"]);
    assert_eq!(offered(folder, &["wayfold", "store", "back"]), ["backup"]);
    assert!(!offered(folder, &["wayfold", "ma"]).contains(&"manual".to_owned()));
    assert_eq!(offered(folder, &["wayfold", "map", "--bl"]), ["--blank"]);
    assert_eq!(offered(folder, &["wayfold", "map", "--as", "p"]), ["pdf", "png"]);
}
