//! Pages as a list: for narrow screens, and for screens that are read aloud.

use crate::page::Fields;
use crate::page::Item;
use crate::page::nothing_yet;
use crate::picture::terminal::Screen;
use crate::picture::terminal::fold::fits;
use crate::picture::terminal::fold::fold;
use crate::picture::terminal::fold::width;
use crate::picture::terminal::ink::Ink;
use crate::picture::terminal::ink::dyed;

/// An entry: its number or a sign, its words folded beside it, its notes after or below them.
pub(in crate::picture::terminal) fn item_lines(
    item: &Item,
    columns: usize,
    screen: &Screen,
) -> Vec<(String, Ink)> {
    let sign = match item.number {
        Some(number) => format!("{number:>2} "),
        None if screen.unicode && !screen.plain => " • ".to_owned(),
        None => " - ".to_owned(),
    };
    let indent = width(&sign);
    let room = columns.saturating_sub(indent);
    let notes = if item.notes.is_empty() {
        String::new()
    } else {
        format!("({})", item.notes.join("; "))
    };
    // Most entries are one short line, and there may be thousands.
    if notes.is_empty() && fits(&item.words, room) {
        return vec![(sign + item.words.trim_end(), Ink::Words)];
    }
    let mut lines = fold(&item.words, room);
    let mut below = Vec::new();
    if !notes.is_empty() {
        match lines.last_mut() {
            Some(last) if width(last) + 1 + width(&notes) <= room => {
                last.push(' ');
                last.push_str(&notes);
            }
            _ => below = fold(&notes, room),
        }
    }
    let mut before = sign;
    let mut out = Vec::new();
    for (lines, ink) in [(lines, Ink::Words), (below, Ink::Quiet)] {
        for line in lines {
            out.push((format!("{before}{line}"), ink));
            before = " ".repeat(indent);
        }
    }
    out
}

/// The four fields below each other, each thing once.
pub(in crate::picture::terminal) fn fields(fields: &Fields, screen: &Screen) -> Vec<String> {
    let mut out = Vec::new();
    for (at, corner) in fields.corners.iter().enumerate() {
        if at > 0 {
            out.push(String::new());
        }
        let ink = if corner.place.is_left() {
            Ink::Away
        } else {
            Ink::Toward
        };
        out.extend(
            fold(&corner.heading, screen.columns)
                .iter()
                .map(|line| dyed(line, ink, screen)),
        );
        if !corner.guide.is_empty() {
            out.extend(
                fold(&corner.guide, screen.columns)
                    .iter()
                    .map(|line| dyed(line, Ink::Quiet, screen)),
            );
        }
        for item in &corner.items {
            let lines = item_lines(item, screen.columns, screen);
            out.extend(lines.iter().map(|(line, ink)| dyed(line, *ink, screen)));
        }
        if corner.items.is_empty() && corner.lines == 0 {
            out.push(format!(" - {}", nothing_yet()));
        }
        out.extend((0..corner.lines).map(|_| "_".repeat(screen.columns.min(40))));
    }
    if !fields.key.is_empty() {
        out.push(String::new());
        out.extend(
            fold(&fields.key, screen.columns)
                .iter()
                .map(|line| dyed(line, Ink::Quiet, screen)),
        );
    }
    out
}
