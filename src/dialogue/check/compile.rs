//! The last pass: a script without faults as a program, its names as places.

use std::collections::BTreeMap;

use crate::dialogue::program::Call;
use crate::dialogue::program::Choice;
use crate::dialogue::program::Node;
use crate::dialogue::program::Program;
use crate::dialogue::program::Target;
use crate::dialogue::program::Waiting;
use crate::dialogue::written::At;
use crate::dialogue::written::WaitForm;
use crate::dialogue::written::WrittenNode;
use crate::dialogue::written::WrittenScript;

pub(super) fn program(script: &WrittenScript) -> Program {
    let places: BTreeMap<_, _> = script
        .nodes
        .iter()
        .enumerate()
        .map(|(place, node)| (node.name.value.clone(), place))
        .collect();
    let nodes = script.nodes.iter().map(|node| compiled(node, &places)).collect();
    let start = script.start.as_ref().map_or(0, |start| places[&start.value]);
    Program {
        name: script.name.clone(),
        version: script.version,
        start,
        nodes,
        places,
    }
}

fn compiled(node: &WrittenNode, places: &BTreeMap<String, usize>) -> Node {
    let names = |list: &[At<String>]| list.iter().map(|at| at.value.clone()).collect::<Vec<_>>();
    let target = |at: &Option<At<String>>| at.as_ref().map(|at| Target::Node(places[&at.value]));
    let go = if node.end {
        Target::End
    } else {
        target(&node.go).unwrap_or(Target::End)
    };
    // Whoever leaves a question out by a blank line or by skipping goes the same way, unless the two are told apart.
    let done = target(&node.done)
        .or(target(&node.skip))
        .unwrap_or(Target::Onward);
    let skip = target(&node.skip).unwrap_or(done);
    let wait = node.wait.as_ref().map(|wait| match wait {
        WaitForm::Press => Waiting::Press,
        WaitForm::Words => Waiting::Words,
        WaitForm::Entry { field, kind } => Waiting::Entry {
            field: *field,
            kind: *kind,
        },
        WaitForm::Choose(options) => Waiting::Choose(
            options
                .iter()
                .map(|option| Choice {
                    say: option.say.value.clone(),
                    go: option.go.as_ref().map(|at| places[&at.value]),
                    set: option.set.clone(),
                })
                .collect(),
        ),
        WaitForm::Pick {
            from,
            many,
            new,
            words,
        } => Waiting::Pick {
            from: *from,
            many: *many,
            new: *new,
            words: words.as_ref().map(|at| at.value.clone()),
        },
        WaitForm::Number { from, to } => Waiting::Number { from: *from, to: *to },
        WaitForm::Deliberate { word } => Waiting::Deliberate {
            word: word.value.clone(),
        },
    });
    let give = node
        .give
        .iter()
        .map(|(there, here)| (there.value.clone(), here.value.clone()))
        .collect();
    Node {
        name: node.name.value.clone(),
        say: names(&node.say),
        again: names(&node.again),
        show: node.show,
        of: node.of.as_ref().map(|at| at.value.clone()),
        ask: node.ask.as_ref().map(|at| at.value.clone()),
        ask_again: node.ask_again.as_ref().map(|at| at.value.clone()),
        wait,
        into: node.into.as_ref().map(|at| at.value.clone()),
        most: node.most,
        effects: node.effects.iter().map(|one| one.effect.clone()).collect(),
        call: node.call.as_ref().map(|call| Call {
            script: call.value.clone(),
            give,
        }),
        leave: node.leave,
        when: node
            .when
            .iter()
            .map(|one| (one.guard.value.clone(), places[&one.go.value]))
            .collect(),
        go,
        done,
        skip,
    }
}
