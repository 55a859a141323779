//! The commands for people who write scripts, and the variants, as the program runs them.

use std::fs;
use std::path::Path;
use std::process::Output;

use crate::program::Person;

const TEN: &str = include_str!("../data/craft/ten-questions.toml");

fn file(person: &Person, name: &str, text: &str) -> String {
    let path = person.folder().join(name);
    fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

fn said(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

#[test]
fn a_whole_script_is_clean_and_a_broken_one_is_pointed_at() {
    let person = Person::new();
    let whole = file(&person, "ten.toml", TEN);
    let output = person.run(&["script", "check", &whole], "");
    assert!(output.status.success());
    assert_eq!(said(&output), "Nothing to mend.\n");

    let broken = file(
        &person,
        "broken.toml",
        &TEN.replace("go = \"why\"\nskip", "go = \"whi\"\nskip"),
    );
    let output = person.run(&["script", "check", &broken], "");
    assert_eq!(output.status.code(), Some(1));
    let text = said(&output);
    for piece in [
        "There is no node “whi”.",
        "broken.toml:11:6",
        "go = \"whi\"",
        "^^^^^",
        "try: ",
        "1 thing to mend.",
    ] {
        assert!(text.contains(piece), "{piece} is not in\n{text}");
    }
    assert!(!text.contains('\u{1b}'), "no colour where nobody sees it");
    assert!(!person.store().exists(), "no store was made");
}

#[test]
fn five_typical_mistakes_are_found_at_once_and_mended_from_what_is_said() {
    let person = Person::new();
    let mistakes = [
        ("go = \"why\"\nskip", "go = \"wyh\"\nskip"),
        ("field = \"inner\"", "field = \"insides\""),
        ("\"sure < 7\"", "\"sure under 7\""),
        ("ask = \"rest.ask\"", "ask = \"rest\""),
        (
            "\"end.1\" = \"That is all.\"",
            "\"end.1\" = \"Well done, that is all.\"",
        ),
    ];
    let broken = mistakes
        .iter()
        .fold(TEN.to_owned(), |text, (from, to)| text.replacen(from, to, 1));
    let path = file(&person, "five.toml", &broken);
    let output = person.run(&["script", "check", "--json", &path], "");
    assert_eq!(output.status.code(), Some(1));
    let rows: Vec<serde_json::Value> = serde_json::from_str(&said(&output)).unwrap();
    let faults: Vec<_> = rows.iter().map(|row| row["fault"].as_str().unwrap()).collect();
    assert_eq!(
        faults,
        ["no-such-node", "wrong-value", "guard", "no-such-line", "wording"]
    );
    for (row, (_, to)) in rows.iter().zip(mistakes) {
        let line = usize::try_from(row["line"].as_u64().unwrap()).unwrap();
        let there = broken.lines().nth(line - 1).unwrap();
        assert!(
            to.lines().any(|piece| there.contains(piece)),
            "{row} points at {there:?}"
        );
        assert!(row["todo"].as_str().unwrap().len() > 10);
    }
}

#[test]
fn a_fault_of_every_kind_has_its_words() {
    let words = include_str!("../../scripts/dialogue/en/shell.toml");
    let source = include_str!("../../src/shell/faults.rs");
    let (_, table) = source.split_once("fn named(").unwrap();
    let names: Vec<_> = table
        .split('"')
        .skip(1)
        .step_by(2)
        .filter(|name| words.contains(&format!("\"fault.{name}\" = ")))
        .collect();
    assert!(names.len() >= 44, "only {} have words", names.len());
    for name in names {
        assert!(
            words.contains(&format!("\"fault.{name}.do\" = ")),
            "{name} does not say what to do"
        );
    }
}

#[test]
fn every_shipped_script_is_clean() {
    let person = Person::new();
    let flows = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue/flow");
    for flow in fs::read_dir(flows).unwrap() {
        let path = flow.unwrap().path();
        let output = person.run(&["script", "check", path.to_str().unwrap()], "");
        assert!(output.status.success(), "{}", said(&output));
    }
}

#[test]
fn a_dry_run_prints_the_transcript_and_touches_no_store() {
    let person = Person::new();
    let script = file(&person, "ten.toml", TEN);
    let answers = file(
        &person,
        "answers",
        "paint the shed\nmy sister\n\n/back\n\nworry\n\nlook at paint all day\n1\nopen one tin\n8\nfetch the ladder\nno\n\n",
    );
    let output = person.run(&["script", "play", &script, "--answers", &answers], "");
    let text = said(&output);
    assert!(output.status.success(), "{text}");
    for piece in [
        "Ten short questions",
        "> paint the shed",
        "Back one question",
        "[The map is shown here.]",
        "4 entries, 0 loops, 1 step.",
    ] {
        assert!(text.contains(piece), "{piece} is not in\n{text}");
    }
    assert!(!person.store().exists());

    let few = file(&person, "few", "paint the shed\n");
    assert_eq!(
        person
            .run(&["script", "play", &script, "--answers", &few], "")
            .status
            .code(),
        Some(1)
    );
    let dark = file(&person, "dark", "i want to kill myself\n");
    assert!(
        said(&person.run(&["script", "play", &script, "--answers", &dark], "")).contains("[A safety message")
    );
}

#[test]
fn walks_by_chance_meet_everything_and_can_be_had_again() {
    let person = Person::new();
    let walk = |script: &str, seed: &str| {
        let output = person.run(&["script", "play", script, "--walk", "60", "--seed", seed], "");
        assert!(output.status.success());
        said(&output)
    };
    let first = walk("short", "5");
    assert_eq!(first, walk("short", "5"));
    assert_ne!(first, walk("short", "6"));
    assert!(
        first.contains("60 walks (seed 5), and all came to an end."),
        "{first}"
    );
    assert!(walk("group", "1").contains("Choices taken: 7 of 7"));
    assert!(!person.store().exists());
}

#[test]
fn the_short_variant_takes_five_minutes_at_most() {
    let person = Person::new();
    let output = person.run(&["script", "play", "short", "--walk", "100"], "");
    let text = said(&output).replace('\n', " ");
    let (_, minutes) = text.split_once("Minutes: ").unwrap();
    let most: f64 = minutes
        .split("half under ")
        .nth(1)
        .unwrap()
        .split(',')
        .next()
        .unwrap()
        .parse()
        .unwrap();
    assert!(
        most > 0.5 && most <= 5.0,
        "half of the walks take up to {most} minutes"
    );
}

#[test]
fn a_graph_is_drawn_in_three_forms() {
    let person = Person::new();
    let script = file(&person, "ten.toml", TEN);
    let draw = |form: &str| {
        let output = person.run(&["script", "draw", &script, "--as", form], "");
        assert!(output.status.success());
        said(&output)
    };
    let dot = draw("dot");
    for piece in [
        "digraph \"mine\"",
        "shape=diamond",
        "style=dashed, label=\"if sure < 7\"",
        "style=dotted",
        "do: step act",
        "call: ground",
    ] {
        assert!(dot.contains(piece), "{piece} is not in\n{dot}");
    }
    let mermaid = draw("mermaid");
    for piece in [
        "flowchart TD",
        "{\"rest<br/>choose: 1 of 2\"}",
        "==>|\"rest.yes\"|",
        "==>|\"rest.no\"|",
        "if sure #60; 7",
        ":::does",
    ] {
        assert!(mermaid.contains(piece), "{piece} is not in\n{mermaid}");
    }
    let svg = draw("svg");
    let tree = roxmltree::Document::parse(&svg).unwrap();
    let texts: String = tree
        .descendants()
        .filter(roxmltree::Node::is_text)
        .filter_map(|node| node.text())
        .collect();
    for name in [
        "plan", "why", "shows", "away", "pulls", "toward", "sure", "act", "rest", "steady", "look", "kept",
        "end",
    ] {
        assert!(texts.contains(name), "{name} is not drawn");
    }
    for piece in [
        "pick: inner",
        "number: 0 to 10",
        "do: step act",
        "if count.toward > 0",
    ] {
        assert!(texts.contains(piece), "{piece} is not drawn: {texts}");
    }
}

#[test]
fn every_shipped_script_can_be_drawn() {
    let person = Person::new();
    for name in [
        "first-map",
        "ground",
        "group",
        "pair",
        "plainer",
        "safety",
        "short",
    ] {
        let output = person.run(&["script", "draw", name, "--as", "svg"], "");
        assert!(output.status.success(), "{name}");
        roxmltree::Document::parse(&said(&output)).unwrap();
    }
}

#[test]
fn a_graph_too_large_to_lay_out_is_still_written_as_text() {
    let person = Person::new();
    let mut text = String::from("name = \"large\"\nversion = 1\nstart = \"n0\"\n");
    for at in 0..300 {
        let (next, far) = (at + 1, (at + 60).min(300));
        text += &format!("[[node]]\nname = \"n{at}\"\npress = true\ngo = \"n{next}\"\nskip = \"n{far}\"\n");
    }
    text += "[[node]]\nname = \"n300\"\nend = true\n[lines]\n";
    let script = file(&person, "large.toml", &text);
    assert_eq!(
        person
            .run(&["script", "draw", &script, "--as", "svg"], "")
            .status
            .code(),
        Some(1)
    );
    assert!(
        said(&person.run(&["script", "draw", &script, "--as", "dot"], ""))
            .contains("n0 -> n60 [style=dotted")
    );
}

#[test]
fn a_script_of_ones_own_is_walked_and_named_as_such() {
    let person = Person::new();
    let script = file(&person, "ten.toml", TEN);
    let text = person.says(
        &["talk", &script],
        "NZ\npaint the shed\nmy sister\n\n\n\nopen one tin\n/pause\n",
    );
    assert!(text.contains("“mine” is not part of wayfold."), "{text}");
    assert!(text.contains("wayfold talk"), "{text}");
    assert_eq!(person.field("toward"), ["open one tin"]);
}

#[test]
fn a_script_of_ones_own_cannot_do_harm() {
    let person = Person::new();
    let refuses = |text: &str| {
        let script = file(&person, "bad.toml", text);
        let output = person.run(&["--no-passphrase", "talk", &script], "");
        assert_eq!(output.status.code(), Some(1));
        assert!(!said(&output).contains('\u{1b}'));
        assert!(!person.store().exists(), "refused before anything was opened");
    };
    refuses(&TEN.replace("That is all.", "\\u001b[2JThat is all."));
    refuses(&TEN.replace("That is all.", "\u{1b}[2JThat is all."));
    refuses(&TEN.replace("That is all.", "\u{202e}That is all."));
    refuses(&TEN.replace("name = \"mine\"", "name = \"safety\""));
    refuses(&TEN.replace("{ set = \"planned\" }", "{ run = \"planned\" }"));
    refuses(&TEN.replace("version = 1\n", "version = 1\nsafety = false\n"));
    refuses(&TEN.replace("most = 3", "most = 999999999999"));
    refuses(&"[".repeat(300_000));
    refuses(&format!("{TEN}\n#{}", "x".repeat(600 * 1024)));
    let script = file(&person, "bytes.toml", "");
    fs::write(&script, b"name = \"mine\"\xff\xfe").unwrap();
    let output = person.run(&["--no-passphrase", "talk", &script], "");
    assert_eq!(output.status.code(), Some(1));
}

#[test]
fn danger_is_heard_in_a_script_of_ones_own() {
    let person = Person::new();
    let script = file(&person, "ten.toml", TEN);
    let text = person.says(&["talk", &script], "NZ\ni want to kill myself\n");
    assert!(text.contains("111"), "{text}");
}

#[test]
fn every_variant_is_played_to_its_end() {
    let plainer = "NZ\n\nmy cousin Tane\n\ndrawing comics\n\nthey will laugh\nfear\n\nhide my sketchbook\n1 2\n\nshow one page\n1\n\nIt is all mine.\n1\n2\nIt goes quiet.\nI miss drawing.\nink one panel\nafter tea on Friday\n9\n";
    let short = "NZ\nthe allotment\n\nit is too late to start\n\nstay in bed till noon\n1\ndig one row\n1\nput my boots by the door\nafter breakfast\n";
    let pair = "NZ\ntogether\n\nour evenings\n\n\na tight throat\n\n\nleave the room\n1\n\n\nask one question\n1\n\nWe both see it.\n\nsit down on the step\nafter supper\n";
    for (name, answers, end, toward) in [
        ("plainer", plainer, "Bye for now.", "show one page"),
        ("short", short, "That is all for now.", "dig one row"),
        ("pair", pair, "That is all for today.", "ask one question"),
    ] {
        let person = Person::new();
        let text = person
            .says(&["begin", "--variant", name], answers)
            .replace('\n', " ");
        assert!(text.contains(end), "{name} did not end:\n{text}");
        assert_eq!(person.field("toward"), [toward], "{name}");
        let map = person.map();
        assert_eq!(map["steps"].as_array().unwrap().len(), 1, "{name}");
        assert_eq!(
            map["loops"].as_array().unwrap().len(),
            usize::from(name == "plainer"),
            "{name}"
        );
        assert_eq!(
            map["entries"].as_array().unwrap().len(),
            if name == "plainer" { 6 } else { 4 },
            "{name}"
        );
    }
}

#[test]
fn the_group_variant_takes_and_shows_no_entry() {
    let person = Person::new();
    let text = person.says(
        &["begin", "--variant", "group"],
        "NZ\nready\n\n\n\nsteady\n\n\n\n\n\n",
    );
    assert!(text.contains("there was nothing to keep"), "{text}");
    assert_eq!(person.map()["entries"].as_array().unwrap().len(), 0);
    let flow: toml::Table = include_str!("../../scripts/dialogue/flow/group.toml")
        .parse()
        .unwrap();
    for node in flow["node"].as_array().unwrap() {
        for key in ["entry", "words", "pick", "number", "show", "do"] {
            assert!(node.get(key).is_none(), "{node} has {key}");
        }
    }
}

#[test]
fn a_variant_that_is_paused_says_how_to_go_on() {
    let person = Person::new();
    let text = person.says(&["begin", "--variant", "short"], "NZ\nthe allotment\n/pause\n");
    assert!(
        text.replace('\n', " ").contains("wayfold begin --variant short"),
        "{text}"
    );
    let text = person.says(&["begin", "--variant", "short"], "\n/pause\n");
    assert!(text.contains("You stopped here."), "{text}");
}

#[test]
fn the_example_in_the_tutorial_is_clean_and_is_played_to_its_end() {
    let person = Person::new();
    let reference = include_str!("../../scripts/dialogue/README.md");
    let (_, tutorial) = reference.split_once("## Write one yourself").unwrap();
    let (_, from) = tutorial.split_once("```toml\n").unwrap();
    let (example, _) = from.split_once("```").unwrap();
    let script = file(&person, "evening.toml", example);
    let output = person.run(&["script", "check", &script], "");
    assert!(output.status.success(), "{}", said(&output));

    let answers = file(&person, "answers.txt", "swept the porch\nwater the beans\n4\n\n");
    let text = said(&person.run(&["script", "play", &script, "--answers", &answers], ""));
    for piece in [
        "Half of it would do as well.",
        "Sleep well.",
        "1 entry, 0 loops, 0 steps",
    ] {
        assert!(text.contains(piece), "{piece} is not in\n{text}");
    }

    let mistake = file(
        &person,
        "mistake.toml",
        &example.replace("go = \"for\"", "go = \"four\""),
    );
    let text = said(&person.run(&["script", "check", &mistake], ""));
    assert!(text.contains("There is no node “four”."), "{text}");
}
