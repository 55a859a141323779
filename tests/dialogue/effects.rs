//! What a script can do with answers, each effect played in a small script of its own.

use jiff::Timestamp;
use uuid::Uuid;

use wayfold::dialogue::Input;
use wayfold::dialogue::Library;
use wayfold::dialogue::Output;
use wayfold::dialogue::Show;
use wayfold::dialogue::Wait;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::Kind;
use wayfold::map::Link;
use wayfold::map::Mark;
use wayfold::map::Way;
use wayfold::map::What;
use wayfold::safety;

use super::player::Player;
use super::player::library;

/// A library with one script of these nodes; lines `a` to `d` are there to say.
fn with(nodes: &str) -> Library {
    let mut lines = String::new();
    for id in ["a", "b", "c", "d"] {
        if nodes.contains(&format!("say = \"{id}\"")) {
            lines = format!("{lines}{id} = \"{id} | Line {id}.\"\n");
        }
    }
    let script = format!(
        "name = \"mine\"\nversion = 1\nstart = \"n0\"\n{nodes}\n[[node]]\nname = \"end\"\nend = true\n\n[lines]\n{lines}"
    );
    let (library, _) = library()
        .with("mine.toml", &script)
        .unwrap_or_else(|faults| panic!("{faults:#?} in {script}"));
    library
}

/// A chain of nodes, one a line: each leads to the next, the last to the end.
fn chain(nodes: &[&str]) -> Library {
    let mut written = String::new();
    for (place, node) in nodes.iter().enumerate() {
        let next = if place + 1 == nodes.len() {
            "end".to_owned()
        } else {
            format!("n{}", place + 1)
        };
        written = format!("{written}[[node]]\nname = \"n{place}\"\n{node}\ngo = \"{next}\"\n");
    }
    with(&written)
}

/// A sitting with the script on a map with one entry in each field, in the order of the fields, and one step.
fn on_a_map(library: &Library) -> Player<'_> {
    let mut sitting = Player::begin(library, "mine");
    for (place, field) in Field::ALL.into_iter().enumerate() {
        let words = safety::screen(["the orchard", "dread", "close the shutters", "prune one tree"][place])
            .into_words();
        let entry = EntryId(Uuid::from_u128(u128::MAX - place as u128));
        record(
            &mut sitting,
            What::EntryAdded {
                entry,
                field,
                kind: None,
                words,
            },
        );
    }
    let act = safety::screen("oil the shears").into_words();
    let step = wayfold::map::StepId(Uuid::from_u128(u128::MAX));
    record(
        &mut sitting,
        What::StepAdded {
            step,
            when: None,
            act,
            serves: Vec::new(),
            confidence: None,
            smaller_than: None,
        },
    );
    sitting
}

fn record(sitting: &mut Player<'_>, what: What) {
    let id = EventId(Uuid::nil());
    sitting.map.apply(&Event {
        id,
        at: Timestamp::UNIX_EPOCH,
        what,
    });
}

const PRESS: &str = "press = true";

#[test]
fn entries_are_retired_restored_reworded_and_moved() {
    let pick = "pick = { from = \"away\", into = \"it\" }";
    let library = chain(&[
        PRESS,
        pick,
        "do = [{ retire = \"it\" }]",
        PRESS,
        "do = [{ restore = \"it\" }]",
        PRESS,
    ]);
    let mut sitting = on_a_map(&library);
    sitting.says("").says("1");
    assert_eq!(sitting.map.field(Field::Away).count(), 0);
    sitting.says("");
    assert_eq!(sitting.map.field(Field::Away).count(), 1);

    let words = "words = { into = \"new\" }";
    let library = chain(&[
        PRESS,
        pick,
        words,
        "do = [{ reword = \"it\", words = \"new\" }]",
        "do = [{ move = \"it\", field = \"inner\", kind = \"urge\" }]",
    ]);
    let mut sitting = on_a_map(&library);
    sitting
        .says("")
        .says("close the shutters")
        .says("an urge to hide");
    let moved = sitting.map.field(Field::Inner).last().expect("it moved");
    assert_eq!(
        (moved.words.as_str(), moved.kind),
        ("an urge to hide", Some(Kind::Urge))
    );
}

#[test]
fn entries_are_joined_and_taken_apart() {
    let library = chain(&[
        PRESS,
        "pick = { from = \"inner\", into = \"hook\" }",
        "pick = { from = \"away\", into = \"away\" }\ndo = [{ link = \"pulls\", from = \"hook\", to = \"away\" }]",
        PRESS,
        "do = [{ unlink = \"pulls\", from = \"hook\", to = \"away\" }]",
    ]);
    let mut sitting = on_a_map(&library);
    sitting.says("").says("1").says("1");
    assert_eq!(sitting.map.links().len(), 1);
    assert_eq!(sitting.map.links()[0].link, Link::Pulls);
    sitting.says("");
    assert!(sitting.map.links().is_empty());
}

#[test]
fn a_moment_is_noted_in_the_way_that_the_person_chose() {
    let ways = [
        ("a", "toward", Way::Toward),
        ("b", "away", Way::Away),
        ("c", "both", Way::Both),
        ("d", "not-sure", Way::NotSure),
    ];
    let options: Vec<_> = ways
        .iter()
        .map(|(line, set, _)| format!("{{ say = \"{line}\", set = \"{set}\" }}"))
        .collect();
    let library = chain(&[
        PRESS,
        "pick = { from = \"inner\", many = true, into = \"here\" }",
        "pick = { from = \"moves\", many = true, into = \"did\" }",
        &format!("choose = [{}]\ninto = \"way\"", options.join(", ")),
        "do = [{ moment = true, way = \"way\", showed-up = \"here\", did = \"did\" }]",
    ]);
    for (answer, _, way) in ways {
        let mut sitting = on_a_map(&library);
        sitting.says("").says("1").says("1 2").says(answer);
        let [moment] = sitting.map.moments() else {
            panic!("one moment")
        };
        assert_eq!(
            (moment.way, moment.showed_up.len(), moment.did.len()),
            (way, 1, 2)
        );
    }
    // Without a way, there is nothing to note.
    let mut sitting = on_a_map(&library);
    sitting.says("").says("1").says("1 2").says("");
    assert!(sitting.map.moments().is_empty());
}

#[test]
fn a_step_is_marked_and_what_got_in_the_way_is_an_entry() {
    let library = chain(&[
        PRESS,
        "pick = { from = \"steps\", into = \"step\" }",
        "choose = [{ say = \"a\", set = \"partly\" }, { say = \"b\", set = \"let-go\" }]\ninto = \"how\"",
        "choose = [{ say = \"c\", set = \"yes\" }, { say = \"d\", set = \"no\" }]\ninto = \"helped\"",
        "pick = { from = \"inner\", new = \"inner\", into = \"wall\" }",
        "do = [{ mark = \"step\", as = \"how\", helpful = \"helped\", in-the-way = \"wall\" }]",
    ]);
    let mut sitting = on_a_map(&library);
    sitting
        .says("")
        .says("oil the shears")
        .says("a")
        .says("d")
        .says("cold hands");
    let step = &sitting.map.steps()[0];
    assert_eq!(step.mark.map(|(_, mark)| mark), Some(Mark::Partly));
    assert_eq!(step.helpful, Some(false));
    let wall = step
        .got_in_the_way
        .and_then(|entry| sitting.map.entry(entry))
        .expect("an entry");
    assert_eq!((wall.words.as_str(), wall.field), ("cold hands", Field::Inner));
}

#[test]
fn ratings_are_recorded_only_when_they_are_whole() {
    let library = chain(&[
        PRESS,
        "pick = { from = \"away\", into = \"it\" }",
        "number = { into = \"now\" }",
        "number = { into = \"later\" }",
        "do = [{ rate = \"it\", now = \"now\", later = \"later\" }, { lived = \"it\", importance = \"now\", closeness = \"later\" }]",
    ]);
    let mut sitting = on_a_map(&library);
    sitting.says("").says("1").says("8").says("two");
    assert_eq!(sitting.map.workability().len(), 1);
    assert_eq!(
        (
            sitting.map.workability()[0].now,
            sitting.map.workability()[0].later
        ),
        (8, 2)
    );
    assert_eq!(sitting.map.lived().len(), 1);
    let mut sitting = on_a_map(&library);
    sitting.says("").says("1").says("8").says("");
    assert!(sitting.map.workability().is_empty());
}

#[test]
fn numbers_out_of_range_are_refused_with_the_range() {
    let library = chain(&["number = { into = \"x\", from = 0, to = 10 }"]);
    let sitting = Player::begin(&library, "mine");
    for wrong in ["11", "-1", "7.5", "many", "1 2", "99999999999999999999"] {
        let mut there = sitting.clone();
        let given = there.give(Input::Answer(safety::screen(wrong)));
        assert_eq!(
            given,
            Err(wayfold::dialogue::WrongInput::Number { from: 0, to: 10 }),
            "{wrong}"
        );
    }
    for right in ["0", "10", "Ten", " 7 ", "7."] {
        let mut there = sitting.clone();
        there.says(right);
        assert_eq!(there.prompt.wait, Wait::End, "{right}");
    }
}

#[test]
fn distress_of_eight_or_three_more_than_at_first_opens_another_way() {
    let asks = "number = { into = \"far\" }\ndo = [{ distress = \"far\" }]";
    let nodes = format!(
        "[[node]]\nname = \"n0\"\n{asks}\nwhen = [{{ if = \"distress >= 8\", go = \"high\" }}]\ngo = \"n1\"\n\
         [[node]]\nname = \"n1\"\n{asks}\nwhen = [{{ if = \"distress.rise >= 3\", go = \"high\" }}]\ngo = \"end\"\n\
         [[node]]\nname = \"high\"\ncall = \"ground\"\ngo = \"end\"\n"
    );
    let library = with(&nodes);
    let plays = |answers: &[&str]| {
        let mut sitting = Player::begin(&library, "mine");
        for answer in answers {
            sitting.says(answer);
        }
        sitting.prompt.wait == Wait::Press
    };
    assert!(plays(&["8"]));
    assert!(plays(&["3", "6"]));
    assert!(!plays(&["3", "5"]));
    assert!(!plays(&["7", "7"]));
    assert!(!plays(&["", "7"]), "one number alone is no rise");
}

#[test]
fn a_script_that_is_called_comes_back_and_leads_on() {
    let library = chain(&["call = \"ground\"", "words = { into = \"x\" }"]);
    let mut sitting = Player::begin(&library, "mine");
    let mut steps = 0;
    while sitting.prompt.wait != Wait::Words {
        sitting.give(Input::Skip).expect("every prompt can be skipped");
        steps += 1;
        assert!(steps < 20);
    }
    assert!(steps > 0, "grounding ran");
    sitting.says("");
    assert_eq!(sitting.prompt.wait, Wait::End);
}

#[test]
fn two_calls_in_a_row_both_run() {
    let library = chain(&["call = \"ground\"", "call = \"ground\""]);
    let mut sitting = Player::begin(&library, "mine");
    let mut opened = 0;
    while sitting.prompt.wait != Wait::End {
        opened += usize::from(
            sitting.asked() == "press.ask"
                && sitting
                    .said()
                    .last()
                    .is_some_and(|line| line.starts_with("The floor")),
        );
        sitting.give(Input::Skip).expect("every prompt can be skipped");
    }
    assert_eq!(opened, 2);
}

#[test]
fn slots_are_copied_set_and_forgotten() {
    let nodes = "[[node]]\nname = \"n0\"\nwords = { into = \"x\" }\n\
        do = [{ copy = \"x\", to = \"y\" }, { forget = \"x\" }, { set = \"z\", number = 4 }]\ngo = \"n1\"\n\
        [[node]]\nname = \"n1\"\nwhen = [{ if = \"not has x and has y and z = 4\", go = \"yes\" }]\ngo = \"end\"\n\
        [[node]]\nname = \"yes\"\npress = true\ngo = \"end\"\n";
    let library = with(nodes);
    let mut sitting = Player::begin(&library, "mine");
    assert_eq!(sitting.says("words").prompt.wait, Wait::Press);
    let mut sitting = Player::begin(&library, "mine");
    assert_eq!(sitting.says("").prompt.wait, Wait::End);
}

#[test]
fn picking_takes_numbers_in_many_forms_and_new_words_only_where_they_may_be_added() {
    let library = chain(&[
        PRESS,
        "pick = { from = \"moves\", many = true, into = \"x\" }\ndo = [{ retire = \"x\" }]",
    ]);
    for answer in ["1 2", "1,2", "1, 2", "1 and 2", "2 1", "1 2 2", "1;2."] {
        let mut sitting = on_a_map(&library);
        sitting.says("").says(answer);
        assert_eq!(
            sitting.map.field(Field::Away).count() + sitting.map.field(Field::Toward).count(),
            0,
            "{answer}"
        );
    }
    for wrong in ["3", "0", "1 9", "knit a scarf", "-1"] {
        let mut sitting = on_a_map(&library);
        sitting.says("");
        let given = sitting.give(Input::Answer(safety::screen(wrong)));
        assert_eq!(
            given,
            Err(wayfold::dialogue::WrongInput::Pick { count: 2, many: true }),
            "{wrong}"
        );
    }
    let one = chain(&[PRESS, "pick = { from = \"moves\", into = \"x\" }"]);
    let mut sitting = on_a_map(&one);
    sitting.says("");
    let given = sitting.give(Input::Answer(safety::screen("1 2")));
    assert_eq!(
        given,
        Err(wayfold::dialogue::WrongInput::Pick {
            count: 2,
            many: false
        })
    );
}

#[test]
fn open_steps_can_be_picked_until_they_are_marked_or_a_smaller_one_takes_their_place() {
    let library = chain(&[
        PRESS,
        "pick = { from = \"open-steps\", into = \"it\" }",
        "words = { into = \"act\" }\ndo = [{ step = true, act = \"act\", smaller-than = \"it\" }]",
        "pick = { from = \"open-steps\", into = \"it\" }",
        "choose = [{ say = \"a\", set = \"done\" }]\ninto = \"how\"\ndo = [{ mark = \"it\", as = \"how\" }]",
        "pick = { from = \"open-steps\", into = \"it\" }",
    ]);
    let mut sitting = on_a_map(&library);
    let offered = |sitting: &Player<'_>| match &sitting.prompt.wait {
        Wait::Pick { options, .. } => options.iter().map(|one| one.label.clone()).collect::<Vec<_>>(),
        other => panic!("{other:?}"),
    };
    let open = |sitting: &Player<'_>| {
        let review = wayfold::insight::steps_review(&sitting.map);
        let steps = sitting
            .map
            .steps()
            .iter()
            .filter(|step| review.open.contains(&step.id));
        steps.map(|step| step.act.as_str().to_owned()).collect::<Vec<_>>()
    };
    sitting.says("");
    assert_eq!(offered(&sitting), ["oil the shears"]);
    sitting.says("1").says("find the oil");
    assert_eq!(offered(&sitting), ["find the oil"]);
    assert_eq!(
        offered(&sitting),
        open(&sitting),
        "the same steps count as open in the look back"
    );
    sitting.says("1").says("a");
    assert!(open(&sitting).is_empty());
    assert_eq!(
        sitting.prompt.wait,
        Wait::End,
        "with no open step there is nothing to pick"
    );
}

#[test]
fn other_words_at_a_list_can_stay_off_the_map() {
    let library = chain(&[
        PRESS,
        "pick = { from = \"moves\", many = true, words = \"said\", into = \"did\" }",
        "do = [{ set = \"way\", value = \"both\" }, { moment = true, way = \"way\", did = \"did\", words = \"said\" }]",
        PRESS,
    ]);
    let mut sitting = on_a_map(&library);
    let entries = sitting.map.entries().len();
    sitting.says("").says("stood at the gate");
    let moment = &sitting.map.moments()[0];
    assert_eq!(
        moment.words.as_ref().map(wayfold::safety::Words::as_str),
        Some("stood at the gate")
    );
    assert_eq!(
        (moment.way, moment.did.len(), sitting.map.entries().len()),
        (Way::Both, 0, entries)
    );
    let mut sitting = on_a_map(&library);
    sitting.says("").says("2");
    let moment = &sitting.map.moments()[0];
    assert!(moment.words.is_none());
    assert_eq!(moment.did.len(), 1);
    // With nothing on the map such a list is asked all the same.
    let mut sitting = Player::begin(&library, "mine");
    sitting.says("");
    assert!(matches!(&sitting.prompt.wait, Wait::Pick { options, may_say: true, .. } if options.is_empty()));
    // Heard words are confirmed first, as everywhere.
    sitting.give(Input::Heard(safety::screen("sat down"))).unwrap();
    assert!(matches!(&sitting.prompt.wait, Wait::Confirm { .. }));
}

#[test]
fn a_thought_is_unhooked_where_it_has_such_a_form() {
    let script = "name = \"mine\"\nversion = 1\nstart = \"n0\"\n[[node]]\nname = \"n0\"\nwords = { into = \"it\" }\n\
                  do = [{ unhook = \"it\", into = \"unhooked\" }]\ngo = \"end\"\n[[node]]\nname = \"end\"\nsay = [\"a\"]\n\
                  end = true\n[lines]\na = \"{unhooked|as it is}\"\n";
    let (library, _) = library()
        .with("mine.toml", script)
        .unwrap_or_else(|faults| panic!("{faults:#?}"));
    for (thought, said) in [
        (
            "I spoil every song",
            "I'm having the thought that I spoil every song",
        ),
        ("shame", "as it is"),
    ] {
        let mut sitting = Player::begin(&library, "mine");
        sitting.says(thought);
        assert_eq!(sitting.said(), [said]);
    }
}

#[test]
fn a_part_of_the_program_is_shown_about_what_was_picked() {
    let library = chain(&[
        "pick = { from = \"inner\", new = \"inner\", into = \"it\" }",
        "show = \"fitting\"\nof = \"it\"",
        "show = \"helped\"\nof = \"it\"",
    ]);
    let shown = |sitting: &Player<'_>| {
        let parts = sitting.outputs.iter().filter_map(|output| match output {
            Output::Show(show) => Some(*show),
            _ => None,
        });
        parts.collect::<Vec<_>>()
    };
    let mut sitting = on_a_map(&library);
    sitting.says("1");
    let dread = sitting.map.field(Field::Inner).next().map(|entry| entry.id);
    assert!(dread.is_some());
    assert_eq!(shown(&sitting), [Show::Fitting(dread), Show::Helped(dread)]);
    let mut sitting = on_a_map(&library);
    sitting.says("");
    assert_eq!(shown(&sitting), [Show::Fitting(None), Show::Helped(None)]);
}
