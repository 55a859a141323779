//! Coming back, with the real program: stuck, moments, practices, loops, steps, the review, and an honest look back.

use std::path::Path;
use std::path::PathBuf;

use expect_test::expect;
use expect_test::expect_file;
use serde_json::Value;
use serde_json::json;

use wayfold::insight;
use wayfold::map::Map;
use wayfold::page;
use wayfold::picture::terminal;
use wayfold::store::Store;
use wayfold::store::Unlock;

use crate::eight_weeks;
use crate::program::Person;
use crate::program::demo_answers;
use crate::python;

/// The demo person after their first sitting.
fn beginner() -> Person {
    let person = Person::new();
    person.says(&["begin"], &demo_answers());
    person
}

/// The demo person after eight weeks.
fn returner() -> Person {
    let person = Person::new();
    let (mut store, _) = open_new(&person);
    store.append(&eight_weeks::events()).unwrap();
    drop(store);
    person
}

fn open_new(person: &Person) -> (Store, PathBuf) {
    let place = person.store();
    (Store::create(&place, &Unlock::KeyFile).unwrap(), place)
}

/// Someone who has said where they are and nothing else.
fn newcomer() -> Person {
    let person = Person::new();
    person.says(&["begin"], "yes\n");
    person
}

/// A map without what differs from one run to the next: identities become words, times go.
fn told(map: &Value) -> Value {
    let entries = map["entries"].as_array().unwrap();
    let text = |id: &Value| {
        entries
            .iter()
            .find(|e| e["id"] == *id)
            .map_or(Value::Null, |e| e["text"].clone())
    };
    let texts = |ids: &Value| -> Vec<Value> {
        ids.as_array()
            .map(|ids| ids.iter().map(text).collect())
            .unwrap_or_default()
    };
    let all = |of: &str, told: &dyn Fn(&Value) -> Value| -> Vec<Value> {
        map[of].as_array().unwrap().iter().map(told).collect()
    };
    json!({
        "entries": all("entries", &|e| json!([e["field"], e["text"], !e["retired"].is_null()])),
        "links": all("links", &|l| json!([text(&l["from"]), text(&l["to"]), l["kind"]])),
        "loops": all("loops", &|l| json!([text(&l["hook"]), text(&l["away"]), l["relief"], l["cost"], text(&l["back_to"])])),
        "steps": all("steps", &|s| json!([s["when"], s["act"], texts(&s["serves"]), s["mark"], s["helpful"]])),
        "moments": all("moments", &|m| json!([texts(&m["showed_up"]), texts(&m["did"]), m["way"], texts(&m["serves"]), m["text"]])),
        "workability": all("workability", &|w| json!([text(&w["entry"]), w["now"], w["later"]])),
        "lived": all("lived", &|l| json!([text(&l["entry"]), l["importance"], l["closeness"]])),
    })
}

fn last<'v>(told: &'v Value, of: &str) -> &'v Value {
    told[of].as_array().unwrap().last().unwrap_or(&Value::Null)
}

/// What was said, with line breaks and gaps as single blanks.
fn flat(said: &str) -> String {
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Answers to `stuck` on the demo map: safe, four of ten, shame, cancelling, 8 now and 2 later, three of ten, the
/// choir, a look from the middle, and one tiny step.
const STUCK: &str = "yes\n4\n3\n1\n8\n2\n3\n3\nyes\nnotice\n\n\n\n\nhum in the hall\nwhen I get there\n";

#[test]
fn stuck_goes_from_what_is_here_to_one_tiny_step() {
    let person = beginner();
    let before = told(&person.map());
    let said = person.says(&["stuck"], STUCK);
    let map = told(&person.map());
    assert_eq!(
        last(&map, "workability"),
        &json!(["cancel choir practice with an excuse", 8, 2])
    );
    assert_eq!(
        last(&map, "steps"),
        &json!(["when I get there", "hum in the hall", ["the choir"], null, null])
    );
    assert_eq!(
        map["entries"], before["entries"],
        "nothing that was picked is added twice"
    );
    assert_eq!(
        map["links"], before["links"],
        "that shame pulls to cancelling was known"
    );
    // The loop that fits is shown before anything is asked about it, with its relief and its cost.
    let (before_question, _) = said.split_once("what have you done so far").unwrap();
    assert!(
        before_question.contains("A loop on your map that goes through this"),
        "{said}"
    );
    assert!(
        before_question.contains("The week after it is harder to walk in."),
        "{said}"
    );
    // The next time its numbers stand beside it.
    let again = person.says(&["stuck"], "yes\n\n3\n");
    assert!(flat(&again).contains("8 at once, 2 later"), "{again}");
}

#[test]
fn stuck_works_with_an_empty_map() {
    let person = newcomer();
    person.says(
        &["stuck"],
        "yes\n\ndread of the form\nput it under the pile\n7\n1\nmy sister\nno\nopen the envelope\nat nine\n",
    );
    let map = told(&person.map());
    expect![[r#"
        {"entries":[["inner","dread of the form",false],["away","put it under the pile",false],["matters","my sister",false]],"links":[["dread of the form","put it under the pile","pulls"]],"lived":[],"loops":[],"moments":[],"steps":[["at nine","open the envelope",["my sister"],null,null]],"workability":[["put it under the pile",7,1]]}"#]]
    .assert_eq(&map.to_string());
    // And with nothing but bare Enter it comes to an end and changes nothing.
    let person = newcomer();
    let said = person.says(&["stuck"], &"\n".repeat(12));
    assert!(said.contains("That is all."), "{said}");
    assert_eq!(person.map()["entries"], json!([]));
}

#[test]
fn stuck_takes_less_than_three_minutes() {
    let person = beginner();
    let answers = "yes\n\n3\n1\n8\n2\n3\nno\nhum in the hall\nwhen I get there\n";
    let said = person.says(&["stuck"], answers);
    assert!(said.contains("Here is your step"), "{said}");
    // Every word on the screen, read silently at 238 words a minute (Brysbaert 2019, J. Mem. Lang. 109, from memory);
    // typed words at 30 a minute, and three seconds to choose each answer that is a number or a word.
    let read = said
        .split_whitespace()
        .filter(|word| word.chars().any(char::is_alphabetic))
        .count();
    let (chosen, typed): (Vec<_>, Vec<_>) = answers
        .lines()
        .partition(|line| line.split_whitespace().count() <= 1);
    let typed: usize = typed.iter().map(|line| line.split_whitespace().count()).sum();
    let seconds = read as f64 / 238.0 * 60.0 + chosen.len() as f64 * 3.0 + typed as f64 / 30.0 * 60.0;
    assert!(
        seconds < 180.0,
        "{seconds:.0} seconds for {read} words read and {typed} typed"
    );
}

#[test]
fn when_it_is_very_hard_grounding_and_an_end_are_offered() {
    let person = beginner();
    let said = person.says(&["stuck"], "yes\n8\nend\n");
    assert!(
        said.contains("Settle a little first") && said.contains("Then we end here."),
        "{said}"
    );
    assert!(!said.contains("what have you done so far"), "{said}");
    // Going on after that leaves out the loop and what things cost.
    let said = person.says(&["stuck"], "yes\n9\non\n3\n");
    assert!(said.contains("Who or what matters to you in this?"), "{said}");
    assert!(
        !said.contains("A loop on your map") && !said.contains("what have you done"),
        "{said}"
    );
    // A rise of three counts as well: 2, then 5.
    let person = beginner();
    let said = person.says(&["stuck"], "yes\n2\n3\n1\n8\n2\n5\n");
    assert!(said.contains("What would help you now?"), "{said}");
    let person = beginner();
    let said = person.says(&["stuck"], "yes\n2\n3\n1\n8\n2\n4\n");
    assert!(
        !said.contains("What would help you now?") && said.contains("Who or what matters"),
        "{said}"
    );
}

#[test]
fn someone_who_is_not_safe_gets_numbers_first_and_no_hard_question() {
    for answer in ["no", "not sure"] {
        let person = beginner();
        let said = person.says(&["stuck"], &format!("{answer}\non\n3\n3\n"));
        let numbers = said.find("111").expect("the emergency number of New Zealand");
        assert!(numbers < said.find("What would help you now?").unwrap(), "{said}");
        assert!(
            !said.contains("A loop on your map") && !said.contains("what have you done"),
            "{said}"
        );
    }
}

#[test]
fn after_a_safety_message_stuck_asks_about_no_cost() {
    let person = beginner();
    let said = person.says(
        &["stuck"],
        "yes\n\nI want to die\nready\nyes\ndrop\non\n3\n3\nno\n\n",
    );
    assert!(said.contains("are you safe right now?"), "{said}");
    let after = said
        .split("Back to where we were.")
        .nth(1)
        .unwrap_or_else(|| panic!("{said}"));
    assert!(
        !after.contains("A loop on your map") && !after.contains("what have you done"),
        "{after}"
    );
    assert!(after.contains("Who or what matters to you in this?"), "{after}");
    assert!(
        !person.map().to_string().contains("want to die"),
        "dropped words are on no map"
    );
}

#[test]
fn stuck_and_moment_cut_anywhere_and_continued_give_the_same_map() {
    let moment = "2 a knot in my back\n\nwalked to the hall\ntoward\n3\n";
    for (script, answers) in [("stuck", STUCK), ("moment", moment)] {
        let whole = beginner();
        whole.says(&[script], answers);
        let whole = told(&whole.map());
        let lines: Vec<_> = answers.lines().collect();
        let one_by_one = beginner();
        for line in &lines {
            one_by_one.says(&[script], &format!("{line}\n"));
        }
        assert_eq!(
            told(&one_by_one.map()),
            whole,
            "{script}, every answer on its own"
        );
        for cut in (1..lines.len()).step_by(3) {
            let person = beginner();
            person.says(&[script], &(lines[..cut].join("\n") + "\n"));
            person.says(&[script], &(lines[cut..].join("\n") + "\n"));
            assert_eq!(told(&person.map()), whole, "{script}, cut after answer {cut}");
        }
    }
}

#[test]
fn a_moment_holds_what_showed_up_what_was_done_which_way_and_for_whom() {
    let person = beginner();
    let said = person.says(&["moment"], "5 6\n4\ntoward\n3 7\n");
    let picked = json!([
        ["tight throat", "urge to cancel"],
        ["sing the warm-up in the kitchen"],
        "toward",
        ["the choir", "singing alto"],
        null
    ]);
    assert_eq!(last(&told(&person.map()), "moments"), &picked, "{said}");
    // What is on no list is kept as it was said, and goes into no field: which one would not be ours to decide.
    person.says(&["moment"], "\nsat in the car for a while\n\n\n");
    let own = json!([[], [], "not-sure", [], "sat in the car for a while"]);
    assert_eq!(last(&told(&person.map()), "moments"), &own);
    assert_eq!(person.field("away").len() + person.field("toward").len(), 7);
    // Nothing said is no moment.
    person.says(&["moment"], "\n\n\n\n");
    assert_eq!(person.map()["moments"].as_array().unwrap().len(), 2);
}

#[test]
fn a_moment_in_one_line_is_noted_as_it_was_said() {
    let person = beginner();
    assert!(
        person
            .says(&["moment", "the bus was late, I read the notice twice"], "")
            .contains("the way left open")
    );
    assert!(
        person
            .says(&["moment", "toward: stayed and asked my question"], "")
            .contains("as a toward move")
    );
    person.says(&["moment", "away: let it ring"], "");
    let moments = told(&person.map())["moments"].clone();
    let moment = |way: &str, words: &str| json!([[], [], way, [], words]);
    assert_eq!(
        moments,
        json!([
            moment("not-sure", "the bus was late, I read the notice twice"),
            moment("toward", "stayed and asked my question"),
            moment("away", "let it ring"),
        ])
    );
    // It works before there is any map, without a question.
    let person = Person::new();
    person.says(&["moment", "a first one"], "");
    assert_eq!(person.map()["moments"].as_array().unwrap().len(), 1);
}

#[test]
fn a_line_with_danger_in_it_shows_who_to_call_and_is_kept_only_on_request() {
    let line = "toward: I want to kill myself tonight";
    let answers = |last: &str| format!("ready\nyes\n{last}\n");
    let kept = beginner();
    let said = kept.says(&["moment", line], &answers("keep\non"));
    assert!(
        said.contains("111") && said.contains("Are you safe right now?"),
        "{said}"
    );
    let moment = last(&told(&kept.map()), "moments").clone();
    assert_eq!(moment[2], "not-sure", "{said}");
    assert_eq!(moment[4], line);
    // Dropped; or with no answer at all: nothing is on the map, and nothing waits.
    for input in [answers("drop\non\n"), String::new(), "ready\n".to_owned()] {
        let person = beginner();
        let said = person.says(&["moment", line], &input);
        assert!(said.contains("111"), "{said}");
        assert_eq!(person.map()["moments"], json!([]), "{input:?} gave {said}");
        assert!(
            !person.says(&[], "").contains("Go on where you stopped"),
            "nothing waits after {input:?}"
        );
    }
}

#[test]
fn practices_use_the_persons_own_sentence() {
    let person = beginner();
    let said = person.says(
        &["practice"],
        "unhook\n1\nhaving\n\n\n\nname\nthe old spoiler\n\nthank\n\nslow\n\n\nenough\n",
    );
    let said = flat(&said);
    assert!(
        said.contains("I'm having the thought that I will only spoil it"),
        "{said}"
    );
    assert!(said.contains("Ah, there is the old spoiler again."), "{said}");
    assert!(
        said.contains("Thank you, mind, for: I will only spoil it"),
        "{said}"
    );
    // Words of one's own stay off the map.
    let before = told(&person.map());
    person.says(&["practice"], "unhook\nnobody waits for me\nenough\n");
    person.says(&["practice"], "room\na stone in my belly\n\n\n\n\n");
    assert_eq!(told(&person.map()), before);
}

#[test]
fn loops_are_drawn_with_relief_cost_and_a_way_out() {
    let person = returner();
    expect_file!["data/returning/loops.txt"].assert_eq(&person.says(&["loops"], ""));
    expect_file!["data/returning/loops-plain.txt"].assert_eq(&person.says(&["loops", "--plain"], ""));
    let empty = newcomer();
    assert!(empty.says(&["loops"], "").contains("A map may have none."));
}

#[test]
fn a_loop_is_followed_and_then_shown() {
    let person = newcomer();
    let answers = "hide in the archive\neveryone sees I am slow\nquiet\nthe pile grows\neveryone sees I am slow\nmy team\n6\n1\n";
    let said = person.says(&["loops", "--trace"], answers);
    let shown = said
        .split("A loop on your map that goes through this")
        .nth(1)
        .unwrap_or_else(|| panic!("{said}"));
    let shown = flat(shown);
    for stop in [
        "everyone sees I am slow",
        "hide in the archive",
        "quiet",
        "the pile grows",
        "6 at once, 1 later",
    ] {
        assert!(shown.contains(stop), "{stop}: {shown}");
    }
    assert_eq!(told(&person.map())["loops"].as_array().unwrap().len(), 1);
}

#[test]
fn a_map_with_too_many_loops_says_what_was_left_out() {
    let person = newcomer();
    // Fifteen entries that all lead to one another, one batch of answers after the other.
    for place in 0..15 {
        let answers = format!(
            "away {place}\ninner {place}\neased\ntired\ninner {}\n\n\n\n",
            (place + 1) % 15
        );
        person.says(&["loops", "--trace"], &answers);
    }
    let said = person.says(&["loops"], "");
    assert!(
        said.contains("were left out") || said.contains("They are not shown"),
        "{said}"
    );
}

#[test]
fn steps_are_listed_by_how_they_stand() {
    let person = returner();
    expect_file!["data/returning/steps.txt"].assert_eq(&person.says(&["steps"], ""));
}

#[test]
fn a_step_is_added_marked_and_made_smaller() {
    let person = newcomer();
    person.says(
        &["steps", "--add"],
        "write to my aunt\nwhen I sit down at six\n4\nwrite the first line\n8\n",
    );
    let step = json!(["when I sit down at six", "write the first line", [], null, null]);
    assert_eq!(last(&told(&person.map()), "steps"), &step);
    person.says(
        &["steps", "--mark"],
        "1\nnot yet\nit has to be good\nfind the paper\nat six\n\n",
    );
    let map = told(&person.map());
    assert_eq!(map["steps"][0][3], "not-yet", "{map}");
    assert_eq!(
        last(&map, "steps"),
        &json!(["at six", "find the paper", [], null, null])
    );
    assert_eq!(
        map["entries"],
        json!([["inner", "it has to be good", false]]),
        "what got in the way is on the map"
    );
    // Only the smaller one is open now, and once it is done nothing is.
    let said = person.says(&["steps", "--mark"], "1\ndone\nyes\n");
    assert!(
        said.contains("  1  find the paper\nA number from the list."),
        "{said}"
    );
    assert!(
        person
            .says(&["steps", "--mark"], "")
            .contains("There is no open step now.")
    );
    assert!(person.says(&["steps"], "").contains("it helped"));
}

/// Reads a calendar file with two outside parsers, live.
fn read_calendar(file: &Path) -> Value {
    serde_json::from_slice(&python::printed("reference/return_calendar.py", &[file], &[])).unwrap()
}

#[test]
fn open_steps_go_into_a_calendar_that_others_can_read() {
    let person = newcomer();
    person.says(
        &["steps", "--add"],
        "read one page; aloud, slowly\nwhen tea is made\n8\n",
    );
    person.says(&["steps", "--add"], "ring the clinic\n\n8\n");
    let file = person.folder().join("steps.ics");
    let name = file.to_str().unwrap();
    let said = person.says(
        &[
            "steps",
            "--calendar",
            name,
            "--day",
            "2026-12-01",
            "--time",
            "18:30",
            "--remind",
            "10",
        ],
        "",
    );
    assert!(said.contains("say nothing about you"), "{said}");
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(
        !text.contains("page") && !text.contains("clinic"),
        "neutral by default: {text}"
    );
    let read = read_calendar(&file);
    assert_eq!(read["icalendar"], read["vobject"]);
    let ids: Vec<_> = person.map()["steps"]
        .as_array()
        .unwrap()
        .iter()
        .map(|s| s["id"].as_str().unwrap().to_owned())
        .collect();
    let event = |id: &str, summary: &str, from: &str, to: &str, alarms: Value| json!({ "uid": format!("{id}@wayfold"), "summary": summary, "start": from, "end": to, "class": "PRIVATE", "alarms": alarms });
    let alarm = || json!(["-1 day, 23:50:00"]);
    assert_eq!(
        read["icalendar"],
        json!([
            event(
                &ids[0],
                "Time set aside",
                "2026-12-01T18:30:00",
                "2026-12-01T18:45:00",
                alarm()
            ),
            event(
                &ids[1],
                "Time set aside",
                "2026-12-01T18:45:00",
                "2026-12-01T19:00:00",
                alarm()
            ),
        ])
    );
    // The file stays as it is until the person says that it may go.
    let again = ["steps", "--calendar", name, "--day", "2026-12-01", "--own-words"];
    let refused = person.run(&[&["--no-passphrase"], &again[..]].concat(), "");
    assert_eq!(refused.status.code(), Some(2));
    assert_eq!(std::fs::read_to_string(&file).unwrap(), text);
    // Own words on request, with the signs that mean something in the format.
    person.says(&[&again[..], &["--replace"]].concat(), "");
    let read = read_calendar(&file);
    assert_eq!(read["icalendar"], read["vobject"]);
    let own = "when tea is made, read one page; aloud, slowly";
    assert_eq!(
        read["icalendar"][0],
        event(
            &ids[0],
            own,
            "2026-12-01T09:00:00",
            "2026-12-01T09:15:00",
            json!([])
        )
    );
    // A time that cannot be read writes nothing.
    std::fs::remove_file(&file).unwrap();
    let output = person.run(
        &["--no-passphrase", "steps", "--calendar", name, "--time", "soon"],
        "",
    );
    assert_eq!(output.status.code(), Some(2));
    assert!(!file.exists());
}

#[test]
fn the_look_back_reads_well_and_can_be_recounted() {
    let events = eight_weeks::events();
    let map = Map::fold(&events);
    let zone = jiff::tz::TimeZone::get("Pacific/Auckland").unwrap();
    let at = |day: &str| {
        day.parse::<jiff::civil::Date>()
            .unwrap()
            .to_zoned_datetime(zone.clone())
            .unwrap()
            .timestamp()
    };
    for (name, since, plain) in [
        ("all", None, false),
        ("all-plain", None, true),
        ("since", Some(at("2026-10-28")), false),
    ] {
        let asked = insight::Asked {
            since,
            until: at("2026-11-25"),
            zone: zone.clone(),
        };
        let look = insight::look_back(&map, &asked);
        let options = page::SheetOptions {
            zone: Some(zone.clone()),
            ..Default::default()
        };
        let screen = terminal::Screen {
            columns: 80,
            unicode: !plain,
            colour: false,
            plain,
        };
        let drawn = terminal::draw(&page::lookback(&map, &look, &options), &screen);
        expect_file![format!("data/returning/lookback-{name}.txt")].assert_eq(&drawn);
    }
    // The program says the same numbers, and each can be counted in what `map --as json` gives.
    let person = returner();
    let look: Value = serde_json::from_str(&person.says(&["lookback", "--json"], "")).unwrap();
    let moments = person.map()["moments"].as_array().unwrap().clone();
    let of = |way: &str| moments.iter().filter(|moment| moment["way"] == way).count();
    for (key, count) in [
        ("moments", moments.len()),
        ("toward", of("toward")),
        ("away", of("away")),
        ("both", of("both")),
        ("not_sure", of("not-sure")),
    ] {
        assert_eq!(look["ways"][key], count, "{key}");
    }
    let said = person.says(&["lookback"], "");
    assert!(
        said.contains(&format!("{} of {}", of("toward"), moments.len())),
        "{said}"
    );
    assert!(
        newcomer()
            .says(&["lookback"], "")
            .contains("There are no moments to look back on yet.")
    );
}

#[test]
fn what_was_noted_where_a_clock_runs_ahead_counts_too() {
    let mut events = eight_weeks::events();
    let last = events.last().unwrap().at;
    let ahead = jiff::Timestamp::now() + jiff::SignedDuration::from_hours(240);
    let shift = ahead.duration_since(last);
    for event in &mut events {
        event.at += shift;
    }
    let person = Person::new();
    let (mut store, _) = open_new(&person);
    store.append(&events).unwrap();
    drop(store);
    let look: Value = serde_json::from_str(&person.says(&["lookback", "--json"], "")).unwrap();
    let noted = person.map()["moments"].as_array().unwrap().len();
    assert_eq!(look["ways"]["moments"], noted);
    let newest = person.map()["moments"][noted - 1]["at"].clone();
    assert_eq!(look["until"], newest, "up to the last moment");
}

#[test]
fn the_review_rewords_retires_moves_adds_and_says_what_changed() {
    let person = beginner();
    let answers = [
        "", // no step is looked at
        "7\nreword\nsinging the low line",
        "",
        "", // what matters
        "4\nleave",
        "",
        "", // nervous is no longer true
        "",
        "", // away moves stay
        "1\nmove\naway",
        "",
        "oil the oars\n6\n", // toward moves
        "yes\n3\n9\n4\n",
        "end",
    ];
    let said = person.says(&["review"], &(answers.join("\n") + "\n"));
    let map = told(&person.map());
    let entries = map["entries"].as_array().unwrap();
    assert!(
        entries.contains(&json!(["matters", "singing the low line", false])),
        "{said}"
    );
    assert!(entries.contains(&json!(["inner", "nervous", true])), "{said}");
    assert!(
        entries.contains(&json!(["away", "sing the warm-up in the kitchen", false])),
        "{said}"
    );
    assert!(
        entries.contains(&json!(["toward", "oil the oars", false])),
        "{said}"
    );
    assert_eq!(map["lived"], json!([["the choir", 9, 4]]), "{said}");
    let changed = said
        .split("What changed since this review began")
        .nth(1)
        .unwrap_or_else(|| panic!("{said}"));
    for part in [
        "oil the oars (toward moves)",
        "nervous (what shows up)",
        "before: singing alto",
        "from toward moves to away moves",
    ] {
        assert!(changed.contains(part), "{part}: {changed}");
    }
    assert!(
        !changed.contains("hum one line"),
        "the step was there before: {changed}"
    );
    // With bare Enter alone a review keeps everything as it is.
    let person = beginner();
    let before = told(&person.map());
    let said = person.says(&["review"], &"\n".repeat(14));
    assert!(
        said.contains("Nothing on the map has changed since then."),
        "{said}"
    );
    assert_eq!(told(&person.map()), before);
}

#[test]
fn the_map_since_a_date_says_what_came_and_how_steps_went() {
    let person = returner();
    expect_file!["data/returning/since.txt"].assert_eq(&person.says(&["map", "--since", "2026-10-10"], ""));
    let found: Value =
        serde_json::from_str(&person.says(&["map", "--since", "2026-10-10", "--as", "json"], "")).unwrap();
    assert_eq!(found["steps_came"].as_array().unwrap().len(), 4);
    let file = person.folder().join("since.md");
    person.says(
        &["map", "--since", "2026-10-10", "--out", file.to_str().unwrap()],
        "",
    );
    let markdown = person.says(&["map", "--since", "2026-10-10", "--as", "markdown"], "");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), markdown);
    let picture = person.folder().join("since.pdf");
    let refused = person.run(
        &["map", "--since", "2026-10-10", "--out", picture.to_str().unwrap()],
        "",
    );
    assert_eq!(refused.status.code(), Some(2));
    assert!(!picture.exists());
    let none = person.says(&["map", "--since", "2026-11-25"], "");
    assert!(
        none.contains("Nothing on the map has changed since then."),
        "{none}"
    );
}

#[test]
fn wayfold_alone_offers_first_to_go_on() {
    let person = beginner();
    let said = person.says(&[], "leave\n");
    assert!(said.contains("  1  I feel stuck"), "{said}");
    person.says(&["stuck"], "yes\n4\n3\n");
    let said = person.says(&[], "\n1\n");
    assert!(
        said.contains("  1  Go on where you stopped: feeling stuck"),
        "{said}"
    );
    assert!(said.contains("You stopped here. Going on."), "{said}");
    assert!(said.contains("how much does it help right then?"), "{said}");
    // What is only looked at comes back to the same question; nothing says what was missed.
    let said = person.says(&[], "steps\nloops\nlookback\nmap\nleave\n");
    assert_eq!(said.matches("What do you need?").count(), 5, "{said}");
}

#[test]
fn stuck_left_on_another_day_begins_anew_and_keeps_what_was_said() {
    let today = beginner();
    today.says(&["stuck"], "yes\n\na new dread\n");
    assert!(
        today.says(&["stuck"], "").contains("You stopped here."),
        "an hour later it goes on"
    );
    let (store, opened) = Store::open(&today.store(), &Unlock::KeyFile).unwrap();
    drop(store);
    let mut events = opened.events;
    for event in &mut events {
        event.at -= jiff::SignedDuration::from_hours(30);
    }
    for (arguments, input) in [(&["stuck"][..], ""), (&[], "I feel stuck\n")] {
        let later = Person::new();
        let (mut store, _) = open_new(&later);
        store.append(&events).unwrap();
        drop(store);
        assert!(
            later
                .says(&[], "leave\n")
                .contains("Go on where you stopped: feeling stuck"),
            "it is still offered"
        );
        let said = later.says(arguments, input);
        assert!(
            !said.contains("You stopped here.") && said.contains("First: are you safe right now?"),
            "{said}"
        );
        assert!(later.field("inner").contains(&"a new dread".to_owned()));
    }
}
