//! What the screen found as one record per line of input, for other programs and for measuring.

use serde::Serialize;

use crate::safety::About;
use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::screen;

/// What was found in one line of text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LineReport {
    /// The line's number, from 1.
    pub line: usize,
    /// The most urgent level.
    pub level: Level,
    /// `self`, `other`, or `-` when nothing was found.
    pub about: &'static str,
    /// Every topic found, each once.
    pub topics: Vec<Topic>,
    /// Every finding.
    pub findings: Vec<FindingReport>,
}

/// One finding of a line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FindingReport {
    /// The name of the pattern group.
    pub group: String,
    /// Where it begins in the line, in bytes.
    pub start: usize,
    /// Where it ends in the line, in bytes.
    pub end: usize,
}

/// Screens one line and reports what was found; never the words themselves.
#[must_use]
pub fn report(line: usize, text: &str) -> LineReport {
    let screened = screen(text);
    let mut topics: Vec<Topic> = screened.findings().iter().map(|finding| finding.topic).collect();
    topics.sort_unstable();
    topics.dedup();
    LineReport {
        line,
        level: screened.level(),
        about: match screened.about() {
            None => "-",
            Some(About::Me) => "self",
            Some(About::Other) => "other",
        },
        topics,
        findings: screened
            .findings()
            .iter()
            .map(|finding| FindingReport {
                group: finding.group.clone(),
                start: finding.range.start,
                end: finding.range.end,
            })
            .collect(),
    }
}
