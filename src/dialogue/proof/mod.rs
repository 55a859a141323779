//! A script read with a proof-reader's eye: everything for which it would not be opened, and beside that how it is
//! worded, whether each question can be left out, and whether a translation has kept everything.

mod grade;
mod shapes;
mod translation;

pub use grade::grade;
pub use grade::syllables;
pub use translation::against;

use std::ops::Range;

use crate::dialogue::Library;
use crate::dialogue::check;
use crate::dialogue::check::Findings;
use crate::dialogue::check::Look;
use crate::dialogue::fault::Fault;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::fault::Manner;
use crate::dialogue::fill::Line;
use crate::dialogue::read::read;
use crate::dialogue::written::WaitForm;
use crate::dialogue::written::WrittenLines;
use crate::dialogue::written::WrittenScript;

/// The hardest that a line may read, as a school grade.
pub const HARDEST: f64 = 6.0;

/// Shorter lines, as most options are, have no grade worth the name: one long word would decide it. All else that is
/// looked for in a line is looked for in them too.
const FEWEST_WORDS: usize = 5;

/// Every fault of one script: its flow and, unless they are in the same file, its words, each as name and text.
#[must_use]
pub fn proof(library: &Library, flow: (&str, &str), words: Option<(&str, &str)>) -> Vec<Fault> {
    let files = check::Files { flow, words };
    let names: Vec<_> = library.names().collect();
    let mut faults = check::script(&files, library.common(), &names, Look::Whole)
        .err()
        .unwrap_or_default();
    let script = read(flow.0, flow.1, true);
    let (clean, in_flow) = (script.faults.is_empty(), script.lines);
    if clean {
        faults.extend(questions(flow, &script.script));
        faults.extend(wording(flow, &in_flow));
    }
    match words {
        Some(words) => faults.extend(manner(words)),
        // A script in one file is someone's own, and may not take a name that is there.
        None if clean && library.script(&script.script.name).is_some() => {
            faults.push(check::name_taken(flow.0, flow.1, script.script.name));
        }
        None => {}
    }
    faults.sort_by_key(|fault| (fault.file != flow.0, fault.span.start));
    faults
}

/// Every fault in the wording of a file that holds words alone.
#[must_use]
pub fn proof_words(words: (&str, &str)) -> Vec<Fault> {
    let mut faults = check::common(&[words], Look::Whole).err().unwrap_or_default();
    // Only the lines that all scripts share hold those of the program itself.
    faults.retain(|fault| !matches!(fault.what, FaultKind::NoSuchLine { .. }));
    faults.extend(manner(words));
    faults.sort_by_key(|fault| fault.span.start);
    faults
}

fn manner(words: (&str, &str)) -> Vec<Fault> {
    let read = read(words.0, words.1, false);
    if read.faults.is_empty() {
        wording(words, &read.lines)
    } else {
        Vec::new()
    }
}

/// Whether each question can be left out, and asks something at all.
fn questions((file, text): (&str, &str), script: &WrittenScript) -> Vec<Fault> {
    let mut findings = Findings::new(file, text);
    let node_named = |name: &str| script.nodes.iter().find(|node| node.name.value == name);
    for node in &script.nodes {
        let Some(wait) = &node.wait else { continue };
        let name = || node.name.value.clone();
        if node.ask.is_none() && !matches!(wait, WaitForm::Press) {
            findings.add(&node.name.span, FaultKind::NoQuestion { node: name() });
        }
        // The way of someone who skips, through nodes that wait for nothing, back to the same question.
        let skip = node.skip.as_ref().or(node.done.as_ref()).or(node.go.as_ref());
        let mut next = skip.and_then(|skip| node_named(&skip.value));
        for _ in 0..script.nodes.len() {
            let Some(there) = next.filter(|there| there.name.value != node.name.value) else {
                break;
            };
            let passes = there.wait.is_none() && there.when.is_empty() && there.call.is_none();
            next = there
                .go
                .as_ref()
                .filter(|_| passes)
                .and_then(|go| node_named(&go.value));
        }
        if let Some(skip) = skip.filter(|_| next.is_some_and(|there| there.name.value == node.name.value)) {
            findings.add(&skip.span, FaultKind::CannotBeSkipped { node: name() });
        }
    }
    findings.into_faults()
}

fn wording((file, text): (&str, &str), lines: &WrittenLines) -> Vec<Fault> {
    let mut findings = Findings::new(file, text);
    for (name, written) in lines.iter().filter(|(name, _)| !name.value.starts_with("words.")) {
        let Ok(line) = Line::parse(&written.value) else {
            continue;
        };
        let said = spoken(&line);
        let id = || name.value.clone();
        // Every word that is shown is read, the one to type before an option's bar too; only the grade needs a sentence.
        let whole = line.as_read();
        let typed = whole.split_once('|').map_or("", |(typed, _)| typed);
        let loud_alone = shapes::is_loud_alone(&said).then(|| (said.clone(), Manner::Loud));
        let unwanted = shapes::unwanted(&said).into_iter().chain(shapes::unwanted(typed));
        for (word, manner) in unwanted.chain(loud_alone) {
            findings.add(
                &within(text, &written.span, &word),
                FaultKind::Manner {
                    line: id(),
                    word,
                    manner,
                },
            );
        }
        let grade = grade(&said);
        if grade > HARDEST && said.split_whitespace().count() >= FEWEST_WORDS {
            let tenths = (1..400)
                .find(|tenths| f64::from(*tenths) / 10.0 >= grade)
                .unwrap_or(400);
            findings.add(&written.span, FaultKind::Hard { line: id(), tenths });
        }
    }
    findings.into_faults()
}

/// Where a word stands in a piece of a file; the whole piece if it is written there in another way.
fn within(text: &str, piece: &Range<usize>, word: &str) -> Range<usize> {
    let found = text
        .get(piece.clone())
        .and_then(|piece| piece.to_ascii_lowercase().find(&word.to_ascii_lowercase()));
    found.map_or(piece.clone(), |at| {
        piece.start + at..piece.start + at + word.len()
    })
}

/// A line as it would be said: each placeholder as its fallback or a word, an option without the word to type.
fn spoken(line: &Line) -> String {
    let text = line.as_read();
    text.split_once('|')
        .map_or(text.as_str(), |(_, label)| label)
        .trim()
        .to_owned()
}
