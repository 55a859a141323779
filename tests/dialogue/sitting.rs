//! Whole sittings with the shipped scripts.

use wayfold::dialogue::Output;
use wayfold::dialogue::Show;
use wayfold::dialogue::Wait;
use wayfold::map::Field;
use wayfold::map::Kind;
use wayfold::map::Link;

use super::player::Player;
use super::player::library;

/// The demo person's answers, without the region, which the shell asks for before the sitting.
const ANSWERS: &str = include_str!("../../demo-data/first-map.answers");

fn words_of(sitting: &Player<'_>, field: Field) -> Vec<String> {
    sitting
        .map
        .field(field)
        .map(|entry| entry.words.as_str().to_owned())
        .collect()
}

#[test]
fn the_demo_answers_make_a_full_map() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    for line in ANSWERS.lines().skip(1) {
        assert_ne!(sitting.prompt.wait, Wait::End, "answers are left over: {line:?}");
        sitting.says(line);
    }
    assert_eq!(
        sitting.prompt.wait,
        Wait::End,
        "the sitting waits at {}",
        sitting.asked()
    );
    assert_eq!(sitting.outputs.last(), Some(&Output::Ended));
    assert!(sitting.state.has_ended());

    let map = &sitting.map;
    assert_eq!(Field::ALL.map(|field| map.field(field).count()), [7, 6, 3, 4]);
    let kinds: Vec<_> = map.field(Field::Matters).map(|entry| entry.kind).collect();
    let (person, quality, activity) = (Some(Kind::Person), Some(Kind::Quality), Some(Kind::Activity));
    assert_eq!(
        kinds,
        [person, person, person, quality, quality, activity, activity]
    );
    let links = |link| map.links().iter().filter(|joined| joined.link == link).count();
    assert_eq!(
        [Link::Pulls, Link::Serves, Link::SameBehaviour, Link::CostsLater].map(links),
        [7, 6, 1, 1]
    );

    let [traced] = map.loops() else {
        panic!("one loop, not {}", map.loops().len())
    };
    let words = |id| map.entry(id).expect("on the map").words.as_str();
    assert_eq!(words(traced.away), "cancel choir practice with an excuse");
    assert_eq!(words(traced.hook), "everyone hears my wrong notes");
    assert_eq!(traced.back_to.map(words), Some("shame"));
    assert!(traced.relief.is_some() && traced.cost.is_some() && traced.matters.is_some());

    let [step] = map.steps() else {
        panic!("one step, not {}", map.steps().len())
    };
    assert_eq!(step.act.as_str(), "hum one line in the kitchen");
    assert_eq!(
        step.when.as_ref().map(wayfold::safety::Words::as_str),
        Some("when I hang up my coat on Thursday")
    );
    assert_eq!(step.confidence, Some(8));
    assert_eq!(step.serves.len(), 2);

    let said = sitting.said();
    assert!(
        said.contains(&"Here is your step: when I hang up my coat on Thursday, hum one line in the kitchen.")
    );
    assert_eq!(
        (1..=12)
            .filter(|part| said
                .iter()
                .any(|line| line.starts_with(&format!("Part {part} of"))))
            .count(),
        12
    );
    assert!(sitting.outputs.contains(&Output::Show(Show::Map)));
}

#[test]
fn a_sitting_in_which_everything_is_skipped_ends_with_an_empty_map() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    let mut skipped = 0;
    while sitting.prompt.wait != Wait::End {
        sitting
            .give(wayfold::dialogue::Input::Skip)
            .expect("every prompt can be skipped");
        skipped += 1;
        assert!(skipped < 60, "it never ends");
    }
    assert_eq!(sitting.map, wayfold::map::Map::default());
}

#[test]
fn bare_enter_alone_also_goes_to_the_end() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    let mut pressed = 0;
    while sitting.prompt.wait != Wait::End {
        sitting.says("");
        pressed += 1;
        assert!(pressed < 60, "it never ends");
    }
    assert_eq!(sitting.map, wayfold::map::Map::default());
}

#[test]
fn entries_stop_by_themselves_after_twelve_of_a_kind() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    while sitting.asked() != "who.ask" {
        sitting.says("");
    }
    for person in 0..12 {
        assert!(sitting.asked().starts_with("who."));
        sitting.says(&format!("person {person}"));
    }
    assert_eq!(sitting.asked(), "quality.ask");
    assert_eq!(words_of(&sitting, Field::Matters).len(), 12);
}

#[test]
fn the_question_changes_after_the_first_entry_and_nothing_is_said_twice() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    while sitting.asked() != "who.ask" {
        sitting.says("");
    }
    let before = sitting.said().len();
    sitting.says("my sister Ada");
    assert_eq!(sitting.asked(), "who.more");
    assert_eq!(sitting.said().len(), before);
}
