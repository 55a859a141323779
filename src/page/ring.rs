//! A loop as a ring: numbered stops joined by arrows, and what each stop is beside it.

use std::f32::consts::TAU;

use crate::page::Block;
use crate::page::Ink;
use crate::page::Item;
use crate::page::Mark;
use crate::page::Ring;
use crate::page::Role;
use crate::page::Ruler;
use crate::page::charts::heading;
use crate::page::entry::Column;
use crate::page::entry::MeasuredItem;
use crate::page::entry::SetItem;
use crate::page::entry::fill;
use crate::page::lay::Sides;
use crate::page::lay::wrapped;
use crate::page::wording;

/// The size of the words beside the ring, in points.
const LABEL: f32 = 10.0;

/// A loop: a ring of numbered stops, and what each stop is beside it.
pub(in crate::page) fn ring(ruler: &impl Ruler, ring: &Ring, sides: &mut Sides) {
    if !ring.heading.is_empty() {
        heading(ruler, &ring.heading, 50.0, sides);
    }
    let radius = 17.0;
    let picture = 2.0 * radius + 14.0;
    let width = sides.column_width();
    let items: Vec<_> = ring
        .stops
        .iter()
        .enumerate()
        .map(|(at, stop)| {
            let words = format!("{}: {}", stop.role, stop.words);
            let item = Item {
                number: Some(at + 1),
                words,
                notes: Vec::new(),
            };
            MeasuredItem::new(ruler, &item).set(ruler, LABEL, width - picture)
        })
        .collect();
    let tall: f32 = items.iter().map(SetItem::height).sum();
    sides.want((2.0 * radius + 8.0).max(tall.min(100.0)));
    let (x, y) = (sides.x(), sides.y());
    let alt = wording::ring_alt(ring.stops.len(), ring.closes);
    sides.push(Block {
        role: Role::Figure(alt),
        marks: ring_marks(ring, (x + radius + 5.0, y + radius + 5.0), radius),
    });
    let side = sides.column_index();
    let mut below = y + 2.0;
    for (item, stop) in items.into_iter().zip(&ring.stops) {
        // A loop told in very many words goes on below the ring, and then in the next column.
        if below + item.height() > sides.bottom() && below > Sides::top() + 1.0 {
            sides.next_column();
            below = Sides::top();
        }
        let height = item.height();
        let mut waiting = vec![item];
        while !waiting.is_empty() {
            let column = Column {
                x: sides.x() + picture,
                top: below,
                bottom: sides.bottom(),
            };
            let (blocks, rest) = fill(waiting, &[column], Some(stop.away));
            sides.extend(blocks);
            below += height;
            waiting = rest;
            if !waiting.is_empty() {
                sides.next_column();
                below = Sides::top();
            }
        }
    }
    let foot = if sides.column_index() == side {
        (y + 2.0 * radius + 10.0).max(below)
    } else {
        below
    };
    sides.down(foot - sides.y() + 1.0);
    if ring.closes {
        wrapped(
            ruler,
            wording::back_to_one(),
            &Role::Text,
            (LABEL, false, Ink::Quiet),
            0.0,
            sides,
        );
    }
    for note in &ring.notes {
        wrapped(ruler, note, &Role::Text, (LABEL, false, Ink::Words), 0.0, sides);
    }
    sides.down(4.0);
}

/// The ring: an arc from each stop to the next with an arrow at its end, and a numbered sign at each stop.
fn ring_marks(ring: &Ring, (cx, cy): (f32, f32), radius: f32) -> Vec<Mark> {
    let count = ring.stops.len().max(1);
    let angle = |at: f32| (at / count as f32) * TAU - TAU / 4.0;
    let point = |a: f32, r: f32| (cx + r * a.cos(), cy + r * a.sin());
    let sign = 3.4;
    let clear = (sign + 1.4) / radius;
    let mut marks = Vec::new();
    for at in 0..count {
        if at + 1 == count && !ring.closes {
            break;
        }
        let (from, to) = (angle(at as f32) + clear, angle((at + 1) as f32) - clear);
        let steps = 24;
        let tip_back = 2.2 / radius;
        let arc =
            (0..=steps).map(|step| point(from + (to - tip_back - from) * step as f32 / steps as f32, radius));
        let stroke = Some((Ink::Rule, 0.6));
        marks.push(Mark::Path {
            points: arc.collect(),
            closed: false,
            fill: None,
            stroke,
        });
        let base = to - tip_back - 0.4 / radius;
        let head = vec![
            point(to, radius),
            point(base, radius - 1.4),
            point(base, radius + 1.4),
        ];
        marks.push(Mark::Path {
            points: head,
            closed: true,
            fill: Some(Ink::Rule),
            stroke: None,
        });
    }
    for (at, stop) in ring.stops.iter().enumerate() {
        let (x, y) = point(angle(at as f32), radius);
        let ink = if stop.away { Ink::AwayText } else { Ink::Toward };
        let stroke = Some((ink, 0.6));
        marks.push(if stop.away {
            Mark::rectangle(
                (x - sign * 0.9, y - sign * 0.9),
                (sign * 1.8, sign * 1.8),
                Some(Ink::Paper),
                stroke,
            )
        } else {
            Mark::Circle {
                at: (x, y),
                radius: sign,
                fill: Some(Ink::Paper),
                stroke,
            }
        });
        let words = (at + 1).to_string();
        let dx = 1.02 * words.len() as f32;
        marks.push(Mark::Text {
            x: x - dx,
            y: y + 1.25,
            size: 10.0,
            bold: true,
            ink,
            words,
            rtl: false,
        });
    }
    marks
}
