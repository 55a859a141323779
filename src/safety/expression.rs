//! From a pattern in the notation to a regular expression.

use crate::safety::notation::Part;

/// The regular expression of a pattern, for text in which every word has one space before it.
pub(super) fn expression(parts: &[Part]) -> String {
    let mut out = String::from("(?-u)");
    write_row(parts, &mut out);
    out.push_str(r"\b");
    out
}

fn write_row(parts: &[Part], out: &mut String) {
    for part in parts {
        write_part(part, out);
    }
}

fn write_part(part: &Part, out: &mut String) {
    match part {
        Part::Words(words) => {
            write_alternatives(words.iter().map(|word| Alternative::of_word(&word.written)), out);
        }
        Part::Choice(choice) => {
            write_alternatives(choice.rows.iter().map(|row| Alternative::of_row(row)), out);
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
            write_part(inner, out);
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

    fn of_row(row: &[Part]) -> Self {
        let mut literal = String::new();
        for part in row {
            match part {
                Part::Words(words) if words.len() == 1 && !words[0].written.ends_with('*') => {
                    literal.push(' ');
                    literal.push_str(&words[0].written);
                }
                _ => {
                    let mut other = String::new();
                    write_row(row, &mut other);
                    return Self::Other(other);
                }
            }
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
