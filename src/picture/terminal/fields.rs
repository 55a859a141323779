//! The four fields side by side: two crossing lines of box-drawing, the noticing place in the middle.

use std::iter;

use crate::page::Corner;
use crate::page::Fields;
use crate::page::Place;
use crate::picture::terminal::Screen;
use crate::picture::terminal::fold::centred;
use crate::picture::terminal::fold::fold;
use crate::picture::terminal::fold::width;
use crate::picture::terminal::ink::Ink;
use crate::picture::terminal::ink::dye;
use crate::picture::terminal::ink::dyed;
use crate::picture::terminal::list::add_item;
use crate::picture::terminal::rows::Rows;

/// Draws the picture behind what is in `out` already, with a line break after each row.
pub(in crate::picture::terminal) fn draw(fields: &Fields, screen: &Screen, out: &mut String) {
    let half = (screen.columns - 3) / 2;
    let across = 2 * half + 3;
    let corner = |place: Place| {
        let found = fields.corners.iter().find(|corner| corner.place == place);
        found.map_or_else(Rows::default, |corner| corner_rows(corner, half, screen))
    };
    let quiet = |words: &str, out: &mut String| {
        dye(out, words, Ink::Quiet, screen);
        out.push('\n');
    };
    quiet(centred(&fields.above, across).trim_end(), out);
    beside(&corner(Place::Away), &corner(Place::Toward), half, screen, out);
    out.push_str(&middle(fields, half, screen));
    out.push('\n');
    beside(&corner(Place::Inner), &corner(Place::Matters), half, screen, out);
    quiet(centred(&fields.below, across).trim_end(), out);
    if !fields.key.is_empty() {
        out.push('\n');
        for line in fold(&fields.key, across) {
            quiet(&line, out);
        }
    }
}

fn corner_rows(corner: &Corner, half: usize, screen: &Screen) -> Rows {
    let ink = if corner.place.is_left() {
        Ink::Away
    } else {
        Ink::Toward
    };
    let mut rows = Rows::default();
    for line in fold(&corner.heading, half) {
        rows.push(ink, &[&line]);
    }
    if !corner.guide.is_empty() {
        for line in fold(&corner.guide, half) {
            rows.push(Ink::Quiet, &[&line]);
        }
    }
    for item in &corner.items {
        add_item(&mut rows, item, half, screen);
    }
    let line = "_".repeat(half.saturating_sub(1));
    for _ in 0..corner.lines {
        rows.push(Ink::Quiet, &[&line]);
    }
    rows
}

/// Two corners beside each other, with the line down between them, and an empty row below.
fn beside(left: &Rows, right: &Rows, half: usize, screen: &Screen, out: &mut String) {
    let bar = if screen.unicode { "│ " } else { "| " };
    let count = left.len().max(right.len()) + 1;
    out.reserve(count * (half + bar.len() + 2) + right.text().len());
    let (mut left, mut right) = (left.iter(), right.iter());
    for _ in 0..count {
        let (left, left_ink) = left.next().unwrap_or(("", Ink::Words));
        let (right, right_ink) = right.next().unwrap_or(("", Ink::Words));
        // The dye goes on before the padding, so that no colour runs into empty space.
        dye(out, left, left_ink, screen);
        out.extend(iter::repeat_n(' ', half.saturating_sub(width(left)) + 1));
        out.push_str(bar);
        dye(out, right, right_ink, screen);
        out.truncate(out.trim_end_matches(' ').len());
        out.push('\n');
    }
}

/// The line across, with its two ends and the noticing place in the middle.
fn middle(fields: &Fields, half: usize, screen: &Screen) -> String {
    let (dash, left, right) = if screen.unicode {
        ("─", "◂ ", " ▸")
    } else {
        ("-", "< ", " >")
    };
    let centre = format!("( {} )", fields.centre);
    let away = format!("{left}{} ", fields.left);
    let toward = format!(" {}{right}", fields.right);
    let across = 2 * half + 3;
    let lines = across.saturating_sub(width(&centre) + 2);
    // The noticing place sits on the line down, which stands after the left half and a space.
    let before = (half + 1).saturating_sub(width(&centre) / 2 + 1);
    let after = lines.saturating_sub(before);
    format!(
        "{}{} {} {}{}",
        dyed(&away, Ink::Away, screen),
        dash.repeat(before.saturating_sub(width(&away))),
        dyed(&centre, Ink::Strong, screen),
        dash.repeat(after.saturating_sub(width(&toward))),
        dyed(&toward, Ink::Toward, screen),
    )
}
