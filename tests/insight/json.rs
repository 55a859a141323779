//! The JSON form of a map against its schema, read by the `jsonschema` package.

use serde_json::Value;
use serde_json::json;
use uuid::Uuid;
use wayfold::map::Field;
use wayfold::map::Kind;
use wayfold::map::Link;
use wayfold::map::Map;
use wayfold::map::MapJson;
use wayfold::map::Mark;
use wayfold::map::MomentId;
use wayfold::map::StepId;
use wayfold::map::Way;
use wayfold::map::What;

use crate::insight::made::Told;
use crate::insight::made::day;
use crate::insight::made::id;
use crate::insight::made::time;
use crate::insight::made::words;
use crate::insight::reference::ask;
use crate::program::Person;
use crate::program::demo_answers;

/// A map with something of everything in it.
fn everything() -> Map {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "it will go wrong \u{201c}again\u{201d}")
        .entry(11, Field::Away, "stayed in bed")
        .entry(21, Field::Toward, "rang my brother")
        .entry(31, Field::Matters, "being a sister");
    for (number, kind) in (40..).zip([
        Kind::Person,
        Kind::Quality,
        Kind::Activity,
        Kind::Thought,
        Kind::Feeling,
        Kind::Body,
        Kind::Urge,
        Kind::Memory,
    ]) {
        told.say(What::EntryAdded {
            entry: id(number),
            field: Field::Inner,
            kind: Some(kind),
            words: words("warm"),
        });
    }
    told.say(What::EntryRetired { entry: id(40) });
    told.link(1, 11, Link::Pulls)
        .link(11, 1, Link::CostsLater)
        .link(21, 31, Link::Serves)
        .link(11, 21, Link::SameBehaviour)
        .trace(1, 1, 11, Some(1))
        .trace(2, 1, 11, None);
    for way in [Way::Toward, Way::Away, Way::Both, Way::NotSure] {
        told.moment(&[1], &[11, 21], way, &[31]);
    }
    told.say(What::MomentNoted {
        moment: MomentId(Uuid::from_u128(900)),
        showed_up: Vec::new(),
        did: Vec::new(),
        way: Way::Toward,
        serves: Vec::new(),
        words: Some(words("stayed at the table")),
    });
    for (number, mark) in (0..).zip([
        None,
        Some(Mark::Done),
        Some(Mark::Partly),
        Some(Mark::NotYet),
        Some(Mark::LetGo),
    ]) {
        let step = StepId(Uuid::from_u128(number));
        told.say(What::StepAdded {
            step,
            when: (number > 1).then(|| words("after lunch")),
            act: words("open the letter"),
            serves: vec![id(31)],
            confidence: (number > 1).then_some(6),
            smaller_than: (number > 2).then(|| StepId(Uuid::from_u128(1))),
        });
        if let Some(mark) = mark {
            told.say(What::StepMarked {
                step,
                mark,
                helpful: (mark == Mark::Done).then_some(true),
                got_in_the_way: (mark == Mark::NotYet).then(|| id(1)),
            });
        }
    }
    told.say(What::WorkabilityRated {
        entry: id(11),
        now: 8,
        later: 1,
    });
    told.say(What::LivedRated {
        entry: id(31),
        importance: 10,
        closeness: 4,
    });
    told.map()
}

#[derive(serde::Serialize)]
struct Asked {
    schema: Value,
    documents: Vec<Value>,
}

fn complaints(documents: Vec<Value>) -> Vec<Vec<String>> {
    let schema = serde_json::from_str(wayfold::map::SCHEMA).unwrap();
    ask("insight_schema.py", &[], &Asked { schema, documents })
}

#[test]
fn maps_fit_the_schema_and_others_do_not() {
    let (full, empty) = (everything(), Map::default());
    let as_json = |map: &Map| serde_json::to_value(MapJson::of(map, time(0))).unwrap();
    let good = vec![as_json(&full), as_json(&empty)];
    assert_eq!(complaints(good), [Vec::<String>::new(), Vec::new()]);
    // Each change makes it another thing, and the schema must say so.
    let changes: [(&str, Value); 9] = [
        ("/version", json!(2)),
        ("/made", json!("yesterday")),
        ("/entries/0/field", json!("left")),
        ("/entries/0/id", json!("1")),
        ("/links/0/kind", json!("pull")),
        ("/moments/0/way", json!("up")),
        ("/workability/0/now", json!(11)),
        ("/steps/1/mark", json!("won")),
        (
            "/lived/0",
            json!({"entry": id(31), "at": time(0), "importance": 1}),
        ),
    ];
    let bad: Vec<Value> = changes
        .iter()
        .map(|(place, value)| {
            let mut document = as_json(&full);
            *document.pointer_mut(place).unwrap() = value.clone();
            document
        })
        .collect();
    for (complaints, (place, _)) in complaints(bad).iter().zip(&changes) {
        assert!(!complaints.is_empty(), "the schema lets {place} pass");
    }
}

#[test]
fn the_form_says_what_the_map_says() {
    let map = everything();
    let json = serde_json::to_value(MapJson::of(&map, day(3))).unwrap();
    assert_eq!(json["version"], json!(1));
    assert_eq!(json["made"], json!("2025-01-09T12:00:00Z"));
    assert_eq!(json["entries"].as_array().unwrap().len(), map.entries().len());
    assert_eq!(
        json["entries"][0]["text"],
        json!("it will go wrong \u{201c}again\u{201d}")
    );
    assert_eq!(json["entries"][0]["field"], json!("inner"));
    assert_eq!(
        json["entries"][4]["retired"],
        json!(map.entries()[4].retired.unwrap())
    );
    assert_eq!(
        json["links"][1],
        json!({"from": id(11), "to": id(1), "kind": "costs-later"})
    );
    assert_eq!(json["loops"][0]["back_to"], json!(id(1)));
    assert_eq!(json["loops"][1]["back_to"], Value::Null);
    assert_eq!(json["moments"][4]["text"], json!("stayed at the table"));
    assert_eq!(json["steps"][3]["got_in_the_way"], json!(id(1)));
    assert_eq!(json["workability"][0]["later"], json!(1));
    assert_eq!(json["lived"][0]["importance"], json!(10));
}

#[test]
fn what_the_program_writes_fits_the_schema() {
    let person = Person::new();
    person.says(&["begin"], &demo_answers());
    let map = person.map();
    assert!(map["entries"].as_array().unwrap().len() > 3);
    let before: Value =
        serde_json::from_str(&person.says(&["map", "--on", "2001-01-01", "--as", "json"], "")).unwrap();
    assert_eq!(before["entries"], json!([]));
    assert_eq!(complaints(vec![map, before]), [Vec::<String>::new(), Vec::new()]);
}
