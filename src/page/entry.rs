//! Entries on paper: each with its small number or sign, its words wrapped, its notes beside or below them.

use std::ops::Range;

use crate::page::Block;
use crate::page::Ink;
use crate::page::Item;
use crate::page::Mark;
use crate::page::Role;
use crate::page::Ruler;
use crate::page::wrap::Line;
use crate::page::wrap::Measured;
use crate::page::wrap::POINT;

/// How far one line's baseline is below the last one's, in units of the letters' size.
pub(in crate::page) const LEADING: f32 = 1.24;
/// How far the first baseline is below the top, in the same units.
pub(in crate::page) const ASCENT: f32 = 0.95;
/// Room for the number before the words, in the same units.
const INDENT: f32 = 2.1;
/// Room between entries, in the same units.
const GAP: f32 = 0.38;
/// The size of notes beside the words.
const NOTE: f32 = 0.78;

/// An entry measured once, to be set at any size.
pub(in crate::page) struct MeasuredItem {
    number: Option<usize>,
    words: Measured,
    notes: Option<Measured>,
}

/// An entry set at a size: rows that may be dealt out over columns.
pub(in crate::page) struct SetItem {
    number: Option<usize>,
    /// Whether its beginning stands in another column.
    continued: bool,
    size: f32,
    rows: Vec<Row>,
}

/// One line of text, or two texts on one line.
struct Row {
    texts: Vec<Bit>,
    height: f32,
}

struct Bit {
    dx: f32,
    size: f32,
    ink: Ink,
    words: String,
    rtl: bool,
}

impl MeasuredItem {
    pub(in crate::page) fn new(ruler: &impl Ruler, item: &Item) -> Self {
        let notes = item.notes.join("; ");
        Self {
            number: item.number,
            words: Measured::new(ruler, &item.words, false),
            notes: (!notes.is_empty()).then(|| Measured::new(ruler, &notes, false)),
        }
    }

    /// Sets the entry at a size in points, in a width in millimetres.
    pub(in crate::page) fn set(&self, ruler: &impl Ruler, size: f32, width: f32) -> SetItem {
        let unit = size * POINT;
        let indent = INDENT * unit;
        let room = width - indent;
        let lines = self.words.wrap(ruler, size, room);
        let widest = lines.iter().map(|line| line.width).fold(0.0, f32::max);
        let mut rows: Vec<Row> = lines
            .iter()
            .map(|line| {
                let words = self.words.text[line.range.clone()].to_owned();
                // Lines that run from right to left share their right edge.
                let dx = indent + if self.words.rtl { widest - line.width } else { 0.0 };
                let bit = Bit {
                    dx,
                    size,
                    ink: Ink::Words,
                    words,
                    rtl: self.words.rtl,
                };
                Row {
                    texts: vec![bit],
                    height: LEADING * unit,
                }
            })
            .collect();
        if let Some(notes) = &self.notes {
            self.set_notes(ruler, notes, size, room, &lines, &mut rows);
        }
        SetItem {
            number: self.number,
            continued: false,
            size,
            rows,
        }
    }

    fn set_notes(
        &self,
        ruler: &impl Ruler,
        notes: &Measured,
        size: f32,
        room: f32,
        lines: &[Line],
        rows: &mut Vec<Row>,
    ) {
        let unit = size * POINT;
        let indent = INDENT * unit;
        let small = (size * NOTE).max(6.5);
        let bit = |dx: f32, range: Range<usize>| {
            let words = notes.text[range].to_owned();
            Bit {
                dx,
                size: small,
                ink: Ink::Quiet,
                words,
                rtl: notes.rtl,
            }
        };
        let used = lines.last().map_or(0.0, |line| line.width);
        let gap = 0.7 * unit;
        if !self.words.rtl && used + gap + notes.width(small) <= room {
            if let Some(last) = rows.last_mut() {
                last.texts.push(bit(indent + used + gap, 0..notes.text.len()));
            }
        } else {
            for line in notes.wrap(ruler, small, room) {
                rows.push(Row {
                    texts: vec![bit(indent, line.range)],
                    height: LEADING * small * POINT,
                });
            }
        }
    }
}

impl SetItem {
    pub(in crate::page) fn height(&self) -> f32 {
        self.rows.iter().map(|row| row.height).sum::<f32>() + GAP * self.size * POINT
    }

    /// Takes the rows that fit in a height off the front, as an entry of their own. `None` when not even one fits.
    fn take(&mut self, height: f32) -> Option<Self> {
        let mut sum = 0.0;
        let fits = self.rows.iter().take_while(|row| {
            sum += row.height;
            sum <= height
        });
        let count = fits.count();
        (count > 0).then(|| {
            let rows = self.rows.drain(..count).collect();
            let continued = std::mem::replace(&mut self.continued, true);
            Self {
                number: self.number.take(),
                continued,
                size: self.size,
                rows,
            }
        })
    }

    /// The marks, with the upper left corner at a place; `left_side` chooses the sign before the words.
    pub(in crate::page) fn block(&self, (x, y): (f32, f32), left_side: Option<bool>) -> Block {
        let unit = self.size * POINT;
        let mut marks = Vec::new();
        if !self.continued {
            marks.extend(sign(
                self.number,
                (x, y + (ASCENT - 0.33) * unit),
                self.size,
                left_side,
            ));
        }
        let mut top = y;
        for row in &self.rows {
            for bit in &row.texts {
                let baseline = top + ASCENT * row.texts[0].size * POINT;
                marks.push(Mark::Text {
                    x: x + bit.dx,
                    y: baseline,
                    size: bit.size,
                    bold: false,
                    ink: bit.ink,
                    words: bit.words.clone(),
                    rtl: bit.rtl,
                });
            }
            top += row.height;
        }
        Block {
            role: Role::Entry,
            marks,
        }
    }
}

/// The sign before an entry, with its middle at a height: squares on the away side, circles on the toward side, a dot
/// elsewhere; the number inside where there is one.
fn sign(number: Option<usize>, (x, middle): (f32, f32), size: f32, left_side: Option<bool>) -> Vec<Mark> {
    let unit = size * POINT;
    let ink = match left_side {
        Some(true) => Ink::AwayText,
        Some(false) => Ink::Toward,
        None => Ink::Quiet,
    };
    let words = number.map(|number| number.to_string()).unwrap_or_default();
    let digits = words.len() as f32;
    let half = if number.is_some() {
        0.66 * unit
    } else {
        0.24 * unit
    };
    let at = (x + 0.66 * unit, middle);
    let edge = Some((ink, 0.028 * size));
    let square = || {
        Mark::rectangle(
            (at.0 - half, at.1 - half),
            (2.0 * half, 2.0 * half),
            Some(Ink::Paper),
            edge,
        )
    };
    let circle = |fill, stroke| Mark::Circle {
        at,
        radius: half,
        fill: Some(fill),
        stroke,
    };
    let mut marks = Vec::new();
    match (left_side, number) {
        // Three digits and more would have to shrink to fit, so they stand without a frame.
        (_, Some(_)) if words.len() > 2 => {}
        (Some(true), _) => marks.push(square()),
        (_, None) => marks.push(circle(ink, None)),
        (_, Some(_)) => marks.push(circle(Ink::Paper, edge)),
    }
    if number.is_some() {
        let letter = 0.68 * size;
        // Digits of the embedded family are about 0.6 of the size wide.
        let width = digits * 0.6 * letter * POINT;
        let x = (at.0 - width / 2.0).max(x);
        marks.push(Mark::Text {
            x,
            y: at.1 + 0.34 * letter * POINT,
            size: letter,
            bold: true,
            ink,
            words,
            rtl: false,
        });
    }
    marks
}

/// A column to fill, in millimetres.
#[derive(Clone, Copy)]
pub(in crate::page) struct Column {
    pub(in crate::page) x: f32,
    pub(in crate::page) top: f32,
    pub(in crate::page) bottom: f32,
}

/// Fills columns with entries, in order. Returns the blocks, and the entries that found no room. An entry stays whole
/// unless it is taller than a column.
pub(in crate::page) fn fill(
    mut entries: Vec<SetItem>,
    columns: &[Column],
    left_side: Option<bool>,
) -> (Vec<Block>, Vec<SetItem>) {
    let mut blocks = Vec::new();
    entries.reverse();
    for column in columns {
        let mut y = column.top;
        while let Some(mut entry) = entries.pop() {
            let room = column.bottom - y;
            let gap = GAP * entry.size * POINT;
            if entry.height() - gap <= room + 0.01 {
                blocks.push(entry.block((column.x, y), left_side));
                y += entry.height();
                continue;
            }
            let taller_than_any = entry.height() - gap > column.bottom - column.top;
            if taller_than_any && let Some(part) = entry.take(room) {
                blocks.push(part.block((column.x, y), left_side));
            }
            entries.push(entry);
            break;
        }
    }
    entries.reverse();
    (blocks, entries)
}
