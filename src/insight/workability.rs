//! How away moves work, now and later, over time. The two numbers stay a pair: a sum of them would mean nothing.

use std::collections::HashMap;

use jiff::Timestamp;
use serde::Serialize;

use crate::map::EntryId;
use crate::map::Map;

/// How an away move works, as the person said it at one time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Pair {
    /// When it was said.
    pub at: Timestamp,
    /// How much it helps at once, 0 (not at all) to 10.
    pub now: u8,
    /// How much it helps later, 0 (not at all) to 10.
    pub later: u8,
}

/// What was said of one away move.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Pairs {
    /// The away move.
    pub entry: EntryId,
    /// The pairs, oldest first. Never empty.
    pub pairs: Vec<Pair>,
}

/// What was said of each away move, in the order in which the moves were first rated. Ratings of entries that the map
/// does not know are left out; those of retired ones stay, since they were true then.
#[must_use]
pub fn workability(map: &Map) -> Vec<Pairs> {
    let mut all: Vec<Pairs> = Vec::new();
    let mut place_of: HashMap<EntryId, usize> = HashMap::new();
    for said in map.workability() {
        if map.entry(said.entry).is_none() {
            continue;
        }
        let place = *place_of.entry(said.entry).or_insert_with(|| {
            all.push(Pairs {
                entry: said.entry,
                pairs: Vec::new(),
            });
            all.len() - 1
        });
        all[place].pairs.push(Pair {
            at: said.at,
            now: said.now,
            later: said.later,
        });
    }
    all
}

/// The latest pair for one away move, when there is one.
#[must_use]
pub fn latest(map: &Map, entry: EntryId) -> Option<Pair> {
    map.workability()
        .iter()
        .rev()
        .find(|said| said.entry == entry)
        .map(|said| Pair {
            at: said.at,
            now: said.now,
            later: said.later,
        })
}
