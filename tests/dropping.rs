//! Words that the person drops, or has not decided on, are not in the store: not on the map, and in no record either.

use std::path::Path;

use wayfold::store::Unlock;
use wayfold::store::parsers;

use crate::program::Person;
use crate::program::demo_answers;
use crate::sitting::Fed;
use crate::sitting::prompt;
use crate::store::kit;

/// A sentence with danger in it, and a part of it that nothing else holds.
const PLANTED: &str = "I want to kill myself behind the violet granary";
const PART: &str = "violet granary";

/// How many records of a closed store hold these words, whether they count or not.
fn holding(store: &Path, words: &str) -> usize {
    let beside = tempfile::tempdir().unwrap();
    kit::copy(store, beside.path());
    let texts = parsers::texts(beside.path(), &Unlock::KeyFile).unwrap();
    assert!(texts.len() > 3, "there are records to look through");
    texts
        .iter()
        .filter(|text| text.windows(words.len()).any(|part| part == words.as_bytes()))
        .count()
}

/// A person who stands at the question who else matters to them.
pub(crate) fn at_an_entry() -> Person {
    let person = Person::new();
    let answers = demo_answers();
    let first: Vec<_> = answers.lines().take(6).collect();
    person.says(&["begin"], &(first.join("\n") + "\n"));
    person
}

#[test]
fn dropped_words_are_in_no_record() {
    let person = at_an_entry();
    let said = person.says(
        &["begin"],
        &format!("{PLANTED}\nready\nyes\ndrop\non\nthe old lighthouse\n"),
    );
    assert!(said.contains("They are dropped."), "{said}");
    assert_eq!(holding(&person.store(), PART), 0);
    // The search finds what was kept.
    assert!(holding(&person.store(), "the old lighthouse") >= 2);
}

#[test]
fn kept_words_are_there() {
    let person = at_an_entry();
    person.says(&["begin"], &format!("{PLANTED}\nready\nyes\nkeep\non\n"));
    assert!(holding(&person.store(), PART) >= 2);
    assert!(person.field("matters").contains(&PLANTED.to_owned()));
}

#[test]
fn words_kept_and_then_dropped_after_all_are_in_no_record() {
    let person = at_an_entry();
    person.says(
        &["begin"],
        &format!("{PLANTED}\nready\nyes\nkeep\n/back\ndrop\non\n"),
    );
    assert_eq!(holding(&person.store(), PART), 0);
    assert!(!person.field("matters").contains(&PLANTED.to_owned()));
}

/// What was dropped stays dropped: no way back leads to it, in this sitting or in the next.
#[test]
fn dropped_words_are_not_asked_about_again() {
    for cut in [false, true] {
        let person = at_an_entry();
        let first = format!("{PLANTED}\nready\nyes\ndrop\n");
        let then = "/back\nyes\non\nthe old lighthouse\n";
        let said = if cut {
            person.says(&["begin"], &first);
            person.says(&["begin"], then)
        } else {
            person.says(&["begin"], &(first + then))
        };
        // One is back at the question before it.
        let (_, after) = said.split_once("Back one question.").unwrap();
        assert!(after.contains("Are you safe right now?"), "{said}");
        assert!(!after.contains("keep them, or drop them?"), "{said}");
        assert_eq!(holding(&person.store(), PART), 0);
        assert!(person.field("matters").contains(&"the old lighthouse".to_owned()));
    }
}

/// Kept words may still be dropped while the message is open, and are never dropped by themselves.
#[test]
fn kept_words_are_asked_about_again_and_not_lost_on_the_way() {
    for cut in [false, true] {
        let person = at_an_entry();
        let first = format!("{PLANTED}\nready\nyes\nkeep\n");
        let said = if cut {
            person.says(&["begin"], &first);
            person.says(&["begin"], "/back\nkeep\non\n")
        } else {
            person.says(&["begin"], &(first + "/back\nkeep\non\n"))
        };
        let (_, after) = said.split_once("Back one question.").unwrap();
        assert!(after.contains("keep them, or drop them?"), "{said}");
        assert!(person.field("matters").contains(&PLANTED.to_owned()), "{said}");
    }
}

/// A message that is over is not opened again by going back: one stands at the question that was there before.
#[test]
fn going_back_passes_over_a_message_that_is_over() {
    let person = at_an_entry();
    let before = person.field("matters");
    let said = person.says(
        &["begin"],
        &format!("{PLANTED}\nready\nyes\nkeep\non\n/back\nthe old lighthouse\n"),
    );
    let (_, after) = said.split_once("Back one question.").unwrap();
    for words in ["safe right now", "keep them", "What would help you now?"] {
        assert!(!after.contains(words), "{words}: {said}");
    }
    // What the answer made is taken back with it, as with any other.
    let now = [&before[..], &["the old lighthouse".to_owned()]].concat();
    assert_eq!(person.field("matters"), now);
    assert_eq!(holding(&person.store(), PART), 0);
    // Where the words were dropped the same question stood again, so one comes to the question before that.
    let person = at_an_entry();
    let said = person.says(&["begin"], &format!("{PLANTED}\nready\nyes\ndrop\non\n/back\n"));
    let (_, after) = said.split_once("Back one question.").unwrap();
    assert!(!after.contains("What would help you now?"), "{said}");
    assert_eq!(person.field("matters").len(), before.len() - 1, "{said}");
}

#[test]
fn what_was_taken_back_is_in_no_record_once_the_sitting_stops() {
    let person = at_an_entry();
    person.says(&["begin"], "the violet granary\n/back\nthe tall oak\n");
    assert_eq!(holding(&person.store(), PART), 0);
    assert!(holding(&person.store(), "the tall oak") >= 2);
}

#[test]
fn a_sitting_that_is_dropped_by_hiding_leaves_no_words() {
    let person = Person::new();
    person.says(
        &["begin"],
        "yes\n\nresting by the violet granary\na cup of violet granary tea\n/hide drop\n/hide\n",
    );
    assert_eq!(holding(&person.store(), PART), 0);
}

#[test]
fn a_sitting_that_ends_leaves_only_what_is_on_the_map() {
    let person = Person::new();
    person.says(&["begin"], &demo_answers());
    let beside = tempfile::tempdir().unwrap();
    kit::copy(&person.store(), beside.path());
    let texts = parsers::texts(beside.path(), &Unlock::KeyFile).unwrap();
    let places = texts
        .iter()
        .filter(|text| text.windows(10).any(|part| part == b"sitting-at"))
        .count();
    assert_eq!(places, 0, "of {} records", texts.len());
    // What was noticed on the way and never asked to be kept stood only in the places.
    assert_eq!(holding(&person.store(), "a song going round"), 0);
}

/// As after a crash between taking back and removing: the next opening finishes it.
#[test]
fn what_a_crash_left_to_remove_is_removed_at_the_next_opening() {
    use wayfold::map::Event;
    use wayfold::map::EventId;
    use wayfold::map::What;
    let person = at_an_entry();
    let unwanted = kit::worded(7, "the violet granary");
    let back = Event {
        id: EventId(kit::event(8).id.0),
        at: unwanted.at,
        what: What::TakenBack { event: unwanted.id },
    };
    let (mut store, _) = kit::open(&person.store());
    store.append(&[unwanted, back]).unwrap();
    drop(store);
    assert!(holding(&person.store(), PART) >= 2);
    person.says(&["map"], "");
    assert_eq!(holding(&person.store(), PART), 0);
}

/// The program is killed at every prompt of the safety message. The words that were not decided on are nowhere then, and
/// the person comes back to the same prompt; but the question whether to keep words that are gone is not asked.
#[test]
fn a_kill_while_a_safety_message_is_open_keeps_the_place_and_not_the_words() {
    let answers = ["ready", "yes", "keep", "on"];
    for given in 0..answers.len() {
        let person = at_an_entry();
        let mut sitting = Fed::new(&person);
        sitting.heard();
        sitting.answer(PLANTED);
        let mut seen = sitting.heard();
        for answer in &answers[..given] {
            sitting.answer(answer);
            seen = sitting.heard();
        }
        sitting.child.kill().unwrap();
        sitting.child.wait().unwrap();
        let decided = given > 2;
        assert_eq!(
            holding(&person.store(), PART) > 0,
            decided,
            "after {given} answers"
        );
        let mut again = Fed::new(&person);
        let resumed = again.heard();
        again.child.kill().unwrap();
        again.child.wait().unwrap();
        if given == 2 {
            assert!(prompt(&seen).contains("keep them, or drop them?"), "{seen}");
            assert!(resumed.contains("They are dropped."), "{resumed}");
            assert!(prompt(&resumed).contains("What would help you now?"), "{resumed}");
        } else {
            assert_eq!(prompt(&resumed), prompt(&seen), "after {given} answers");
        }
        // Whoever comes back to an open message sees whom to call before anything else.
        if given < 3 {
            assert!(resumed.contains("1737") && resumed.contains("111"), "{resumed}");
        }
        // Going on from there comes back to the question that was open before.
        let rest = if given == 2 {
            "on\n".to_owned()
        } else {
            answers[given..].join("\n") + "\n"
        };
        let said = person.says(&["begin"], &rest);
        assert!(said.contains("Who else?"), "after {given} answers: {said}");
        assert_eq!(person.field("matters").contains(&PLANTED.to_owned()), decided);
    }
}

/// Nobody leaves in the belief that words are kept which are not.
#[test]
fn leaving_at_a_safety_message_says_that_the_words_are_not_kept() {
    let told = "The words that brought up the numbers are not kept.";
    let person = at_an_entry();
    let said = person.says(&["begin"], &format!("{PLANTED}\n/pause\n"));
    assert!(said.contains(told), "{said}");
    assert_eq!(holding(&person.store(), PART), 0);
    let person = at_an_entry();
    let said = person.says(&["begin"], &format!("{PLANTED}\nready\nyes\nkeep\n/pause\n"));
    assert!(said.contains("They are kept.") && !said.contains(told), "{said}");
}
