//! The map as a graph: what leads to what, so that loops can be looked for.

use std::collections::HashMap;
use std::collections::HashSet;

use serde::Serialize;

use crate::insight::cycles::Graph;
use crate::insight::cycles::knots;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Link;
use crate::map::Map;
use crate::map::TraceId;
use crate::map::Traced;

/// The most entries that one knot of loops may have; of a larger one, the most joined are looked at.
pub const MOST_ENTRIES: usize = 12;

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

/// The map as a graph: entries first, in the order of the map, then reliefs and costs.
pub(in crate::insight) struct Drawing {
    /// The places, each with the field it lies in: reliefs and costs lie on the side of the away moves.
    pub(in crate::insight) nodes: Vec<(Node, Field)>,
    /// Which place leads to which.
    pub(in crate::insight) edges: Graph,
    place_of: HashMap<EntryId, usize>,
}

impl Drawing {
    /// Draws the entries that are true today, the joins between them, and what was traced.
    pub(in crate::insight) fn of(map: &Map) -> Self {
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

    /// Where an entry is, if it is on the map today and in this field.
    pub(in crate::insight) fn place(&self, entry: EntryId, field: Field) -> Option<usize> {
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
    pub(in crate::insight) fn bounded(&self) -> (Graph, usize) {
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
}
