//! Scripts from anyone: whatever is in them, the checker answers with faults or with a script that ends. It never
//! breaks, and what it takes can be played.

use proptest::prelude::*;

use wayfold::dialogue::FaultKind;
use wayfold::dialogue::Input;
use wayfold::dialogue::Wait;

use super::player::Player;
use super::player::library;

const FLOW: &str = include_str!("../../scripts/dialogue/flow/ground.toml");
const WORDS: &str = include_str!("../../scripts/dialogue/en/ground.toml");

/// The shipped grounding script as someone's own file.
fn own() -> String {
    format!("{FLOW}\n{WORDS}").replace("name = \"ground\"", "name = \"mine\"")
}

/// One careless edit.
#[derive(Clone, Debug)]
enum Edit {
    LineGone(usize),
    LineTwice(usize),
    LinesSwapped(usize, usize),
    Typed(usize, String),
    WordGone(usize),
}

fn edit() -> impl Strategy<Value = Edit> {
    prop_oneof![
        any::<usize>().prop_map(Edit::LineGone),
        any::<usize>().prop_map(Edit::LineTwice),
        any::<(usize, usize)>().prop_map(|(one, other)| Edit::LinesSwapped(one, other)),
        (any::<usize>(), "[\\x20-\\x7e\\PC]{1,3}").prop_map(|(place, typed)| Edit::Typed(place, typed)),
        any::<usize>().prop_map(Edit::WordGone),
    ]
}

fn edited(text: &str, edit: &Edit) -> String {
    let mut lines: Vec<_> = text.lines().map(str::to_owned).collect();
    let count = lines.len().max(1);
    match edit {
        Edit::LineGone(at) if !lines.is_empty() => drop(lines.remove(at % count)),
        Edit::LineTwice(at) if !lines.is_empty() => lines.insert(at % count, lines[at % count].clone()),
        Edit::LinesSwapped(one, other) if !lines.is_empty() => lines.swap(one % count, other % count),
        Edit::Typed(at, typed) => {
            let places: Vec<_> = text.char_indices().map(|(place, _)| place).collect();
            let at = places.get(at % places.len().max(1)).copied().unwrap_or(0);
            return format!("{}{typed}{}", &text[..at], &text[at..]);
        }
        Edit::WordGone(at) => {
            let words: Vec<_> = text.split_inclusive(' ').collect();
            let at = at % words.len().max(1);
            return words
                .iter()
                .enumerate()
                .filter(|(place, _)| *place != at)
                .map(|(_, word)| *word)
                .collect();
        }
        _ => {}
    }
    lines.join("\n")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn careless_edits_give_faults_in_the_file_or_a_script_that_ends(edits in prop::collection::vec(edit(), 1..4)) {
        let text = edits.iter().fold(own(), |text, edit| edited(&text, edit));
        match library().with("mine.toml", &text) {
            Err(faults) => {
                prop_assert!(!faults.is_empty());
                for fault in faults {
                    prop_assert!(text.get(fault.span.clone()).is_some(), "{:?}", fault);
                    prop_assert!(fault.line >= 1 && fault.line <= text.lines().count() + 1, "{:?}", fault);
                }
            }
            Ok((library, name)) => {
                let mut sitting = Player::begin(&library, &name);
                let mut steps = 0;
                while sitting.prompt.wait != Wait::End {
                    sitting.give(Input::Skip).expect("every prompt can be skipped");
                    steps += 1;
                    prop_assert!(steps < 200);
                }
            }
        }
    }

    #[test]
    fn any_text_at_all_gives_faults(text in any::<String>()) {
        prop_assert!(library().with("mine.toml", &text).is_err());
    }
}

#[test]
fn deep_nesting_is_a_fault_like_any_other() {
    for open in ["x = ", "[lines]\na = "] {
        let deep = format!("{open}{}", "[".repeat(200_000));
        assert!(library().with("mine.toml", &deep).is_err());
        let deep = format!("{open}{}", "{ a = ".repeat(60_000));
        assert!(library().with("mine.toml", &deep).is_err());
    }
}

#[test]
fn the_unedited_script_is_taken() {
    library()
        .with("mine.toml", &own())
        .expect("nothing is wrong with it");
}

#[test]
fn a_script_cannot_take_a_name_that_a_terminal_obeys() {
    let named = own().replace("name = \"mine\"", "name = \"\\u001b[2J\"");
    let faults = library().with("mine.toml", &named).expect_err("no such name");
    assert!(
        faults
            .iter()
            .all(|fault| matches!(&fault.what, FaultKind::WrongValue { key, .. } if key == "name"))
    );
}

#[test]
fn the_example_in_the_reference_is_a_whole_script() {
    let reference = include_str!("../../scripts/dialogue/README.md");
    let (_, from) = reference.split_once("```toml\n").expect("an example");
    let (example, _) = from.split_once("```").expect("its end");
    let taken = library().with("README.md", example);
    let (library, name) = taken.unwrap_or_else(|faults| panic!("{faults:#?}"));
    let mut sitting = Player::begin(&library, &name);
    sitting.says("put the kettle on").says("9");
    assert_eq!(sitting.prompt.wait, Wait::End);
    assert_eq!(sitting.map.entries().len(), 1);
}
