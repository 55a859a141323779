//! The whole look back recounted by a script of its own from the map as JSON, which is all that it is given.

use jiff::tz::TimeZone;
use serde::Serialize;
use serde_json::Value;
use wayfold::insight::Asked;
use wayfold::insight::look_back;
use wayfold::map::Field;
use wayfold::map::MapJson;
use wayfold::map::Way;
use wayfold::map::What;

use crate::insight::made::Told;
use crate::insight::made::day;
use crate::insight::made::id;
use crate::insight::made::time;
use crate::insight::reference::ask;
use crate::insight::reference::close;

#[derive(Serialize)]
struct Question {
    map: Value,
    since: Option<String>,
    until: String,
    zone: &'static str,
}

/// Numbers that look thrown, and are the same in every run.
struct Thrown(u64);

impl Thrown {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % end
    }

    fn some_of(&mut self, first: u32, different: u64) -> Vec<u32> {
        (0..self.below(4))
            .map(|_| first + u32::try_from(self.below(different)).unwrap())
            .collect()
    }
}

/// Some weeks of someone's moments: from none to three hundred, with more and more toward moments in some cases, few
/// hooks in some and many in others, now and then written late, so that not all of them come in the order of time.
fn weeks_of_moments(number: u64) -> Told {
    let mut thrown = Thrown(number);
    let mut told = Told::default();
    told.entry(1, Field::Inner, "it will go wrong")
        .entry(31, Field::Matters, "the garden");
    let moments = [0, 3, 9, 10, 40, 300][usize::try_from(number % 6).unwrap()];
    let hooks = 1 + number % 5;
    let days = 5 + thrown.below(130);
    let rising = number % 2;
    for one in 0..moments {
        let on = time(i64::try_from(one * days * 86_400 / moments + thrown.below(200_000)).unwrap());
        let way = if rising == 1 && thrown.below(moments) < one {
            Way::Toward
        } else {
            [Way::Toward, Way::Away, Way::Both, Way::NotSure][usize::try_from(thrown.below(4)).unwrap()]
        };
        let (showed_up, did, serves) = (
            thrown.some_of(1, hooks),
            thrown.some_of(11, hooks),
            thrown.some_of(31, 3),
        );
        told.moment_at(on, &showed_up, &did, way, &serves);
        if thrown.below(20) == 0 {
            let (entry, importance) = (id(31 + u32::try_from(thrown.below(3)).unwrap()), 7);
            let closeness = u8::try_from(thrown.below(11)).unwrap();
            told.at(
                on,
                What::LivedRated {
                    entry,
                    importance,
                    closeness,
                },
            );
        }
    }
    told
}

/// Complains when two JSON values differ, numbers by more than rounding.
fn same(ours: &Value, theirs: &Value, place: &str) -> Result<(), String> {
    match (ours, theirs) {
        (Value::Object(a), Value::Object(b)) if a.len() == b.len() => {
            a.iter().try_for_each(|(name, value)| {
                let place = format!("{place}/{name}");
                same(
                    value,
                    b.get(name).ok_or_else(|| format!("{place} is missing"))?,
                    &place,
                )
            })
        }
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
            let mut pairs = a.iter().zip(b).enumerate();
            pairs.try_for_each(|(number, (a, b))| same(a, b, &format!("{place}/{number}")))
        }
        (Value::Number(a), Value::Number(b)) if close(a.as_f64().unwrap(), b.as_f64().unwrap()) => Ok(()),
        _ if ours == theirs => Ok(()),
        _ => Err(format!("{place}: ours {ours}, recounted {theirs}")),
    }
}

#[test]
fn every_figure_can_be_recounted_from_the_map_as_json() {
    let zones = [
        "UTC",
        "Pacific/Auckland",
        "America/New_York",
        "Europe/Lisbon",
        "Asia/Kathmandu",
    ];
    let mut questions = Vec::new();
    let mut ours = Vec::new();
    for number in 0..120 {
        let map = weeks_of_moments(number).map();
        let mut thrown = Thrown(number + 1_000);
        let mut some_day = || day(i64::try_from(thrown.below(90)).unwrap());
        let since = (number / 6 % 3 == 0).then(&mut some_day);
        let last = map.moments().iter().map(|moment| moment.at).max();
        let until = match number / 6 % 4 {
            1 => some_day(),
            2 => day(150),
            _ => last.unwrap_or(day(0)),
        };
        let zone = zones[usize::try_from(number % 5).unwrap()];
        let asked = Asked {
            since,
            until,
            zone: TimeZone::get(zone).unwrap(),
        };
        ours.push(serde_json::to_value(look_back(&map, &asked)).unwrap());
        let map = serde_json::to_value(MapJson::of(&map, day(200))).unwrap();
        let (since, until) = (since.map(|since| since.to_string()), until.to_string());
        questions.push(Question {
            map,
            since,
            until,
            zone,
        });
    }
    let theirs: Vec<Value> = ask("insight_recount.py", &[], &questions);
    assert_eq!(theirs.len(), ours.len());
    for (number, (ours, theirs)) in ours.iter().zip(&theirs).enumerate() {
        if let Err(complaint) = same(ours, theirs, "") {
            panic!("case {number}: {complaint}");
        }
    }
    // The cases would prove little if they never came to the figures that need many moments.
    let with = |place: &str| {
        ours.iter()
            .filter(|one| one.pointer(place).is_some_and(|found| !found.is_null()))
            .count()
    };
    for place in [
        "/toward/interval",
        "/before_since/difference",
        "/over_weeks/trend",
        "/followed/0/did/0/residual",
    ] {
        assert!(with(place) >= 5, "{place} came up {} times", with(place));
    }
    for direction in ["more", "cannot-tell"] {
        assert!(
            ours.iter().any(|one| one["over_weeks"]["direction"] == direction),
            "{direction} never came up"
        );
    }
    for exact in [true, false] {
        let came_up = ours
            .iter()
            .any(|one| one["over_weeks"]["trend"]["exact"] == exact);
        assert!(came_up, "no series whose chances are exact: {exact}");
    }
}
