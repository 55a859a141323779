//! The one kind question about an entry: keep, say in other words, move, or split; and when it stays silent.

use jiff::Timestamp;
use uuid::Uuid;

use wayfold::coach;
use wayfold::dialogue::Input;
use wayfold::dialogue::Wait;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::Link;
use wayfold::map::What;

use super::player::Player;
use super::player::danger;
use super::player::library;

/// An entry among away moves that the check asks about, with the field it proposes.
const INSIDE: &str = "worrying about the ferry";

/// An entry that joins an act and what comes before it.
const JOINED: &str = "stay home because I feel ashamed";

fn words(sitting: &Player<'_>, field: Field) -> Vec<String> {
    sitting
        .map
        .field(field)
        .map(|entry| entry.words.as_str().to_owned())
        .collect()
}

fn options(sitting: &Player<'_>) -> Vec<String> {
    match &sitting.prompt.wait {
        Wait::Choose { options } => options.iter().map(|one| one.word.clone()).collect(),
        other => panic!("no choice is open but {other:?}"),
    }
}

#[test]
fn keeping_it_is_first_and_a_bare_enter_keeps_it() {
    let library = library();
    for answer in ["", "1", "keep", "Keep it as it is", "k"] {
        let mut sitting = Player::begin(library, "first-map");
        sitting.goes_to("away.ask").says(INSIDE);
        assert!(sitting.asked().starts_with("coach."), "{}", sitting.asked());
        assert_eq!(options(&sitting)[..2], ["keep", "reword"]);
        assert!(sitting.map.entries().is_empty());
        sitting.says(answer);
        assert_eq!(words(&sitting, Field::Away), [INSIDE], "{answer:?}");
    }
}

#[test]
fn skipping_the_question_keeps_the_entry() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("away.ask").says(INSIDE);
    sitting.give(Input::Skip).expect("every prompt can be skipped");
    assert_eq!(words(&sitting, Field::Away), [INSIDE]);
}

#[test]
fn other_words_take_its_place_and_are_not_asked_about_again() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("away.ask").says(INSIDE).says("reword");
    assert!(matches!(&sitting.prompt.wait, Wait::Confirm { text } if text.as_str() == INSIDE));
    sitting.says("feeling bad about the ferry");
    assert_eq!(words(&sitting, Field::Away), ["feeling bad about the ferry"]);
}

#[test]
fn nothing_instead_of_other_words_keeps_the_old_ones() {
    let library = library();
    for nothing in ["", "\u{feff}", "done", "Nothing more ."] {
        let mut sitting = Player::begin(library, "first-map");
        sitting
            .goes_to("away.ask")
            .says(INSIDE)
            .says("reword")
            .says(nothing);
        assert_eq!(words(&sitting, Field::Away), [INSIDE], "{nothing:?}");
    }
}

#[test]
fn moved_it_stands_in_the_other_field_and_the_same_question_is_open_still() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("away.ask").says(INSIDE).says("move");
    assert_eq!(words(&sitting, Field::Inner), [INSIDE]);
    assert!(words(&sitting, Field::Away).is_empty());
    assert_eq!(sitting.asked(), "away.more");
}

#[test]
fn split_it_becomes_two_entries_that_are_joined() {
    let library = library();
    let question = coach::consider(Field::Away, JOINED).expect("the check sees two things");
    let split = question.split.expect("and where they part");
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("away.ask").says(JOINED).says("split");
    assert_eq!(words(&sitting, Field::Away), [split.act.as_str()]);
    assert_eq!(words(&sitting, Field::Inner), [split.inner.as_str()]);
    let [joined] = sitting.map.links() else {
        panic!("one link")
    };
    assert_eq!(joined.link, Link::Pulls);
    assert_eq!(sitting.asked(), "pulls.ask", "the act is asked about further");
}

#[test]
fn the_check_is_silent_when_it_is_off() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    let what = What::SettingChosen {
        name: "entry-check".to_owned(),
        value: "off".to_owned(),
    };
    sitting.map.apply(&Event {
        id: EventId(Uuid::nil()),
        at: Timestamp::UNIX_EPOCH,
        what,
    });
    sitting.goes_to("away.ask").says(INSIDE);
    assert_eq!(words(&sitting, Field::Away), [INSIDE]);
}

#[test]
fn the_check_is_silent_after_a_safety_message() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    sitting
        .give(Input::Answer(danger("dark words", "pause", "self")))
        .expect("heard");
    sitting
        .says("")
        .says("drop")
        .says("on")
        .goes_to("away.ask")
        .says(INSIDE);
    assert_eq!(words(&sitting, Field::Away), [INSIDE]);
}
