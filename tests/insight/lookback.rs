//! The look back: what it says, and when it is silent.

use jiff::tz::TimeZone;
use proptest::prelude::*;
use serde_json::Value;
use wayfold::insight::Asked;
use wayfold::insight::Direction;
use wayfold::insight::Lookback;
use wayfold::insight::look_back;
use wayfold::insight::newcombe;
use wayfold::insight::weeks;
use wayfold::insight::wilson;
use wayfold::map::Field;
use wayfold::map::Map;
use wayfold::map::MapJson;
use wayfold::map::Way;
use wayfold::map::What;

use crate::insight::made::Told;
use crate::insight::made::day;
use crate::insight::made::id;
use crate::insight::made::time;

fn asked(since: Option<i64>, until: i64) -> Asked {
    Asked {
        since: since.map(day),
        until: day(until),
        zone: TimeZone::UTC,
    }
}

/// Moments a week apart from day 0 on: so many toward and so many away in each week.
fn weekly(counts: &[(u32, u32)]) -> Told {
    let mut told = Told::default();
    for (week, (toward, away)) in (0_i64..).zip(counts) {
        for _ in 0..*toward {
            told.moment_at(day(week * 7), &[1], &[21], Way::Toward, &[31]);
        }
        for _ in 0..*away {
            told.moment_at(day(week * 7), &[1, 2], &[11], Way::Away, &[]);
        }
    }
    told
}

#[test]
fn under_ten_moments_there_is_no_share() {
    let nine = look_back(&weekly(&[(6, 3)]).map(), &asked(None, 30));
    assert_eq!((nine.ways.moments, nine.ways.toward, nine.toward), (9, 6, None));
    let ten = look_back(&weekly(&[(7, 3)]).map(), &asked(None, 30));
    let share = ten.toward.unwrap();
    assert_eq!((share.part, share.whole), (7, 10));
    assert_eq!(Some(share.interval), wilson(7, 10));
    assert_eq!(ten.before_since, None);
}

#[test]
fn before_and_since_are_compared_only_with_enough_of_both() {
    let map = weekly(&[(3, 7), (9, 1)]).map();
    let found = look_back(&map, &asked(Some(5), 30));
    let compared = found.before_since.unwrap();
    assert_eq!((compared.before.toward, compared.before.moments), (3, 10));
    assert_eq!((compared.after.toward, compared.after.moments), (9, 10));
    assert_eq!(compared.difference, newcombe((9, 10), (3, 10)));
    assert_eq!(
        found.ways, compared.after,
        "what is shown first is what was since then"
    );
    let few = look_back(&weekly(&[(3, 6), (9, 1)]).map(), &asked(Some(5), 30));
    assert_eq!(few.before_since.unwrap().difference, None);
}

#[test]
fn weeks_begin_on_monday_where_the_person_lives() {
    // Noon on Monday in UTC is Tuesday in Auckland; Sunday 23:30 in New York is Monday in UTC.
    let mut told = Told::default();
    let sunday_night = "2025-01-13T04:30:00Z".parse().unwrap();
    told.moment_at(time(0), &[], &[], Way::Toward, &[]);
    told.moment_at(sunday_night, &[], &[], Way::Away, &[]);
    let map = told.map();
    let in_zone = |zone: TimeZone| {
        let found = weeks(map.moments(), time(0), day(20), &zone);
        let away = found.iter().position(|week| week.ways.away == 1).unwrap();
        (found[0].monday.to_string(), found.len(), away)
    };
    assert_eq!(in_zone(TimeZone::UTC), ("2025-01-06".to_owned(), 3, 1));
    let new_york = TimeZone::get("America/New_York").unwrap();
    assert_eq!(in_zone(new_york), ("2025-01-06".to_owned(), 3, 0));
    let far_east = TimeZone::fixed(jiff::tz::offset(14));
    assert_eq!(in_zone(far_east).0, "2025-01-06");
}

#[test]
fn moments_of_a_week_before_or_after_the_two_ends_do_not_count() {
    let mut told = Told::default();
    // Monday morning, Tuesday, Thursday; asked for is from Monday noon to Wednesday noon.
    for (hours, way) in [(-6, Way::Away), (24, Way::Toward), (72, Way::Both)] {
        told.moment_at(time(hours * 3600), &[], &[], way, &[]);
    }
    let found = weeks(told.map().moments(), time(0), day(2), &TimeZone::UTC);
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].ways.moments, found[0].ways.toward), (1, 1));
}

#[test]
fn only_whole_weeks_are_whole() {
    // From Monday noon to the third Sunday: the first week is in part before it.
    let found = weeks(
        &[],
        time(0),
        "2025-01-26T23:59:59.999999999Z".parse().unwrap(),
        &TimeZone::UTC,
    );
    assert_eq!(
        found.iter().map(|week| week.whole).collect::<Vec<_>>(),
        [false, true, true]
    );
    let found = weeks(&[], day(7), day(-7), &TimeZone::UTC);
    assert_eq!(found, []);
    assert_eq!(
        weeks(&[], day(2), day(1), &TimeZone::UTC),
        [],
        "both ends are in one week, the wrong way round"
    );
    // Across the change to summer time a week is 167 hours, and whole all the same.
    let berlin = TimeZone::get("Europe/Berlin").unwrap();
    let found = weeks(
        &[],
        "2025-03-23T23:00:00Z".parse().unwrap(),
        "2025-03-30T21:59:59.999999999Z".parse().unwrap(),
        &berlin,
    );
    assert_eq!(
        found
            .iter()
            .map(|week| (week.monday.to_string(), week.whole))
            .collect::<Vec<_>>(),
        [("2025-03-24".to_owned(), true)]
    );
}

#[test]
fn under_four_whole_weeks_there_is_no_trend() {
    let counts = [(1, 0), (1, 0), (2, 0), (3, 0), (4, 0), (5, 0), (6, 0)];
    let at = |until: i64| look_back(&weekly(&counts).map(), &asked(None, until)).over_weeks;
    // The first week is a part of one, and so is the last.
    assert_eq!(at(27), None);
    let four = at(35).unwrap();
    assert_eq!(
        (four.trend.values, four.direction),
        (4, Direction::CannotTell),
        "four weeks can be by chance"
    );
    let six = at(49).unwrap();
    assert_eq!(
        (six.trend.values, six.trend.s, six.direction),
        (6, 15, Direction::More)
    );
    assert!((six.trend.slope - 1.0).abs() < 1e-12);
    let falling: Vec<_> = counts.iter().rev().copied().collect();
    let found = look_back(&weekly(&falling).map(), &asked(None, 49))
        .over_weeks
        .unwrap();
    assert_eq!(found.direction, Direction::Fewer);
    let flat = look_back(&weekly(&[(2, 1); 9]).map(), &asked(None, 63))
        .over_weeks
        .unwrap();
    assert_eq!(flat.direction, Direction::CannotTell);
}

#[test]
fn what_was_around_is_counted_most_frequent_first() {
    let mut told = Told::default();
    told.moment(&[1], &[21], Way::Toward, &[31])
        .moment(&[2, 2], &[21, 22], Way::Both, &[31, 32])
        .moment(&[2], &[22], Way::Toward, &[])
        .moment(&[3], &[23], Way::Away, &[33]);
    let around = look_back(&told.map(), &asked(None, 30)).around;
    let pairs = |times: &[wayfold::insight::Times]| {
        times.iter().map(|one| (one.entry, one.times)).collect::<Vec<_>>()
    };
    assert_eq!(around.moments, 3);
    assert_eq!(pairs(&around.showed_up), [(id(2), 2), (id(1), 1)]);
    assert_eq!(pairs(&around.did), [(id(21), 2), (id(22), 2)]);
    assert_eq!(pairs(&around.served), [(id(31), 2), (id(32), 1)]);
}

#[test]
fn how_things_were_lived_stays_in_pairs() {
    let mut told = Told::default();
    told.entry(31, Field::Matters, "being a sister")
        .entry(32, Field::Matters, "the garden");
    for (entry, importance, closeness) in [(31, 10, 2), (32, 5, 8), (31, 9, 6)] {
        told.say(What::LivedRated {
            entry: id(entry),
            importance,
            closeness,
        });
    }
    let found = look_back(&told.map(), &asked(None, 30));
    let pairs: Vec<_> = found.living[0]
        .pairs
        .iter()
        .map(|pair| (pair.importance, pair.closeness))
        .collect();
    assert_eq!((found.living.len(), pairs), (2, vec![(10, 2), (9, 6)]));
    // (9 x 6 + 5 x 8) / 2.
    assert_eq!(found.composite, Some(47.0));
}

#[test]
fn an_empty_map_has_nothing_to_look_back_at() {
    let found = look_back(&Map::default(), &asked(None, 0));
    assert_eq!((found.from, found.ways.moments, found.composite), (None, 0, None));
    assert_eq!(
        (
            found.weeks.len(),
            found.followed.len(),
            found.toward,
            found.over_weeks
        ),
        (0, 0, None, None)
    );
    let since = look_back(&Map::default(), &asked(Some(0), 30))
        .before_since
        .unwrap();
    assert_eq!((since.before.moments, since.difference), (0, None));
    // What lies after the end that was asked for has not happened.
    assert_eq!(
        look_back(&weekly(&[(5, 5)]).map(), &asked(None, -1)).ways.moments,
        0
    );
}

/// Counts the moments of the JSON form that go one way, between two ends.
fn recount(json: &Value, way: &str, from: &Value, until: &Value) -> usize {
    let at = |value: &Value| value.as_str().unwrap().parse::<jiff::Timestamp>().unwrap();
    let moments = json["moments"].as_array().unwrap().iter();
    moments
        .filter(|moment| at(from) <= at(&moment["at"]) && at(&moment["at"]) <= at(until))
        .filter(|moment| moment["way"] == way)
        .count()
}

proptest! {
    #[test]
    fn every_count_can_be_recounted_from_the_map_as_json(
        moments in prop::collection::vec((0_i64..100, 0_u32..4, 10_u32..14, 0_usize..4), 1..60),
        since in prop::option::of(0_i64..100),
        until in 50_i64..120,
    ) {
        let mut told = Told::default();
        for (on, hook, did, way) in moments {
            let way = [Way::Toward, Way::Away, Way::Both, Way::NotSure][way];
            told.moment_at(day(on), &[hook], &[did], way, &[30 + hook]);
        }
        let map = told.map();
        let json = serde_json::to_value(MapJson::of(&map, day(200))).unwrap();
        let found: Lookback = look_back(&map, &asked(since, until));
        let said = serde_json::to_value(&found).unwrap();
        if let Some(from) = found.from {
            prop_assert_eq!(since.map_or(from, day), from);
            for (name, way) in [("toward", "toward"), ("away", "away"), ("both", "both"), ("not_sure", "not-sure")] {
                let counted = recount(&json, way, &said["from"], &said["until"]) as u64;
                prop_assert_eq!(said["ways"][name].as_u64(), Some(counted));
                let by_week: u64 = said["weeks"].as_array().unwrap().iter().map(|week| week["ways"][name].as_u64().unwrap()).sum();
                prop_assert_eq!(by_week, counted);
            }
        }
        let by_hook: u64 = found.followed.iter().map(|one| one.ways.moments).sum();
        prop_assert_eq!(by_hook, found.ways.moments, "each of these moments has one hook");
        prop_assert_eq!(found.around.moments, found.ways.toward + found.ways.both);
        prop_assert_eq!(found.toward.is_some(), found.ways.moments >= 10);
        let whole = found.weeks.iter().filter(|week| week.whole && week.ways.moments > 0).count();
        prop_assert_eq!(found.over_weeks.is_some(), whole >= 4);
    }
}
