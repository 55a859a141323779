//! Broken scripts: every fault is found, all at once, each at its own line. The expected lines carry the mark `#!`,
//! one for each fault, in order.

use wayfold::dialogue::Fault;
use wayfold::dialogue::FaultKind;

use super::player::library;

/// Checks a script and compares the lines of its faults with the marked ones; gives what was found.
fn broken(text: &str) -> Vec<FaultKind> {
    let faults: Vec<Fault> = match library().with("mine.toml", text) {
        Ok(_) => panic!("accepted: {text}"),
        Err(faults) => faults,
    };
    let marked: Vec<usize> = text
        .lines()
        .enumerate()
        .flat_map(|(at, line)| std::iter::repeat_n(at + 1, line.matches("#!").count()))
        .collect();
    let found: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
    assert_eq!(found, marked, "in {text}\nfound {faults:#?}");
    for fault in &faults {
        assert_eq!(fault.file, "mine.toml");
        assert!(
            text.get(fault.span.clone()).is_some(),
            "the span is a piece of the file: {fault:?}"
        );
    }
    faults.into_iter().map(|fault| fault.what).collect()
}

/// A script around some nodes, with a line `a` and a line `b` to say.
fn around(nodes: &str) -> String {
    format!(
        "name = \"mine\"\nversion = 1\nstart = \"one\"\n{nodes}\n[[node]]\nname = \"last\"\nsay = [\"a\", \"b\"]\nend = true\n\n[lines]\na = \"A line.\"\nb = \"Another one.\"\n"
    )
}

fn text(text: &str) -> String {
    text.to_owned()
}

#[test]
fn a_whole_script_in_one_file_is_taken() {
    let script = around("[[node]]\nname = \"one\"\npress = true\ngo = \"last\"\n");
    let (library, name) = library()
        .with("mine.toml", &script)
        .expect("nothing is wrong with it");
    assert_eq!(name, "mine");
    assert_eq!(library.version("mine"), Some(1));
}

#[test]
fn a_script_cannot_replace_one_that_is_there() {
    let script =
        around("[[node]]\nname = \"one\"\npress = true\ngo = \"last\"\n").replace("\"mine\"", "\"safety\"");
    let faults = library()
        .with("mine.toml", &script)
        .expect_err("the name is taken");
    assert_eq!(faults[0].what, FaultKind::NameTwice { name: text("safety") });
}

#[test]
fn broken_toml() {
    let found = broken("name = \"mine\"\nversion = 1\nstart = \"one #!\n");
    assert!(
        matches!(found.as_slice(), [FaultKind::Syntax { .. }]),
        "{found:?}"
    );
}

#[test]
fn a_file_too_large() {
    let found = broken(&format!("#!{}", "#".repeat(600 * 1024)));
    assert!(
        matches!(found.as_slice(), [FaultKind::TooLarge { .. }]),
        "{found:?}"
    );
}

#[test]
fn missing_and_unknown_keys() {
    let found = broken("#! #! #! #!\ncolour = \"red\" #!\n\n[lines]\n");
    let missing = |key| FaultKind::Missing { key };
    let unknown = FaultKind::UnknownKey { key: text("colour") };
    assert_eq!(
        found,
        [
            missing("name"),
            missing("version"),
            missing("start"),
            missing("node"),
            unknown
        ]
    );
}

#[test]
fn unknown_keys_and_wrong_values_in_a_node_are_all_reported() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\nsay = \"a\" #!\nloudly = true #!\nentry = { field = \"sideways\" } #!\nmost = -1 #!\ngo = \"last\"\n",
    ));
    assert_eq!(
        found,
        [
            FaultKind::WrongValue {
                key: text("say"),
                expected: "a list of texts"
            },
            FaultKind::UnknownKey { key: text("loudly") },
            FaultKind::WrongValue {
                key: text("field"),
                expected: "matters, inner, away or toward"
            },
            FaultKind::WrongValue {
                key: text("most"),
                expected: "a small whole number"
            },
        ]
    );
}

#[test]
fn a_node_without_a_name() {
    let found = broken(
        &around("[[node]] #!\npress = true\ngo = \"last\"\n").replace("start = \"one\"", "start = \"last\""),
    );
    assert_eq!(found, [FaultKind::Missing { key: "name" }]);
}

#[test]
fn names_are_unique_and_targets_exist() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\npress = true\ngo = \"nowhere\" #!\n[[node]]\nname = \"one\" #!\npress = true\nskip = \"gone\" #!\ngo = \"last\"\n",
    ));
    assert_eq!(
        found,
        [
            FaultKind::NoSuchNode {
                name: text("nowhere")
            },
            FaultKind::NameTwice { name: text("one") },
            FaultKind::NoSuchNode { name: text("gone") },
        ]
    );
}

#[test]
fn the_start_exists() {
    let script = around("[[node]]\nname = \"two\"\npress = true\ngo = \"last\"\n");
    let found = broken(&script.replace("start = \"one\"", "start = \"one\" #!"));
    assert_eq!(found, [FaultKind::NoSuchNode { name: text("one") }]);
}

#[test]
fn a_node_leads_on_or_ends() {
    let found = broken(&around(
        "[[node]]\nname = \"one\" #!\npress = true\n[[node]]\nname = \"two\" #!\nend = true\ngo = \"last\"\n",
    ));
    assert_eq!(
        found,
        [
            FaultKind::NoWayOn { node: text("one") },
            FaultKind::EndAndGo { node: text("two") }
        ]
    );
}

#[test]
fn every_node_is_reached_and_reaches_an_end() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\nwhen = [{ if = \"interrupted\", go = \"trap\" }]\ngo = \"last\"\n[[node]]\nname = \"island\" #!\npress = true\ngo = \"last\"\n[[node]]\nname = \"trap\" #! #!\npress = true\ngo = \"trap\"\n",
    ));
    assert_eq!(
        found,
        [
            FaultKind::Unreachable { node: text("island") },
            FaultKind::NoEnd { node: text("trap") },
            FaultKind::CycleWithoutMost { node: text("trap") },
        ]
    );
}

#[test]
fn a_cycle_that_never_waits() {
    let found = broken(&around(
        "[[node]]\nname = \"one\" #!\nwhen = [{ if = \"interrupted\", go = \"last\" }]\ngo = \"two\"\n[[node]]\nname = \"two\" #!\ngo = \"one\"\n",
    ));
    let cycle = |node: &str| FaultKind::CycleWithoutWait { node: text(node) };
    assert_eq!(found, [cycle("one"), cycle("two")]);
}

#[test]
fn a_cycle_through_a_pick_from_an_empty_field_never_waits_either() {
    let found = broken(&around(
        "[[node]]\nname = \"one\" #!\npick = { from = \"away\" }\nwhen = [{ if = \"count.away > 3\", go = \"last\" }]\ngo = \"one\"\n",
    ));
    assert_eq!(found, [FaultKind::CycleWithoutWait { node: text("one") }]);
}

#[test]
fn a_cycle_that_could_be_walked_for_ever() {
    let cycle = "[[node]]\nname = \"one\" #!\nsay = [\"a\"]\nchoose = [{ say = \"a\", go = \"one\" }, { say = \"b\", go = \"last\" }]\ngo = \"last\"\n";
    assert_eq!(
        broken(&around(cycle)),
        [FaultKind::CycleWithoutMost { node: text("one") }]
    );
    let bounded = cycle.replace("go = \"last\"\n", "go = \"last\"\nmost = 5\n");
    assert!(library().with("mine.toml", &around(&bounded)).is_ok());
}

#[test]
fn slots_are_written_before_they_are_read() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\npress = true\nwhen = [{ if = \"sure < 7\", go = \"last\" }] #!\ngo = \"two\"\n[[node]]\nname = \"two\"\nsay = [\"a\"] #!\npick = { from = \"inner\", into = \"hooks\" }\ndo = [{ link = \"pulls\", from = \"hooks\", to = \"move\" }] #!\ngo = \"last\"\n",
    ).replace("A line.", "A line about {sure|that}.").replace("say = [\"a\", \"b\"]", "say = [\"a\", \"b\"] #!"));
    let never = |slot: &str| FaultKind::NeverSet { slot: text(slot) };
    assert_eq!(
        found,
        [never("sure"), never("sure"), never("move"), never("sure")]
    );
}

#[test]
fn a_line_names_a_slot_only_where_it_is_set_or_has_a_fallback() {
    let nodes = "[[node]]\nname = \"one\"\nwords = { into = \"act\" }\ngo = \"two\"\n[[node]]\nname = \"two\"\nsay = [\"c\"]\npress = true\ngo = \"last\"\n";
    let lines = "c = \"You said {act}.\"\n";
    let bare = around(nodes) + lines;
    let found = broken(&bare.replace("say = [\"c\"]", "say = [\"c\"] #!"));
    assert_eq!(
        found,
        [FaultKind::MayBeUnset {
            slot: text("act"),
            line: text("c")
        }]
    );
    let with_fallback = bare.replace("{act}", "{act|nothing}");
    assert!(library().with("mine.toml", &with_fallback).is_ok());
    let with_skip = bare.replace("go = \"two\"", "go = \"two\"\nskip = \"last\"");
    assert!(library().with("mine.toml", &with_skip).is_ok());
    let with_guard = bare.replace(
        "go = \"two\"",
        "when = [{ if = \"not has act\", go = \"last\" }]\ngo = \"two\"",
    );
    assert!(library().with("mine.toml", &with_guard).is_ok());
}

#[test]
fn a_choice_has_options_that_differ() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\nchoose = [] #!\ngo = \"two\"\n[[node]]\nname = \"two\"\nchoose = [{ say = \"a\" }, { say = \"a\" }] #!\ngo = \"last\"\n",
    ));
    assert_eq!(
        found,
        [FaultKind::NoOption, FaultKind::SameWord { word: text("a") }]
    );
}

#[test]
fn one_wait_a_node() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\npress = true\nwords = { into = \"x\" } #!\ngo = \"two\"\n[[node]]\nname = \"two\"\npress = true\ncall = \"ground\" #!\ngo = \"last\"\n",
    ));
    let twice = |wait: &str| FaultKind::TwoWaits { wait: text(wait) };
    assert_eq!(found, [twice("words"), twice("call")]);
}

#[test]
fn effects_are_known_and_whole() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\npress = true\ndo = [\n  { explode = \"all\" }, #!\n  { link = \"pulls\", from = \"x\" }, #!\n  { link = \"ties\", from = \"x\", to = \"y\" }, #!\n  { retire = \"x\", loudly = true }, #!\n]\ngo = \"last\"\n",
    ));
    assert_eq!(
        found,
        [
            FaultKind::UnknownEffect {
                effect: text("explode")
            },
            FaultKind::Missing { key: "to" },
            FaultKind::WrongValue {
                key: text("link"),
                expected: "pulls, costs-later, serves or same-behaviour"
            },
            FaultKind::UnknownKey { key: text("loudly") },
        ]
    );
}

#[test]
fn guards_are_read() {
    for guard in [
        "sure <> 7",
        "has",
        "sure < many",
        "count.cats > 1",
        "sure < 7 or has x",
        "",
        "distress.fall > 1",
        "topic cats",
    ] {
        let found = broken(&around(&format!(
            "[[node]]\nname = \"one\"\nwhen = [{{ if = \"{guard}\", go = \"last\" }}] #!\ngo = \"last\"\n"
        )));
        assert!(
            matches!(found.as_slice(), [FaultKind::Guard { .. }]),
            "{guard}: {found:?}"
        );
    }
}

#[test]
fn scripts_that_are_called_exist() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\ncall = \"juggle\" #!\ngo = \"last\"\n",
    ));
    assert_eq!(found, [FaultKind::NoSuchScript { name: text("juggle") }]);
}

#[test]
fn a_range_holds_something() {
    let found = broken(&around(
        "[[node]]\nname = \"one\"\nnumber = { into = \"x\", from = 7, to = 7 } #!\ngo = \"last\"\n",
    ));
    assert_eq!(found, [FaultKind::EmptyRange]);
}

#[test]
fn lines_exist_and_are_used() {
    let script = around("[[node]]\nname = \"one\"\nsay = [\"c\"] #!\npress = true\ngo = \"last\"\n");
    assert_eq!(broken(&script), [FaultKind::NoSuchLine { line: text("c") }]);
    let script =
        around("[[node]]\nname = \"one\"\npress = true\ngo = \"last\"\n") + "d = \"Nobody says this.\" #!\n";
    assert_eq!(broken(&script), [FaultKind::UnusedLine { line: text("d") }]);
}

#[test]
fn wording_is_short_and_without_pressure() {
    let one = "[[node]]\nname = \"one\"\npress = true\ngo = \"last\"\n";
    let long = (0..26).map(|_| "word").collect::<Vec<_>>().join(" ");
    let found = broken(
        &around(one)
            .replace("a = \"A line.\"", &format!("a = \"{long}.\" #!"))
            .replace(
                "b = \"Another one.\"",
                "b = \"Well done, you have to go on, just so!\" #! #! #! #!",
            ),
    );
    let wording = |word: &str| FaultKind::Wording {
        line: text("b"),
        word: text(word),
    };
    assert_eq!(
        found,
        [
            FaultKind::LongSentence {
                line: text("a"),
                words: 26
            },
            wording("!"),
            wording("just"),
            wording("you have to"),
            wording("well done"),
        ]
    );
}

#[test]
fn lines_hold_nothing_that_a_terminal_obeys_and_are_not_empty() {
    let one = "[[node]]\nname = \"one\"\npress = true\ngo = \"last\"\n";
    let found = broken(
        &around(one)
            .replace("a = \"A line.\"", "a = \"\\u001b[2J\" #!")
            .replace("b = \"Another one.\"", "b = \" \" #!"),
    );
    assert_eq!(
        found,
        [
            FaultKind::ControlCharacter { line: text("a") },
            FaultKind::EmptyLine { line: text("b") }
        ]
    );
}

#[test]
fn placeholders_are_read() {
    let one = "[[node]]\nname = \"one\"\npress = true\ngo = \"last\"\n";
    for line in ["{}", "{Act}", "{act", "act}", "{count.cats}", "{a b}", "{act}}"] {
        let found = broken(&around(one).replace("a = \"A line.\"", &format!("a = \"{line}\" #!")));
        assert!(
            matches!(found.as_slice(), [FaultKind::Placeholder { .. }]),
            "{line}: {found:?}"
        );
    }
}

#[test]
fn a_most_whose_way_out_leads_round_again_bounds_nothing() {
    let found = broken(&around(
        "[[node]]\nname = \"one\" #!\nentry = { field = \"inner\" }\ngo = \"one\"\ndone = \"two\"\n[[node]]\nname = \"two\" #!\npress = true\nwhen = [{ if = \"interrupted\", go = \"last\" }]\ngo = \"one\"\n",
    ));
    let cycle = |node: &str| FaultKind::CycleWithoutMost { node: text(node) };
    assert_eq!(found, [cycle("one"), cycle("two")]);
}
