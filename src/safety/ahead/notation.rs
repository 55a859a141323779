//! The small notation in which the patterns are written (see `expression.rs` for what becomes of them). A bare
//! regular expression for "a subject, an intent and an act, with a few words between" cannot be read by the people who
//! must judge it; a line such as `{want} to? [die|be dead]` can.
//!
//! A pattern is a row of parts with a space between. A part is a word (`kill`), words to choose from (`kill/end`), a word
//! in all its forms (`jump+`), a stem (`suicid*`), a named class (`{want}`), a choice of rows (`[end it all|be dead]`), a
//! gap of at most N words between two others (`~3`), the beginning (`^`) or the end (`$`) of a sentence. A `?` after a part makes it
//! optional. Two slash lists never stand side by side: one is bracketed.
//!
//! Where sentences are read together (see `answers.rs`), a part `.` is the end of any sentence and `?` that of a
//! question; the former also stands before the first.

use std::collections::HashMap;

use super::classes::Classes;
use crate::safety::parts::Choice;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::QUESTION_END;
use crate::safety::parts::SENTENCE_END;
use crate::safety::parts::Span;

/// What is wrong with a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// A bracket or brace is not closed, or closed twice.
    Unclosed(String),
    /// A class that no file defines, or that is made of itself.
    UnknownClass(String),
    /// A part that is neither word, class, choice nor gap.
    BadPart(String),
    /// Two slash lists side by side. `a/b c/d` may be two choices, or one choice with `b c` in it whose space cut it
    /// in two without a sound; written with brackets it can be only one of them.
    SideBySide(String),
    /// A pattern that ends in a gap. The shortest way through it is none, so that it would reach nothing.
    EndsInGap(String),
}

/// Reads patterns into [`Parts`], with the named classes that they are made of.
#[derive(Debug)]
pub(super) struct Reader<'c> {
    classes: &'c Classes,
    // Each class is read once, when a pattern first names it; while it is being read there is none by its name.
    read: HashMap<&'c str, Option<Part>>,
    // The numbers of the lists of words, so that what is written twice is one list.
    lists: HashMap<Vec<u32>, u32>,
    parts: Parts,
    // What is being read and not yet a row, a choice or a list: what stands inside lies on top of what it stands in.
    open_parts: Vec<Part>,
    open_rows: Vec<Span>,
    open_words: Vec<u32>,
}

impl<'c> Reader<'c> {
    /// A reader that knows some classes, and the forms of some words.
    pub(super) fn new(classes: &'c Classes) -> Self {
        Self {
            classes,
            read: HashMap::new(),
            lists: HashMap::new(),
            parts: Parts::default(),
            open_parts: Vec::new(),
            open_rows: Vec::new(),
            open_words: Vec::new(),
        }
    }

    /// What was read.
    pub(super) fn into_parts(self) -> Parts {
        self.parts
    }

    /// Reads a pattern.
    pub(super) fn pattern(&mut self, row: &str) -> Result<Span, Fault> {
        let read = self.row(row)?;
        match self.parts.row(read).last() {
            Some(Part::Gap(_)) => Err(Fault::EndsInGap(row.to_owned())),
            _ => Ok(read),
        }
    }

    /// Reads a row inside a pattern.
    fn row(&mut self, row: &str) -> Result<Span, Fault> {
        let from = self.open_parts.len();
        let mut after_list = false;
        for part in split(row, b' ') {
            let part = part?;
            if part.is_empty() {
                continue;
            }
            let list = part.contains('/') && !part.contains(['{', '[']);
            if list && after_list {
                return Err(Fault::SideBySide(row.to_owned()));
            }
            after_list = list;
            let part = self.part(part)?;
            self.open_parts.push(part);
        }
        Ok(self.parts.add_row(self.open_parts.drain(from..)))
    }

    fn part(&mut self, part: &str) -> Result<Part, Fault> {
        match part {
            "." => return Ok(self.ends(&[SENTENCE_END, QUESTION_END])),
            "?" => return Ok(self.ends(&[QUESTION_END])),
            _ => {}
        }
        if let Some(inner) = part.strip_suffix('?') {
            let inner = self.part(inner)?;
            return Ok(Part::Maybe(self.parts.add_row([inner])));
        }
        if is_words(part) {
            let from = self.open_words.len();
            self.words(part)?;
            return Ok(self.close_words(from));
        }
        if part.contains(['{', '[']) && split(part, b'/').nth(1).is_some() {
            return self.unnamed(split(part, b'/'));
        }
        if let Some(name) = part.strip_prefix('{').and_then(|rest| rest.strip_suffix('}')) {
            return self.class(name);
        }
        if let Some(inner) = part.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
            return self.unnamed(split(inner, b'|'));
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
        Err(Fault::BadPart(part.to_owned()))
    }

    fn ends(&mut self, words: &[&str]) -> Part {
        let words = words.iter().map(|word| self.parts.lexicon.number(word));
        let words: Vec<u32> = words.collect();
        Part::Words(self.list(words))
    }

    fn class(&mut self, name: &str) -> Result<Part, Fault> {
        let unknown = || Fault::UnknownClass(name.to_owned());
        if let Some(read) = self.read.get(name) {
            return read.ok_or_else(unknown);
        }
        let (name, rows) = self.classes.class.get_key_value(name).ok_or_else(unknown)?;
        self.read.insert(name, None);
        let rows = self.choice(rows.iter().map(|row| Ok(row.as_str())))?;
        let class = Some(self.parts.classes);
        self.parts.classes += 1;
        let part = Part::Choice(Choice { rows, class });
        self.read.insert(name, Some(part));
        Ok(part)
    }

    fn unnamed<'a>(&mut self, rows: impl Iterator<Item = Result<&'a str, Fault>>) -> Result<Part, Fault> {
        let rows = self.choice(rows)?;
        Ok(Part::Choice(Choice { rows, class: None }))
    }

    fn choice<'a>(&mut self, rows: impl Iterator<Item = Result<&'a str, Fault>>) -> Result<Span, Fault> {
        let (first_row, first_word) = (self.open_rows.len(), self.open_words.len());
        // Rows of one word each stand together, in front, since a list of words is looked through at once.
        self.open_rows.push(Span::default());
        for row in rows {
            let row = row?;
            if is_words(row) {
                self.words(row)?;
                continue;
            }
            let row = self.row(row)?;
            match self.parts.row(row) {
                [Part::Words(list)] => self.open_words.extend_from_slice(self.parts.list(*list)),
                _ => self.open_rows.push(row),
            }
        }
        let mut from = first_row + 1;
        if self.open_words.len() > first_word {
            let words = self.close_words(first_word);
            self.open_rows[first_row] = self.parts.add_row([words]);
            from = first_row;
        }
        let rows = self.parts.add_rows(self.open_rows.drain(from..));
        self.open_rows.truncate(first_row);
        Ok(rows)
    }

    /// Reads words to choose from: each is put on top of those being read.
    fn words(&mut self, part: &str) -> Result<(), Fault> {
        for word in part.split('/') {
            let Some(base) = word.strip_suffix('+') else {
                self.word(word, part)?;
                continue;
            };
            self.word(base, part)?;
            let forms = self
                .classes
                .forms
                .get(base)
                .ok_or_else(|| Fault::UnknownClass(word.to_owned()))?;
            for form in forms.split_whitespace() {
                let number = self.parts.lexicon.number(form);
                self.open_words.push(number);
            }
        }
        Ok(())
    }

    fn word(&mut self, word: &str, part: &str) -> Result<(), Fault> {
        let stem = word.strip_suffix('*').unwrap_or(word);
        if stem.is_empty() || !stem.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()) {
            return Err(Fault::BadPart(part.to_owned()));
        }
        self.open_words.push(self.parts.lexicon.number(word));
        Ok(())
    }

    fn close_words(&mut self, from: usize) -> Part {
        let words = self.open_words.split_off(from);
        Part::Words(self.list(words))
    }

    /// The number of a list of words, which is added if no list is the same.
    fn list(&mut self, words: Vec<u32>) -> u32 {
        let parts = &mut self.parts;
        *self
            .lists
            .entry(words)
            .or_insert_with_key(|words| parts.add_list(words))
    }
}

/// Whether a row is words to choose from and nothing else, which most rows of a choice are.
fn is_words(row: &str) -> bool {
    !row.is_empty()
        && row
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || matches!(b, b'/' | b'+' | b'*'))
}

/// The pieces between marks that stand outside all brackets. A fault is the last piece.
fn split(row: &str, mark: u8) -> impl Iterator<Item = Result<&str, Fault>> {
    let mut rest = Some(row);
    std::iter::from_fn(move || {
        let text = rest.take()?;
        let mut depth = 0_u32;
        for (at, byte) in text.bytes().enumerate() {
            match byte {
                b'[' | b'{' => depth += 1,
                b']' | b'}' if depth == 0 => return Some(Err(Fault::Unclosed(row.to_owned()))),
                b']' | b'}' => depth -= 1,
                _ if byte == mark && depth == 0 => {
                    rest = Some(&text[at + 1..]);
                    return Some(Ok(&text[..at]));
                }
                _ => {}
            }
        }
        Some(if depth == 0 {
            Ok(text)
        } else {
            Err(Fault::Unclosed(row.to_owned()))
        })
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use std::sync::LazyLock;

    use super::*;

    /// A reader that knows no class.
    fn reader() -> Reader<'static> {
        static NONE: LazyLock<Classes> = LazyLock::new(Classes::default);
        Reader::new(&NONE)
    }

    fn fault(row: &str) -> Fault {
        reader().pattern(row).unwrap_err()
    }

    #[test]
    fn a_slash_list_with_a_space_inside_is_refused() {
        let row = "end/die/do it/goodbye";
        assert_eq!(fault(row), Fault::SideBySide(row.to_owned()));
        assert!(reader().row("[end|die|do it|goodbye]").is_ok());
        assert!(reader().row("kill/end [myself|himself]").is_ok());
    }

    #[test]
    fn a_bracket_too_few_or_too_many_is_refused() {
        for row in ["[end|die", "end]", "{want", "want}", "[a]b[c]", "a ]b[", "[a|[b]"] {
            assert!(
                matches!(fault(row), Fault::Unclosed(_)),
                "{row}: {:?}",
                fault(row)
            );
        }
        for row in ["End", "a//b", "~x", "*", "[a|B]"] {
            assert!(matches!(fault(row), Fault::BadPart(_)), "{row}: {:?}", fault(row));
        }
    }

    #[test]
    fn a_gap_at_the_end_is_refused_where_nothing_stands_after_it() {
        for row in ["end ~2", "[end|die] it? ~3"] {
            assert_eq!(fault(row), Fault::EndsInGap(row.to_owned()));
        }
        assert!(reader().pattern("[end ~2|die] it").is_ok());
    }

    #[test]
    fn a_class_that_is_made_of_itself_is_refused() {
        let mut classes = Classes::default();
        let rows = vec!["{want} to".to_owned()];
        classes.class.insert("want".to_owned(), rows);
        let fault = Reader::new(&classes).row("{want}").unwrap_err();
        assert_eq!(fault, Fault::UnknownClass("want".to_owned()));
    }

    #[test]
    fn blanks_around_a_word_of_a_choice_mean_nothing() {
        let read = |row: &str| {
            let mut reader = reader();
            let row = reader.row(row).unwrap();
            let parts = reader.into_parts();
            crate::safety::expression::expression(row, &parts)
        };
        assert_eq!(read("[ go | end/stop |be dead]"), read("[go|end|stop|be dead]"));
    }

    #[test]
    fn words_of_a_choice_stand_in_front_in_their_order() {
        let mut reader = reader();
        let row = reader.row("[go on|end/stop|it|be dead]").unwrap();
        let parts = reader.into_parts();
        let [Part::Choice(choice)] = parts.row(row) else {
            panic!("no choice")
        };
        let rows: Vec<&[Part]> = parts.rows(*choice).iter().map(|row| parts.row(*row)).collect();
        let [[Part::Words(first)], [_, _], [_, _]] = rows[..] else {
            panic!("{rows:?}")
        };
        let words: Vec<&str> = parts
            .list(*first)
            .iter()
            .map(|word| parts.lexicon.written(*word))
            .collect();
        assert_eq!(words, ["end", "stop", "it"]);
    }
}
