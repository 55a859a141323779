//! Sittings taken up again, also after their script changed.

use wayfold::dialogue::Library;
use wayfold::dialogue::ResumeError;
use wayfold::dialogue::State;
use wayfold::dialogue::Wait;
use wayfold::dialogue::recall;
use wayfold::map::Field;
use wayfold::map::Position;

use super::player::Player;
use super::player::library;

fn version(number: u32, nodes: &[(&str, &str)]) -> Library {
    let mut script = format!(
        "name = \"mine\"\nversion = {number}\nstart = \"{}\"\n",
        nodes[0].0
    );
    for (place, (name, wait)) in nodes.iter().enumerate() {
        let next = nodes.get(place + 1).map_or("end", |(next, _)| next);
        script = format!("{script}[[node]]\nname = \"{name}\"\n{wait}\ngo = \"{next}\"\n");
    }
    script.push_str("[[node]]\nname = \"end\"\nend = true\n");
    library()
        .with("mine.toml", &script)
        .unwrap_or_else(|faults| panic!("{faults:#?}"))
        .0
}

const WORDS: &str = "words = { into = \"x\" }";
const ENTRY: &str = "entry = { field = \"toward\" }";

#[test]
fn under_the_same_names_a_new_version_goes_on_at_the_exact_place() {
    let (old, new) = (
        version(1, &[("a", WORDS), ("b", WORDS)]),
        version(2, &[("z", WORDS), ("a", WORDS), ("b", WORDS)]),
    );
    let mut sitting = Player::begin(&old, "mine");
    sitting.says("words");
    let resumed = State::resume(&new, &sitting.state.save()).expect("it comes back");
    assert!(!resumed.moved);
    let mut sitting = Player {
        library: &new,
        state: resumed.state,
        ..sitting
    };
    assert_eq!(sitting.says("more").prompt.wait, Wait::End);
}

#[test]
fn when_the_place_is_gone_it_stands_at_the_latest_one_that_is_left_and_says_so() {
    let old = version(
        1,
        &[("a", WORDS), ("b", ENTRY), ("c", WORDS), ("d", "press = true")],
    );
    let new = version(2, &[("a", WORDS), ("b", ENTRY)]);
    let mut sitting = Player::begin(&old, "mine");
    sitting.says("words").says("prune one tree").says("words");
    assert_eq!(sitting.prompt.wait, Wait::Press);
    let resumed = State::resume(&new, &sitting.state.save()).expect("it comes back");
    assert!(resumed.moved);
    assert_eq!(
        recall(&new, &sitting.map, &resumed.state).1.wait,
        Wait::Recorded,
        "it is to be entered first"
    );
    let mut sitting = Player {
        library: &new,
        state: resumed.state,
        ..sitting
    };
    sitting
        .give(wayfold::dialogue::Input::Recorded)
        .expect("it is entered");
    assert_eq!(
        sitting.prompt.wait,
        Wait::Entry {
            field: Field::Toward,
            kind: None
        }
    );
    assert_eq!(sitting.map.entries().len(), 1, "nothing is recorded twice");
}

#[test]
fn when_nothing_is_left_it_begins_again() {
    let (old, new) = (
        version(1, &[("a", WORDS), ("b", WORDS)]),
        version(2, &[("p", ENTRY), ("q", WORDS)]),
    );
    let mut sitting = Player::begin(&old, "mine");
    sitting.says("words");
    let resumed = State::resume(&new, &sitting.state.save()).expect("it comes back");
    assert!(resumed.moved);
    let mut sitting = Player {
        library: &new,
        state: resumed.state,
        ..sitting
    };
    sitting
        .give(wayfold::dialogue::Input::Recorded)
        .expect("it is entered");
    assert_eq!(
        sitting.prompt.wait,
        Wait::Entry {
            field: Field::Toward,
            kind: None
        }
    );
}

#[test]
fn a_place_whose_question_is_of_another_sort_now_is_asked_in_the_new_way() {
    let (old, new) = (version(1, &[("a", WORDS)]), version(2, &[("a", ENTRY)]));
    let sitting = Player::begin(&old, "mine");
    let resumed = State::resume(&new, &sitting.state.save()).expect("it comes back");
    let (_, prompt) = recall(&new, &sitting.map, &resumed.state);
    assert_eq!(
        prompt.wait,
        Wait::Entry {
            field: Field::Toward,
            kind: None
        }
    );
}

#[test]
fn a_sitting_whose_script_is_gone_or_that_a_later_program_saved_is_told_apart() {
    let library = library();
    let mine = version(1, &[("a", WORDS)]);
    let saved = Player::begin(&mine, "mine").state.save();
    assert_eq!(State::resume(library, &saved), Err(ResumeError::NoScript));
    let later = saved.as_str().replace("\"form\":1", "\"form\":2");
    assert_ne!(later, saved.as_str());
    assert_eq!(
        State::resume(&mine, &Position::new(later)),
        Err(ResumeError::Newer)
    );
    for text in ["", "{}", "{\"form\":1}", "[]", "{\"form\":1,\"frames\":[]}"] {
        assert_eq!(
            State::resume(&mine, &Position::new(text.to_owned())),
            Err(ResumeError::Unreadable),
            "{text}"
        );
    }
}

#[test]
fn what_was_said_at_a_prompt_is_said_again_when_it_is_taken_up() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("away.ask");
    let (outputs, prompt) = recall(library, &sitting.map, &sitting.state);
    assert_eq!(prompt, sitting.prompt);
    let count = outputs.len();
    assert!(count > 0);
    assert_eq!(outputs, sitting.outputs[sitting.outputs.len() - count..]);
}

#[test]
fn what_a_node_without_a_question_did_is_not_done_again() {
    let does = "do = [{ step = true, act = \"x\" }]";
    let old = version(1, &[("a", WORDS), ("does", does), ("c", "press = true")]);
    let new = version(2, &[("a", WORDS), ("does", does)]);
    let mut sitting = Player::begin(&old, "mine");
    sitting.says("prune one tree");
    assert_eq!(sitting.map.steps().len(), 1);
    let resumed = State::resume(&new, &sitting.state.save()).expect("it comes back");
    let mut sitting = Player {
        library: &new,
        state: resumed.state,
        ..sitting
    };
    sitting
        .give(wayfold::dialogue::Input::Recorded)
        .expect("it is entered");
    assert_eq!(
        sitting.prompt.wait,
        Wait::Words,
        "it stands at the last question that is left"
    );
    assert_eq!(sitting.map.steps().len(), 1);
}
