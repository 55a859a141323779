//! A translation beside the words that it was made from: no line missing, none over, no placeholder lost or new.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::path::Path;

use crate::dialogue::check::Findings;
use crate::dialogue::fault::Fault;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::read::read;
use crate::language::forms;

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
    // The forms that words take beside a number differ from language to language, so each has its own set of lines.
    let forms = forms_of(translation.0);
    let has_form = |form: &str| forms.contains(&form);
    for (name, text) in &theirs.lines {
        let line = || name.value.clone();
        let (stem, form) = stem_and_form(&name.value);
        let other = form
            .filter(|form| has_form(form))
            .map(|_| format!("{stem}[other]"));
        let original = other
            .as_ref()
            .map_or(originals.get(&name.value), |other| originals.get(other));
        let Some(original) = original.filter(|_| form.is_none_or(has_form)) else {
            findings.add(&name.span, FaultKind::UnusedLine { line: line() });
            continue;
        };
        let (wanted, found) = (placeholders(original), placeholders(&text.value));
        // "One moment" may do without the number that "58 moments" has.
        let may_lack = |part: &str| part == "count" && form.is_some();
        for part in wanted.difference(&found).filter(|part| !may_lack(part)) {
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
    let wanted: BTreeSet<String> = originals
        .keys()
        .flat_map(|name| match stem_and_form(name) {
            (_, None) => vec![(*name).clone()],
            (stem, Some(_)) => forms.iter().map(|form| format!("{stem}[{form}]")).collect(),
        })
        .collect();
    for missing in wanted.iter().filter(|name| !there.contains(name)) {
        findings.add(
            &(end..end),
            FaultKind::NotTranslated {
                line: missing.clone(),
            },
        );
    }
    findings.into_faults()
}

/// The forms that words take beside a number in the language of a file, which is the name of its folder. Of a language
/// that is not known, English ones are asked for.
fn forms_of(file: &str) -> Vec<&'static str> {
    let folder = Path::new(file).parent().and_then(Path::file_name);
    let known = folder
        .and_then(|name| name.to_str())
        .map(forms)
        .unwrap_or_default();
    if known.is_empty() { forms("en") } else { known }
}

/// A line's name, and the form in brackets after it.
fn stem_and_form(name: &str) -> (&str, Option<&str>) {
    match name.strip_suffix(']').and_then(|name| name.split_once('[')) {
        Some((stem, form)) => (stem, Some(form)),
        None => (name, None),
    }
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
