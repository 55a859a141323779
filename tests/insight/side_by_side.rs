//! Two dates side by side, and steps followed up.

use proptest::prelude::*;
use uuid::Uuid;
use wayfold::insight::differences;
use wayfold::insight::helpful_steps;
use wayfold::insight::steps_review;
use wayfold::map::Field;
use wayfold::map::Kind;
use wayfold::map::Link;
use wayfold::map::Mark;
use wayfold::map::StepId;
use wayfold::map::What;

use crate::insight::made::Told;
use crate::insight::made::id;
use crate::insight::made::time;
use crate::insight::made::words;

fn step(number: u128) -> StepId {
    StepId(Uuid::from_u128(number))
}

#[test]
fn what_came_went_changed_and_moved() {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "it will go wrong")
        .entry(2, Field::Inner, "heavy arms")
        .entry(3, Field::Away, "walked round the lake")
        .entry(4, Field::Matters, "the garden")
        .link(1, 3, Link::Pulls);
    let earlier = told.map();
    told.entry(5, Field::Toward, "weeded one bed");
    told.say(What::EntryReworded {
        entry: id(1),
        words: words("it could go wrong"),
    });
    told.say(What::EntryRetired { entry: id(2) });
    told.say(What::EntryMoved {
        entry: id(3),
        field: Field::Toward,
        kind: None,
    });
    told.say(What::EntryMoved {
        entry: id(4),
        field: Field::Matters,
        kind: Some(Kind::Activity),
    });
    told.say(What::Unlinked {
        from: id(1),
        to: id(3),
        link: Link::Pulls,
    });
    told.link(5, 4, Link::Serves);
    told.say(What::StepAdded {
        step: step(1),
        when: None,
        act: words("buy seeds"),
        serves: Vec::new(),
        confidence: None,
        smaller_than: None,
    });
    told.say(What::StepMarked {
        step: step(1),
        mark: Mark::Partly,
        helpful: None,
        got_in_the_way: None,
    });
    let later = told.map();
    let found = differences(&earlier, &later);
    assert!(!found.is_empty());
    assert_eq!(
        (found.came, found.went, found.changed),
        (vec![id(5)], vec![id(2)], vec![id(1)])
    );
    let moved = found.moved[0];
    assert_eq!(
        (moved.entry, moved.from, moved.to, found.moved.len()),
        (id(3), Field::Away, Field::Toward, 1)
    );
    assert_eq!(found.other_kind, [id(4)]);
    assert_eq!((found.joined[0].from, found.parted[0].from), (id(5), id(1)));
    assert_eq!(found.steps_came, [step(1)]);
    assert_eq!(
        (found.steps_marked[0].from, found.steps_marked[0].to),
        (None, Mark::Partly)
    );
    // Backward, what came went.
    let back = differences(&later, &earlier);
    assert_eq!(
        (back.came, back.went, back.moved[0].to),
        (vec![id(2)], vec![id(5)], Field::Away)
    );
    assert!(differences(&later, &later).is_empty());
}

#[test]
fn steps_are_sorted_by_how_they_stand() {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "too tired");
    let marks = [
        None,
        Some(Mark::Done),
        Some(Mark::Partly),
        Some(Mark::NotYet),
        Some(Mark::LetGo),
        None,
    ];
    for (number, mark) in (0..).zip(marks) {
        told.say(What::StepAdded {
            step: step(number),
            when: None,
            act: words("open the letter"),
            serves: vec![id(30 + u32::from(number > 1))],
            confidence: Some(if number == 3 { 6 } else { 7 }),
            smaller_than: (number == 5).then(|| step(0)),
        });
        if let Some(mark) = mark {
            told.say(What::StepMarked {
                step: step(number),
                mark,
                helpful: matches!(mark, Mark::Done | Mark::Partly).then_some(true),
                got_in_the_way: (mark == Mark::NotYet).then(|| id(1)),
            });
        }
    }
    let map = told.map();
    let review = steps_review(&map);
    assert_eq!(review.open, [step(3), step(5)]);
    assert_eq!(review.replaced, [step(0)]);
    assert_eq!(
        (review.done, review.partly, review.let_go),
        (vec![step(1)], vec![step(2)], vec![step(4)])
    );
    assert_eq!(review.helped, [step(1), step(2)]);
    assert_eq!(review.could_be_smaller, [step(3)]);
    assert_eq!(review.got_in_the_way, [(id(1), 1)]);
    let helped = |serving| {
        helpful_steps(&map, serving)
            .iter()
            .map(|step| step.id)
            .collect::<Vec<_>>()
    };
    assert_eq!(helped(None), [step(2), step(1)]);
    assert_eq!(helped(Some(id(30))), [step(1)]);
}

#[test]
fn what_got_in_the_way_most_often_comes_first() {
    let mut told = Told::default();
    told.entry(1, Field::Inner, "too tired")
        .entry(2, Field::Inner, "what if they laugh");
    for (number, entry) in (0..).zip([1, 2, 2]) {
        told.say(What::StepAdded {
            step: step(number),
            when: None,
            act: words("open the letter"),
            serves: Vec::new(),
            confidence: None,
            smaller_than: None,
        });
        told.say(What::StepMarked {
            step: step(number),
            mark: Mark::NotYet,
            helpful: None,
            got_in_the_way: Some(id(entry)),
        });
    }
    let review = steps_review(&told.map());
    assert_eq!(review.got_in_the_way, [(id(2), 2), (id(1), 1)]);
}

proptest! {
    #[test]
    fn an_entry_is_in_one_of_the_lists_or_unchanged(retired in prop::collection::vec((0_u32..8, any::<bool>()), 0..20)) {
        let mut told = Told::default();
        for number in 0..4 {
            told.entry(number, Field::Inner, "a thought");
        }
        let earlier = told.map();
        for number in 4..8 {
            told.entry(number, Field::Inner, "a thought");
        }
        for (entry, back) in retired {
            let entry = id(entry);
            told.say(if back { What::EntryRestored { entry } } else { What::EntryRetired { entry } });
        }
        let later = told.history().map_at(time(1_000_000));
        let found = differences(&earlier, &later);
        for number in 0..8 {
            let is_true = later.entry(id(number)).is_some_and(|entry| entry.retired.is_none());
            prop_assert_eq!(found.came.contains(&id(number)), is_true && number >= 4);
            prop_assert_eq!(found.went.contains(&id(number)), !is_true && number < 4);
        }
        prop_assert!(found.changed.is_empty() && found.moved.is_empty());
    }
}
