//! Pages as lines: plain text that reads well aloud, and Markdown.

use std::fmt::Write;

use crate::page::Item;
use crate::page::Page;
use crate::page::Part;
use crate::page::back_to_one;
use crate::picture::terminal::shown;

/// One line of a page, before it is dressed for a form.
pub(in crate::picture) enum Line {
    /// A heading of this depth, 2 or 3; the title is 1.
    Heading(u8, String),
    /// A paragraph.
    Text(String),
    /// A list entry: number, words, notes.
    Entry(Option<usize>, String, String),
    /// An empty line to write on.
    Blank,
}

/// The page as lines in reading order, every word shown safely.
pub(in crate::picture) fn lines(page: &Page) -> Vec<Line> {
    let mut out = Vec::new();
    for part in &page.parts {
        add(&mut out, part);
    }
    out
}

fn add(out: &mut Vec<Line>, part: &Part) {
    match part {
        Part::Heading(words) => out.push(Line::Heading(2, shown(words))),
        Part::Text(words) => out.push(Line::Text(shown(words))),
        Part::List(items) => out.extend(items.iter().map(entry)),
        Part::Lines(count) => out.extend((0..*count).map(|_| Line::Blank)),
        Part::Fields(fields) => {
            for corner in &fields.corners {
                out.push(Line::Heading(2, shown(&corner.heading)));
                if !corner.guide.is_empty() {
                    out.push(Line::Text(shown(&corner.guide)));
                }
                out.extend(corner.items.iter().map(entry));
                out.extend((0..corner.lines).map(|_| Line::Blank));
            }
            if !fields.key.is_empty() {
                out.push(Line::Text(shown(&fields.key)));
            }
        }
        Part::Ring(ring) => {
            if !ring.heading.is_empty() {
                out.push(Line::Heading(3, shown(&ring.heading)));
            }
            for (at, stop) in ring.stops.iter().enumerate() {
                let words = format!("{}: {}", shown(&stop.role), shown(&stop.words));
                out.push(Line::Entry(Some(at + 1), words, String::new()));
            }
            if ring.closes {
                out.push(Line::Text(back_to_one().to_owned()));
            }
            out.extend(ring.notes.iter().map(|note| Line::Text(shown(note))));
        }
        Part::Bars(bars) => {
            out.push(Line::Heading(3, shown(&bars.heading)));
            for (label, counts) in &bars.rows {
                let counts: Vec<_> = bars
                    .kinds
                    .iter()
                    .zip(counts)
                    .map(|((kind, _), count)| format!("{} {count}", shown(kind)))
                    .collect();
                out.push(Line::Entry(
                    None,
                    format!("{}: {}", shown(label), counts.join(", ")),
                    String::new(),
                ));
            }
        }
        Part::Shares(shares) => {
            out.push(Line::Heading(3, shown(&shares.heading)));
            for share in &shares.rows {
                let words = format!("{}: {}", shown(&share.label), share.says());
                out.push(Line::Entry(None, words, String::new()));
            }
        }
        Part::Pairs(pairs) => {
            out.push(Line::Heading(3, shown(&pairs.heading)));
            for (label, first, second) in &pairs.rows {
                let (one, two) = &pairs.ends;
                let words = format!(
                    "{}: {} {first}, {} {second}",
                    shown(label),
                    shown(one),
                    shown(two)
                );
                out.push(Line::Entry(None, words, String::new()));
            }
        }
    }
}

fn entry(item: &Item) -> Line {
    let notes: Vec<_> = item.notes.iter().map(|note| shown(note)).collect();
    Line::Entry(item.number, shown(&item.words), notes.join("; "))
}

/// The page as plain text: every thing once, in reading order, no drawing signs.
#[must_use]
pub fn plain(page: &Page) -> String {
    let mut out = shown(&page.title);
    if let Some(date) = page.date {
        let _ = write!(out, "\n{date}");
    }
    out.push('\n');
    let mut after_entry = false;
    for line in lines(page) {
        let is_entry = matches!(line, Line::Entry(..) | Line::Blank);
        if !is_entry || !after_entry && matches!(line, Line::Blank) {
            out.push('\n');
        }
        match line {
            Line::Heading(_, words) | Line::Text(words) => out.push_str(&words),
            Line::Entry(number, words, notes) => {
                let _ = match number {
                    Some(number) => write!(out, "{number}. {words}"),
                    None => write!(out, "- {words}"),
                };
                if !notes.is_empty() {
                    let _ = write!(out, " ({notes})");
                }
            }
            Line::Blank => out.push_str("________________"),
        }
        out.push('\n');
        after_entry = is_entry;
    }
    out
}

/// The page as Markdown (`CommonMark`): headings, lists, nothing else. Signs that mean something to Markdown are
/// escaped in the person's words.
#[must_use]
pub fn markdown(page: &Page) -> String {
    let mut out = format!("# {}\n", escaped(&shown(&page.title)));
    if let Some(date) = page.date {
        let _ = write!(out, "\n{date}\n");
    }
    let mut after_entry = false;
    for line in lines(page) {
        let is_entry = matches!(line, Line::Entry(..) | Line::Blank);
        if !(is_entry && after_entry) {
            out.push('\n');
        }
        match line {
            Line::Heading(depth, words) => {
                let _ = write!(out, "{} {}", "#".repeat(usize::from(depth)), escaped(&words));
            }
            Line::Text(words) => out.push_str(&escaped(&words)),
            Line::Entry(number, words, notes) => {
                out.push_str("- ");
                if let Some(number) = number {
                    let _ = write!(out, "({number}) ");
                }
                out.push_str(&escaped(&words));
                if !notes.is_empty() {
                    let _ = write!(out, " *({})*", escaped(&notes));
                }
            }
            Line::Blank => out.push_str("- \\_\\_\\_\\_\\_\\_\\_\\_"),
        }
        out.push('\n');
        after_entry = is_entry;
    }
    out
}

/// Escapes every ASCII punctuation sign that can start or end Markdown (`CommonMark` 0.31.2, section 2.4).
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for sign in words.chars() {
        if "\\`*_{}[]<>()#+-.!|~&=:\"'$%,/;?@^".contains(sign) {
            out.push('\\');
        }
        out.push(sign);
    }
    out
}
