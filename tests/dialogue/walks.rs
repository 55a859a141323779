//! Random walks over every shipped script: they end; a pause at any prompt changes nothing; going back and giving the
//! same answer leads to the same place; nothing that can be typed breaks a step or reaches the screen raw.

use proptest::prelude::*;

use wayfold::dialogue::Input;
use wayfold::dialogue::Library;
use wayfold::dialogue::Output;
use wayfold::dialogue::State;
use wayfold::dialogue::Wait;
use wayfold::dialogue::recall;
use wayfold::safety;

use super::player::Player;
use super::player::danger;
use super::player::library;

/// One thing that a person does, whatever is asked.
#[derive(Clone, Debug)]
enum Act {
    Says(String),
    /// Chooses by number, modulo what there is.
    Chooses(usize),
    Heard(String),
    Danger(&'static str),
    Skip,
    Ground,
}

impl Act {
    fn input(&self, wait: &Wait) -> Input {
        match self {
            Self::Says(words) => Input::Answer(safety::screen(words)),
            Self::Chooses(place) => {
                let count = match wait {
                    Wait::Choose { options } | Wait::Pick { options, .. } => options.len(),
                    Wait::Number { to, .. } => usize::from(*to) + 1,
                    _ => 3,
                };
                Input::Answer(safety::screen(&(place % count.max(1) + 1).to_string()))
            }
            Self::Heard(words) => Input::Heard(safety::screen(words)),
            Self::Danger(level) => Input::Answer(danger("dark words", level, "self")),
            Self::Skip => Input::Skip,
            Self::Ground => Input::Ground,
        }
    }
}

fn act() -> impl Strategy<Value = Act> {
    let level = prop_oneof![Just("quiet"), Just("pause"), Just("stop"), Just("emergency")];
    prop_oneof![
        6 => "[a-z]{1,9}( [a-z]{1,9}){0,3}".prop_map(Act::Says),
        6 => (0..20_usize).prop_map(Act::Chooses),
        4 => Just(Act::Says(String::new())),
        2 => prop_oneof![Just("ready"), Just("done"), Just("1 2 3"), Just("reword"), Just("move"), Just("split")]
            .prop_map(|word| Act::Says(word.to_owned())),
        2 => any::<String>().prop_map(Act::Says),
        1 => any::<String>().prop_map(Act::Heard),
        1 => level.prop_map(Act::Danger),
        2 => Just(Act::Skip),
        1 => Just(Act::Ground),
    ]
}

fn script() -> impl Strategy<Value = String> {
    let names: Vec<String> = library().names().map(str::to_owned).collect();
    proptest::sample::select(names)
}

/// Nothing that a terminal would obey, in anything that is shown.
fn assert_shown_safely(sitting: &Player<'_>, from: usize) {
    let harmless = |text: &str| assert!(!text.chars().any(char::is_control), "{text:?}");
    for output in &sitting.outputs[from..] {
        if let Output::Say(said) = output {
            harmless(&said.text);
        }
    }
    if let Some(line) = &sitting.prompt.line {
        harmless(&line.text);
    }
    if let Wait::Choose { options } | Wait::Pick { options, .. } = &sitting.prompt.wait {
        for one in options {
            harmless(&one.label);
        }
    }
}

/// Goes on with blank lines and, where one is not enough, by skipping, until the end.
fn walk_out(sitting: &mut Player<'_>) -> usize {
    let mut steps = 0;
    while sitting.prompt.wait != Wait::End {
        let input = if steps % 2 == 0 {
            Input::Answer(safety::screen(""))
        } else {
            Input::Skip
        };
        if sitting.give(input).is_err() {
            sitting.give(Input::Skip).expect("every prompt can be skipped");
        }
        steps += 1;
        assert!(steps < 400, "no end after {steps} steps, at {}", sitting.asked());
    }
    steps
}

fn resumed(library: &Library, state: &State) -> State {
    let resumed = State::resume(library, &state.save()).expect("a saved state comes back");
    assert!(!resumed.moved);
    resumed.state
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn every_walk_ends(script in script(), acts in prop::collection::vec(act(), 0..120)) {
        let library = library();
        let mut sitting = Player::begin(library, &script);
        for act in &acts {
            if sitting.prompt.wait == Wait::End {
                break;
            }
            let from = sitting.outputs.len();
            let _ = sitting.give(act.input(&sitting.prompt.wait));
            assert_shown_safely(&sitting, from);
        }
        walk_out(&mut sitting);
        prop_assert_eq!(sitting.outputs.last(), Some(&Output::Ended));
        prop_assert!(sitting.give(Input::Skip).is_err(), "the end is the end");
    }

    #[test]
    fn every_walk_of_answers_alone_ends(script in script(), seed in any::<u64>()) {
        let library = library();
        let mut sitting = Player::begin(library, &script);
        let mut chance = seed | 1;
        let mut steps = 0;
        while sitting.prompt.wait != Wait::End {
            chance = chance.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let place = usize::try_from(chance >> 40).expect("24 bits");
            let act = match &sitting.prompt.wait {
                Wait::Deliberate { word } => Act::Says(word.clone()),
                Wait::Choose { .. } | Wait::Number { .. } => Act::Chooses(place),
                Wait::Pick { options, .. } if !options.is_empty() => Act::Chooses(place),
                _ => Act::Says(format!("thing {place}")),
            };
            let _ = sitting.give(act.input(&sitting.prompt.wait));
            steps += 1;
            prop_assert!(steps < 1_000, "no end, at {}", sitting.asked());
        }
    }

    #[test]
    fn a_pause_at_every_prompt_changes_nothing(script in script(), acts in prop::collection::vec(act(), 0..60)) {
        let library = library();
        let mut straight = Player::begin(library, &script);
        let mut paused = straight.clone();
        for act in &acts {
            paused.state = resumed(library, &paused.state);
            prop_assert_eq!(&paused.state, &straight.state);
            prop_assert_eq!(&recall(library, &paused.map, &paused.state).1, &straight.prompt);
            let first = straight.give(act.input(&straight.prompt.wait));
            let second = paused.give(act.input(&paused.prompt.wait));
            prop_assert_eq!(first, second);
        }
        prop_assert_eq!(paused.state, straight.state);
        prop_assert_eq!(paused.map, straight.map);
        prop_assert_eq!(paused.outputs, straight.outputs);
    }

    #[test]
    fn back_and_the_same_answer_lead_to_the_same_place(acts in prop::collection::vec(act(), 1..60)) {
        let library = library();
        let mut sitting = Player::begin(library, "first-map");
        for act in &acts {
            let before = sitting.clone();
            let first = sitting.give(act.input(&sitting.prompt.wait));
            let after = sitting.clone();
            // Something else is said, and taken back by going back to the earlier state and map.
            let mut again = before.clone();
            let _ = again.give(Input::Answer(safety::screen("something else")));
            let mut again = before;
            let second = again.give(act.input(&again.prompt.wait));
            prop_assert_eq!(first, second);
            prop_assert_eq!(&again.state, &after.state);
            prop_assert_eq!(&again.map, &after.map);
            prop_assert_eq!(&again.prompt, &after.prompt);
        }
    }

    #[test]
    fn a_wrong_input_loses_nothing(acts in prop::collection::vec(act(), 1..60)) {
        let library = library();
        let mut sitting = Player::begin(library, "first-map");
        for act in &acts {
            let before = (sitting.state.clone(), sitting.map.clone());
            if sitting.give(act.input(&sitting.prompt.wait)).is_err() {
                prop_assert_eq!(&(sitting.state.clone(), sitting.map.clone()), &before);
            }
        }
    }

    #[test]
    fn saved_places_of_any_text_are_refused_or_read(text in any::<String>()) {
        let library = library();
        let _ = State::resume(library, &wayfold::map::Position::new(text));
    }
}

#[test]
fn a_megabyte_and_control_characters_break_nothing_at_any_prompt() {
    let library = library();
    let megabyte = "é".repeat(512 * 1024);
    let marks = format!("e{}", "\u{301}".repeat(4_000));
    let escapes = "\u{1b}[2J\u{7}\u{0}\r\n\t\u{9b}31m\u{202e}abc\u{feff}";
    let mut sitting = Player::begin(library, "first-map");
    let mut steps = 0;
    while sitting.prompt.wait != Wait::End {
        for words in [
            megabyte.as_str(),
            &marks,
            escapes,
            "\u{0}",
            "🧵🪢",
            "\u{202e}gnihton",
        ] {
            let mut there = sitting.clone();
            let from = there.outputs.len();
            let _ = there.give(Input::Answer(safety::screen(words)));
            let _ = there.give(Input::Heard(safety::screen(words)));
            assert_shown_safely(&there, from);
            assert!(resumed(library, &there.state) == there.state);
        }
        // The words that are shown back most often are those with signs in them.
        if sitting
            .give(Input::Answer(safety::screen(if steps % 3 == 0 {
                escapes
            } else {
                ""
            })))
            .is_err()
        {
            sitting.give(Input::Skip).expect("every prompt can be skipped");
        }
        assert_shown_safely(&sitting, 0);
        steps += 1;
        assert!(steps < 300);
    }
}
