//! Every prompt that the shipped scripts can reach, found by going everywhere: each can be skipped, saved, left for
//! grounding and for a safety message, and from each the end can be reached.

use std::collections::BTreeSet;
use std::collections::VecDeque;
use std::fs;
use std::path::Path;

use wayfold::dialogue::Input;
use wayfold::dialogue::Library;
use wayfold::dialogue::Output;
use wayfold::dialogue::State;
use wayfold::dialogue::Wait;
use wayfold::safety;

use super::player::Player;
use super::player::danger;
use super::player::danger_of;
use super::player::library;

/// The flow of a shipped script, to know which nodes there are.
fn flow(script: &str) -> toml::Table {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue/flow");
    let text = fs::read_to_string(folder.join(format!("{script}.toml"))).expect("the flow is there");
    text.parse().expect("TOML")
}

/// A sitting with a script on a map with an entry in each field and an open step: some scripts ask nothing of an empty
/// one.
fn on_a_map<'l>(library: &'l Library, script: &str) -> Player<'l> {
    let mut sitting = Player::begin(library, "first-map");
    for (question, answers) in [
        ("who.ask", &["my sister"][..]),
        ("thought.ask", &["I am too slow"]),
        ("away.ask", &["leave the room", "1"]),
        ("toward.ask", &["prune one tree", "1"]),
        ("step.ask", &["oil the shears", "at six", "", "8"]),
    ] {
        sitting.goes_to(question);
        for answer in answers {
            sitting.says(answer);
        }
    }
    Player::begin_on(library, script, sitting.map, sitting.next)
}

/// The slots that guards of the shipped scripts look at.
const LOOKED_AT: [&str; 13] = [
    "did",
    "feeling",
    "gently",
    "hard",
    "here",
    "level",
    "other",
    "said",
    "sentence",
    "showed-up",
    "unhooked",
    "when",
    "words",
];

/// What tells two places apart here: where every open script stands, what guards look at, and what is on the map.
fn place(sitting: &Player<'_>) -> String {
    let state: serde_json::Value = serde_json::from_str(sitting.state.save().as_str()).expect("JSON");
    let frames: Vec<_> = state["frames"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|frame| {
            let phase = match &frame["phase"] {
                serde_json::Value::Object(phase) => phase.keys().next().cloned().unwrap_or_default(),
                phase => phase.to_string(),
            };
            let slots = LOOKED_AT.map(|slot| frame["slots"].get(slot).is_some());
            let visits = frame["trail"]
                .as_array()
                .and_then(|trail| trail.last())
                .and_then(|last| last[1].as_u64())
                .map(|visits| visits.min(2));
            format!(
                "{}/{}/{phase}/{slots:?}/{visits:?}",
                frame["script"], frame["node"]
            )
        })
        .collect();
    let counts = wayfold::map::Field::ALL.map(|field| sitting.map.field(field).count().min(1));
    let watch = &state["watch"];
    format!(
        "{frames:?} {} {} {counts:?}",
        watch["interrupted"], watch["topics"]
    )
}

/// Everything worth saying at a prompt.
fn answers(wait: &Wait) -> Vec<Input> {
    let say = |words: &str| Input::Answer(safety::screen(words));
    let mut inputs = vec![say(""), Input::Skip];
    match wait {
        Wait::Choose { options } => inputs.extend((1..=options.len()).map(|number| say(&number.to_string()))),
        Wait::Pick { .. } => inputs.extend([say("1"), say("something new")]),
        Wait::Number { .. } => inputs.extend([say("3"), say("9")]),
        Wait::Deliberate { word } => inputs.push(say(word)),
        Wait::Entry { .. } => inputs.extend([
            say("water the pots"),
            say("worrying about the ferry"),
            Input::Heard(safety::screen("water the pots")),
        ]),
        _ => inputs.push(say("some words")),
    }
    inputs
}

/// The ways in which a safety message can open: how urgent, about whom, what it is about.
const DANGERS: [(&str, &str, &str); 7] = [
    ("pause", "self", "suicide"),
    ("pause", "other", "suicide"),
    ("stop", "self", "suicide"),
    ("stop", "other", "suicide"),
    ("pause", "self", "abuse"),
    ("pause", "self", "eating"),
    ("pause", "self", "withdrawal"),
];

#[test]
fn every_prompt_can_be_skipped_saved_interrupted_and_left_and_every_node_is_met() {
    let library = library();
    let mut known = BTreeSet::new();
    let mut met = BTreeSet::new();
    let mut interrupted = BTreeSet::new();
    let mut leads_out = BTreeSet::new();
    let mut open = VecDeque::new();
    for name in library.names() {
        open.push_back(Player::begin(library, name));
        open.push_back(on_a_map(library, name));
    }
    while let Some(mut sitting) = open.pop_front() {
        sitting.outputs.clear();
        if sitting.prompt.wait == Wait::End || !known.insert(place(&sitting)) {
            continue;
        }
        assert!(known.len() < 20_000, "more places than these scripts have");
        let input = |input: Input| {
            let mut there = sitting.clone();
            there.give(input).map(|()| there)
        };

        let skipped = input(Input::Skip)
            .unwrap_or_else(|wrong| panic!("{} cannot be skipped: {wrong:?}", place(&sitting)));
        assert_ne!(
            (&skipped.state, &skipped.prompt),
            (&sitting.state, &sitting.prompt),
            "skipping moves on"
        );

        let resumed = State::resume(library, &sitting.state.save()).expect("saved places come back");
        assert_eq!((&resumed.state, resumed.moved), (&sitting.state, false));

        let mut out = sitting.clone();
        let mut on_the_way = Vec::new();
        for step in 0.. {
            // From a place that was seen to lead out, the rest of the way is known.
            if out.prompt.wait == Wait::End || leads_out.contains(&place(&out)) {
                break;
            }
            on_the_way.push(place(&out));
            out.give(Input::Skip).expect("every prompt can be skipped");
            assert!(step < 80, "no end from {}", place(&sitting));
        }
        leads_out.extend(on_the_way);

        if let Ok(mut grounded) = input(Input::Ground) {
            for _ in 0..40 {
                if grounded.state == sitting.state {
                    break;
                }
                grounded.give(Input::Skip).expect("every prompt can be skipped");
            }
            assert_eq!(grounded.state, sitting.state, "grounding comes back");
        }

        // A safety message, dropped words, and on: the same prompt, only that the sitting knows of the message.
        let stopped = input(Input::Answer(danger("dark words", "stop", "self")))
            .unwrap_or_else(|wrong| panic!("danger is not heard at {}: {wrong:?}", place(&sitting)));
        assert!(matches!(
            stopped.outputs.first(),
            Some(Output::SafetyMessage { .. })
        ));
        let mut after = stopped.clone();
        for _ in 0..60 {
            if after.prompt == sitting.prompt {
                break;
            }
            after.give(Input::Skip).expect("every prompt can be skipped");
        }
        assert_eq!(after.prompt, sitting.prompt, "the same prompt comes back");
        assert_eq!(after.map, sitting.map, "nothing was kept");

        for input in answers(&sitting.prompt.wait) {
            let mut there = sitting.clone();
            if there.give(input).is_ok() {
                met.extend(trails(&there));
                open.push_back(there);
            }
        }
        // The message itself is walked through once for each way in which it can open.
        for (level, about, topic) in DANGERS {
            let words = matches!(sitting.prompt.wait, Wait::Entry { .. });
            if interrupted.insert((sitting.state.script().to_owned(), level, about, topic, words)) {
                let mut there = sitting.clone();
                there
                    .give(Input::Answer(danger_of("dark words", level, about, topic)))
                    .expect("danger is always heard");
                met.extend(trails(&there));
                open.push_back(there);
            }
        }
    }

    let mut unmet = Vec::new();
    for script in library.names() {
        for node in flow(script)["node"].as_array().expect("nodes") {
            let name = format!("{script}/{}", node["name"].as_str().expect("a name"));
            if node.get("end").is_none() && !met.contains(&name) {
                unmet.push(name);
            }
        }
    }
    assert!(unmet.is_empty(), "never met: {unmet:?}");
    assert!(known.len() > 100, "only {} places", known.len());
}

/// Every node that the open scripts have visited.
fn trails(sitting: &Player<'_>) -> Vec<String> {
    let state: serde_json::Value = serde_json::from_str(sitting.state.save().as_str()).expect("JSON");
    let mut nodes = Vec::new();
    for frame in state["frames"].as_array().expect("a list") {
        for visit in frame["trail"].as_array().expect("a list") {
            let script = frame["script"].as_str().expect("a name");
            nodes.push(format!("{script}/{}", visit[0].as_str().expect("a name")));
        }
    }
    nodes
}
