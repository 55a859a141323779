//! Loops on maps, and paths that did not come round.

use serde_json::json;
use wayfold::insight::LONGEST;
use wayfold::insight::Node;
use wayfold::insight::fitting;
use wayfold::insight::loops;
use wayfold::insight::workability;
use wayfold::map::Field;
use wayfold::map::Link;
use wayfold::map::Way;
use wayfold::map::What;

use crate::insight::made::Told;
use crate::insight::made::id;

/// Worry 1 and heaviness 2; staying in bed 11 and cleaning 12; a call to a brother 21, for being a sister 31.
fn small_map() -> Told {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "it will go wrong")
        .entry(2, Field::Inner, "heavy arms")
        .entry(11, Field::Away, "stayed in bed")
        .entry(12, Field::Away, "cleaned the oven")
        .entry(21, Field::Toward, "rang my brother")
        .entry(31, Field::Matters, "being a sister")
        .link(1, 11, Link::Pulls)
        .link(11, 2, Link::CostsLater)
        .link(2, 11, Link::Pulls)
        .link(2, 12, Link::Pulls)
        .link(12, 1, Link::CostsLater)
        .link(21, 31, Link::Serves);
    told
}

#[test]
fn loops_begin_inside_and_carry_what_was_said() {
    let mut told = small_map();
    for (now, later) in [(8, 2), (7, 3)] {
        told.say(What::WorkabilityRated {
            entry: id(11),
            now,
            later,
        });
    }
    told.moment(&[2], &[21], Way::Toward, &[])
        .moment(&[2], &[11], Way::Away, &[31])
        .moment(&[1, 2], &[21, 12], Way::Both, &[31]);
    let found = loops(&told.map());
    assert!(!found.is_empty());
    let all: Vec<_> = found.iter().collect();
    let entry = |number: u32| Node::Entry(id(number));
    let nodes: Vec<_> = all.iter().map(|one| one.nodes.clone()).collect();
    assert_eq!(
        nodes,
        [
            vec![entry(1), entry(11), entry(2), entry(12)],
            vec![entry(2), entry(11)]
        ]
    );
    assert_eq!(found.cut, None);
    let bed = all[0].away[0];
    assert_eq!(bed.latest.map(|pair| (pair.now, pair.later)), Some((7, 3)));
    assert_eq!(all[0].away[1].latest, None);
    let out: Vec<_> = all[0]
        .stepped_out
        .iter()
        .map(|out| (out.entry, out.moments.len()))
        .collect();
    assert_eq!(out, [(id(1), 1), (id(2), 2)]);
    let heavy = &all[1].stepped_out[0];
    assert_eq!(
        (heavy.did.as_slice(), heavy.served.as_slice()),
        ([id(21)].as_slice(), [id(31)].as_slice())
    );
    let pairs = workability(&told.map());
    assert_eq!(pairs.len(), 1);
    assert_eq!(
        pairs[0]
            .pairs
            .iter()
            .map(|pair| (pair.now, pair.later))
            .collect::<Vec<_>>(),
        [(8, 2), (7, 3)]
    );
}

#[test]
fn a_traced_loop_goes_over_relief_and_cost() {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "it will go wrong")
        .entry(11, Field::Away, "stayed in bed")
        .trace(1, 1, 11, Some(1))
        .trace(2, 1, 11, Some(1))
        .trace(3, 1, 11, None);
    let found = loops(&told.map());
    assert_eq!(
        found.len(),
        1,
        "of traces over the same entries the newest counts"
    );
    let nodes = serde_json::to_value(found.iter().next().unwrap().nodes).unwrap();
    let newest = "00000000-0000-0000-0000-000000000002";
    assert_eq!(
        nodes,
        json!([{"entry": id(1)}, {"entry": id(11)}, {"relief": newest}, {"cost": newest}])
    );
}

#[test]
fn what_is_no_longer_true_makes_no_loop() {
    let mut told = small_map();
    told.say(What::EntryRetired { entry: id(12) });
    assert_eq!(loops(&told.map()).len(), 1);
    told.say(What::EntryMoved {
        entry: id(11),
        field: Field::Toward,
        kind: None,
    });
    assert!(loops(&told.map()).is_empty());
    told.say(What::EntryRestored { entry: id(12) });
    assert!(loops(&told.map()).is_empty());
    assert!(loops(&wayfold::map::Map::default()).is_empty());
}

#[test]
fn the_loop_that_was_noted_most_fits() {
    let mut told = small_map();
    assert_eq!(
        fitting(&told.map(), id(2)).unwrap().nodes.len(),
        2,
        "the shorter, with nothing noted"
    );
    told.moment(&[2], &[12], Way::Away, &[]);
    assert_eq!(fitting(&told.map(), id(2)).unwrap().nodes.len(), 4);
    assert_eq!(fitting(&told.map(), id(31)), None);
}

#[test]
fn the_loop_that_fits_goes_through_the_entry() {
    let mut told = small_map();
    told.entry(3, Field::Inner, "cold feet")
        .entry(13, Field::Away, "read the news till two")
        .link(3, 13, Link::Pulls)
        .link(13, 3, Link::CostsLater)
        .moment(&[1, 3], &[13], Way::Away, &[]);
    // The other loop was noted with this entry too, and is shorter.
    let found = fitting(&told.map(), id(1)).unwrap();
    assert!(found.nodes.contains(&Node::Entry(id(1))), "{found:?}");
}

#[test]
fn what_a_step_out_served_is_told_by_the_move_as_well() {
    let mut told = small_map();
    told.entry(32, Field::Matters, "the garden")
        .link(21, 11, Link::SameBehaviour)
        .moment(&[1], &[21, 11], Way::Toward, &[32]);
    let found = loops(&told.map());
    let out = &found.iter().next().unwrap().stepped_out[0];
    // What was said of the moment first; the brother was rung for being a sister, as the map says.
    assert_eq!(out.served, [id(32), id(31)]);
    assert_eq!(out.did, [id(21)]);
}

/// So many inner entries and away moves, each joined to each of the other field in both ways.
fn full(inner: u32, away: u32) -> Told {
    let mut told = Told::default();
    for number in 0..inner {
        told.entry(number, Field::Inner, "a thought");
    }
    for number in 0..away {
        told.entry(100 + number, Field::Away, "a move");
    }
    for one in 0..inner {
        for other in 0..away {
            told.link(one, 100 + other, Link::Pulls)
                .link(100 + other, one, Link::CostsLater);
        }
    }
    told
}

#[test]
fn the_bounds_hold_and_are_said() {
    // In a full graph of n and n there are, for each k up to n, C(n, k)^2 k! (k - 1)! cycles of 2k nodes.
    let four = loops(&full(4, 4).map());
    assert_eq!((four.len(), four.cut), (16 + 36 * 2 + 16 * 12 + 24 * 6, None));
    let six = loops(&full(6, 6).map());
    assert_eq!(six.len(), 36 + 225 * 2 + 400 * 12 + 225 * 144);
    assert_eq!(six.cut.map(|cut| (cut.entries, cut.longer)), Some((0, true)));
    assert!(six.iter().all(|one| one.nodes.len() <= LONGEST));
    let larger = loops(&full(7, 7).map());
    assert_eq!(larger.cut.map(|cut| (cut.entries, cut.longer)), Some((2, true)));
    assert_eq!(larger, loops(&full(7, 7).map()), "the same every time");
    // Entries on no loop do not count toward the bound.
    let mut sparse = full(2, 2);
    for number in 500..530 {
        sparse
            .entry(number, Field::Inner, "a thought")
            .link(number, 100, Link::Pulls);
    }
    assert_eq!(loops(&sparse.map()).cut, None);
}

/// A ring of six inner entries and six moves, in which each move is joined three times; and one move more, with six joins one
/// way and one the other.
fn ring_with(many_lead_to_it: bool) -> Told {
    let mut told = Told::default();
    for number in 0..6 {
        told.entry(number, Field::Inner, "a thought")
            .entry(100 + number, Field::Away, "a move");
    }
    told.entry(106, Field::Away, "another move");
    for number in 0..6 {
        told.link(number, 100 + number, Link::Pulls)
            .link(100 + number, (number + 1) % 6, Link::CostsLater);
        if many_lead_to_it {
            told.link(number, 106, Link::Pulls)
                .link(100 + number, number, Link::CostsLater);
        } else {
            told.link(106, number, Link::CostsLater)
                .link((number + 1) % 6, 100 + number, Link::Pulls);
        }
    }
    if many_lead_to_it {
        told.link(106, 0, Link::CostsLater);
    } else {
        told.link(0, 106, Link::Pulls);
    }
    told
}

#[test]
fn of_a_large_knot_the_most_joined_are_looked_at_whichever_way_they_are_joined() {
    for many_lead_to_it in [true, false] {
        let found = loops(&ring_with(many_lead_to_it).map());
        // One entry too many: of the moves of the ring, the youngest.
        assert_eq!(found.cut.map(|cut| cut.entries), Some(1));
        let through = |number: u32| {
            found
                .iter()
                .any(|one| one.nodes.contains(&Node::Entry(id(number))))
        };
        assert!(through(106) && through(104) && !through(105), "{many_lead_to_it}");
    }
}

#[test]
fn of_one_way_round_the_fullest_is_left() {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "it will go wrong")
        .entry(2, Field::Inner, "heavy arms")
        .entry(11, Field::Away, "stayed in bed")
        .trace(1, 1, 11, Some(1))
        .link(11, 1, Link::CostsLater)
        .link(11, 2, Link::CostsLater)
        .link(2, 11, Link::Pulls);
    let lengths = |found: wayfold::insight::Loops| {
        let mut lengths: Vec<_> = found.iter().map(|one| one.nodes.len()).collect();
        lengths.sort_unstable();
        lengths
    };
    // Over the first: with relief and cost, and straight back. Over the second: straight back.
    assert_eq!(lengths(loops(&told.map())), [2, 2, 4]);
    assert_eq!(lengths(loops(&told.map()).fullest()), [2, 4]);
    // The one that fits tells relief and cost, though a shorter one goes the same way.
    assert_eq!(fitting(&told.map(), id(1)).unwrap().nodes.len(), 4);
    // A hundred thousand loops are told apart in no time that a person would notice, and none is lost that is alone.
    let six = loops(&full(6, 6).map());
    assert_eq!(six.clone().fullest(), six);
}

#[test]
fn a_path_that_did_not_come_round_is_listed_as_such() {
    let mut told = small_map();
    told.entry(3, Field::Inner, "nobody rings")
        .entry(4, Field::Inner, "cold feet")
        .entry(13, Field::Away, "read the news till two")
        .say(What::WorkabilityRated {
            entry: id(13),
            now: 6,
            later: 1,
        });
    let nodes = |told: &Told| -> Vec<serde_json::Value> {
        let paths = wayfold::insight::open_paths(&told.map());
        paths
            .iter()
            .map(|one| serde_json::to_value(&one.nodes).unwrap())
            .collect()
    };
    assert!(nodes(&told).is_empty(), "loops are no such paths");
    // Followed as far as the cost; later followed again, as far as another hook that leads nowhere.
    told.trace(7, 3, 13, None);
    let trace = |number: u32| id(number).0.to_string();
    let [hook, away] = [json!({"entry": id(3)}), json!({"entry": id(13)})];
    assert_eq!(
        nodes(&told),
        [json!([hook, away, {"relief": trace(7)}, {"cost": trace(7)}])]
    );
    told.trace(8, 3, 13, Some(4));
    let rest = [
        json!({"relief": trace(8)}),
        json!({"cost": trace(8)}),
        json!({"entry": id(4)}),
    ];
    assert_eq!(
        nodes(&told),
        [json!([hook, away, rest[0], rest[1], rest[2]])],
        "the newest counts"
    );
    let found = wayfold::insight::open_paths(&told.map());
    assert_eq!(
        found[0].away.latest.map(|pair| (pair.now, pair.later)),
        Some((6, 1))
    );
    assert_eq!(
        loops(&told.map()).len(),
        loops(&small_map().map()).len(),
        "it makes no loop"
    );
    // Once what it fed leads back, it is a loop, and no longer such a path.
    told.link(4, 13, Link::Pulls).link(13, 3, Link::CostsLater);
    assert!(nodes(&told).is_empty());
    // Of what is no longer on the map nothing is told.
    told.trace(9, 4, 11, None);
    assert_eq!(nodes(&told).len(), 1);
    told.say(What::EntryRetired { entry: id(4) });
    assert!(nodes(&told).is_empty());
}
