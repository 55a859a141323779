//! From a pattern in the notation to a regular expression.

use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;

/// The regular expression of a pattern, for text in which every word has one space before it.
pub(super) fn expression(pattern: Span, parts: &Parts) -> String {
    let mut out = String::from("(?-u)");
    write_row(pattern, parts, &mut out);
    out.push_str(r"\b");
    out
}

fn write_row(row: Span, parts: &Parts, out: &mut String) {
    for part in parts.row(row) {
        write_part(*part, parts, out);
    }
}

fn write_part(part: Part, parts: &Parts, out: &mut String) {
    match part {
        Part::Words(list) => {
            let words = parts.list(list).iter();
            write_alternatives(
                words.map(|word| Alternative::of_word(parts.lexicon.written(*word))),
                out,
            );
        }
        Part::Choice(choice) => {
            let rows = parts.rows(choice).iter();
            write_alternatives(rows.map(|row| Alternative::of_row(*row, parts)), out);
        }
        Part::Start => out.push('^'),
        Part::End => out.push('$'),
        Part::Gap(most) => {
            out.push_str("(?: [a-z0-9]+){0,");
            out.push_str(&most.to_string());
            out.push_str("}?");
        }
        Part::Maybe(inner) => {
            out.push_str("(?:");
            write_row(inner, parts, out);
            out.push_str(")?");
        }
    }
}

/// One way through a part: plain words, or anything else.
enum Alternative {
    Literal(String),
    Other(String),
}

impl Alternative {
    fn of_word(word: &str) -> Self {
        match word.strip_suffix('*') {
            Some(stem) => Self::Other(format!(" {stem}[a-z0-9]*")),
            None => Self::Literal(format!(" {word}")),
        }
    }

    fn of_row(row: Span, parts: &Parts) -> Self {
        let mut literal = String::new();
        for part in parts.row(row) {
            let only = match part {
                Part::Words(list) => match parts.list(*list) {
                    [word] => Some(parts.lexicon.written(*word)).filter(|word| !word.ends_with('*')),
                    _ => None,
                },
                _ => None,
            };
            let Some(word) = only else {
                let mut other = String::new();
                write_row(row, parts, &mut other);
                return Self::Other(other);
            };
            literal.push(' ');
            literal.push_str(word);
        }
        Self::Literal(literal)
    }
}

/// Plain words stand together in one list with one end of word after it: the compiler folds such a list into a tree,
/// which takes a fraction of the time and room of as many alternatives with an end each.
fn write_alternatives(alternatives: impl Iterator<Item = Alternative>, out: &mut String) {
    let (mut literals, mut others) = (Vec::new(), Vec::new());
    for one in alternatives {
        match one {
            Alternative::Literal(words) => literals.push(words),
            Alternative::Other(expression) => others.push(expression),
        }
    }
    out.push_str("(?:");
    if !literals.is_empty() {
        out.push_str("(?:");
        out.push_str(&literals.join("|"));
        out.push_str(r")\b");
        if !others.is_empty() {
            out.push('|');
        }
    }
    out.push_str(&others.join("|"));
    out.push(')');
}
