//! A text as the weighing sees it, beside what the patterns alone say: what its table is made from, and measured by.

use crate::safety::Level;
use crate::safety::Topic;
use crate::safety::clauses;
use crate::safety::normalise;
use crate::safety::runs;
use crate::safety::shipped;
use crate::safety::weighing;

/// What can be learned from one text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lesson {
    /// The most urgent level that the patterns find by themselves.
    pub level: Level,
    /// The topic of the most urgent of these findings.
    pub topic: Option<Topic>,
    /// The runs of whole clauses in the text, in plain words.
    pub runs: Vec<String>,
}

/// Reads a text, leaving out what only the weighing finds. It is for making the table of weights anew; nothing else needs it.
#[must_use]
pub fn lesson(text: &str) -> Lesson {
    let screen = shipped();
    let found = screen.findings(text, false);
    let most = found
        .iter()
        .filter(|finding| finding.group != weighing::NAME)
        .max_by_key(|finding| finding.level);
    let plain = normalise::plain(text, &screen.speller);
    let mut words = 0..0;
    let mut runs = Vec::new();
    for sentence in clauses::sentences(&plain.text) {
        words = words.end..words.end + clauses::words(&plain.text[sentence]).count();
        runs.extend(runs::runs(&plain, &words).into_iter().map(|run| {
            let words: Vec<&str> = run.map(|at| plain.word(at)).collect();
            words.join(" ")
        }));
    }
    Lesson {
        level: most.map_or(Level::None, |finding| finding.level),
        topic: most.map(|finding| finding.topic),
        runs,
    }
}
