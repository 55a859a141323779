//! No cycle runs on by itself, and none can be walked for ever.
//!
//! A node with a `most` takes only its `done` way once it was visited so often. If the flow without the other ways of
//! such nodes has no cycle, every walk ends: whatever it visits endlessly would be used up, and then nothing leads round.

use super::Findings;
use super::places_of;
use super::targets_of;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::written::WrittenNode;
use crate::dialogue::written::WrittenScript;

pub(super) fn check(script: &WrittenScript, findings: &mut Findings<'_>) {
    let places = places_of(script);
    let place = |name: &str| places.get(name).copied();
    let edges = |of: &dyn Fn(&WrittenNode) -> Vec<String>| -> Vec<Vec<usize>> {
        script
            .nodes
            .iter()
            .map(|node| of(node).iter().filter_map(|name| place(name)).collect())
            .collect()
    };
    let without_waiting = edges(&|node| {
        if node.wait.is_some() {
            done_ways(node, false)
        } else {
            all_ways(node)
        }
    });
    let used_up = edges(&|node| {
        if node.most.is_some() {
            done_ways(node, true)
        } else {
            all_ways(node)
        }
    });
    let restless = in_a_cycle(&without_waiting);
    for at in &restless {
        let at = *at;
        let node = &script.nodes[at].name;
        findings.add(
            &node.span,
            FaultKind::CycleWithoutWait {
                node: node.value.clone(),
            },
        );
    }
    for at in in_a_cycle(&used_up)
        .into_iter()
        .filter(|at| !restless.contains(at))
    {
        let node = &script.nodes[at].name;
        findings.add(
            &node.span,
            FaultKind::CycleWithoutMost {
                node: node.value.clone(),
            },
        );
    }
}

fn all_ways(node: &WrittenNode) -> Vec<String> {
    targets_of(node).map(|target| target.value.clone()).collect()
}

/// The ways on when a question is not asked: because it was asked often enough, or because there is nothing to pick.
/// A waiting node that is always asked has none.
fn done_ways(node: &WrittenNode, used_up: bool) -> Vec<String> {
    let may_pass = used_up
        || node.most.is_some()
        || matches!(
            node.wait,
            Some(crate::dialogue::written::WaitForm::Pick {
                new: None,
                words: None,
                ..
            })
        );
    if !may_pass {
        return Vec::new();
    }
    match node.done.as_ref().or(node.skip.as_ref()) {
        Some(done) => vec![done.value.clone()],
        None => node
            .when
            .iter()
            .map(|branch| &branch.go)
            .chain(&node.go)
            .map(|at| at.value.clone())
            .collect(),
    }
}

/// The nodes that lead back to themselves.
fn in_a_cycle(edges: &[Vec<usize>]) -> Vec<usize> {
    (0..edges.len())
        .filter(|start| {
            let mut seen = vec![false; edges.len()];
            let mut open = edges[*start].clone();
            while let Some(node) = open.pop() {
                if !std::mem::replace(&mut seen[node], true) {
                    open.extend(&edges[node]);
                }
            }
            seen[*start]
        })
        .collect()
}
