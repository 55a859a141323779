//! Where a person has once stepped out of a loop, and what that served.

use std::collections::HashMap;
use std::collections::HashSet;

use serde::Serialize;

use crate::map::EntryId;
use crate::map::Field;
use crate::map::Link;
use crate::map::Map;
use crate::map::Moment;
use crate::map::MomentId;
use crate::map::Way;

/// A place in a loop where the person has once stepped out: this inner entry showed up, and the moment went toward,
/// or both ways, as the person judged it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SteppedOut {
    /// The inner entry.
    pub entry: EntryId,
    /// The moments, oldest first. Never empty.
    pub moments: Vec<MomentId>,
    /// The toward moves that were done then, each once, in the order in which they first came up.
    pub did: Vec<EntryId>,
    /// Whom or what it served, each once: as said of the moment, or as the toward move is joined on the map.
    pub served: Vec<EntryId>,
}

/// Where the person has once stepped out, by inner entry, over the whole map.
pub(in crate::insight) fn ways_out(map: &Map) -> HashMap<EntryId, SteppedOut> {
    let mut joined_to: HashMap<EntryId, Vec<EntryId>> = HashMap::new();
    for joined in map.links().iter().filter(|joined| joined.link == Link::Serves) {
        joined_to.entry(joined.from).or_default().push(joined.to);
    }
    let mut all: HashMap<EntryId, SteppedOut> = HashMap::new();
    let mut known: HashSet<(EntryId, EntryId)> = HashSet::new();
    let toward = |moment: &&Moment| matches!(moment.way, Way::Toward | Way::Both);
    for moment in map.moments().iter().filter(toward) {
        let did: Vec<_> = moment
            .did
            .iter()
            .copied()
            .filter(|did| map.entry(*did).is_some_and(|entry| entry.field == Field::Toward))
            .collect();
        let served = || {
            let joined = did.iter().filter_map(|did| joined_to.get(did)).flatten();
            moment.serves.iter().chain(joined).copied()
        };
        for &entry in &moment.showed_up {
            let way_out = all.entry(entry).or_insert_with(|| SteppedOut {
                entry,
                moments: Vec::new(),
                did: Vec::new(),
                served: Vec::new(),
            });
            if way_out.moments.last() != Some(&moment.id) {
                way_out.moments.push(moment.id);
            }
            way_out
                .did
                .extend(did.iter().copied().filter(|did| known.insert((entry, *did))));
            way_out
                .served
                .extend(served().filter(|served| known.insert((entry, *served))));
        }
    }
    all
}
