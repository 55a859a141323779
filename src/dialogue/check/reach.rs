//! Every node can be reached from the start, and an end can be reached from every node.

use std::collections::BTreeSet;

use super::Findings;
use super::places_of;
use super::targets_of;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::written::WrittenScript;

pub(super) fn check(script: &WrittenScript, findings: &mut Findings<'_>) {
    let places = places_of(script);
    let place = |name: &str| places.get(name).copied();
    let edges: Vec<Vec<usize>> = script
        .nodes
        .iter()
        .map(|node| {
            targets_of(node)
                .filter_map(|target| place(&target.value))
                .collect()
        })
        .collect();

    let start = script.start.as_ref().and_then(|start| place(&start.value));
    let reached = closure(start.into_iter().collect(), |node| edges[node].clone());
    for (at, node) in script.nodes.iter().enumerate() {
        if !reached.contains(&at) {
            findings.add(
                &node.name.span,
                FaultKind::Unreachable {
                    node: node.name.value.clone(),
                },
            );
        }
    }

    let ends = (0..edges.len()).filter(|at| script.nodes[*at].end).collect();
    let mut backwards = vec![Vec::new(); edges.len()];
    for (from, to) in edges
        .iter()
        .enumerate()
        .flat_map(|(from, to)| to.iter().map(move |to| (from, *to)))
    {
        backwards[to].push(from);
    }
    let can_end = closure(ends, |node| backwards[node].clone());
    for (at, node) in script.nodes.iter().enumerate() {
        if !can_end.contains(&at) {
            findings.add(
                &node.name.span,
                FaultKind::NoEnd {
                    node: node.name.value.clone(),
                },
            );
        }
    }
}

fn closure(mut open: Vec<usize>, next: impl Fn(usize) -> Vec<usize>) -> BTreeSet<usize> {
    let mut seen = BTreeSet::new();
    while let Some(node) = open.pop() {
        if seen.insert(node) {
            open.extend(next(node));
        }
    }
    seen
}
