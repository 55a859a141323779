//! Slots are written before they are read. A skipped question leaves its slot unset, so a line that names a slot
//! either has a fallback or stands where the slot is set on every way.

use std::collections::BTreeMap;

use super::Findings;
use super::lines_of;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::program::Lines;
use crate::dialogue::written::Effect;
use crate::dialogue::written::WaitForm;
use crate::dialogue::written::WrittenNode;
use crate::dialogue::written::WrittenScript;

/// A set of slots, a bit each: sets of texts took most of the time of a check.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Slots(Vec<u64>);

impl Slots {
    fn set(&mut self, slot: usize, there: bool) {
        let (word, bit) = (slot / 64, 1 << (slot % 64));
        if self.0.len() <= word {
            self.0.resize(word + 1, 0);
        }
        if there {
            self.0[word] |= bit;
        } else {
            self.0[word] &= !bit;
        }
    }

    fn has(&self, slot: usize) -> bool {
        self.0
            .get(slot / 64)
            .is_some_and(|word| word >> (slot % 64) & 1 == 1)
    }

    /// Takes in what the other has too. Says whether anything was new.
    fn join(&mut self, other: &Self) -> bool {
        if self.0.len() < other.0.len() {
            self.0.resize(other.0.len(), 0);
        }
        let mut new = false;
        for (word, other) in self.0.iter_mut().zip(&other.0) {
            new |= other & !*word != 0;
            *word |= other;
        }
        new
    }

    /// Keeps only what the other has too. Says whether anything went.
    fn meet(&mut self, other: &Self) -> bool {
        let mut gone = false;
        for (at, word) in self.0.iter_mut().enumerate() {
            let other = other.0.get(at).copied().unwrap_or(0);
            gone |= *word & !other != 0;
            *word &= other;
        }
        gone
    }
}

/// What is known at a node: slots that may be set, and slots that are.
#[derive(Clone, Debug, Default)]
struct Known {
    may: Slots,
    sure: Slots,
}

/// Slots and nodes by their names.
struct Names<'s> {
    slots: BTreeMap<&'s str, usize>,
    nodes: BTreeMap<&'s str, usize>,
}

impl<'s> Names<'s> {
    fn of(script: &'s WrittenScript) -> Self {
        let mut slots = BTreeMap::new();
        let mut add = |name: &'s str| {
            let next = slots.len();
            slots.entry(name).or_insert(next);
        };
        for at in &script.needs {
            add(&at.value);
        }
        for node in &script.nodes {
            if let Some(at) = &node.into {
                add(&at.value);
            }
            if let Some(WaitForm::Pick { words: Some(at), .. }) = &node.wait {
                add(&at.value);
            }
            let effects = node.effects.iter();
            effects
                .flat_map(|effect| &effect.writes)
                .for_each(|at| add(&at.value));
            node.when
                .iter()
                .flat_map(|branch| branch.guard.value.slots())
                .for_each(&mut add);
        }
        let nodes = script
            .nodes
            .iter()
            .enumerate()
            .map(|(at, node)| (node.name.value.as_str(), at))
            .collect();
        Self { slots, nodes }
    }

    fn has(&self, set: &Slots, slot: &str) -> bool {
        self.slots.get(slot).is_some_and(|slot| set.has(*slot))
    }

    fn set(&self, set: &mut Slots, slot: &str, there: bool) {
        if let Some(slot) = self.slots.get(slot) {
            set.set(*slot, there);
        }
    }
}

pub(super) fn check(script: &WrittenScript, lines: &Lines, common: &Lines, findings: &mut Findings<'_>) {
    let names = Names::of(script);
    let mut known: Vec<Option<Known>> = vec![None; script.nodes.len()];
    let start = script
        .start
        .as_ref()
        .and_then(|start| names.nodes.get(start.value.as_str()));
    if let Some(start) = start {
        let mut given = Known::default();
        for slot in &script.needs {
            names.set(&mut given.may, &slot.value, true);
        }
        known[*start] = Some(given);
    }
    // Most ways lead down the file, so that a few rounds through it in order settle everything.
    let mut settled = false;
    while !settled {
        settled = true;
        for (at, node) in script.nodes.iter().enumerate() {
            let Some(here) = known[at].clone() else { continue };
            ways(node, &here, &names, &mut |target, after| {
                let Some(to) = names.nodes.get(target) else { return };
                match &mut known[*to] {
                    Some(before) => {
                        let new = before.may.join(&after.may);
                        settled &= !(before.sure.meet(&after.sure) | new);
                    }
                    unknown => {
                        *unknown = Some(after.clone());
                        settled = false;
                    }
                }
            });
        }
    }
    for (node, known) in script.nodes.iter().zip(&known) {
        if let Some(known) = known {
            check_node(node, known, &names, lines, common, findings);
        }
    }
}

fn check_node(
    node: &WrittenNode,
    known: &Known,
    names: &Names<'_>,
    lines: &Lines,
    common: &Lines,
    findings: &mut Findings<'_>,
) {
    for id in lines_of(node) {
        let Some(line) = super::line(lines, common, &id.value) else {
            continue;
        };
        for slot in line.slots().filter(|slot| !names.has(&known.may, slot)) {
            findings.add(
                &id.span,
                FaultKind::NeverSet {
                    slot: slot.to_owned(),
                },
            );
        }
        for slot in line
            .needs()
            .filter(|slot| names.has(&known.may, slot) && !names.has(&known.sure, slot))
        {
            let (slot, line) = (slot.to_owned(), id.value.clone());
            findings.add(&id.span, FaultKind::MayBeUnset { slot, line });
        }
    }
    let after = answered(node, known, names);
    let reads = node.effects.iter().flat_map(|effect| &effect.reads);
    for slot in node.of.iter().filter(|slot| !names.has(&known.may, &slot.value)) {
        let slot_name = slot.value.clone();
        findings.add(&slot.span, FaultKind::NeverSet { slot: slot_name });
    }
    let given = node.give.iter().map(|(_, here)| here);
    for slot in reads
        .chain(given)
        .filter(|slot| !names.has(&after.may, &slot.value))
    {
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
            .filter(|slot| !names.has(&after.may, slot))
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

/// Gives every way out of a node, with what is known on it.
fn ways(node: &WrittenNode, before: &Known, names: &Names<'_>, give: &mut dyn FnMut(&str, &Known)) {
    let after = answered(node, before, names);
    if let Some(WaitForm::Choose(options)) = &node.wait {
        for option in options {
            if let Some(go) = &option.go {
                give(&go.value, &after);
            } else {
                onward(node, &after, names, give);
            }
        }
    } else {
        onward(node, &after, names, give);
    }
    // Whoever skips, or is not asked, takes these ways, and no effect was carried out.
    match (&node.done, &node.skip) {
        (None, None) if node.wait.is_some() => onward(node, before, names, give),
        (done, skip) => {
            for way in done.iter().chain(skip) {
                give(&way.value, before);
            }
        }
    }
}

/// Gives the guarded ways and the plain one, in order, with what each guard tells.
fn onward(node: &WrittenNode, known: &Known, names: &Names<'_>, give: &mut dyn FnMut(&str, &Known)) {
    let mut known = known.clone();
    for branch in &node.when {
        let mut taken = known.clone();
        for slot in branch.guard.value.sets() {
            names.set(&mut taken.sure, slot, true);
        }
        give(&branch.go.value, &taken);
        if let Some(slot) = branch.guard.value.sets_otherwise() {
            names.set(&mut known.sure, slot, true);
        }
    }
    if let Some(go) = &node.go {
        give(&go.value, &known);
    }
}

/// What is known after the answer and the effects.
fn answered(node: &WrittenNode, before: &Known, names: &Names<'_>) -> Known {
    let mut after = before.clone();
    let words = match &node.wait {
        Some(WaitForm::Pick { words, .. }) => words.as_ref(),
        _ => None,
    };
    if let (Some(_), Some(into)) = (&node.wait, &node.into) {
        names.set(&mut after.may, &into.value, true);
        // Where other words go elsewhere, either slot may be the one that is set.
        if words.is_none_or(|words| words.value == into.value) {
            names.set(&mut after.sure, &into.value, true);
        }
    }
    if let Some(words) = words {
        names.set(&mut after.may, &words.value, true);
    }
    for effect in &node.effects {
        for slot in &effect.writes {
            names.set(&mut after.may, &slot.value, true);
            // A step or a copy needs other slots, and writes nothing when they are unset.
            if matches!(effect.effect, Effect::Set { .. }) {
                names.set(&mut after.sure, &slot.value, true);
            }
        }
        if let Effect::Forget { slot } = &effect.effect {
            names.set(&mut after.sure, slot, false);
        }
    }
    after
}
