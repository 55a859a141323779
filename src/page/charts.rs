//! Small charts: counts, shares and pairs, each row with its numbers in words beside it.

use crate::page::Bars;
use crate::page::Block;
use crate::page::Ink;
use crate::page::Look;
use crate::page::Mark;
use crate::page::Pairs;
use crate::page::Role;
use crate::page::Ruler;
use crate::page::Shares;
use crate::page::lay::Sides;
use crate::page::lay::text;
use crate::page::lay::wrapped;
use crate::page::wording;
use crate::page::wrap::Measured;
use crate::page::wrap::POINT;

/// The size of a row's label, in points.
const LABEL: f32 = 10.0;
/// The size of its numbers in words, and of what a legend says, in points.
const SAYS: f32 = 9.0;
/// The height of a row, in millimetres.
const ROW: f32 = 6.2;

/// The heading of a figure, with this much room below it on the same side.
pub(in crate::page) fn heading(ruler: &impl Ruler, words: &str, keep: f32, sides: &mut Sides) {
    wrapped(
        ruler,
        words,
        &Role::Heading,
        (11.5, true, Ink::Words),
        keep,
        sides,
    );
    sides.down(1.0);
}

/// A row's label in as many lines as it needs, with room for the row and for `below`, what the numbers beside the drawing
/// need under its last line. The drawing stands at the height of that line.
fn label(ruler: &impl Ruler, words: &str, wide: f32, below: f32, sides: &mut Sides) -> Vec<Mark> {
    let measured = Measured::new(ruler, words, false);
    let lines = measured.wrap(ruler, LABEL, wide);
    let leading = LABEL * 1.25 * POINT;
    sides.want(ROW.max(lines.len().min(8) as f32 * leading + 2.0) + below);
    let mut marks = Vec::new();
    let many = lines.len();
    for (at, line) in lines.into_iter().enumerate() {
        if at > 0 {
            sides.down(leading);
            if sides.y() + leading > sides.bottom() {
                sides.push(Block {
                    role: Role::Entry,
                    marks: std::mem::take(&mut marks),
                });
                sides.next_column();
            }
        }
        let place = (sides.x(), sides.y() + LABEL * POINT);
        marks.push(text(&measured, line.range, place, LABEL, false, Ink::Words));
    }
    if many > 1 {
        sides.down(0.6);
    }
    marks
}

/// One row: its label, its drawing, and its numbers in words at the right.
fn row(
    ruler: &impl Ruler,
    words: &str,
    says: &str,
    sides: &mut Sides,
    draw: impl FnOnce(f32, f32, f32) -> Vec<Mark>,
) {
    let width = sides.column_width();
    let wide = (width * 0.3).min(56.0);
    let says = Measured::new(ruler, says, false);
    let says_wide = (width * 0.28).min(52.0);
    let said = says.wrap(ruler, SAYS, says_wide);
    let leading = SAYS * 1.2 * POINT;
    let below = said.len().saturating_sub(1) as f32 * leading;
    let mut marks = label(ruler, words, wide, below, sides);
    let start = sides.x() + wide + 2.0;
    let end = sides.x() + width - says_wide - 3.0;
    let y = sides.y();
    let drawn = draw(start, end, y + ROW / 2.0 - 0.6);
    for (at, line) in said.into_iter().enumerate() {
        if at > 0 {
            sides.down(leading);
        }
        let place = (end + 3.0, sides.y() + LABEL * POINT);
        marks.push(text(&says, line.range, place, SAYS, false, Ink::Quiet));
    }
    sides.push(Block {
        role: Role::Entry,
        marks,
    });
    sides.push(Block {
        role: Role::Backdrop,
        marks: drawn,
    });
    sides.down(ROW);
}

/// Counts by row: one bar after the other on a common scale.
pub(in crate::page) fn bars(ruler: &impl Ruler, bars: &Bars, sides: &mut Sides) {
    heading(ruler, &bars.heading, 30.0, sides);
    legend(ruler, bars, sides);
    let most = bars
        .rows
        .iter()
        .map(|(_, counts)| counts.iter().sum::<u32>())
        .max()
        .unwrap_or(0)
        .max(1);
    for (name, counts) in &bars.rows {
        let says: Vec<_> = bars
            .kinds
            .iter()
            .zip(counts)
            .filter(|(_, count)| **count > 0)
            .map(|((kind, _), count)| format!("{count} {kind}"))
            .collect();
        let says = if says.is_empty() {
            wording::none().to_owned()
        } else {
            says.join(", ")
        };
        row(ruler, name, &says, sides, |start, end, middle| {
            let unit = (end - start) / most as f32;
            let mut x = start;
            let mut marks = vec![Mark::line(
                (start, middle - 2.6),
                (start, middle + 2.6),
                Ink::Rule,
                0.25,
            )];
            for ((_, look), count) in bars.kinds.iter().zip(counts) {
                let wide = unit * *count as f32;
                if *count > 0 {
                    marks.extend(bar((x, middle - 2.0), (wide, 4.0), *look));
                }
                x += wide;
            }
            marks
        });
    }
    sides.down(3.0);
}

/// A bar in its look: filled, striped, outlined or dotted, so that it reads without colour.
fn bar((x, y): (f32, f32), (wide, tall): (f32, f32), look: Look) -> Vec<Mark> {
    let (fill, ink) = match look {
        Look::Toward => (Some(Ink::Toward), Ink::Toward),
        Look::Away => (Some(Ink::AwayGround), Ink::AwayText),
        Look::Plain | Look::Faint => (Some(Ink::Paper), Ink::Quiet),
    };
    let mut marks = vec![Mark::rectangle((x, y), (wide, tall), fill, Some((ink, 0.3)))];
    let mut at = x + 1.2;
    while at < x + wide - 0.2 && marks.len() < 200 {
        match look {
            Look::Away => {
                let reach = (at - x).min(tall);
                marks.push(Mark::line((at, y), (at - reach, y + reach), Ink::Away, 0.5));
            }
            Look::Faint => {
                let dot = Mark::Circle {
                    at: (at, y + tall / 2.0),
                    radius: 0.3,
                    fill: Some(ink),
                    stroke: None,
                };
                marks.push(dot);
            }
            Look::Toward | Look::Plain => break,
        }
        at += 1.6;
    }
    marks
}

/// Which look is which kind.
fn legend(ruler: &impl Ruler, bars: &Bars, sides: &mut Sides) {
    let signs = bars.kinds.iter().map(|(name, look)| {
        let sign = move |x: f32, y: f32| bar((x, y + 0.6), (5.0, 3.2), *look);
        (name.as_str(), sign)
    });
    signs_in_words(ruler, signs, (6.5, 5.5), sides);
}

/// Signs with their meanings beside each other, as many lines as they need. `before` is the room from a sign's left edge
/// to its words, and `after` the room from the words to the next sign.
fn signs_in_words<'w, S: Fn(f32, f32) -> Vec<Mark>>(
    ruler: &impl Ruler,
    signs: impl Iterator<Item = (&'w str, S)>,
    (before, after): (f32, f32),
    sides: &mut Sides,
) {
    sides.want(ROW);
    let mut x = sides.x();
    let (mut drawn, mut marks) = (Vec::new(), Vec::new());
    for (words, sign) in signs {
        let measured = Measured::new(ruler, words, false);
        let wide = before + measured.width(SAYS);
        if x > sides.x() && x + wide > sides.x() + sides.column_width() {
            sides.down(ROW);
            x = sides.x();
        }
        drawn.extend(sign(x, sides.y()));
        let place = (x + before, sides.y() + 3.4);
        marks.push(text(
            &measured,
            0..measured.text.len(),
            place,
            SAYS,
            false,
            Ink::Quiet,
        ));
        x += wide + after;
    }
    sides.push(Block {
        role: Role::Backdrop,
        marks: drawn,
    });
    sides.push(Block {
        role: Role::Text,
        marks,
    });
    sides.down(ROW);
}

/// Shares: a line from 0 to all, the interval as a thick part, the share as a dot.
pub(in crate::page) fn shares(ruler: &impl Ruler, shares: &Shares, sides: &mut Sides) {
    heading(ruler, &shares.heading, 20.0, sides);
    for share in &shares.rows {
        row(ruler, &share.label, &share.says(), sides, |start, end, middle| {
            let place = |part: f64| start + (end - start) * (narrow(part.clamp(0.0, 1.0)));
            let mut marks = vec![Mark::line((start, middle), (end, middle), Ink::Rule, 0.2)];
            for part in [0.0, 0.5, 1.0] {
                let x = place(part);
                marks.push(Mark::line((x, middle - 1.2), (x, middle + 1.2), Ink::Rule, 0.2));
            }
            if let Some((low, high)) = share.interval {
                marks.push(Mark::line(
                    (place(low), middle),
                    (place(high), middle),
                    Ink::Toward,
                    1.3,
                ));
                let at = (place(f64::from(share.count) / f64::from(share.of.max(1))), middle);
                let stroke = Some((Ink::Toward, 0.5));
                marks.push(Mark::Circle {
                    at,
                    radius: 1.4,
                    fill: Some(Ink::Paper),
                    stroke,
                });
            }
            marks
        });
    }
    sides.down(3.0);
}

/// Which sign is which end.
fn pairs_legend(ruler: &impl Ruler, pairs: &Pairs, sides: &mut Sides) {
    let signs = [
        (&pairs.ends.0, first_sign as fn(f32, f32) -> Mark),
        (&pairs.ends.1, second_sign),
    ];
    let signs = signs.into_iter().map(|(name, sign)| {
        let sign = move |x: f32, y: f32| vec![sign(x + 1.6, y + 2.2)];
        (name.as_str(), sign)
    });
    signs_in_words(ruler, signs, (4.5, 5.5), sides);
}

fn first_sign(x: f32, y: f32) -> Mark {
    Mark::rectangle(
        (x - 1.5, y - 1.5),
        (3.0, 3.0),
        Some(Ink::Paper),
        Some((Ink::AwayText, 0.5)),
    )
}

fn second_sign(x: f32, y: f32) -> Mark {
    Mark::Circle {
        at: (x, y),
        radius: 1.2,
        fill: Some(Ink::Toward),
        stroke: None,
    }
}

/// Pairs from 0 to 10: the first an open square, the second a filled circle, joined by a line.
pub(in crate::page) fn pairs(ruler: &impl Ruler, pairs: &Pairs, sides: &mut Sides) {
    heading(ruler, &pairs.heading, 20.0, sides);
    pairs_legend(ruler, pairs, sides);
    for (name, first, second) in &pairs.rows {
        let says = format!("{} {first}, {} {second}", pairs.ends.0, pairs.ends.1);
        row(ruler, name, &says, sides, |start, end, middle| {
            let place = |value: u8| start + (end - start) * f32::from(value.min(10)) / 10.0;
            let mut marks = vec![Mark::line((start, middle), (end, middle), Ink::Rule, 0.2)];
            for value in 0..=10 {
                let tall = if value % 5 == 0 { 1.2 } else { 0.6 };
                let x = place(value);
                marks.push(Mark::line((x, middle - tall), (x, middle + tall), Ink::Rule, 0.2));
            }
            let (one, two) = (place(*first), place(*second));
            marks.push(Mark::line((one, middle), (two, middle), Ink::Quiet, 0.7));
            marks.extend([first_sign(one, middle), second_sign(two, middle)]);
            marks
        });
    }
    sides.down(3.0);
}

/// A share between 0 and 1, in the precision of places on paper.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a share between 0 and 1 loses digits that no eye sees"
)]
fn narrow(part: f64) -> f32 {
    part as f32
}
