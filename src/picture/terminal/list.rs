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
use crate::picture::terminal::rows::Rows;

/// Adds an entry: its number or a sign, its words folded beside it, its notes after or below them.
pub(in crate::picture::terminal) fn add_item(rows: &mut Rows, item: &Item, columns: usize, screen: &Screen) {
    let number = item.number.map(|number| format!("{number:>2} "));
    let sign = match &number {
        Some(number) => number,
        None if screen.unicode && !screen.plain => " • ",
        None => " - ",
    };
    let indent = width(sign);
    let room = columns.saturating_sub(indent);
    // Most entries are one short line, and there may be thousands.
    if item.notes.is_empty() && fits(&item.words, room) {
        rows.push(Ink::Words, &[sign, item.words.trim_end()]);
        return;
    }
    let mut lines = fold(&item.words, room);
    let mut below = Vec::new();
    if !item.notes.is_empty() {
        let notes = format!("({})", item.notes.join("; "));
        match lines.last_mut() {
            Some(last) if width(last) + 1 + width(&notes) <= room => {
                last.push(' ');
                last.push_str(&notes);
            }
            _ => below = fold(&notes, room),
        }
    }
    let blank = " ".repeat(indent);
    let mut before = sign;
    for (lines, ink) in [(lines, Ink::Words), (below, Ink::Quiet)] {
        for line in lines {
            rows.push(ink, &[before, &line]);
            before = &blank;
        }
    }
}

/// Entries below each other.
pub(in crate::picture::terminal) fn items(items: &[Item], screen: &Screen) -> Vec<String> {
    let mut rows = Rows::default();
    for item in items {
        add_item(&mut rows, item, screen.columns, screen);
    }
    rows.iter().map(|(row, ink)| dyed(row, ink, screen)).collect()
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
        out.extend(items(&corner.items, screen));
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
