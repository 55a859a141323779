//! Steps followed up: which are open, which helped, and which could be made smaller.

use std::collections::HashSet;

use serde::Serialize;

use crate::map::EntryId;
use crate::map::Map;
use crate::map::Mark;
use crate::map::Step;
use crate::map::StepId;

/// Under this confidence, 0 to 10, a step is offered to be made smaller (common practice, no source).
pub const SURE_ENOUGH: u8 = 7;

/// The steps by how they stand, each list in the order in which they were chosen.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct StepsReview {
    /// Not marked yet, or "not yet", and not replaced by a smaller one: these are asked about.
    pub open: Vec<StepId>,
    /// Done.
    pub done: Vec<StepId>,
    /// Partly done.
    pub partly: Vec<StepId>,
    /// Let go.
    pub let_go: Vec<StepId>,
    /// Open ones that a smaller one stands for.
    pub replaced: Vec<StepId>,
    /// Those that the person said helped.
    pub helped: Vec<StepId>,
    /// Open ones of which the person was less sure than [`SURE_ENOUGH`].
    pub could_be_smaller: Vec<StepId>,
    /// Inner entries that got in the way, the most frequent first; of equals, the one that came up first.
    pub got_in_the_way: Vec<(EntryId, u64)>,
}

/// Goes over the steps of a map.
#[must_use]
pub fn steps_review(map: &Map) -> StepsReview {
    let replaced: HashSet<StepId> = map.steps().iter().filter_map(|step| step.smaller_than).collect();
    let mut review = StepsReview::default();
    for step in map.steps() {
        match step.mark.map(|(_, mark)| mark) {
            None | Some(Mark::NotYet) if replaced.contains(&step.id) => review.replaced.push(step.id),
            None | Some(Mark::NotYet) => {
                review.open.push(step.id);
                if step.confidence.is_some_and(|sure| sure < SURE_ENOUGH) {
                    review.could_be_smaller.push(step.id);
                }
            }
            Some(Mark::Done) => review.done.push(step.id),
            Some(Mark::Partly) => review.partly.push(step.id),
            Some(Mark::LetGo) => review.let_go.push(step.id),
        }
        if step.helpful == Some(true) {
            review.helped.push(step.id);
        }
        if let Some(entry) = step.got_in_the_way {
            match review
                .got_in_the_way
                .iter_mut()
                .find(|(known, _)| *known == entry)
            {
                Some((_, times)) => *times += 1,
                None => review.got_in_the_way.push((entry, 1)),
            }
        }
    }
    review
        .got_in_the_way
        .sort_by_key(|(_, times)| std::cmp::Reverse(*times));
    review
}

/// Steps that the person said helped, for one thing that matters, or all when none is given; the latest first.
#[must_use]
pub fn helpful_steps(map: &Map, serving: Option<EntryId>) -> Vec<&Step> {
    let serves = |step: &&Step| serving.is_none_or(|entry| step.serves.contains(&entry));
    let helped = |step: &&Step| step.helpful == Some(true);
    map.steps().iter().rev().filter(helped).filter(serves).collect()
}
