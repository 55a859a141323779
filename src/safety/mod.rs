//! Looks for signs of danger in a person's words before anything else happens to them.
//!
//! A text passes through named stages, each a file: it is normalised (what is masked or misspelt is undone), cut into
//! clauses, its words are looked up, it is searched for patterns, and what is found is weighed by its context, in its
//! sentence and in those beside it. What no pattern names is weighed word by word. The screen can miss things, watches
//! nobody and tells nobody.

#[cfg(test)]
mod ahead;
mod answers;
mod bits;
mod book;
mod both;
mod by_word;
mod clauses;
mod context;
pub mod directory;
mod expression;
mod glossary;
mod groups;
mod lesson;
mod level;
mod lexicon;
mod normalise;
mod own;
mod parts;
mod patterns;
mod people;
mod places;
mod plain;
mod quick;
mod reading;
mod report;
mod runs;
mod screen;
mod settled;
mod sight;
mod sounds;
mod spellings;
mod subject;
mod sums;
mod unmask;
mod wanting;
mod watch;
mod weighed;
mod weighing;
mod whose;
mod word_list;
mod words;

use std::ops::Range;

use serde::Deserialize;
use serde::Serialize;

use crate::safety::groups::Effect;
use crate::safety::groups::Group;

pub use lesson::Lesson;
pub use lesson::lesson;
pub use level::About;
pub use level::Level;
pub use level::Topic;
pub use report::FindingReport;
pub use report::LineReport;
pub use report::report;
pub use watch::Watch;
pub use words::Words;

/// One sign of danger.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finding {
    /// The name of the pattern group that matched.
    pub group: String,
    /// The message it calls for, after context was weighed.
    pub level: Level,
    /// What it is about.
    pub topic: Topic,
    /// Whom it is about.
    pub about: About,
    /// Where in the original text, in bytes, on character boundaries.
    pub range: Range<usize>,
}

/// Words that were looked at, with what was found in them. It cannot be read back with serde, so that there is no way
/// to have one except through the screen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Screened {
    words: Words,
    findings: Vec<Finding>,
}

impl Screened {
    /// The words, as given.
    #[must_use]
    pub fn words(&self) -> &Words {
        &self.words
    }

    /// The words alone, for keeping.
    #[must_use]
    pub fn into_words(self) -> Words {
        self.words
    }

    /// Every finding, in the order of the text.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// The most urgent level among the findings.
    #[must_use]
    pub fn level(&self) -> Level {
        self.findings
            .iter()
            .map(|finding| finding.level)
            .max()
            .unwrap_or(Level::None)
    }

    /// Whom the most urgent finding is about; the person themselves where both are. `None` when nothing was found.
    #[must_use]
    pub fn about(&self) -> Option<About> {
        let level = self.level();
        self.findings
            .iter()
            .filter(|finding| finding.level == level)
            .map(|finding| finding.about)
            .min()
    }
}

/// Looks at words of any origin. The only way to make [`Words`].
#[must_use]
pub fn screen(text: &str) -> Screened {
    let findings = look(text, false);
    Screened {
        words: Words::screened(text),
        findings,
    }
}

/// Looks at a spoken entry as heard and as corrected. The words kept are the corrected ones; the findings are those
/// of both, since a misheard word can hide danger and a correction can remove it.
#[must_use]
pub fn screen_spoken(heard: &str, corrected: &str) -> Screened {
    let mut findings = look(corrected, false);
    // What was heard has places of its own; its findings stand for the whole of the corrected words.
    let whole = 0..corrected.len();
    for mut finding in look(heard, true) {
        if !findings.iter().any(|other| {
            (other.topic, other.about) == (finding.topic, finding.about) && other.level >= finding.level
        }) {
            finding.range = whole.clone();
            findings.push(finding);
        }
    }
    findings.sort_by_key(|finding| finding.range.start);
    Screened {
        words: Words::screened(corrected),
        findings,
    }
}

fn look(text: &str, spoken: bool) -> Vec<Finding> {
    shipped().findings(text, spoken)
}

/// The shipped screen. Going on without it would be silence where danger may be, so a fault in the embedded files
/// stops the program; whoever holds the sitting catches it and shows the numbers.
fn shipped() -> &'static screen::Screen {
    match screen::Screen::shipped() {
        Ok(shipped) => shipped,
        Err(fault) => panic!("the safety patterns cannot be read: {fault:?}"),
    }
}

/// How much the screen does for a text, in steps that can be counted: a measure of its cost without a clock.
#[must_use]
pub fn effort(text: &str) -> usize {
    shipped().effort(text)
}

/// A group of patterns as a reader or a test sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GroupExamples {
    /// Its name, as findings give it.
    pub name: String,
    /// What it stands for.
    pub meaning: String,
    /// Where it comes from.
    pub source: String,
    /// `find`, `uphold`, `raise`, `clear`, `quieten`, `soften`, `sign` or `ease`.
    pub effect: &'static str,
    /// The message it calls for before context is weighed.
    pub level: Level,
    /// Whether it is tried only on what a machine heard.
    pub spoken: bool,
    /// Sentences that it must find.
    pub finds: Vec<String>,
    /// Sentences that it must leave alone.
    pub ignore: Vec<String>,
}

/// What `ahead/` wrote down of the groups' examples.
const EXAMPLES: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/examples.bin"));

/// Every group of patterns with its own examples.
///
/// # Panics
///
/// Where what the build wrote cannot be read.
#[must_use]
pub fn groups() -> Vec<GroupExamples> {
    let groups = [&shipped().book, &shipped().answers].map(|book| &book.patterns.groups);
    let examples: Vec<groups::Examples> = match postcard::from_bytes(EXAMPLES) {
        Ok(examples) => examples,
        Err(fault) => panic!("the examples of the safety patterns cannot be read: {fault}"),
    };
    let groups = groups.into_iter().flatten().zip(examples);
    groups
        .map(|(group, examples)| GroupExamples::new(group, examples))
        .collect()
}

/// The rows whose regular expression does not compile; empty in a sound build.
#[must_use]
pub fn uncompiled() -> Vec<String> {
    let (book, answers) = (&shipped().book, &shipped().answers);
    [book.uncompiled(), answers.uncompiled()].concat()
}

impl GroupExamples {
    fn new(group: &Group, examples: groups::Examples) -> Self {
        Self {
            name: group.name.clone(),
            meaning: examples.meaning,
            source: examples.source,
            effect: match group.effect {
                Effect::Find | Effect::Join => "find",
                Effect::Uphold => "uphold",
                Effect::Raise => "raise",
                Effect::Clear => "clear",
                Effect::Quieten => "quieten",
                Effect::Soften => "soften",
                Effect::Sign => "sign",
                Effect::Ease => "ease",
            },
            level: group.level,
            spoken: group.spoken,
            finds: examples.finds,
            ignore: examples.ignore,
        }
    }
}
