//! Names: each once, and every one that is used is there. Also what a single node must have.

use std::collections::BTreeSet;

use super::Findings;
use super::lines_of;
use super::targets_of;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::program::Lines;
use crate::dialogue::written::WaitForm;
use crate::dialogue::written::WrittenScript;

pub(super) fn check(
    script: &WrittenScript,
    lines: &Lines,
    common: &Lines,
    scripts: &[&str],
    findings: &mut Findings<'_>,
) {
    let mut names = BTreeSet::new();
    for node in &script.nodes {
        if !names.insert(node.name.value.as_str()) {
            findings.add(
                &node.name.span,
                FaultKind::NameTwice {
                    name: node.name.value.clone(),
                },
            );
        }
    }
    for target in script
        .start
        .iter()
        .chain(script.nodes.iter().flat_map(targets_of))
    {
        if !names.contains(target.value.as_str()) {
            findings.add(
                &target.span,
                FaultKind::NoSuchNode {
                    name: target.value.clone(),
                },
            );
        }
    }
    for id in script.nodes.iter().flat_map(lines_of) {
        if super::line(lines, common, &id.value).is_none() {
            findings.add(
                &id.span,
                FaultKind::NoSuchLine {
                    line: id.value.clone(),
                },
            );
        }
    }
    for node in &script.nodes {
        let name = || node.name.value.clone();
        // The go of every option, and no skip, would still leave the skipped question with nowhere to go.
        if !node.end && node.go.is_none() {
            findings.add(&node.name.span, FaultKind::NoWayOn { node: name() });
        }
        if node.end && (node.go.is_some() || !node.when.is_empty()) {
            findings.add(&node.name.span, FaultKind::EndAndGo { node: name() });
        }
        if let (Some(call), Some(_)) = (&node.call, &node.wait) {
            findings.add(
                &call.span,
                FaultKind::TwoWaits {
                    wait: "call".to_owned(),
                },
            );
        }
        if let Some(call) = node
            .call
            .as_ref()
            .filter(|call| !scripts.contains(&call.value.as_str()))
        {
            findings.add(
                &call.span,
                FaultKind::NoSuchScript {
                    name: call.value.clone(),
                },
            );
        }
        if let Some(WaitForm::Choose(options)) = &node.wait {
            let mut ids = BTreeSet::new();
            for option in options {
                if !ids.insert(option.say.value.as_str()) {
                    findings.add(
                        &option.say.span,
                        FaultKind::SameWord {
                            word: option.say.value.clone(),
                        },
                    );
                }
            }
        }
    }
}
