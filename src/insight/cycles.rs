//! Every elementary cycle of a small directed graph, so that no loop on the map is overlooked and none is shown twice.

use std::ops::ControlFlow;

/// A directed graph: for each node, the nodes that an edge leads to. Nodes are the places in the list.
pub type Graph = Vec<Vec<usize>>;

/// Every elementary cycle of at most `longest` nodes, each once, beginning at its lowest node; in ascending order of
/// that node, then in the order of the edges. An edge from a node to itself is a cycle of length 1. Edges that lead
/// out of the list, and edges named twice, count as absent and as one.
///
/// Source: D. B. Johnson, "Finding all the elementary circuits of a directed graph", SIAM J. Comput. 4 (1975) 77-84;
/// his yes-or-no blocking made a length, so that a bound prunes: A. Gupta and T. Suzumura, "Finding all bounded-length
/// simple cycles in a directed graph", arXiv:2105.10094 (2021).
#[must_use]
pub fn elementary_cycles(graph: &Graph, longest: usize) -> Vec<Vec<usize>> {
    let mut cycles = Vec::new();
    // The visitor never breaks, so the answer carries nothing.
    let _ = visit_cycles(graph, longest, &mut |cycle| {
        cycles.push(cycle.to_vec());
        ControlFlow::Continue(())
    });
    cycles
}

/// Whether the graph has an elementary cycle of more than `length` nodes.
#[must_use]
pub fn has_cycle_longer_than(graph: &Graph, length: usize) -> bool {
    visit_cycles(graph, graph.len(), &mut |cycle| {
        if cycle.len() > length {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    })
    .is_break()
}

/// The strongly connected parts of the graph that hold a cycle, each in ascending order, ordered by their lowest node.
#[must_use]
pub fn knots(graph: &Graph) -> Vec<Vec<usize>> {
    let mut seen = vec![false; graph.len()];
    let backward = reversed(graph);
    let mut knots = Vec::new();
    for start in 0..graph.len() {
        // Most entries of a large map are on no loop, and a node without a way out or in is on none.
        if seen[start] || graph[start].is_empty() || backward[start].is_empty() {
            continue;
        }
        let ahead = reach(graph, start, 0);
        let behind = reach(&backward, start, 0);
        let knot: Vec<usize> = (0..graph.len())
            .filter(|&node| ahead[node] && behind[node])
            .collect();
        for &node in &knot {
            seen[node] = true;
        }
        if knot.len() > 1 || graph[start].contains(&start) {
            knots.push(knot);
        }
    }
    knots
}

/// Shows each cycle of [`elementary_cycles`] to `visit`, until it breaks.
pub(in crate::insight) fn visit_cycles(
    graph: &Graph,
    longest: usize,
    visit: &mut dyn FnMut(&[usize]) -> ControlFlow<()>,
) -> ControlFlow<()> {
    let graph: Graph = graph
        .iter()
        .map(|edges| {
            let mut edges: Vec<_> = edges.iter().copied().filter(|&to| to < graph.len()).collect();
            edges.sort_unstable();
            edges.dedup();
            edges
        })
        .collect();
    let backward = reversed(&graph);
    for start in (0..graph.len()).filter(|&node| !graph[node].is_empty()) {
        // Only what is reached from the start and reaches it, above it, can be on a cycle that begins there.
        let ahead = reach(&graph, start, start);
        let behind = reach(&backward, start, start);
        let inside: Graph = graph
            .iter()
            .enumerate()
            .map(|(from, edges)| {
                let counts = |node: usize| ahead[node] && behind[node];
                let stays = |&to: &usize| counts(from) && counts(to);
                edges.iter().copied().filter(stays).collect()
            })
            .collect();
        if !inside[start].is_empty() {
            let before = reversed(&inside);
            Search::new(&inside, &before, start, longest).run(visit)?;
        }
    }
    ControlFlow::Continue(())
}

/// The nodes at or above `floor` that can be reached from `start`, itself among them.
fn reach(graph: &Graph, start: usize, floor: usize) -> Vec<bool> {
    let mut reached = vec![false; graph.len()];
    let mut waiting = vec![start];
    reached[start] = true;
    while let Some(node) = waiting.pop() {
        for &to in &graph[node] {
            if to >= floor && to < reached.len() && !reached[to] {
                reached[to] = true;
                waiting.push(to);
            }
        }
    }
    reached
}

fn reversed(graph: &Graph) -> Graph {
    let mut backward = vec![Vec::new(); graph.len()];
    for (from, edges) in graph.iter().enumerate() {
        for &to in edges {
            if to < graph.len() {
                backward[to].push(from);
            }
        }
    }
    backward
}

/// The search for the cycles that begin at one node.
struct Search<'g> {
    graph: &'g Graph,
    /// The nodes that lead to each. When its lock loosens, theirs may have to: one that found a long way back may find
    /// a shorter one over it once it is off the path.
    before: &'g Graph,
    start: usize,
    longest: usize,
    /// A node may be entered only while the path before it has fewer nodes than this. Never so low that a way back of
    /// allowed length is missed: at least `longest` + 1 less the edges of the shortest way back beside the path.
    lock: Vec<usize>,
    on_path: Vec<bool>,
    path: Vec<usize>,
    /// What waits to be loosened, with the edges of its way back. Empty between calls, kept for its room.
    loosening: Vec<(usize, usize)>,
}

impl<'g> Search<'g> {
    fn new(graph: &'g Graph, before: &'g Graph, start: usize, longest: usize) -> Self {
        let mut lock = vec![longest; graph.len()];
        lock[start] = 0;
        Self {
            graph,
            before,
            start,
            longest,
            lock,
            on_path: vec![false; graph.len()],
            path: Vec::new(),
            loosening: Vec::new(),
        }
    }

    fn run(&mut self, visit: &mut dyn FnMut(&[usize]) -> ControlFlow<()>) -> ControlFlow<()> {
        if self.longest > 0 {
            self.enter(self.start, visit)?;
        }
        ControlFlow::Continue(())
    }

    /// Goes on from a node. Gives the number of edges of the shortest way back to the start that was found from
    /// there, or nothing when there was none. The depth is bounded by the number of nodes.
    fn enter(
        &mut self,
        node: usize,
        visit: &mut dyn FnMut(&[usize]) -> ControlFlow<()>,
    ) -> ControlFlow<(), Option<usize>> {
        self.lock[node] = self.path.len();
        self.path.push(node);
        self.on_path[node] = true;
        let graph = self.graph;
        let mut way_back: Option<usize> = None;
        for &next in &graph[node] {
            let found = if next == self.start {
                visit(&self.path)?;
                Some(1)
            } else if !self.on_path[next] && self.path.len() < self.lock[next] {
                self.enter(next, visit)?.map(|rest| rest + 1)
            } else {
                None
            };
            if let Some(edges) = found {
                way_back = Some(way_back.map_or(edges, |shortest| shortest.min(edges)));
            }
        }
        self.path.pop();
        self.on_path[node] = false;
        if let Some(edges) = way_back {
            self.loosen(node, edges);
        }
        ControlFlow::Continue(way_back)
    }

    /// A way of so many edges leads back from the node, so it may be entered again from any path that leaves room.
    fn loosen(&mut self, node: usize, edges: usize) {
        self.loosening.push((node, edges));
        while let Some((node, edges)) = self.loosening.pop() {
            let room = (self.longest + 1).saturating_sub(edges);
            if self.lock[node] < room {
                self.lock[node] = room;
                for &earlier in &self.before[node] {
                    if !self.on_path[earlier] && self.lock[earlier] + 1 < room {
                        self.loosening.push((earlier, edges + 1));
                    }
                }
            }
        }
    }
}
