//! The loops on the map: what shows up pulls toward an away move, the move helps now and costs later, and the cost
//! feeds what shows up. Shows also where a person has once stepped out.

use std::collections::HashMap;
use std::collections::HashSet;
use std::ops::ControlFlow;
use std::sync::Arc;

use serde::Serialize;
use serde::Serializer;

use crate::insight::cycles::Graph;
use crate::insight::cycles::has_cycle_longer_than;
use crate::insight::cycles::knots;
use crate::insight::cycles::visit_cycles;
use crate::insight::workability::Pair;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Link;
use crate::map::Map;
use crate::map::Moment;
use crate::map::MomentId;
use crate::map::TraceId;
use crate::map::Traced;
use crate::map::Way;

/// The most entries that one knot of loops may have; of a larger one, the most joined are looked at.
pub const MOST_ENTRIES: usize = 12;

/// The most nodes that one loop may have.
pub const LONGEST: usize = 8;

/// One place in a loop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Node {
    /// An inner entry or an away move.
    Entry(EntryId),
    /// What the away move of this trace gives at once.
    Relief(TraceId),
    /// What the away move of this trace costs later.
    Cost(TraceId),
}

/// An away move in a loop, with what was last said of how it works.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Works {
    /// The away move.
    pub entry: EntryId,
    /// The latest pair, 0 to 10 each, when there is one.
    pub latest: Option<Pair>,
}

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
    /// The number of entries that were not looked at, since their knot has more than [`MOST_ENTRIES`].
    pub entries: usize,
    /// Whether there are loops of more than [`LONGEST`] places among the entries that were looked at.
    pub longer: bool,
}

/// All loops of a map.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Loops {
    /// The loops, in an order that depends only on the order of the entries and traces.
    pub loops: Vec<Loop>,
    /// What was left out, or nothing when every loop is here.
    pub cut: Option<Cut>,
}

/// Every loop on the map through at least one away move.
///
/// The graph has the entries that are true today as nodes, and the joins from inner entries to away moves ("pulls")
/// and from away moves to inner entries ("costs later") as edges. A traced loop adds the path from its hook over the
/// move, the relief and the cost to what the cost feeds, as far as each was said; of traces over the same three
/// entries the newest counts. Loops are elementary cycles (Johnson 1975, see [`elementary_cycles`]).
#[must_use]
pub fn loops(map: &Map) -> Loops {
    let drawn = Drawing::of(map);
    let (graph, left_out) = drawn.bounded();
    let cut = Cut {
        entries: left_out,
        longer: has_cycle_longer_than(&graph, LONGEST),
    };
    let said = drawn.what_was_said(map);
    let mut loops = Vec::new();
    // The visitor never breaks, so the answer carries nothing.
    let _ = visit_cycles(&graph, LONGEST, &mut |cycle| {
        loops.extend(drawn.told(cycle, &said));
        ControlFlow::Continue(())
    });
    Loops {
        loops,
        cut: (cut != Cut::default()).then_some(cut),
    }
}

/// The loop that fits an inner entry best: of those through it, the one whose away moves were most often noted in a
/// moment in which the entry showed up; then the shortest; then the first. `None` when no loop goes through it.
#[must_use]
pub fn fitting(map: &Map, entry: EntryId) -> Option<Loop> {
    let mut times: HashMap<EntryId, usize> = HashMap::new();
    for moment in map
        .moments()
        .iter()
        .filter(|moment| moment.showed_up.contains(&entry))
    {
        for did in moment.did.iter().collect::<HashSet<_>>() {
            *times.entry(*did).or_default() += 1;
        }
    }
    loops(map)
        .loops
        .into_iter()
        .filter(|one| one.nodes.contains(&Node::Entry(entry)))
        .min_by_key(|one| {
            let noted: usize = one.away.iter().filter_map(|works| times.get(&works.entry)).sum();
            (std::cmp::Reverse(noted), one.nodes.len())
        })
}

/// Where the person has once stepped out, by inner entry, over the whole map.
fn ways_out(map: &Map) -> HashMap<EntryId, SteppedOut> {
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

/// The map as a graph: entries first, in the order of the map, then reliefs and costs.
struct Drawing {
    nodes: Vec<(Node, Field)>,
    edges: Graph,
    place_of: HashMap<EntryId, usize>,
}

impl Drawing {
    fn of(map: &Map) -> Self {
        let mut drawing = Self {
            nodes: Vec::new(),
            edges: Vec::new(),
            place_of: HashMap::new(),
        };
        for entry in map.entries() {
            if matches!(entry.field, Field::Inner | Field::Away) && entry.retired.is_none() {
                let place = drawing.add(Node::Entry(entry.id), entry.field);
                drawing.place_of.insert(entry.id, place);
            }
        }
        for joined in map.links() {
            let (from, to) = match joined.link {
                Link::Pulls => (Field::Inner, Field::Away),
                Link::CostsLater => (Field::Away, Field::Inner),
                Link::Serves | Link::SameBehaviour => continue,
            };
            if let (Some(from), Some(to)) = (drawing.place(joined.from, from), drawing.place(joined.to, to)) {
                drawing.edges[from].push(to);
            }
        }
        let mut told = HashSet::new();
        for traced in map.loops().iter().rev() {
            if told.insert((traced.hook, traced.away, traced.back_to)) {
                drawing.add_trace(traced);
            }
        }
        drawing
    }

    fn add(&mut self, node: Node, field: Field) -> usize {
        self.nodes.push((node, field));
        self.edges.push(Vec::new());
        self.nodes.len() - 1
    }

    fn place(&self, entry: EntryId, field: Field) -> Option<usize> {
        let place = *self.place_of.get(&entry)?;
        (self.nodes[place].1 == field).then_some(place)
    }

    fn add_trace(&mut self, traced: &Traced) {
        let hook = self.place(traced.hook, Field::Inner);
        let away = self.place(traced.away, Field::Away);
        let (Some(hook), Some(away)) = (hook, away) else {
            return;
        };
        self.edges[hook].push(away);
        // What follows only makes a loop when it leads back to something that is on the map today.
        let Some(back_to) = traced.back_to.and_then(|entry| self.place(entry, Field::Inner)) else {
            return;
        };
        let mut last = away;
        if traced.relief.is_some() {
            let relief = self.add(Node::Relief(traced.id), Field::Away);
            self.edges[last].push(relief);
            last = relief;
        }
        if traced.cost.is_some() {
            let cost = self.add(Node::Cost(traced.id), Field::Away);
            self.edges[last].push(cost);
            last = cost;
        }
        self.edges[last].push(back_to);
    }

    /// The edges inside knots of at most [`MOST_ENTRIES`] entries, and the number of entries left out for that. The
    /// entries with the most edges inside their knot stay; of equals, the older.
    fn bounded(&self) -> (Graph, usize) {
        let mut kept = vec![false; self.nodes.len()];
        let mut left_out = 0;
        for knot in knots(&self.edges) {
            let inside: HashSet<usize> = knot.iter().copied().collect();
            let mut edges_at: HashMap<usize, usize> = HashMap::new();
            for &from in &knot {
                for &to in self.edges[from].iter().filter(|to| inside.contains(to)) {
                    *edges_at.entry(from).or_default() += 1;
                    *edges_at.entry(to).or_default() += 1;
                }
            }
            let is_entry = |place: &usize| matches!(self.nodes[*place].0, Node::Entry(_));
            let (mut entries, others): (Vec<usize>, Vec<usize>) = knot.into_iter().partition(is_entry);
            entries.sort_by_key(|place| (std::cmp::Reverse(edges_at.get(place).copied()), *place));
            left_out += entries.len().saturating_sub(MOST_ENTRIES);
            entries.truncate(MOST_ENTRIES);
            for place in entries.into_iter().chain(others) {
                kept[place] = true;
            }
        }
        let stays = |from: usize, to: usize| kept[from] && kept[to];
        let graph = self
            .edges
            .iter()
            .enumerate()
            .map(|(from, edges)| edges.iter().copied().filter(|to| stays(from, *to)).collect())
            .collect();
        (graph, left_out)
    }

    /// What the map says of each place, for the loops that go through it.
    fn what_was_said(&self, map: &Map) -> Vec<Said> {
        let mut ways_out = ways_out(map);
        let mut latest: HashMap<EntryId, Pair> = HashMap::new();
        for rated in map.workability() {
            let (at, now, later) = (rated.at, rated.now, rated.later);
            latest.insert(rated.entry, Pair { at, now, later });
        }
        let said = self.nodes.iter().map(|(node, field)| match *node {
            Node::Entry(entry) => Said {
                away: (*field == Field::Away).then(|| Works {
                    entry,
                    latest: latest.get(&entry).copied(),
                }),
                stepped_out: ways_out.remove(&entry).map(Arc::new),
            },
            Node::Relief(_) | Node::Cost(_) => Said::default(),
        });
        said.collect()
    }

    /// A cycle as a loop, turned so that the first inner entry of the map that is in it comes first. `None` without an
    /// inner entry or an away move.
    fn told(&self, cycle: &[usize], said: &[Said]) -> Option<Loop> {
        let places = || cycle.iter().enumerate();
        let inner = places().filter(|(_, place)| self.nodes[**place].1 == Field::Inner);
        let (begin, _) = inner.min_by_key(|(_, place)| **place)?;
        let turned = || cycle[begin..].iter().chain(&cycle[..begin]).copied();
        let away: Vec<_> = turned().filter_map(|place| said[place].away).collect();
        (!away.is_empty()).then(|| Loop {
            nodes: turned().map(|place| self.nodes[place].0).collect(),
            away,
            stepped_out: turned()
                .filter_map(|place| said[place].stepped_out.clone())
                .collect(),
        })
    }
}

/// What the map says of one place.
#[derive(Default)]
struct Said {
    away: Option<Works>,
    stepped_out: Option<Arc<SteppedOut>>,
}
