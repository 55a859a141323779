//! A text as the weighing sees it, beside what the patterns alone say: what its table is made from, and measured by.

use std::ops::Range;

use crate::safety::About;
use crate::safety::Finding;
use crate::safety::Level;
use crate::safety::groups::Whose;
use crate::safety::normalise;
use crate::safety::plain::Plain;
use crate::safety::runs;
use crate::safety::screen::Screen;
use crate::safety::settled;
use crate::safety::shipped;
use crate::safety::whose;

/// What can be learned from one text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lesson {
    /// The most urgent level that the patterns find by themselves.
    pub level: Level,
    /// Its sentences, in plain words.
    pub sentences: Vec<String>,
    /// The sentences in which patterns find what calls for a stop, where their weight may lower all of it.
    pub stops: Vec<String>,
    /// The runs of whole clauses in the text, in plain words; and the runs of short sentences that are weighed together.
    pub runs: Vec<String>,
    /// Of the most urgent finding, weighed ones too: whom it is about by the subjects of its sentence alone, and the words
    /// around it, in plain words. Nothing where there is none, or where its pattern says itself whom it is about.
    pub about: Option<(About, String)>,
}

/// Reads a text, leaving out what only the weighing finds. It is for making the table of weights anew; nothing else needs it.
#[must_use]
pub fn lesson(text: &str) -> Lesson {
    let screen = shipped();
    let plain = normalise::plain(text, &screen.speller);
    let found = screen.by_patterns(text, &plain);
    let stops = || found.iter().filter(|one| one.level >= Level::Stop);
    let said = |words: Range<usize>| {
        let words: Vec<&str> = words.map(|at| plain.word(at)).collect();
        words.join(" ")
    };
    let words = || plain.sentences.iter().map(|one| one.words.clone());
    let within = words().flat_map(|words| runs::runs(&plain, &words));
    Lesson {
        level: found.iter().map(|one| one.level).max().unwrap_or(Level::None),
        stops: if stops().all(|one| settled::can_settle(screen, one)) {
            stops()
                .map(|one| said(settled::words(&plain, &one.range)))
                .collect()
        } else {
            Vec::new()
        },
        runs: within.chain(runs::together(&plain.sentences)).map(said).collect(),
        sentences: words().map(said).collect(),
        about: about(screen, &plain, &screen.findings(text, false)),
    }
}

fn about(screen: &Screen, plain: &Plain, found: &[Finding]) -> Option<(About, String)> {
    let told = |finding: &&Finding| {
        let group = screen
            .book
            .patterns
            .groups
            .iter()
            .find(|group| group.name == finding.group);
        finding.level >= Level::Pause && group.is_none_or(|group| group.about == Whose::Read)
    };
    let most = found.iter().filter(told).max_by_key(|finding| finding.level)?;
    let first = plain
        .tokens
        .partition_point(|token| token.end <= most.range.start);
    let last = plain
        .tokens
        .partition_point(|token| token.start < most.range.end)
        .checked_sub(1)?;
    let range = plain.tokens.get(first)?.at - 1..plain.tokens[last].at + plain.word(last).len();
    let words: Vec<&str> = whose::around(plain, &range).map(|at| plain.word(at)).collect();
    Some((whose::read(screen, plain, &range, most.topic), words.join(" ")))
}
