//! The wording of lines: short sentences, no pressure, no praise, nothing that a terminal would obey.

use unicode_segmentation::UnicodeSegmentation as _;

use super::Findings;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::fill::Line;
use crate::dialogue::program::Lines;
use crate::dialogue::written::WrittenLines;

/// The most words that one sentence may have.
const MOST_WORDS: usize = 25;

/// Words that praise, press or judge, in small letters. Phrases are matched as a run of words.
const UNWANTED: [&str; 25] = [
    "just",
    "should",
    "must",
    "ought",
    "you have to",
    "you need to",
    "simply",
    "obviously",
    "great",
    "amazing",
    "awesome",
    "perfect",
    "well done",
    "good job",
    "good work",
    "congratulations",
    "proud of you",
    "failed",
    "failure",
    "wrong",
    "symptom",
    "symptoms",
    "disorder",
    "diagnosis",
    "normal",
];

/// Checks the lines of one file, as they are written and as they were read.
pub(super) fn check(written: &WrittenLines, lines: &Lines, findings: &mut Findings<'_>) {
    for (name, text) in written {
        let id = || name.value.clone();
        if text.value.trim().is_empty() {
            findings.add(&name.span, FaultKind::EmptyLine { line: id() });
        }
        if text.value.chars().any(is_obeyed) {
            findings.add(&text.span, FaultKind::ControlCharacter { line: id() });
        }
        // Lists of words to understand are heard, not said.
        if let Some(line) = lines
            .get(&name.value)
            .filter(|_| !name.value.starts_with("words."))
        {
            wording(&name.value, line, &text.span, findings);
        }
    }
}

/// Whether a terminal would obey a sign rather than show it: controls, and those that turn the direction of text.
fn is_obeyed(c: char) -> bool {
    c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

fn wording(id: &str, line: &Line, span: &std::ops::Range<usize>, findings: &mut Findings<'_>) {
    let text = line.as_read();
    for sentence in text.split(['.', '?', '|']) {
        if may_be_words(sentence) <= MOST_WORDS {
            continue;
        }
        let words = sentence.unicode_words().count();
        if words > MOST_WORDS {
            findings.add(
                span,
                FaultKind::LongSentence {
                    line: id.to_owned(),
                    words,
                },
            );
        }
    }
    if text.contains('!') {
        findings.add(
            span,
            FaultKind::Wording {
                line: id.to_owned(),
                word: "!".to_owned(),
            },
        );
    }
    // A glance for each, since hardly a line has any of them.
    let small = text.to_lowercase();
    let glance = |unwanted: &&&str| unwanted.split(' ').all(|word| small.contains(word));
    let mut looked_for = UNWANTED.iter().filter(glance).peekable();
    if looked_for.peek().is_none() {
        return;
    }
    let words: Vec<_> = text.unicode_words().map(str::to_lowercase).collect();
    for unwanted in looked_for {
        let mut phrase = unwanted.split(' ');
        let first = phrase.next().unwrap_or_default();
        let after = |at: usize| {
            phrase
                .clone()
                .zip(words[at + 1..].iter().map(Some).chain(std::iter::repeat(None)))
        };
        let there = |at: usize| after(at).all(|(wanted, word)| word.is_some_and(|word| word == wanted));
        if (0..words.len()).any(|at| words[at] == first && there(at)) {
            findings.add(
                span,
                FaultKind::Wording {
                    line: id.to_owned(),
                    word: (*unwanted).to_owned(),
                },
            );
        }
    }
}

/// At least as many as there are words; a glance for text that is plain, and too many for any other.
fn may_be_words(sentence: &str) -> usize {
    if !sentence.is_ascii() {
        return usize::MAX;
    }
    let mut inside = false;
    let mut begins = |byte: &u8| {
        let before = std::mem::replace(&mut inside, byte.is_ascii_alphanumeric());
        inside && !before
    };
    sentence.as_bytes().iter().filter(|byte| begins(byte)).count()
}
