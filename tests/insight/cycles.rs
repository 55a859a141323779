//! Cycles of graphs against networkx and published counts.

use proptest::prelude::*;
use wayfold::insight::Graph;
use wayfold::insight::elementary_cycles;
use wayfold::insight::has_cycle_longer_than;
use wayfold::insight::knots;

use crate::insight::reference::answers;

/// Every node leads to every other.
fn complete(n: usize) -> Graph {
    (0..n)
        .map(|from| (0..n).filter(|to| *to != from).collect())
        .collect()
}

/// The graph of Figure 1 of Johnson 1975 for k, on which the algorithms before his are slow; it has 3k cycles. (The
/// figure as networkx's own tests build it.)
fn johnson_worst(k: usize) -> Graph {
    let mut graph = vec![Vec::new(); 3 * k + 3];
    // The nodes of the figure count from 1.
    let mut edge = |from: usize, to: usize| graph[from - 1].push(to - 1);
    for n in 2..=k + 1 {
        edge(1, n);
        edge(n, k + 2);
    }
    edge(2 * k + 1, 1);
    for n in k + 2..=2 * k + 1 {
        edge(n, 2 * k + 2);
        edge(n, n + 1);
    }
    edge(2 * k + 3, k + 2);
    for n in 2 * k + 3..=3 * k + 2 {
        edge(2 * k + 2, n);
        edge(n, 3 * k + 3);
    }
    edge(3 * k + 3, 2 * k + 2);
    graph
}

#[test]
fn complete_graphs_have_the_known_number_of_cycles() {
    // The sum over k from 2 to n of C(n, k) (k - 1)!, counted here by the formula and as printed in tables of it.
    for (n, known) in (2..=8).zip([1, 5, 20, 84, 409, 2365, 16064]) {
        let mut by_formula = 0;
        for k in 2..=n {
            // C(n, k) (k - 1)! = n (n - 1) ... (n - k + 1) / k.
            by_formula += (n - k + 1..=n).product::<usize>() / k;
        }
        assert_eq!(by_formula, known);
        assert_eq!(elementary_cycles(&complete(n), n).len(), known, "n = {n}");
    }
}

#[test]
fn the_seven_edges_make_three_loops() {
    // notgoodenough 0, cancel 1, relief 2, lonely 3, browse 4; counted with networkx.
    let graph = vec![vec![1], vec![2, 4], vec![3], vec![0, 4], vec![2]];
    let found = elementary_cycles(&graph, 8);
    let mut lengths: Vec<_> = found.iter().map(Vec::len).collect();
    lengths.sort_unstable();
    assert_eq!(lengths, [3, 4, 5]);
}

#[derive(serde::Serialize)]
struct Question {
    graph: Graph,
    longest: Option<usize>,
}

/// A thousand graphs of 1 to 12 nodes, sparse to dense, with edges to themselves; always the same ones.
fn many_graphs() -> Vec<Graph> {
    let mut state = 20_250_106_u64;
    let mut next = move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        state >> 33
    };
    (0..1_000)
        .map(|_| {
            let nodes = 1 + usize::try_from(next() % 12).unwrap();
            let most_dense = match nodes {
                ..=7 => 9,
                8 | 9 => 5,
                _ => 2,
            };
            let dense = 1 + next() % most_dense;
            (0..nodes)
                .map(|_| (0..nodes).filter(|_| next() % 10 < dense).collect())
                .collect()
        })
        .collect()
}

#[test]
fn cycles_agree_with_networkx() {
    let mut questions: Vec<Question> = many_graphs()
        .into_iter()
        .enumerate()
        .map(|(number, graph)| Question {
            graph,
            // Half of them without a bound, half with one from 1 to 8.
            longest: (number % 2 == 1).then_some(1 + (number / 2) % 8),
        })
        .collect();
    let graphs = [
        complete(6),
        johnson_worst(5),
        johnson_worst(9),
        vec![vec![1], vec![2, 4], vec![3], vec![0, 4], vec![2]],
    ];
    for graph in graphs {
        for longest in [None, Some(4), Some(8)] {
            let graph = graph.clone();
            questions.push(Question { graph, longest });
        }
    }
    let theirs: Vec<Vec<Vec<usize>>> = answers("cycles", &questions);
    let mut number = 0;
    for (question, theirs) in questions.iter().zip(&theirs) {
        let longest = question.longest.unwrap_or(question.graph.len());
        let ours = elementary_cycles(&question.graph, longest);
        number += ours.len();
        // Ours come in ascending order by themselves.
        assert!(
            &ours == theirs,
            "{:?} up to {longest}: ours {}, theirs {}",
            question.graph,
            ours.len(),
            theirs.len()
        );
    }
    assert!(number > 10_000, "the graphs should have many cycles: {number}");
}

#[test]
fn the_worst_graph_of_johnson_has_three_cycles_for_each_k() {
    for k in 3..=10 {
        let graph = johnson_worst(k);
        assert_eq!(elementary_cycles(&graph, graph.len()).len(), 3 * k, "k = {k}");
    }
}

#[test]
fn an_edge_that_leads_nowhere_or_is_named_twice_adds_no_cycle() {
    // 0 and 1 lead to each other. 2 would be the next place in the list, and there is none.
    let graph = vec![vec![1, 2, 1], vec![0, 7, 2]];
    assert_eq!(elementary_cycles(&graph, 2), [[0, 1]]);
    assert!(!has_cycle_longer_than(&graph, 2));
    assert_eq!(knots(&graph), [[0, 1]]);
}

#[test]
fn what_is_on_no_cycle_is_in_no_knot() {
    let graph = vec![vec![1], vec![0, 2], vec![3], vec![3], vec![]];
    assert_eq!(knots(&graph), [vec![0, 1], vec![3]]);
}

#[test]
fn where_no_node_is_allowed_there_is_no_cycle() {
    let to_itself = vec![vec![0]];
    assert_eq!(elementary_cycles(&to_itself, 1), [[0]]);
    assert_eq!(elementary_cycles(&to_itself, 0), Vec::<Vec<usize>>::new());
}

proptest! {
    #[test]
    fn each_cycle_is_real_and_comes_once(
        edges in prop::collection::vec((0_usize..8, 0_usize..8), 0..40),
        longest in 1_usize..9,
    ) {
        let mut graph = vec![Vec::new(); 8];
        for (from, to) in edges {
            graph[from].push(to);
        }
        let found = elementary_cycles(&graph, longest);
        let all = elementary_cycles(&graph, 8);
        let within: Vec<_> = all.iter().filter(|cycle| cycle.len() <= longest).cloned().collect();
        prop_assert_eq!(&found, &within);
        prop_assert_eq!(has_cycle_longer_than(&graph, longest), all.len() > within.len());
        let different: std::collections::HashSet<_> = found.iter().collect();
        prop_assert_eq!(different.len(), found.len());
        for cycle in &found {
            let nodes: std::collections::HashSet<_> = cycle.iter().collect();
            prop_assert_eq!(nodes.len(), cycle.len());
            for (place, node) in cycle.iter().enumerate() {
                prop_assert!(graph[*node].contains(&cycle[(place + 1) % cycle.len()]));
            }
        }
    }
}
