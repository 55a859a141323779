//! The loops on the map: what shows up pulls toward an away move, the move helps now and costs later, and the cost
//! feeds what shows up. Shows also where a person has once stepped out.

use std::collections::HashMap;
use std::collections::HashSet;
use std::ops::ControlFlow;
use std::sync::Arc;

use serde::Serialize;
use serde::Serializer;
use serde::ser::SerializeStruct;

use crate::insight::cycles::has_cycle_longer_than;
use crate::insight::cycles::visit_cycles;
use crate::insight::drawing::Drawing;
use crate::insight::drawing::Node;
use crate::insight::stepping_out::SteppedOut;
use crate::insight::stepping_out::ways_out;
use crate::insight::workability::Pair;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Map;
use crate::map::Moment;

/// The most nodes that one loop may have.
pub const LONGEST: usize = 8;

/// An away move in a loop, with what was last said of how it works.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Works {
    /// The away move.
    pub entry: EntryId,
    /// The latest pair, 0 to 10 each, when there is one.
    pub latest: Option<Pair>,
}

/// One loop.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Loop {
    /// Its places in the order in which one leads to the next, each once, 2 to [`LONGEST`] of them; the last leads back
    /// to the first. It begins at an inner entry.
    pub nodes: Vec<Node>,
    /// Its away moves, in order. Never empty.
    pub away: Vec<Works>,
    /// Where the person has once stepped out, in order. Empty when it was never noted. Shared, since one entry may be
    /// on thousands of loops and have been noted in thousands of moments.
    #[serde(serialize_with = "each_in_full")]
    pub stepped_out: Vec<Arc<SteppedOut>>,
}

fn each_in_full<S: Serializer>(all: &[Arc<SteppedOut>], into: S) -> Result<S::Ok, S::Error> {
    into.collect_seq(all.iter().map(Arc::as_ref))
}

/// What the search had to leave out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Cut {
    /// The number of entries that were not looked at, since their knot has more than [`MOST_ENTRIES`](crate::insight::MOST_ENTRIES).
    pub entries: usize,
    /// Whether there are loops of more than [`LONGEST`] places among the entries that were looked at.
    pub longer: bool,
}

/// All loops of a map. There may be a hundred thousand of them over a few dozen places, so they are kept as short
/// numbers, and each is told in full when it is asked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Loops {
    places: Vec<Place>,
    rounds: Vec<Round>,
    /// What was left out, or nothing when every loop is here.
    pub cut: Option<Cut>,
}

/// One place that a loop may go through, and what the map says of it.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Place {
    node: Node,
    field: Field,
    works: Option<Works>,
    stepped_out: Option<Arc<SteppedOut>>,
}

/// One loop as the numbers of its places, of which the first `length` count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Round {
    places: [u32; LONGEST],
    length: u8,
}

impl Round {
    fn places(&self) -> impl Iterator<Item = usize> + '_ {
        let places = self.places.iter().take(usize::from(self.length));
        places.map(|place| *place as usize)
    }
}

impl Loops {
    /// How many loops there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.rounds.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rounds.is_empty()
    }

    /// The loops, in an order that depends only on the order of the entries and traces.
    pub fn iter(&self) -> impl Iterator<Item = Loop> + '_ {
        self.rounds.iter().map(|round| self.told(round))
    }

    /// The loops without those that only leave out what another one says of the same way round: a loop that was
    /// followed tells the relief and the cost as well.
    #[must_use]
    pub fn fullest(mut self) -> Self {
        let places = &self.places;
        let entries = |round: &Round| -> Vec<usize> {
            let is_entry = |place: &usize| matches!(places[*place].node, Node::Entry(_));
            round.places().filter(is_entry).collect()
        };
        let mut longest: HashMap<Vec<usize>, u8> = HashMap::new();
        for round in &self.rounds {
            let length = longest.entry(entries(round)).or_default();
            *length = round.length.max(*length);
        }
        self.rounds
            .retain(|round| longest.get(&entries(round)) == Some(&round.length));
        self
    }

    /// See [`fitting`].
    fn fitting(&self, moments: &[Moment], entry: EntryId) -> Option<Loop> {
        let mut times: HashMap<EntryId, usize> = HashMap::new();
        for moment in moments.iter().filter(|moment| moment.showed_up.contains(&entry)) {
            for did in moment.did.iter().collect::<HashSet<_>>() {
                *times.entry(*did).or_default() += 1;
            }
        }
        let noted: Vec<usize> = self
            .places
            .iter()
            .map(|place| place.works.and_then(|works| times.get(&works.entry)))
            .map(|times| times.copied().unwrap_or(0))
            .collect();
        let here = self
            .places
            .iter()
            .position(|place| place.node == Node::Entry(entry))?;
        let through = self
            .rounds
            .iter()
            .filter(|round| round.places().any(|place| place == here));
        let best = through.min_by_key(|round| {
            let noted: usize = round.places().map(|place| noted[place]).sum();
            let is_entry = |place: &usize| matches!(self.places[*place].node, Node::Entry(_));
            (std::cmp::Reverse(noted), round.places().filter(is_entry).count())
        });
        best.map(|round| self.told(round))
    }

    /// A cycle as a round, turned so that the first inner entry of the map that is in it comes first. `None` without
    /// an inner entry or an away move.
    fn round(&self, cycle: &[usize]) -> Option<Round> {
        let inner = |place: &usize| self.places[*place].field == Field::Inner;
        let first = *cycle.iter().filter(|place| inner(place)).min()?;
        let begin = cycle.iter().position(|place| *place == first)?;
        let mut round = Round {
            places: [0; LONGEST],
            length: u8::try_from(cycle.len()).ok()?,
        };
        let turned = cycle[begin..].iter().chain(&cycle[..begin]);
        for (into, place) in round.places.iter_mut().zip(turned) {
            *into = u32::try_from(*place).ok()?;
        }
        let has_move = cycle.iter().any(|place| self.places[*place].works.is_some());
        has_move.then_some(round)
    }

    fn told(&self, round: &Round) -> Loop {
        let places = || round.places().map(|place| &self.places[place]);
        Loop {
            nodes: places().map(|place| place.node).collect(),
            away: places().filter_map(|place| place.works).collect(),
            stepped_out: places().filter_map(|place| place.stepped_out.clone()).collect(),
        }
    }
}

impl Serialize for Loops {
    fn serialize<S: Serializer>(&self, into: S) -> Result<S::Ok, S::Error> {
        let mut all = into.serialize_struct("Loops", 2)?;
        all.serialize_field("loops", &self.iter().collect::<Vec<_>>())?;
        all.serialize_field("cut", &self.cut)?;
        all.end()
    }
}

/// Every loop on the map through at least one away move.
///
/// The graph has the entries that are true today as nodes, and the joins from inner entries to away moves ("pulls")
/// and from away moves to inner entries ("costs later") as edges. A traced loop adds the path from its hook over the
/// move, the relief and the cost to what the cost feeds, as far as each was said; of traces over the same three
/// entries the newest counts. Loops are elementary cycles (Johnson 1975, see [`crate::insight::elementary_cycles`]).
#[must_use]
pub fn loops(map: &Map) -> Loops {
    let drawn = Drawing::of(map);
    let (graph, left_out) = drawn.bounded();
    let cut = Cut {
        entries: left_out,
        longer: has_cycle_longer_than(&graph, LONGEST),
    };
    let mut found = Loops {
        places: places(&drawn, map),
        rounds: Vec::new(),
        cut: (cut != Cut::default()).then_some(cut),
    };
    let mut rounds = Vec::new();
    // The visitor never breaks, so the answer carries nothing.
    let _ = visit_cycles(&graph, LONGEST, &mut |cycle| {
        rounds.extend(found.round(cycle));
        ControlFlow::Continue(())
    });
    found.rounds = rounds;
    found
}

/// The loop that fits an inner entry best: of those through it, the one whose away moves were most often noted in a
/// moment in which the entry showed up; then the one over the fewest entries, told as fully as it was said; then the
/// first. `None` when no loop goes through it.
#[must_use]
pub fn fitting(map: &Map, entry: EntryId) -> Option<Loop> {
    loops(map).fullest().fitting(map.moments(), entry)
}

/// Every place of the drawing, with what the map says of it.
fn places(drawn: &Drawing, map: &Map) -> Vec<Place> {
    let mut ways_out = ways_out(map);
    let mut latest: HashMap<EntryId, Pair> = HashMap::new();
    for rated in map.workability() {
        let (at, now, later) = (rated.at, rated.now, rated.later);
        latest.insert(rated.entry, Pair { at, now, later });
    }
    let place = |(node, field): &(Node, Field)| {
        let (works, stepped_out) = match *node {
            Node::Entry(entry) => (
                (*field == Field::Away).then(|| Works {
                    entry,
                    latest: latest.get(&entry).copied(),
                }),
                ways_out.remove(&entry).map(Arc::new),
            ),
            Node::Relief(_) | Node::Cost(_) => (None, None),
        };
        Place {
            node: *node,
            field: *field,
            works,
            stepped_out,
        }
    };
    drawn.nodes.iter().map(place).collect()
}
