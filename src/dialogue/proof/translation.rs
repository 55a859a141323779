//! A translation beside the words that it was made from: no line missing, none over, no placeholder lost or new.

use std::collections::BTreeMap;
use std::collections::BTreeSet;

use crate::dialogue::check::Findings;
use crate::dialogue::fault::Fault;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::read::read;

/// Every fault of a words file beside the original, each given as name and text. Missing lines are reported at the
/// end of the translation.
#[must_use]
pub fn against(translation: (&str, &str), original: (&str, &str)) -> Vec<Fault> {
    let (theirs, ours) = (
        read(translation.0, translation.1, false),
        read(original.0, original.1, false),
    );
    if !theirs.faults.is_empty() {
        return theirs.faults;
    }
    let mut findings = Findings::new(translation.0, translation.1);
    let originals: BTreeMap<_, _> = ours
        .lines
        .iter()
        .map(|(name, text)| (&name.value, &text.value))
        .collect();
    let there: BTreeSet<_> = theirs.lines.iter().map(|(name, _)| &name.value).collect();
    for (name, text) in &theirs.lines {
        let line = || name.value.clone();
        let Some(original) = originals.get(&name.value) else {
            findings.add(&name.span, FaultKind::UnusedLine { line: line() });
            continue;
        };
        let (wanted, found) = (placeholders(original), placeholders(&text.value));
        for part in wanted.difference(&found) {
            findings.add(
                &text.span,
                FaultKind::LostPlaceholder {
                    line: line(),
                    part: part.clone(),
                },
            );
        }
        for part in found.difference(&wanted) {
            findings.add(
                &text.span,
                FaultKind::StrayPlaceholder {
                    line: line(),
                    part: part.clone(),
                },
            );
        }
        // A list of words to understand may be longer or shorter in another language.
        let options = |text: &str| outside(text).contains('|');
        if options(original) != options(&text.value) && !name.value.starts_with("words.") {
            findings.add(&text.span, FaultKind::LostWord { line: line() });
        }
        if text.value.trim().is_empty() {
            findings.add(&text.span, FaultKind::EmptyLine { line: line() });
        }
        if text.value.contains('!') {
            let word = "!".to_owned();
            findings.add(&text.span, FaultKind::Wording { line: line(), word });
        }
    }
    let end = translation.1.trim_end().len();
    for missing in originals.keys().filter(|name| !there.contains(**name)) {
        findings.add(
            &(end..end),
            FaultKind::NotTranslated {
                line: (*missing).clone(),
            },
        );
    }
    findings.into_faults()
}

/// The names between braces, without their fallbacks.
fn placeholders(text: &str) -> BTreeSet<String> {
    text.split('{')
        .skip(1)
        .filter_map(|rest| rest.split_once('}'))
        .map(|(inside, _)| inside.split('|').next().unwrap_or("").to_owned())
        .collect()
}

/// A text without what stands between braces.
fn outside(text: &str) -> String {
    let mut outside = String::new();
    let mut depth = 0_usize;
    for c in text.chars() {
        match c {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            c if depth == 0 => outside.push(c),
            _ => {}
        }
    }
    outside
}
