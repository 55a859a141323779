//! The small notation in which the patterns are written (see [`super::expression`] for what becomes of them). A bare regular
//! expression for "a subject, an intent and an act, with a few words between" cannot be read by the people who must
//! judge it; a line such as `{want} to? [die|be dead]` can.
//!
//! A pattern is a row of parts with a space between. A part is a word (`kill`), words to choose from (`kill/end`),
//! a word in all its forms (`jump+`), a stem (`suicid*`), a named class (`{want}`), a choice of rows (`[end it all|be dead]`), or a gap of at most N
//! words (`~3`), the beginning (`^`) or the end (`$`) of a sentence. A `?` after a part makes it optional. Two slash lists never stand side by side: one is bracketed.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use crate::safety::sight::Lexicon;

/// What is wrong with a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Fault {
    /// A bracket or brace is not closed, or closed twice.
    Unclosed(String),
    /// A class that no file defines.
    UnknownClass(String),
    /// A part that is neither word, class, choice nor gap.
    BadPart(String),
    /// Two slash lists side by side. `a/b c/d` may be two choices, or one choice with `b c` in it whose space cut it
    /// in two without a sound; written with brackets it can be only one of them.
    SideBySide(String),
}

/// One part of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Part {
    Words(Vec<Word>),
    Choice(Arc<Choice>),
    Gap(usize),
    /// The beginning of a sentence.
    Start,
    /// The end of a sentence.
    End,
    Maybe(Box<Part>),
}

/// Rows to choose from.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Choice {
    pub rows: Vec<Vec<Part>>,
    /// The number of the class that it is, so that what many patterns share is looked at once.
    pub class: Option<usize>,
}

/// A word of a pattern as it is written, with its number in the [`Lexicon`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Word {
    pub written: String,
    pub number: u32,
}

/// The named classes, each a list of rows.
#[derive(Debug, Default)]
pub(super) struct Classes {
    rows: BTreeMap<String, Vec<String>>,
    forms: BTreeMap<String, String>,
    // Each class is read once, however many patterns name it; that keeps the start short.
    read: RefCell<BTreeMap<String, Part>>,
    lexicon: RefCell<Lexicon>,
}

impl Classes {
    pub(super) fn new(rows: BTreeMap<String, Vec<String>>, forms: BTreeMap<String, String>) -> Self {
        Self {
            rows,
            forms,
            read: RefCell::default(),
            lexicon: RefCell::default(),
        }
    }

    /// Every word that a pattern read with these classes names.
    pub(super) fn into_lexicon(self) -> Lexicon {
        let mut lexicon = self.lexicon.into_inner();
        lexicon.classes = self.read.borrow().len();
        lexicon
    }

    fn word(&self, written: &str) -> Word {
        Word {
            written: written.to_owned(),
            number: self.lexicon.borrow_mut().number(written),
        }
    }

    fn get(&self, name: &str) -> Result<Part, Fault> {
        if let Some(part) = self.read.borrow().get(name) {
            return Ok(part.clone());
        }
        let rows = self
            .rows
            .get(name)
            .ok_or_else(|| Fault::UnknownClass(name.to_owned()))?;
        let rows = choice(rows.iter().map(String::as_str), self)?;
        let mut read = self.read.borrow_mut();
        let class = Some(read.len());
        let part = Part::Choice(Arc::new(Choice { rows, class }));
        read.insert(name.to_owned(), part.clone());
        Ok(part)
    }
}

/// Reads a pattern.
pub(super) fn parse(row: &str, classes: &Classes) -> Result<Vec<Part>, Fault> {
    let parts: Vec<&str> = split(row, ' ')?
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect();
    let list = |part: &str| part.contains('/') && !part.contains(['{', '[']);
    if parts.windows(2).any(|pair| list(pair[0]) && list(pair[1])) {
        return Err(Fault::SideBySide(row.to_owned()));
    }
    parts.into_iter().map(|part| parse_part(part, classes)).collect()
}

fn parse_part(part: &str, classes: &Classes) -> Result<Part, Fault> {
    if let Some(inner) = part.strip_suffix('?') {
        return Ok(Part::Maybe(Box::new(parse_part(inner, classes)?)));
    }
    if part.contains('/') {
        let pieces = split(part, '/')?;
        if pieces.len() > 1 && part.contains(['{', '[']) {
            return unnamed(pieces.into_iter(), classes);
        }
    }
    if let Some(name) = part.strip_prefix('{').and_then(|rest| rest.strip_suffix('}')) {
        return classes.get(name);
    }
    if let Some(inner) = part.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
        return unnamed(split(inner, '|')?.into_iter(), classes);
    }
    match part {
        "^" => return Ok(Part::Start),
        "$" => return Ok(Part::End),
        _ => {}
    }
    if let Some(number) = part.strip_prefix('~') {
        return number
            .parse()
            .map(Part::Gap)
            .map_err(|_| Fault::BadPart(part.to_owned()));
    }
    let mut words: Vec<&str> = Vec::new();
    for word in part.split('/') {
        let Some(base) = word.strip_suffix('+') else {
            words.push(word);
            continue;
        };
        let forms = classes
            .forms
            .get(base)
            .ok_or_else(|| Fault::UnknownClass(word.to_owned()))?;
        words.push(base);
        words.extend(forms.split_whitespace());
    }
    let plain = |word: &&str| {
        let stem = word.strip_suffix('*').unwrap_or(word);
        !stem.is_empty() && stem.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
    };
    if words.iter().all(plain) {
        Ok(Part::Words(
            words.into_iter().map(|word| classes.word(word)).collect(),
        ))
    } else {
        Err(Fault::BadPart(part.to_owned()))
    }
}

fn unnamed<'a>(rows: impl Iterator<Item = &'a str>, classes: &Classes) -> Result<Part, Fault> {
    let rows = choice(rows, classes)?;
    Ok(Part::Choice(Arc::new(Choice { rows, class: None })))
}

fn choice<'a>(rows: impl Iterator<Item = &'a str>, classes: &Classes) -> Result<Vec<Vec<Part>>, Fault> {
    let (mut words, mut others) = (Vec::new(), Vec::new());
    for row in rows {
        let mut row = parse(row, classes)?;
        match row.as_mut_slice() {
            [Part::Words(alone)] => words.append(alone),
            _ => others.push(row),
        }
    }
    // Rows of one word each stand together, since a list of words is looked through at once.
    if !words.is_empty() {
        others.insert(0, vec![Part::Words(words)]);
    }
    Ok(others)
}

/// Splits at a mark outside all brackets.
fn split(row: &str, mark: char) -> Result<Vec<&str>, Fault> {
    let mut parts = Vec::new();
    let (mut depth, mut start) = (0_i32, 0);
    for (at, c) in row.char_indices() {
        match c {
            '[' | '{' => depth += 1,
            ']' | '}' => depth -= 1,
            _ if c == mark && depth == 0 => {
                parts.push(&row[start..at]);
                start = at + 1;
            }
            _ => {}
        }
        if depth < 0 {
            return Err(Fault::Unclosed(row.to_owned()));
        }
    }
    if depth != 0 {
        return Err(Fault::Unclosed(row.to_owned()));
    }
    parts.push(&row[start..]);
    Ok(parts)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slash_list_with_a_space_inside_is_refused() {
        let classes = Classes::default();
        let row = "end/die/do it/goodbye";
        assert_eq!(parse(row, &classes), Err(Fault::SideBySide(row.to_owned())));
        assert!(parse("[end|die|do it|goodbye]", &classes).is_ok());
        assert!(parse("kill/end [myself|himself]", &classes).is_ok());
    }
}
