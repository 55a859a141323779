//! Slots are written before they are read. A skipped question leaves its slot unset, so a line that names a slot
//! either has a fallback or stands where the slot is set on every way.

use std::collections::BTreeSet;

use super::Findings;
use super::lines_of;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::program::Lines;
use crate::dialogue::written::Effect;
use crate::dialogue::written::WaitForm;
use crate::dialogue::written::WrittenNode;
use crate::dialogue::written::WrittenScript;

type Slots = BTreeSet<String>;

/// What is known at a node: slots that may be set, and slots that are.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Known {
    may: Slots,
    sure: Slots,
}

pub(super) fn check(script: &WrittenScript, lines: &Lines, common: &Lines, findings: &mut Findings<'_>) {
    let place = |name: &str| script.nodes.iter().position(|node| node.name.value == name);
    let mut known: Vec<Option<Known>> = vec![None; script.nodes.len()];
    let given: Slots = script.needs.iter().map(|at| at.value.clone()).collect();
    let mut open = Vec::new();
    if let Some(start) = script.start.as_ref().and_then(|start| place(&start.value)) {
        known[start] = Some(Known {
            may: given,
            sure: Slots::new(),
        });
        open.push(start);
    }
    while let Some(at) = open.pop() {
        let Some(here) = known[at].clone() else { continue };
        for (target, after) in ways(&script.nodes[at], &here) {
            let Some(to) = place(&target) else { continue };
            let merged = match &known[to] {
                None => after,
                Some(before) => Known {
                    may: before.may.union(&after.may).cloned().collect(),
                    sure: before.sure.intersection(&after.sure).cloned().collect(),
                },
            };
            if known[to].as_ref() != Some(&merged) {
                known[to] = Some(merged);
                open.push(to);
            }
        }
    }
    for (node, known) in script.nodes.iter().zip(&known) {
        if let Some(known) = known {
            check_node(node, known, lines, common, findings);
        }
    }
}

fn check_node(node: &WrittenNode, known: &Known, lines: &Lines, common: &Lines, findings: &mut Findings<'_>) {
    for id in lines_of(node) {
        let Some(line) = super::line(lines, common, &id.value) else {
            continue;
        };
        for slot in line.slots().filter(|slot| !known.may.contains(*slot)) {
            findings.add(
                &id.span,
                FaultKind::NeverSet {
                    slot: slot.to_owned(),
                },
            );
        }
        for slot in line
            .needs()
            .filter(|slot| known.may.contains(*slot) && !known.sure.contains(*slot))
        {
            let (slot, line) = (slot.to_owned(), id.value.clone());
            findings.add(&id.span, FaultKind::MayBeUnset { slot, line });
        }
    }
    let after = answered(node, known);
    let reads = node.effects.iter().flat_map(|effect| &effect.reads);
    for slot in node.of.iter().filter(|slot| !known.may.contains(&slot.value)) {
        let slot_name = slot.value.clone();
        findings.add(&slot.span, FaultKind::NeverSet { slot: slot_name });
    }
    let given = node.give.iter().map(|(_, here)| here);
    for slot in reads.chain(given).filter(|slot| !after.may.contains(&slot.value)) {
        findings.add(
            &slot.span,
            FaultKind::NeverSet {
                slot: slot.value.clone(),
            },
        );
    }
    for branch in &node.when {
        for slot in branch
            .guard
            .value
            .slots()
            .filter(|slot| !after.may.contains(*slot))
        {
            findings.add(
                &branch.guard.span,
                FaultKind::NeverSet {
                    slot: slot.to_owned(),
                },
            );
        }
    }
}

/// Every way out of a node, with what is known on it.
fn ways(node: &WrittenNode, before: &Known) -> Vec<(String, Known)> {
    let after = answered(node, before);
    let mut ways = Vec::new();
    if let Some(WaitForm::Choose(options)) = &node.wait {
        for option in options {
            if let Some(go) = &option.go {
                ways.push((go.value.clone(), after.clone()));
            } else {
                onward(node, &after, &mut ways);
            }
        }
    } else {
        onward(node, &after, &mut ways);
    }
    // Whoever skips, or is not asked, takes these ways, and no effect was carried out.
    match (&node.done, &node.skip) {
        (None, None) if node.wait.is_some() => onward(node, before, &mut ways),
        (done, skip) => {
            ways.extend(
                done.iter()
                    .chain(skip)
                    .map(|way| (way.value.clone(), before.clone())),
            );
        }
    }
    ways
}

/// The guarded ways and the plain one, in order, with what each guard tells.
fn onward(node: &WrittenNode, known: &Known, ways: &mut Vec<(String, Known)>) {
    let mut known = known.clone();
    for branch in &node.when {
        let mut taken = known.clone();
        taken.sure.extend(branch.guard.value.sets().map(str::to_owned));
        ways.push((branch.go.value.clone(), taken));
        known
            .sure
            .extend(branch.guard.value.sets_otherwise().map(str::to_owned));
    }
    ways.extend(node.go.as_ref().map(|go| (go.value.clone(), known)));
}

/// What is known after the answer and the effects.
fn answered(node: &WrittenNode, before: &Known) -> Known {
    let mut after = before.clone();
    let words = match &node.wait {
        Some(WaitForm::Pick { words, .. }) => words.as_ref(),
        _ => None,
    };
    if let (Some(_), Some(into)) = (&node.wait, &node.into) {
        after.may.insert(into.value.clone());
        // Where other words go elsewhere, either slot may be the one that is set.
        if words.is_none_or(|words| words.value == into.value) {
            after.sure.insert(into.value.clone());
        }
    }
    after.may.extend(words.map(|words| words.value.clone()));
    for effect in &node.effects {
        for slot in &effect.writes {
            after.may.insert(slot.value.clone());
            // A step or a copy needs other slots, and writes nothing when they are unset.
            if matches!(effect.effect, Effect::Set { .. }) {
                after.sure.insert(slot.value.clone());
            }
        }
        if let Effect::Forget { slot } = &effect.effect {
            after.sure.remove(slot);
        }
    }
    after
}
