//! The placeholders of lines: each is a slot or a count that there is.

use super::Findings;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::fill::Line;
use crate::dialogue::program::Lines;
use crate::dialogue::written::WrittenLines;

/// Reads the lines of one file.
pub(super) fn read(written: &WrittenLines, findings: &mut Findings<'_>) -> Lines {
    let mut lines = Lines::new();
    for (name, text) in written {
        let line = Line::parse(&text.value).unwrap_or_else(|part| {
            findings.add(&text.span, FaultKind::Placeholder { part });
            // The line is there, though nobody can read it; saying that it is missing would confuse.
            Line(Vec::new())
        });
        lines.insert(name.value.clone(), line);
    }
    lines
}
