//! The demo person's eight weeks, made again: their first map as the demo answers make it, and then moments, steps and
//! ratings, everyday and uneven as life is. `demo-data/eight-weeks.jsonl` must be exactly what is made here; with
//! `WAYFOLD_MAKE_DEMO=1` it is written.

use std::collections::HashMap;
use std::path::Path;

use jiff::Timestamp;
use jiff::ToSpan;
use jiff::civil::date;
use jiff::tz::TimeZone;
use uuid::Uuid;

use wayfold::dialogue;
use wayfold::dialogue::Input;
use wayfold::dialogue::Library;
use wayfold::dialogue::Output;
use wayfold::dialogue::State;
use wayfold::dialogue::Wait;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::Map;
use wayfold::map::Mark;
use wayfold::map::MomentId;
use wayfold::map::StepId;
use wayfold::map::Way;
use wayfold::map::What;
use wayfold::safety;

use crate::program::demo_answers;

/// A day and time of the eight weeks, from the first sitting on: day 0 is Wednesday 2026-09-30.
#[derive(Clone, Copy)]
struct At(i64, i64, i64);

/// Events in the making.
struct Made {
    events: Vec<Event>,
    map: Map,
    at: Timestamp,
    count: u16,
}

impl Made {
    fn to(&mut self, At(day, hour, minute): At) {
        let start = date(2026, 9, 30).in_tz("Pacific/Auckland").unwrap();
        let day = start.checked_add(day.days()).unwrap();
        let at = day
            .date()
            .at(hour.try_into().unwrap(), minute.try_into().unwrap(), 0, 0);
        let at = at
            .to_zoned_datetime(TimeZone::get("Pacific/Auckland").unwrap())
            .unwrap()
            .timestamp();
        assert!(at > self.at, "events come in order: {at}");
        self.at = at;
    }

    /// A version 7 UUID (RFC 9562) of the present time, with a counter in place of chance.
    fn id(&mut self) -> Uuid {
        self.count += 1;
        let milliseconds = u64::try_from(self.at.as_millisecond()).unwrap();
        let mut random = [0; 10];
        random[..2].copy_from_slice(&self.count.to_be_bytes());
        uuid::Builder::from_unix_timestamp_millis(milliseconds, &random).into_uuid()
    }

    fn note(&mut self, what: What) {
        let event = Event {
            id: EventId(self.id()),
            at: self.at,
            what,
        };
        self.map.apply(&event);
        self.events.push(event);
    }

    fn entry(&self, field: Option<Field>, words: &str) -> EntryId {
        let fits = |entry: &&wayfold::map::Entry| {
            entry.words.as_str().contains(words) && field.is_none_or(|field| entry.field == field)
        };
        self.map
            .entries()
            .iter()
            .find(fits)
            .unwrap_or_else(|| panic!("no entry has {words:?}"))
            .id
    }

    fn entries(&self, field: Option<Field>, words: &str) -> Vec<EntryId> {
        words
            .split('|')
            .filter(|word| !word.is_empty())
            .map(|word| self.entry(field, word))
            .collect()
    }

    fn first_map(&mut self) {
        let library = Library::shipped("en").unwrap();
        let mut state = State::begin(&library, "first-map").unwrap();
        let answers = demo_answers();
        // The first line answers the question about the country, which is no part of the dialogue.
        let mut lines = answers.lines().skip(1);
        let mut input = Input::Begin;
        loop {
            let map = self.map.clone();
            let stepped = dialogue::step(&library, &map, &state, input, &mut || self.id()).unwrap();
            for output in stepped.outputs {
                if let Output::Record(what) = output {
                    self.note(what);
                }
            }
            state = stepped.state;
            input = match stepped.prompt.wait {
                Wait::End => return,
                Wait::Recorded => Input::Recorded,
                _ => {
                    self.at += jiff::SignedDuration::from_secs(14);
                    self.count = 0;
                    Input::Answer(safety::screen(lines.next().unwrap_or_default()))
                }
            };
        }
    }

    fn moment(&mut self, (at, showed_up, did, way, serves, words): MomentLine) {
        self.to(at);
        let moment = MomentId(self.id());
        let way = match way {
            't' => Way::Toward,
            'a' => Way::Away,
            'b' => Way::Both,
            _ => Way::NotSure,
        };
        let said = (!words.is_empty()).then(|| plain(words));
        self.note(What::MomentNoted {
            moment,
            showed_up: self.entries(Some(Field::Inner), showed_up),
            did: self.entries(None, did),
            way,
            serves: self.entries(Some(Field::Matters), serves),
            words: said,
        });
    }

    fn step(&mut self, when: &str, act: &str, serves: &str, confidence: u8) -> StepId {
        let step = StepId(self.id());
        self.note(What::StepAdded {
            step,
            when: Some(plain(when)),
            act: plain(act),
            serves: self.entries(Some(Field::Matters), serves),
            confidence: Some(confidence),
            smaller_than: None,
        });
        step
    }

    fn mark(&mut self, step: StepId, mark: Mark, helpful: Option<bool>, in_the_way: Option<&str>) {
        let got_in_the_way = in_the_way.map(|words| self.entry(Some(Field::Inner), words));
        self.note(What::StepMarked {
            step,
            mark,
            helpful,
            got_in_the_way,
        });
    }

    fn rate(&mut self, away: &str, now: u8, later: u8) {
        let entry = self.entry(Some(Field::Away), away);
        self.note(What::WorkabilityRated { entry, now, later });
    }

    fn lived(&mut self, what: &str, importance: u8, closeness: u8) {
        let entry = self.entry(Some(Field::Matters), what);
        self.note(What::LivedRated {
            entry,
            importance,
            closeness,
        });
    }
}

fn plain(words: &str) -> wayfold::safety::Words {
    let screened = safety::screen(words);
    assert_eq!(screened.level(), safety::Level::None, "{words}");
    screened.into_words()
}

/// When; what showed up; what was done; which way (toward, away, both, not sure); for whom or what; words.
type MomentLine = (At, &'static str, &'static str, char, &'static str, &'static str);

#[rustfmt::skip]
const MOMENTS: [MomentLine; 58] = [
    // Week 1
    (At(1, 18, 20), "urge to cancel|tight throat", "cancel choir", 'a', "", ""),
    (At(1, 22, 5), "shame", "sort the tool drawer", 'a', "", ""),
    (At(3, 10, 40), "spoil it", "sort the tool drawer", 'a', "", ""),
    (At(4, 17, 15), "nervous", "calls ring out", 'a', "", ""),
    (At(5, 19, 30), "", "warm-up", 't', "singing alto", ""),
    // Week 2
    (At(8, 18, 25), "urge to cancel|wrong notes", "cancel choir", 'a', "", ""),
    (At(9, 12, 10), "", "", 'n', "", "Said yes to the extra shift before I knew what I thought of it"),
    (At(10, 11, 0), "spoil it", "plank of the boat", 't', "rowing boat", ""),
    (At(11, 17, 40), "shame", "calls ring out", 'a', "", ""),
    (At(11, 20, 15), "", "", 'n', "", "Lay on the floor with the dog from next door"),
    // Week 3
    (At(14, 19, 5), "nervous", "warm-up", 't', "singing alto|the choir", ""),
    (At(15, 18, 15), "tight throat|urge to cancel", "", 'b', "the choir", "Went to practice, stood in the back row and moved my lips"),
    (At(17, 9, 50), "spoil it", "sort the tool drawer", 'a', "", ""),
    (At(17, 15, 30), "spoil it", "lay out the tools", 't', "rowing boat", ""),
    (At(18, 17, 20), "", "ring Jonas", 't', "Jonas", ""),
    (At(19, 21, 45), "wrong notes", "", 'n', "", "Heard the recording from practice and turned it off halfway"),
    // Week 4
    (At(21, 12, 30), "", "", 't', "patient", "Let the new one at work find the switch without taking over"),
    (At(22, 18, 20), "urge to cancel|tight throat", "cancel choir", 'a', "", ""),
    (At(22, 21, 0), "shame", "sort the tool drawer", 'a', "", ""),
    (At(24, 10, 5), "", "plank of the boat", 't', "rowing boat|Vera", ""),
    (At(25, 16, 50), "nervous|shame", "calls ring out", 'a', "", ""),
    (At(25, 18, 10), "shame", "ring Jonas", 't', "Jonas|honest", "Rang back and said I had let it ring"),
    (At(26, 8, 20), "", "", 'n', "", "Woke early, made tea, sat there"),
    // Week 5, with four days away for work
    (At(29, 18, 0), "urge to cancel|nervous", "warm-up", 't', "singing alto", ""),
    (At(29, 19, 10), "wrong notes|tight throat", "", 't', "the choir", "Sang the low line at practice, all of it"),
    (At(30, 20, 30), "shame", "", 'b', "honest", "Told the alto next to me that I had made up the cold"),
    (At(34, 21, 10), "", "", 'n', "", "Hotel room, walked round the block twice"),
    // Week 6
    (At(36, 18, 30), "urge to cancel", "warm-up", 't', "the choir", ""),
    (At(36, 19, 45), "wrong notes", "", 't', "the choir|singing alto", "Asked for the hard bar once more"),
    (At(37, 17, 30), "nervous", "calls ring out", 'a', "", ""),
    (At(38, 10, 20), "spoil it", "plank of the boat", 't', "rowing boat", ""),
    (At(38, 11, 45), "spoil it", "sort the tool drawer", 'b', "rowing boat", "Sorted the drawer to put off the keel, then found the clamp I needed"),
    (At(39, 17, 5), "", "ring Jonas", 't', "Jonas", ""),
    (At(40, 19, 20), "", "", 'n', "", "Queue at the market, nothing much"),
    (At(41, 7, 50), "nervous", "", 't', "honest", "Said at the meeting that I had not read the plan"),
    (At(41, 22, 30), "shame", "sort the tool drawer", 'a', "", ""),
    // Week 7
    (At(42, 18, 40), "", "warm-up", 't', "singing alto", ""),
    (At(43, 18, 10), "tight throat", "warm-up", 't', "the choir", ""),
    (At(43, 21, 15), "wrong notes|shame", "", 'b', "the choir", "Stayed for the talk after practice, by the door"),
    (At(45, 9, 40), "", "lay out the tools", 't', "rowing boat", ""),
    (At(45, 14, 5), "spoil it", "plank of the boat", 't', "rowing boat", ""),
    (At(46, 16, 35), "nervous", "calls ring out", 'a', "", ""),
    (At(46, 19, 0), "shame", "ring Jonas", 't', "Jonas|patient", ""),
    (At(47, 12, 15), "", "", 'n', "", "Bus was late, read the notice about the lake twice"),
    (At(48, 20, 50), "spoil it", "sort the tool drawer", 'a', "", ""),
    // Week 8
    (At(49, 17, 55), "", "warm-up", 't', "singing alto", ""),
    (At(50, 18, 15), "urge to cancel|tight throat", "", 't', "the choir", "Throat tight all the way there, went in"),
    (At(50, 21, 20), "", "", 't', "the choir", "Gave Ines a lift home after practice"),
    (At(51, 7, 15), "shame", "", 'n', "", "Dreamt of school, not sure what I did with it"),
    (At(52, 10, 10), "spoil it", "plank of the boat", 't', "rowing boat|Vera", ""),
    (At(52, 12, 40), "", "lay out the tools", 't', "rowing boat", ""),
    (At(52, 19, 30), "wrong notes", "sort the tool drawer", 'a', "", ""),
    (At(53, 16, 45), "nervous", "ring Jonas", 't', "Jonas", ""),
    (At(53, 20, 25), "", "", 'b', "honest", "Wrote to the office about the shift, took out the sharp line first"),
    (At(54, 13, 0), "", "", 't', "patient", "Waited while Mr Oduya looked for his ticket"),
    (At(54, 22, 10), "shame|urge to cancel", "sort the tool drawer", 'a', "", ""),
    (At(55, 8, 5), "nervous", "warm-up", 't', "singing alto", ""),
    (At(55, 18, 50), "", "", 'n', "", "Quiet evening, counted planks"),
];

/// What happened between the moments, before the moment of the same place.
fn between(made: &mut Made, next: usize, steps: &mut HashMap<&'static str, StepId>) {
    match next {
        // Sunday of week 1: the step of the first sitting is marked.
        4 => {
            made.to(At(4, 20, 0));
            let first = made.map.steps()[0].id;
            made.mark(first, Mark::NotYet, None, Some("urge to cancel"));
        }
        10 => {
            made.to(At(12, 20, 10));
            let first = made.map.steps()[0].id;
            made.mark(first, Mark::Done, Some(true), None);
            let step = made.step(
                "when the kettle is on, Sunday at five",
                "ring Jonas for five minutes",
                "Jonas",
                7,
            );
            steps.insert("jonas", step);
            made.rate("cancel choir", 8, 2);
            made.rate("sort the tool drawer", 6, 4);
        }
        16 => {
            made.to(At(20, 20, 0));
            made.mark(steps["jonas"], Mark::Done, Some(true), None);
            let step = made.step(
                "on Saturday, with the radio on",
                "sand the keel for an hour",
                "rowing boat",
                5,
            );
            steps.insert("keel", step);
        }
        23 => {
            made.to(At(27, 19, 30));
            made.mark(steps["keel"], Mark::LetGo, None, Some("spoil it"));
            let step = made.step(
                "when I get to the shed on Saturday",
                "sand one hand's width of the keel",
                "rowing boat",
                8,
            );
            steps.insert("hand", step);
            made.lived("the choir", 9, 4);
            made.lived("Jonas", 9, 5);
            made.lived("rowing boat", 7, 5);
        }
        31 => {
            made.to(At(38, 11, 0));
            made.mark(steps["hand"], Mark::Partly, Some(true), None);
        }
        45 => {
            made.to(At(49, 9, 0));
            made.rate("cancel choir", 7, 1);
            made.rate("sort the tool drawer", 6, 3);
            made.lived("the choir", 9, 7);
            made.lived("Jonas", 9, 7);
            made.lived("rowing boat", 7, 7);
            let step = made.step(
                "if the hall is open early on Thursday",
                "sing one line with Ines",
                "the choir",
                7,
            );
            steps.insert("ines", step);
        }
        _ => {}
    }
}

fn eight_weeks() -> String {
    let start = date(2026, 9, 30)
        .at(19, 10, 0, 0)
        .in_tz("Pacific/Auckland")
        .unwrap()
        .timestamp();
    let mut made = Made {
        events: Vec::new(),
        map: Map::default(),
        at: start,
        count: 0,
    };
    made.first_map();
    let mut steps = HashMap::new();
    for (place, line) in MOMENTS.into_iter().enumerate() {
        made.count = 0;
        between(&mut made, place, &mut steps);
        made.count = 0;
        made.moment(line);
    }
    let ids: Vec<_> = made.events.iter().map(|event| event.id).collect();
    assert!(
        ids.is_sorted_by(|one, next| one < next),
        "identities grow with time"
    );
    let mut file = Vec::new();
    wayfold::store::export(&made.events, &mut file).unwrap();
    String::from_utf8(file).unwrap()
}

/// The demo person's events, as they are kept in the file.
pub(crate) fn events() -> Vec<Event> {
    let file = std::fs::read_to_string(path()).unwrap();
    // The first line says what the file is.
    file.lines()
        .skip(1)
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

fn path() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/eight-weeks.jsonl")
}

#[test]
fn the_demo_weeks_can_be_made_again() {
    let made = eight_weeks();
    if std::env::var_os("WAYFOLD_MAKE_DEMO").is_some() {
        std::fs::write(path(), &made).unwrap();
    }
    let kept = std::fs::read_to_string(path()).unwrap();
    assert!(
        kept == made,
        "demo-data/eight-weeks.jsonl is not what tests/reference/eight_weeks.rs makes"
    );
}

#[test]
fn the_demo_weeks_are_eight_and_vary() {
    let events = events();
    let map = Map::fold(&events);
    let first = events.first().unwrap().at;
    let last = events.last().unwrap().at;
    let today = date(2026, 11, 25).in_tz("Pacific/Auckland").unwrap().timestamp();
    assert!(
        last < today && (today - last).as_hours() < 48,
        "it ends the day before: {last}"
    );
    assert_eq!(
        (today - first).as_hours() / 24 / 7,
        7,
        "the eighth week is under way"
    );
    assert_eq!(map.moments().len(), 58);
    let of = |way: Way| map.moments().iter().filter(|moment| moment.way == way).count();
    // Recounted from the file with: grep -c '"way":"toward"', and so on.
    assert_eq!(
        (of(Way::Toward), of(Way::Away), of(Way::Both), of(Way::NotSure)),
        (28, 16, 5, 9)
    );
    assert_eq!(map.steps().len(), 5);
    assert_eq!(map.workability().len(), 4);
    assert_eq!(map.lived().len(), 6);
}
