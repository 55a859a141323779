//! Danger in the words: the message comes before anything else, nothing is lost, and the same prompt comes back.

use wayfold::dialogue::Input;
use wayfold::dialogue::Output;
use wayfold::dialogue::Wait;
use wayfold::dialogue::WrongInput;
use wayfold::map::Field;
use wayfold::safety::About;
use wayfold::safety::Level;
use wayfold::safety::screen;

use super::player::Player;
use super::player::danger;
use super::player::danger_of;
use super::player::library;

/// What was shown as safety messages, in order.
fn messages(sitting: &Player<'_>) -> Vec<(Level, About)> {
    sitting
        .outputs
        .iter()
        .filter_map(|output| match output {
            Output::SafetyMessage { level, about, .. } => Some((*level, *about)),
            _ => None,
        })
        .collect()
}

fn says_danger(sitting: &mut Player<'_>, words: &str, level: &str) {
    sitting
        .give(Input::Answer(danger(words, level, "self")))
        .expect("danger is always heard");
}

#[test]
fn the_message_comes_before_any_other_output() {
    let library = library();
    for level in ["pause", "stop", "emergency"] {
        let mut sitting = Player::begin(library, "first-map");
        sitting.goes_to("thought.ask");
        let before = sitting.outputs.len();
        says_danger(&mut sitting, "dark words", level);
        assert!(
            matches!(sitting.outputs[before], Output::SafetyMessage { .. }),
            "{level}"
        );
        assert!(sitting.state.was_interrupted());
        assert_eq!(
            sitting.map.entries().len(),
            0,
            "nothing is recorded before the person decides"
        );
    }
}

#[test]
fn dropped_words_leave_no_trace_and_the_same_prompt_comes_back() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    let before = sitting.prompt.clone();
    says_danger(&mut sitting, "dark words", "pause");
    assert_eq!(sitting.prompt.wait, Wait::Press);
    sitting.says("").says("drop").says("on");
    assert_eq!(sitting.prompt, before);
    assert_eq!(sitting.map.entries().len(), 0);
    assert!(!sitting.state.save().as_str().contains("dark words"));
}

#[test]
fn kept_words_are_taken_as_the_answer_without_a_second_message() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    says_danger(&mut sitting, "dark words", "pause");
    sitting.says("").says("keep").says("on");
    let words: Vec<_> = sitting
        .map
        .field(Field::Inner)
        .map(|entry| entry.words.as_str())
        .collect();
    assert_eq!(words, ["dark words"]);
    assert_eq!(sitting.asked(), "thought.more");
    assert_eq!(messages(&sitting), [(Level::Pause, About::Me)]);
}

#[test]
fn stop_asks_for_a_word_and_a_bare_enter_does_not_go_on() {
    let library = library();
    for level in ["stop", "emergency"] {
        let mut sitting = Player::begin(library, "first-map");
        sitting.goes_to("thought.ask");
        says_danger(&mut sitting, "dark words", level);
        assert_eq!(
            sitting.prompt.wait,
            Wait::Deliberate {
                word: "ready".to_owned()
            }
        );
        for wrong in ["", " ", "y", "rea", "ready or not"] {
            let given = sitting.give(Input::Answer(wayfold::safety::screen(wrong)));
            assert_eq!(given, Err(WrongInput::Deliberate), "{wrong:?}");
        }
        sitting.says("Ready.");
        assert_eq!(sitting.asked(), "safe.ask");
        sitting.says("not sure");
        assert!(
            matches!(sitting.prompt.wait, Wait::Deliberate { .. }),
            "the numbers stay until the person goes on"
        );
        sitting.says("ready").says("drop").says("on");
        assert_eq!(sitting.asked(), "thought.ask");
    }
}

#[test]
fn leaving_is_offered_first_and_keeps_everything() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting
        .goes_to("who.ask")
        .says("my sister Ada")
        .goes_to("thought.ask");
    says_danger(&mut sitting, "dark words", "stop");
    sitting.says("ready").says("yes").says("keep");
    let Wait::Choose { options } = &sitting.prompt.wait else {
        panic!("a choice: {:?}", sitting.prompt)
    };
    assert_eq!(options[0].word, "stop");
    sitting.says("stop");
    assert_eq!(sitting.outputs.last(), Some(&Output::Pause));
    assert_eq!(
        sitting.map.entries().len(),
        2,
        "the entry before and the words that were kept"
    );
    assert_eq!(sitting.asked(), "thought.more", "it is saved at the next prompt");
    assert!(!sitting.state.has_ended());
}

#[test]
fn words_for_a_helper_are_said_when_it_is_about_someone_else() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    sitting
        .give(Input::Answer(danger("my friend ...", "stop", "other")))
        .expect("heard");
    assert_eq!(messages(&sitting), [(Level::Stop, About::Other)]);
    sitting.says("ready");
    assert_eq!(sitting.asked(), "safe-other.ask");
}

#[test]
fn words_about_both_are_answered_as_about_the_person_themselves() {
    let both = screen("my brother took his own life last year and I mean to do the same");
    assert!(
        both.findings()
            .iter()
            .any(|finding| finding.about == About::Other)
    );
    let mut sitting = Player::begin(library(), "first-map");
    sitting.goes_to("thought.ask");
    sitting.give(Input::Answer(both)).expect("heard");
    assert_eq!(messages(&sitting), [(Level::Stop, About::Me)]);
    sitting.says("ready");
    assert_eq!(sitting.asked(), "safe.ask");
}

#[test]
fn where_no_words_are_asked_none_are_offered_to_keep() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("choice.ask");
    says_danger(&mut sitting, "dark words", "pause");
    sitting.says("");
    assert_eq!(sitting.asked(), "next.ask");
    sitting.says("on");
    assert_eq!(sitting.asked(), "choice.ask");
}

#[test]
fn danger_inside_the_message_shows_it_again_and_opens_no_second_one() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    says_danger(&mut sitting, "dark words", "stop");
    let before = sitting.prompt.clone();
    says_danger(&mut sitting, "darker words", "emergency");
    assert_eq!(
        messages(&sitting),
        [(Level::Stop, About::Me), (Level::Emergency, About::Me)]
    );
    assert_eq!(sitting.prompt, before);
    sitting.says("ready").says("yes").says("drop").says("on");
    assert_eq!(sitting.asked(), "thought.ask");
}

#[test]
fn three_quiet_findings_in_one_sitting_become_the_pause_message() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    for count in 1..=2 {
        says_danger(&mut sitting, &format!("a sad thing {count}"), "quiet");
        assert!(sitting.asked().starts_with("thought."), "it goes on");
        assert_eq!(
            sitting
                .said()
                .iter()
                .filter(|line| line.contains("/crisis"))
                .count(),
            count
        );
    }
    assert_eq!(sitting.map.field(Field::Inner).count(), 2);
    says_danger(&mut sitting, "a sad thing 3", "quiet");
    assert_eq!(messages(&sitting), [(Level::Pause, About::Me)]);
}

#[test]
fn a_quiet_line_is_said_even_when_the_words_do_not_fit_the_question() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("choice.ask");
    says_danger(&mut sitting, "a sad thing", "quiet");
    assert_eq!(sitting.asked(), "choice.ask");
    assert!(sitting.said().last().is_some_and(|line| line.contains("/crisis")));
}

#[test]
fn after_a_message_nothing_asks_about_cost_or_loops_in_this_sitting() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting
        .goes_to("away.ask")
        .says("leave the room early")
        .says("")
        .goes_to("choice.ask");
    says_danger(&mut sitting, "dark words", "pause");
    sitting.says("").says("on").says("yes");
    assert_eq!(sitting.asked(), "step.ask");
    assert!(sitting.map.loops().is_empty());
}

#[test]
fn grounding_opens_on_any_prompt_and_comes_back_to_it() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("away.ask");
    let before = sitting.prompt.clone();
    sitting.give(Input::Ground).expect("always");
    assert_ne!(sitting.prompt, before);
    assert_eq!(sitting.give(Input::Ground), Err(WrongInput::AlreadyOpen));
    sitting.goes_to("away.ask");
    assert_eq!(sitting.prompt, before);
}

#[test]
fn danger_during_grounding_comes_back_to_grounding() {
    let library = library();
    let mut sitting = Player::begin(library, "ground");
    sitting.goes_to("breath.ask");
    says_danger(&mut sitting, "dark words", "pause");
    sitting.says("").says("on");
    assert_eq!(sitting.asked(), "breath.ask");
}

#[test]
fn heard_words_stop_the_sitting_before_they_are_confirmed() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    sitting
        .give(Input::Heard(danger("dark words", "stop", "self")))
        .expect("heard");
    assert_eq!(messages(&sitting), [(Level::Stop, About::Me)]);
    sitting.says("ready").says("yes").says("keep").says("on");
    assert!(
        matches!(sitting.prompt.wait, Wait::Confirm { .. }),
        "kept words are still to be confirmed"
    );
    // The shell screens the text as heard and as corrected, so the finding is there again; it was answered already.
    says_danger(&mut sitting, "dark words, as I meant them", "stop");
    assert_eq!(messages(&sitting).len(), 1);
    let words: Vec<_> = sitting
        .map
        .field(Field::Inner)
        .map(|entry| entry.words.as_str())
        .collect();
    assert_eq!(words, ["dark words, as I meant them"]);
}

#[test]
fn heard_words_are_kept_mended_or_let_go() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("who.ask");
    let heard = |words: &str| Input::Heard(wayfold::safety::screen(words));
    sitting.give(heard("my brother jonah")).expect("heard");
    assert!(matches!(&sitting.prompt.wait, Wait::Confirm { text } if text.as_str() == "my brother jonah"));
    sitting.says("my brother Jonas");
    sitting.give(heard("noise")).expect("heard");
    sitting.give(Input::Skip).expect("every prompt can be skipped");
    assert_eq!(sitting.asked(), "who.more");
    let words: Vec<_> = sitting
        .map
        .entries()
        .iter()
        .map(|entry| entry.words.as_str())
        .collect();
    assert_eq!(words, ["my brother Jonas"]);
}

#[test]
fn words_said_again_are_confirmed_and_screened_anew() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("who.ask");
    let heard = |words: &str| Input::Heard(wayfold::safety::screen(words));
    sitting.give(heard("my brother jonah")).expect("heard");
    sitting.give(heard("my brother Jonas")).expect("said again");
    assert!(matches!(&sitting.prompt.wait, Wait::Confirm { text } if text.as_str() == "my brother Jonas"));
    assert!(
        sitting.map.entries().is_empty(),
        "nothing counts before it is confirmed"
    );
    sitting.says("my brother Jonas");
    assert_eq!(sitting.map.entries().len(), 1);
    // The first danger is met; another one in words said again is not.
    sitting
        .give(Input::Heard(danger("dark words", "stop", "self")))
        .expect("heard");
    sitting.says("ready").says("yes").says("keep").says("on");
    assert!(matches!(sitting.prompt.wait, Wait::Confirm { .. }));
    sitting
        .give(Input::Heard(danger("other dark words", "stop", "self")))
        .expect("said again");
    assert_eq!(messages(&sitting).len(), 2);
}

#[test]
fn someone_who_is_being_hurt_is_asked_nothing_about_away_moves() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    sitting
        .give(Input::Answer(danger_of(
            "someone hurts me",
            "pause",
            "self",
            "abuse",
        )))
        .expect("heard");
    sitting.says("");
    assert!(
        sitting
            .outputs
            .contains(&Output::Show(wayfold::dialogue::Show::Hiding)),
        "how to hide is shown"
    );
    sitting.says("drop").says("on");
    while !sitting.asked().starts_with("toward.") {
        assert!(!sitting.asked().starts_with("away.") && sitting.asked() != "pulls.ask");
        sitting.says("");
    }
    sitting.says("ring my sister").says("");
    while sitting.prompt.wait != Wait::End {
        let asked = sitting.asked();
        assert!(
            !asked.starts_with("both.") && asked != "follow.ask" && asked != "cost.ask",
            "{asked}"
        );
        sitting.says("");
    }
}

#[test]
fn said_among_the_away_moves_it_ends_that_part() {
    let library = library();
    for decision in ["keep", "drop"] {
        let mut sitting = Player::begin(library, "first-map");
        sitting.goes_to("away.ask");
        sitting
            .give(Input::Answer(danger_of(
                "someone hurts me",
                "pause",
                "self",
                "abuse",
            )))
            .expect("heard");
        sitting.says("").says(decision).says("on");
        if decision == "drop" {
            assert_eq!(sitting.asked(), "away.ask", "the same prompt comes back first");
            sitting.says("");
        }
        assert_eq!(sitting.asked(), "toward.ask", "{decision}");
    }
}

#[test]
fn no_step_is_about_food_or_about_stopping_drink_at_once() {
    let library = library();
    for (topic, word) in [("eating", "food"), ("withdrawal", "doctor before you stop")] {
        let mut sitting = Player::begin(library, "first-map");
        sitting.goes_to("thought.ask");
        sitting
            .give(Input::Answer(danger_of("words", "pause", "self", topic)))
            .expect("heard");
        sitting.says("").says("drop").says("on").goes_to("step.ask");
        assert!(sitting.said().iter().any(|line| line.contains(word)), "{topic}");
    }
}

#[test]
fn more_urgent_words_in_a_correction_bring_up_their_own_message() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    sitting
        .give(Input::Heard(danger("a sad thing", "quiet", "self")))
        .expect("heard");
    assert!(messages(&sitting).is_empty());
    says_danger(&mut sitting, "dark words", "stop");
    assert_eq!(messages(&sitting), [(Level::Stop, About::Me)]);
}

#[test]
fn the_same_quiet_finding_counts_once_when_heard_words_are_confirmed() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    for _ in 0..2 {
        sitting
            .give(Input::Heard(danger("a sad thing", "quiet", "self")))
            .expect("heard");
        says_danger(&mut sitting, "a sad thing", "quiet");
    }
    assert!(messages(&sitting).is_empty());
    assert_eq!(sitting.map.field(Field::Inner).count(), 2);
    sitting
        .give(Input::Heard(danger("a sad thing", "quiet", "self")))
        .expect("heard");
    assert_eq!(messages(&sitting), [(Level::Pause, About::Me)]);
}

#[test]
fn words_too_long_to_keep_are_not_offered_to_keep() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("thought.ask");
    says_danger(&mut sitting, &"bread ".repeat(10_000), "pause");
    sitting.says("");
    assert_eq!(sitting.asked(), "next.ask");
}

#[test]
fn spoken_words_answer_a_choice_and_others_are_refused() {
    let library = library();
    let mut sitting = Player::begin(library, "first-map");
    sitting.goes_to("choice.ask");
    let heard = |words: &str| Input::Heard(wayfold::safety::screen(words));
    assert_eq!(
        sitting.give(heard("the ferry was late")),
        Err(WrongInput::NotWords)
    );
    sitting.give(heard("Yes.")).expect("a word of the choice");
    assert_ne!(sitting.asked(), "choice.ask");
}

#[test]
fn plain_words_of_danger_typed_at_any_kind_of_prompt_stop_the_sitting() {
    let library = library();
    for question in [
        "press.ask",
        "felt.ask",
        "who.ask",
        "choice.ask",
        "step.ask",
        "confidence.ask",
        "close.ask",
    ] {
        let mut sitting = Player::begin(library, "first-map");
        for _ in 0..100 {
            if sitting.asked() == question {
                break;
            }
            let words = if sitting.asked() == "step.ask" {
                "oil the shears"
            } else {
                ""
            };
            sitting.says(words);
        }
        assert_eq!(sitting.asked(), question);
        sitting.says("I want to kill myself");
        assert_eq!(messages(&sitting), [(Level::Stop, About::Me)], "{question}");
        assert!(
            matches!(sitting.prompt.wait, Wait::Deliberate { .. }),
            "{question}"
        );
    }
}
