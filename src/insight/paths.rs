//! Paths that a person followed from what shows up over an away move, and that did not come back round. A map may have
//! no loop, and what was said on the way is worth seeing all the same.

use std::collections::HashSet;

use serde::Serialize;

use crate::insight::cycles::knots;
use crate::insight::drawing::Drawing;
use crate::insight::drawing::Node;
use crate::insight::loops::Works;
use crate::insight::workability::latest;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Map;
use crate::map::TraceId;
use crate::map::Traced;

/// A path that did not come back round, so far.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OpenPath {
    /// The trace that tells it.
    pub trace: TraceId,
    /// Its places in order: what showed up, the away move, and as far as they were said what it gave at once, what it
    /// cost later, and what that fed.
    pub nodes: Vec<Node>,
    /// The away move, with what was last said of how it works.
    pub away: Works,
}

/// The paths that were followed and are on no loop of the map, however long; the oldest first. Of several traces over
/// the same hook and the same away move the newest counts, unless one of them came round. Paths from an entry that is
/// not on the map today are left out.
#[must_use]
pub fn open_paths(map: &Map) -> Vec<OpenPath> {
    let drawn = Drawing::of(map);
    let mut knot_of = vec![None; drawn.nodes.len()];
    for (number, knot) in knots(&drawn.edges).into_iter().enumerate() {
        for place in knot {
            knot_of[place] = Some(number);
        }
    }
    let mut told = HashSet::new();
    let mut paths = Vec::new();
    for traced in map.loops().iter().rev() {
        let hook = drawn.place(traced.hook, Field::Inner);
        let away = drawn.place(traced.away, Field::Away);
        let (Some(hook), Some(away)) = (hook, away) else {
            continue;
        };
        // An edge lies on a loop exactly when its two ends lie in one knot.
        let comes_round = knot_of[hook].is_some() && knot_of[hook] == knot_of[away];
        if comes_round || !told.insert((hook, away)) {
            continue;
        }
        let back_to = traced
            .back_to
            .filter(|entry| drawn.place(*entry, Field::Inner).is_some());
        paths.push(OpenPath {
            trace: traced.id,
            nodes: places_of(traced, back_to),
            away: Works {
                entry: traced.away,
                latest: latest(map, traced.away),
            },
        });
    }
    paths.reverse();
    paths
}

/// The places of what was followed, in order: what showed up, the away move, and as far as they were said the relief and
/// the cost; then `back_to`, where there is one to tell.
#[must_use]
pub fn places_of(traced: &Traced, back_to: Option<EntryId>) -> Vec<Node> {
    let places = [
        Some(Node::Entry(traced.hook)),
        Some(Node::Entry(traced.away)),
        traced.relief.as_ref().map(|_| Node::Relief(traced.id)),
        traced.cost.as_ref().map(|_| Node::Cost(traced.id)),
        back_to.map(Node::Entry),
    ];
    places.into_iter().flatten().collect()
}
