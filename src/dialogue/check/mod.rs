//! From the written form to a program: a visible list of passes, each of which reports everything it finds, so that
//! an author sees all faults at once.

mod compile;
mod cycles;
mod names;
mod placeholders;
mod reach;
mod slots;
mod wording;

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

use crate::dialogue::fault::Fault;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::fill::Line;
use crate::dialogue::program::Lines;
use crate::dialogue::program::Script;
use crate::dialogue::read::place;
use crate::dialogue::read::read;
use crate::dialogue::written::At;
use crate::dialogue::written::WaitForm;
use crate::dialogue::written::WrittenLines;
use crate::dialogue::written::WrittenNode;
use crate::dialogue::written::WrittenScript;

/// The files of one script, each with its name and its text.
pub(in crate::dialogue) struct Files<'t> {
    pub(in crate::dialogue) flow: (&'t str, &'t str),
    /// The words, where they are not in the flow's own file.
    pub(in crate::dialogue) words: Option<(&'t str, &'t str)>,
}

/// How much of a file is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Look {
    /// Everything that can be wrong with it: for whoever writes one, and for the tests, which look at all that come with
    /// the program.
    Whole,
    /// That nothing is missing which a program is put together from. This is for what the tests looked at whole, since a
    /// person waits for the first word meanwhile.
    Pieces,
}

/// The lines that the engine itself says, so that they must be among the common ones.
const ENGINE_LINES: [&str; 14] = [
    "coach.any",
    "option.keep",
    "option.move",
    "option.reword",
    "option.split",
    "field.away",
    "field.inner",
    "field.matters",
    "field.toward",
    "heard.ask",
    "reword.ask",
    "safety.quiet",
    "words.done",
    "words.numbers",
];

/// Faults found in one file.
pub(in crate::dialogue) struct Findings<'t> {
    file: &'t str,
    text: &'t str,
    faults: Vec<Fault>,
}

impl<'t> Findings<'t> {
    pub(in crate::dialogue) fn new(file: &'t str, text: &'t str) -> Self {
        Self {
            file,
            text,
            faults: Vec::new(),
        }
    }

    pub(in crate::dialogue) fn into_faults(self) -> Vec<Fault> {
        self.faults
    }

    pub(in crate::dialogue) fn add(&mut self, span: &Range<usize>, what: FaultKind) {
        let (line, column) = place(self.text, span.start);
        let fault = Fault {
            file: self.file.to_owned(),
            line,
            column,
            span: span.clone(),
            what,
        };
        if !self.faults.contains(&fault) {
            self.faults.push(fault);
        }
    }
}

/// Reads and checks the common lines: files with their names and their texts.
pub(in crate::dialogue) fn common(files: &[(&str, &str)], look: Look) -> Result<Lines, Vec<Fault>> {
    let mut lines = Lines::new();
    let mut faults = Vec::new();
    for (file, text) in files {
        let read = read(file, text, false);
        let mut findings = Findings::new(file, text);
        lines.extend(lines_read(&read.lines, look, &mut findings));
        faults.extend(read.faults.into_iter().chain(findings.faults));
    }
    if let [(file, text), ..] = files {
        let mut findings = Findings::new(file, text);
        for line in ENGINE_LINES.into_iter().filter(|line| !lines.contains_key(*line)) {
            findings.add(
                &(0..0),
                FaultKind::NoSuchLine {
                    line: line.to_owned(),
                },
            );
        }
        faults.extend(findings.faults);
    }
    if faults.is_empty() { Ok(lines) } else { Err(faults) }
}

/// Reads and checks one script. `scripts` are the names of all that can be called.
pub(in crate::dialogue) fn script(
    files: &Files<'_>,
    common: &Lines,
    scripts: &[&str],
    look: Look,
) -> Result<Script, Vec<Fault>> {
    let flow = read(files.flow.0, files.flow.1, true);
    let words = files
        .words
        .map(|(file, text)| (file, text, read(file, text, false)));
    let mut faults = flow.faults;
    let mut findings = Findings::new(files.flow.0, files.flow.1);
    let mut lines = lines_read(&flow.lines, look, &mut findings);
    let mut line_places = vec![(files.flow, &flow.lines)];
    if let Some((file, text, words)) = &words {
        faults.extend(words.faults.iter().cloned());
        let mut word_findings = Findings::new(file, text);
        lines.extend(lines_read(&words.lines, look, &mut word_findings));
        faults.extend(word_findings.faults);
        line_places.push(((file, text), &words.lines));
    }
    let broken = !faults.is_empty();
    let script = &flow.script;
    names::check(script, &lines, common, scripts, &mut findings);
    // A script with pieces missing would be found unreachable or unset in ways that only repeat the real fault.
    if look == Look::Whole && !broken && findings.faults.is_empty() {
        reach::check(script, &mut findings);
        cycles::check(script, &mut findings);
        slots::check(script, &lines, common, &mut findings);
        faults.extend(unused(script, &line_places));
    }
    faults.extend(findings.faults);
    faults.sort_by_key(|fault| (fault.file != files.flow.0, fault.span.start));
    if faults.is_empty() {
        Ok(Script {
            program: compile::program(script),
            lines,
        })
    } else {
        Err(faults)
    }
}

/// The lines of one file, with their placeholders read.
fn lines_read(written: &WrittenLines, look: Look, findings: &mut Findings<'_>) -> Lines {
    let lines = placeholders::read(written, findings);
    if look == Look::Whole {
        wording::check(written, &lines, findings);
    }
    lines
}

/// Scripts that call each other in a circle would never end.
pub(in crate::dialogue) fn calls(scripts: &BTreeMap<String, Arc<Script>>) -> Vec<Fault> {
    let called = |name: &str| {
        let nodes = scripts
            .get(name)
            .map(|script| script.program.nodes.as_slice())
            .unwrap_or_default();
        nodes
            .iter()
            .filter_map(|node| node.call.as_ref())
            .map(|call| call.script.clone())
            .collect::<Vec<_>>()
    };
    let mut faults = Vec::new();
    for name in scripts.keys() {
        let mut seen = Vec::new();
        let mut open = called(name);
        while let Some(next) = open.pop() {
            if !seen.contains(&next) {
                open.extend(called(&next));
                seen.push(next);
            }
        }
        if seen.contains(name) {
            let what = FaultKind::CallsInACircle { name: name.clone() };
            faults.push(Fault {
                file: name.clone(),
                line: 1,
                column: 1,
                span: 0..0,
                what,
            });
        }
    }
    faults
}

/// The fault of a script whose name is taken.
pub(in crate::dialogue) fn name_taken(file: &str, text: &str, name: String) -> Fault {
    let mut findings = Findings::new(file, text);
    let start = text
        .split_inclusive('\n')
        .scan(0, |at, line| {
            let start = *at;
            *at += line.len();
            Some((start, line))
        })
        .find(|(_, line)| line.trim_start().starts_with("name"));
    let span = start.map_or(0..0, |(start, line)| start..start + line.trim_end().len());
    findings.add(&span, FaultKind::NameTwice { name });
    findings.faults.remove(0)
}

fn unused(script: &WrittenScript, places: &[((&str, &str), &WrittenLines)]) -> Vec<Fault> {
    let used: BTreeSet<&str> = script
        .nodes
        .iter()
        .flat_map(lines_of)
        .map(|at| at.value.as_str())
        .collect();
    let mut faults = Vec::new();
    for ((file, text), lines) in places {
        let mut findings = Findings::new(file, text);
        for (name, _) in *lines {
            if !used.contains(name.value.as_str()) {
                findings.add(
                    &name.span,
                    FaultKind::UnusedLine {
                        line: name.value.clone(),
                    },
                );
            }
        }
        faults.extend(findings.faults);
    }
    faults
}

/// Every line that a node names.
pub(super) fn lines_of(node: &WrittenNode) -> impl Iterator<Item = &At<String>> {
    let options = match &node.wait {
        Some(WaitForm::Choose(options)) => options.as_slice(),
        _ => &[],
    };
    let word = match &node.wait {
        Some(WaitForm::Deliberate { word }) => Some(word),
        _ => None,
    };
    let options = options.iter().map(|option| &option.say);
    node.say
        .iter()
        .chain(&node.again)
        .chain(&node.ask)
        .chain(&node.ask_again)
        .chain(options)
        .chain(word)
}

/// The place of every node in its script, by name.
fn places_of(script: &WrittenScript) -> BTreeMap<&str, usize> {
    let names = script.nodes.iter().map(|node| node.name.value.as_str());
    names.zip(0..).collect()
}

/// Every node that a node leads to, by whatever way.
pub(super) fn targets_of(node: &WrittenNode) -> impl Iterator<Item = &At<String>> {
    let options = match &node.wait {
        Some(WaitForm::Choose(options)) => options.as_slice(),
        _ => &[],
    };
    let options = options.iter().filter_map(|option| option.go.as_ref());
    let branches = node.when.iter().map(|branch| &branch.go);
    options
        .chain(branches)
        .chain(&node.go)
        .chain(&node.done)
        .chain(&node.skip)
}

/// A line, wherever it stands.
pub(super) fn line<'l>(lines: &'l Lines, common: &'l Lines, id: &str) -> Option<&'l Line> {
    lines.get(id).or_else(|| common.get(id))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::Files;
    use super::Look;
    use super::calls;
    use super::script;
    use crate::dialogue::fault::FaultKind;
    use crate::dialogue::program::Lines;

    #[test]
    fn scripts_that_call_each_other_in_a_circle_are_found() {
        let one = |name: &str, call: &str| {
            let text = format!(
                "name = \"{name}\"\nversion = 1\nstart = \"a\"\n[[node]]\nname = \"a\"\ncall = \"{call}\"\nend = true\n"
            );
            let files = Files {
                flow: ("made.toml", &text),
                words: None,
            };
            (
                name.to_owned(),
                Arc::new(script(&files, &Lines::new(), &["a", "b", "c", "d"], Look::Whole).unwrap()),
            )
        };
        let plain = [one("a", "b"), one("b", "c"), one("c", "d")]
            .into_iter()
            .collect();
        assert!(calls(&plain).is_empty());
        let round = [one("a", "b"), one("b", "c"), one("c", "b")]
            .into_iter()
            .collect();
        let found: Vec<_> = calls(&round).into_iter().map(|fault| fault.what).collect();
        let circle = |name: &str| FaultKind::CallsInACircle {
            name: name.to_owned(),
        };
        assert_eq!(found, [circle("b"), circle("c")]);
    }
}
