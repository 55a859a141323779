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
use crate::picture::terminal::list::item_lines;

/// The rows of the picture.
pub(in crate::picture::terminal) fn rows(fields: &Fields, screen: &Screen) -> Vec<String> {
    let half = (screen.columns - 3) / 2;
    let corner = |place: Place| {
        let found = fields.corners.iter().find(|corner| corner.place == place);
        found.map_or_else(Vec::new, |corner| corner_rows(corner, half, screen))
    };
    let across = 2 * half + 3;
    let mut out = Vec::new();
    out.push(dyed(
        centred(&fields.above, across).trim_end(),
        Ink::Quiet,
        screen,
    ));
    out.extend(beside(&corner(Place::Away), &corner(Place::Toward), half, screen));
    out.push(middle(fields, half, screen));
    out.extend(beside(
        &corner(Place::Inner),
        &corner(Place::Matters),
        half,
        screen,
    ));
    out.push(dyed(
        centred(&fields.below, across).trim_end(),
        Ink::Quiet,
        screen,
    ));
    if !fields.key.is_empty() {
        out.push(String::new());
        out.extend(
            fold(&fields.key, across)
                .iter()
                .map(|line| dyed(line, Ink::Quiet, screen)),
        );
    }
    out
}

/// One line of a corner: its text, and the ink it has.
type Row = (String, Ink);

fn corner_rows(corner: &Corner, half: usize, screen: &Screen) -> Vec<Row> {
    let ink = if corner.place.is_left() {
        Ink::Away
    } else {
        Ink::Toward
    };
    let heading = fold(&corner.heading, half).into_iter();
    let mut rows: Vec<Row> = heading.map(|line| (line, ink)).collect();
    if !corner.guide.is_empty() {
        rows.extend(
            fold(&corner.guide, half)
                .into_iter()
                .map(|line| (line, Ink::Quiet)),
        );
    }
    for item in &corner.items {
        rows.extend(item_lines(item, half, screen));
    }
    rows.extend((0..corner.lines).map(|_| ("_".repeat(half.saturating_sub(1)), Ink::Quiet)));
    rows
}

/// Two corners beside each other, with the line down between them.
fn beside<'r>(left: &'r [Row], right: &'r [Row], half: usize, screen: &Screen) -> Vec<String> {
    let bar = if screen.unicode { "│" } else { "|" };
    let count = left.len().max(right.len()) + 1;
    let at = |rows: &'r [Row], row: usize| rows.get(row).map_or(("", Ink::Words), |(text, ink)| (text, *ink));
    (0..count)
        .map(|row| {
            let ((left, left_ink), (right, right_ink)) = (at(left, row), at(right, row));
            let mut line = String::with_capacity(half + right.len() + 48);
            // The dye goes on before the padding, so that no colour runs into empty space.
            dye(&mut line, left, left_ink, screen);
            line.extend(iter::repeat_n(' ', half.saturating_sub(width(left)) + 1));
            line.push_str(bar);
            line.push(' ');
            dye(&mut line, right, right_ink, screen);
            line.truncate(line.trim_end().len());
            line
        })
        .collect()
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
