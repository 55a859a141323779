//! The fold: whatever order two devices' events are merged in, the map is the same.

use proptest::prelude::*;
use uuid::Uuid;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::History;
use wayfold::map::Link;
use wayfold::map::Map;
use wayfold::map::Mark;
use wayfold::map::MomentId;
use wayfold::map::OwnLineId;
use wayfold::map::Position;
use wayfold::map::SittingId;
use wayfold::map::StepId;
use wayfold::map::TraceId;
use wayfold::map::Way;
use wayfold::map::What;

use crate::insight::made::Told;
use crate::insight::made::event;
use crate::insight::made::id;
use crate::insight::made::time;
use crate::insight::made::words;

fn field() -> impl Strategy<Value = Field> {
    prop::sample::select(Field::ALL.as_slice())
}

fn link() -> impl Strategy<Value = Link> {
    prop::sample::select([Link::Pulls, Link::CostsLater, Link::Serves, Link::SameBehaviour].as_slice())
}

fn mark() -> impl Strategy<Value = Mark> {
    prop::sample::select([Mark::Done, Mark::Partly, Mark::NotYet, Mark::LetGo].as_slice())
}

fn step(number: u32) -> StepId {
    StepId(Uuid::from_u128(u128::from(number)))
}

/// Anything that can happen, about few enough things that events meet. Events that are taken back are named by number.
fn what() -> impl Strategy<Value = What> {
    let text = || "[a-z]{1,4}".prop_map(|text| words(&text));
    let few = || 0_u32..6;
    prop_oneof![
        4 => (few(), field(), text()).prop_map(|(n, field, words)| What::EntryAdded { entry: id(n), field, kind: None, words }),
        1 => (few(), text()).prop_map(|(n, words)| What::EntryReworded { entry: id(n), words }),
        1 => (few(), field()).prop_map(|(n, field)| What::EntryMoved { entry: id(n), field, kind: None }),
        1 => few().prop_map(|n| What::EntryRetired { entry: id(n) }),
        1 => few().prop_map(|n| What::EntryRestored { entry: id(n) }),
        2 => (few(), few(), link()).prop_map(|(a, b, link)| What::Linked { from: id(a), to: id(b), link }),
        2 => (few(), few(), link()).prop_map(|(a, b, link)| What::Unlinked { from: id(a), to: id(b), link }),
        1 => (few(), few(), few()).prop_map(|(n, a, b)| What::LoopTraced {
            trace: TraceId(Uuid::from_u128(u128::from(n))), hook: id(a), away: id(b), relief: None, cost: None,
            back_to: Some(id(a)), matters: None,
        }),
        1 => (0_u32..40, few(), few()).prop_map(|(n, a, b)| What::MomentNoted {
            moment: MomentId(Uuid::from_u128(u128::from(n))), showed_up: vec![id(a)], did: vec![id(b)],
            way: Way::Toward, serves: Vec::new(), words: None,
        }),
        1 => (few(), text()).prop_map(|(n, act)| What::StepAdded {
            step: step(n), when: None, act, serves: Vec::new(), confidence: Some(5), smaller_than: None,
        }),
        1 => (few(), mark()).prop_map(|(n, mark)| What::StepMarked {
            step: step(n), mark, helpful: (mark == Mark::Done).then_some(true), got_in_the_way: None,
        }),
        1 => (few(), 0_u8..11).prop_map(|(n, now)| What::WorkabilityRated { entry: id(n), now, later: 10 - now }),
        1 => (few(), 0_u8..11).prop_map(|(n, importance)| What::LivedRated { entry: id(n), importance, closeness: 3 }),
        1 => (few(), text()).prop_map(|(n, name)| What::OwnLineAdded {
            line: OwnLineId(Uuid::from_u128(u128::from(n))), number: name.clone(), name,
        }),
        1 => few().prop_map(|n| What::OwnLineRemoved { line: OwnLineId(Uuid::from_u128(u128::from(n))) }),
        1 => few().prop_map(|n| What::SettingChosen { name: format!("s{}", n % 2), value: n.to_string() }),
        1 => few().prop_map(|n| What::SittingAt {
            sitting: SittingId(Uuid::from_u128(u128::from(n))), script: "begin".to_owned(),
            position: Position::new(n.to_string()), made: Vec::new(),
        }),
        1 => few().prop_map(|n| What::SittingEnded { sitting: SittingId(Uuid::from_u128(u128::from(n))) }),
        1 => (0_u32..60).prop_map(|n| What::TakenBack { event: EventId(Uuid::from_u128(u128::from(n))) }),
    ]
}

/// Up to sixty events with identities in order; times mostly follow, but a clock may lag.
fn events() -> impl Strategy<Value = Vec<Event>> {
    prop::collection::vec((what(), 0_i64..5), 0..60).prop_map(|all| {
        all.into_iter()
            .zip(0_u32..)
            .map(|((what, late), number)| event(number, time(i64::from(number) * 10 - late * 8), what))
            .collect()
    })
}

fn shuffled() -> impl Strategy<Value = (Vec<Event>, Vec<Event>)> {
    events().prop_flat_map(|events| (Just(events.clone()), Just(events).prop_shuffle()))
}

proptest! {
    #[test]
    fn any_order_of_merging_gives_the_same_map((in_order, mixed) in shuffled(), cut in 0_usize..60) {
        let whole = Map::fold(&in_order);
        let at_once = History::new(mixed.clone());
        prop_assert_eq!(at_once.map(), &whole);
        // One by one, as they come.
        let mut one_by_one = History::default();
        for event in mixed.clone() {
            one_by_one.add([event]);
        }
        prop_assert_eq!(one_by_one.map(), &whole);
        // Two devices' parts, either way round, with some of each on both.
        let cut = cut.min(mixed.len());
        let mut one = History::new(mixed[..cut].to_vec());
        one.add(mixed[cut / 2..].to_vec());
        let mut other = History::new(mixed[cut / 2..].to_vec());
        other.add(mixed[..cut].to_vec());
        prop_assert_eq!(one.map(), &whole);
        prop_assert_eq!(other.map(), &whole);
        prop_assert_eq!(one.len(), in_order.len());
    }

    #[test]
    fn applying_one_by_one_is_folding(events in events()) {
        let events: Vec<_> = events.into_iter().filter(|event| !matches!(event.what, What::TakenBack { .. })).collect();
        let mut map = Map::default();
        for event in &events {
            map.apply(event);
        }
        prop_assert_eq!(map, Map::fold(&events));
    }

    #[test]
    fn duplicates_change_nothing(events in events()) {
        let mut history = History::new(events.clone());
        let before = history.map().clone();
        history.add(events.clone());
        prop_assert_eq!(history.map(), &before);
        let twice = History::new(events.iter().chain(&events).cloned());
        prop_assert_eq!(twice.map(), &before);
    }

    #[test]
    fn the_map_of_any_date_is_the_fold_up_to_it((in_order, mixed) in shuffled(), seconds in -40_i64..600) {
        let until = time(seconds);
        let up_to: Vec<_> = in_order.iter().filter(|event| event.at <= until).cloned().collect();
        let history = History::new(mixed);
        prop_assert_eq!(history.map_at(until), Map::fold(&up_to));
        prop_assert_eq!(&history.map_at(time(10_000)), history.map());
    }

    #[test]
    fn what_is_taken_back_leaves_no_trace(events in events(), target in 0_u32..60) {
        let number = u32::try_from(events.len()).unwrap();
        let target = target % number.max(1);
        let target_id = EventId(Uuid::from_u128(u128::from(target)));
        let without: Vec<_> = events.iter().filter(|event| event.id != target_id).cloned().collect();
        let is_one_itself = events.iter().any(|event| event.id == target_id && matches!(event.what, What::TakenBack { .. }));
        // Taking back is itself never taken back: that would let two devices disagree.
        prop_assume!(!is_one_itself);
        let back = event(1_000, time(10_000), What::TakenBack { event: target_id });
        let mut history = History::new(events);
        history.add([back]);
        prop_assert_eq!(history.map(), &Map::fold(&without));
    }

    #[test]
    fn retiring_and_restoring_comes_round(events in events(), entry in 0_u32..6) {
        let mut history = History::new(events);
        let before = history.map().clone();
        prop_assume!(before.entry(id(entry)).is_some_and(|entry| entry.retired.is_none()));
        history.add([event(1_000, time(10_000), What::EntryRetired { entry: id(entry) })]);
        prop_assert_eq!(history.map().entry(id(entry)).unwrap().retired, Some(time(10_000)));
        prop_assert!(Field::ALL.iter().all(|field| history.map().field(*field).all(|one| one.id != id(entry))));
        history.add([event(1_001, time(10_001), What::EntryRestored { entry: id(entry) })]);
        prop_assert_eq!(history.map(), &before);
    }
}

#[test]
fn each_field_holds_its_own_entries_in_the_order_in_which_they_came() {
    let mut told = Told::default();
    for (number, field) in (1..).zip([Field::Inner, Field::Away, Field::Inner, Field::Inner]) {
        told.entry(number, field, "heavy arms");
    }
    told.say(What::EntryRetired { entry: id(3) });
    let map = told.map();
    let of = |field| map.field(field).map(|entry| entry.id).collect::<Vec<_>>();
    assert_eq!(of(Field::Inner), [id(1), id(4)]);
    assert_eq!((of(Field::Away), of(Field::Matters)), (vec![id(2)], Vec::new()));
    let places = [1, 2, 3, 4, 5].map(|number| map.place(id(number)));
    assert_eq!(places, [Some(0), Some(1), Some(2), Some(3), None]);
}

#[test]
fn a_join_that_went_and_came_back_stands_last() {
    let mut told = Told::default();
    told.link(1, 2, Link::Pulls).link(3, 4, Link::Pulls);
    told.say(What::Unlinked {
        from: id(1),
        to: id(2),
        link: Link::Pulls,
    });
    assert_eq!(
        told.map()
            .links()
            .iter()
            .map(|joined| joined.from)
            .collect::<Vec<_>>(),
        [id(3)]
    );
    told.link(1, 2, Link::Pulls).link(3, 4, Link::Pulls);
    assert_eq!(
        told.map()
            .links()
            .iter()
            .map(|joined| joined.from)
            .collect::<Vec<_>>(),
        [id(3), id(1)]
    );
    assert_eq!(told.history().map(), &told.map());
}

#[test]
fn an_event_that_was_taken_back_before_it_came_never_counts() {
    // The clock of the device that took it back lags, so its event sorts first.
    let back = event(
        1,
        time(1),
        What::TakenBack {
            event: EventId(Uuid::from_u128(2)),
        },
    );
    let late = event(
        2,
        time(2),
        What::EntryAdded {
            entry: id(1),
            field: Field::Inner,
            kind: None,
            words: words("tight chest"),
        },
    );
    let mut history = History::new([back]);
    history.add([late]);
    assert_eq!(history.map().entries(), []);
    assert_eq!(history.len(), 2);
}

#[test]
fn a_sitting_stands_at_every_place_it_came_to_until_it_ends() {
    let sitting = |number: u32| SittingId(Uuid::from_u128(u128::from(number)));
    let mut told = Told::default();
    for (number, place) in [(1, "first"), (2, "elsewhere"), (1, "second")] {
        told.say(What::SittingAt {
            sitting: sitting(number),
            script: format!("script {number}"),
            position: Position::new(place.to_owned()),
            made: Vec::new(),
        });
    }
    let map = told.map();
    let open = map.sittings().first().unwrap();
    let places: Vec<_> = open
        .places
        .iter()
        .map(|(event, place, _)| (event.0.as_u128(), place.as_str()))
        .collect();
    assert_eq!(
        (open.id, open.script.as_str(), map.sittings().len()),
        (sitting(1), "script 1", 2)
    );
    assert_eq!(
        (places.as_slice(), open.at),
        ([(0, "first"), (2, "second")].as_slice(), time(2 * 3600))
    );
    told.say(What::SittingEnded { sitting: sitting(1) });
    let left: Vec<_> = told.map().sittings().iter().map(|one| one.id).collect();
    assert_eq!(left, [sitting(2)]);
}

#[test]
fn own_lines_and_settings_are_as_they_were_last_said() {
    let line = |number: u32| OwnLineId(Uuid::from_u128(u128::from(number)));
    let mut told = Told::default();
    for (number, name) in [(1, "my aunt"), (2, "the farm next door")] {
        told.say(What::OwnLineAdded {
            line: line(number),
            name: words(name),
            number: words("after six"),
        });
    }
    for value in ["on", "off"] {
        told.say(What::SettingChosen {
            name: "colour".to_owned(),
            value: value.to_owned(),
        });
    }
    told.say(What::OwnLineRemoved { line: line(1) });
    let map = told.map();
    let [left] = map.own_lines() else {
        panic!("{:?}", map.own_lines())
    };
    assert_eq!(
        (left.id, left.name.as_str(), left.number.as_str()),
        (line(2), "the farm next door", "after six")
    );
    assert_eq!((map.setting("colour"), map.setting("sound")), (Some("off"), None));
}

#[test]
fn a_history_knows_what_it_holds_and_what_was_taken_back() {
    let mut history = History::default();
    assert!(history.is_empty());
    let mut told = Told::default();
    told.entry(1, Field::Inner, "tight chest")
        .entry(2, Field::Inner, "heavy arms");
    let first = told.events[0].id;
    told.say(What::TakenBack { event: first });
    history.add(told.events.clone());
    assert!(!history.is_empty());
    assert_eq!(history.event(first), told.events.first());
    let taken_back: Vec<_> = told
        .events
        .iter()
        .map(|event| history.is_taken_back(event.id))
        .collect();
    assert_eq!(taken_back, [true, false, false]);
    // Maps are told apart by what is on them.
    assert_ne!(history.map(), &Map::default());
}

#[test]
fn a_place_shows_none_of_the_words_that_may_be_in_it() {
    let place = Position::new("the grey ferry".to_owned());
    assert_eq!(format!("{place:?}"), "Position(14 bytes)");
}

#[test]
fn what_is_forgotten_is_no_longer_held_and_the_map_stays() {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "tight chest");
    let first = told.events[0].id;
    told.say(What::TakenBack { event: first })
        .entry(2, Field::Inner, "heavy arms");
    let mut history = told.history();
    let before = history.map().clone();
    history.forget(&[first]);
    assert_eq!((history.len(), history.event(first)), (2, None));
    assert_eq!(history.map(), &before);
}
