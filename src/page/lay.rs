//! From a page to sides of paper: everything gets its place, and what finds no room goes on to the next side.

use std::ops::Range;

use crate::page::Block;
use crate::page::Ink;
use crate::page::Item;
use crate::page::Leaf;
use crate::page::Mark;
use crate::page::Page;
use crate::page::Part;
use crate::page::Role;
use crate::page::Ruler;
use crate::page::Turned;
use crate::page::charts;
use crate::page::corners;
use crate::page::entry::Column;
use crate::page::entry::MeasuredItem;
use crate::page::entry::SetItem;
use crate::page::entry::fill;
use crate::page::ring;
use crate::page::wording;
use crate::page::wrap::Measured;
use crate::page::wrap::POINT;

/// The margin on all sides, in millimetres; home printers leave up to 6 mm white (common practice, no source).
const MARGIN: f32 = 12.0;
/// Room for the title, its baseline and the space below it.
const TITLE_ROOM: f32 = 13.0;
/// Room for the foot.
const FOOT_ROOM: f32 = 5.0;
/// Room between the two columns of a landscape side.
const BETWEEN: f32 = 11.0;

/// Lays a page out on paper.
#[must_use]
pub fn lay(page: &Page, ruler: &impl Ruler) -> Vec<Leaf> {
    let mut sides = Sides::new(page, ruler);
    for part in &page.parts {
        match part {
            Part::Fields(fields) => corners::lay(ruler, fields, &mut sides),
            Part::Heading(words) => heading(ruler, words, &mut sides),
            Part::Text(words) => paragraph(ruler, words, &mut sides),
            Part::List(items) => list(ruler, items, &mut sides),
            Part::Lines(count) => lines(*count, &mut sides),
            Part::Ring(loop_ring) => ring::ring(ruler, loop_ring, &mut sides),
            Part::Bars(bars) => charts::bars(ruler, bars, &mut sides),
            Part::Shares(shares) => charts::shares(ruler, shares, &mut sides),
            Part::Pairs(pairs) => charts::pairs(ruler, pairs, &mut sides),
        }
    }
    sides.finish(ruler)
}

/// The sides being filled, column by column.
pub(in crate::page) struct Sides {
    width: f32,
    height: f32,
    columns: usize,
    head: Vec<Block>,
    done: Vec<Leaf>,
    open: Vec<Block>,
    /// The column being filled, and how far down.
    column: usize,
    y: f32,
    used: bool,
}

impl Sides {
    fn new(page: &Page, ruler: &impl Ruler) -> Self {
        let (width, height) = page.paper.size(page.turned);
        let columns = if page.turned == Turned::Landscape { 2 } else { 1 };
        let mut sides = Self {
            width,
            height,
            columns,
            head: Vec::new(),
            done: Vec::new(),
            open: Vec::new(),
            column: 0,
            y: 0.0,
            used: false,
        };
        sides.head = head(page, ruler, width);
        sides.y = Sides::top();
        sides.open = sides.head.clone();
        sides
    }

    pub(in crate::page) fn left() -> f32 {
        MARGIN
    }

    pub(in crate::page) fn right(&self) -> f32 {
        self.width - MARGIN
    }

    pub(in crate::page) fn top() -> f32 {
        MARGIN + TITLE_ROOM
    }

    pub(in crate::page) fn bottom(&self) -> f32 {
        self.height - MARGIN - FOOT_ROOM
    }

    /// The width of a column.
    pub(in crate::page) fn column_width(&self) -> f32 {
        let count = self.columns as f32;
        (self.right() - Self::left() - BETWEEN * (count - 1.0)) / count
    }

    /// The left edge of the column being filled.
    pub(in crate::page) fn x(&self) -> f32 {
        Self::left() + self.column as f32 * (self.column_width() + BETWEEN)
    }

    /// Which column is being filled, counted over all sides.
    pub(in crate::page) fn column_index(&self) -> usize {
        self.done.len() * self.columns + self.column
    }

    /// How far down it is filled.
    pub(in crate::page) fn y(&self) -> f32 {
        self.y
    }

    /// Whether nothing is in the column being filled.
    fn at_top(&self) -> bool {
        self.y <= Self::top() + 0.01
    }

    /// Goes on below.
    pub(in crate::page) fn down(&mut self, height: f32) {
        self.y += height;
    }

    /// Makes sure that a height is free, by going on to the next column where it is not.
    pub(in crate::page) fn want(&mut self, height: f32) {
        if !self.at_top() && self.y + height > self.bottom() {
            self.next_column();
        }
    }

    pub(in crate::page) fn next_column(&mut self) {
        self.column += 1;
        self.y = Self::top();
        if self.column == self.columns {
            self.close();
        }
    }

    /// Ends the side, if anything is on it, so that the next part has a whole one.
    pub(in crate::page) fn fresh(&mut self) {
        if self.used {
            self.close();
        }
    }

    /// Ends the side.
    pub(in crate::page) fn close(&mut self) {
        let blocks = std::mem::replace(&mut self.open, self.head.clone());
        self.done.push(Leaf {
            width: self.width,
            height: self.height,
            blocks,
        });
        self.column = 0;
        self.y = Self::top();
        self.used = false;
    }

    pub(in crate::page) fn push(&mut self, block: Block) {
        self.used = true;
        self.open.push(block);
    }

    pub(in crate::page) fn extend(&mut self, blocks: impl IntoIterator<Item = Block>) {
        for block in blocks {
            self.push(block);
        }
    }

    fn finish(mut self, ruler: &impl Ruler) -> Vec<Leaf> {
        if self.used || self.done.is_empty() {
            self.close();
        }
        let of = self.done.len();
        for (at, leaf) in self.done.iter_mut().enumerate() {
            // The title is read once; on later sides it is only seen.
            if at > 0 {
                for block in leaf.blocks.iter_mut().take(self.head.len()) {
                    block.role = Role::Foot;
                }
            }
            if of > 1 {
                let count = Measured::new(ruler, &wording::side(at + 1, of), false);
                let width = count.width(8.0);
                let place = (self.width - MARGIN - width, self.height - MARGIN);
                let marks = vec![text(&count, 0..count.text.len(), place, 8.0, false, Ink::Quiet)];
                leaf.blocks.push(Block {
                    role: Role::Foot,
                    marks,
                });
            }
        }
        self.done
    }
}

/// The title and the date.
fn head(page: &Page, ruler: &impl Ruler, width: f32) -> Vec<Block> {
    let mut blocks = Vec::new();
    let date = page
        .date
        .map(|date| Measured::new(ruler, &date.to_string(), false));
    let date_width = date.as_ref().map_or(0.0, |date| date.width(10.0) + 6.0);
    let title = Measured::new(ruler, &page.title, true);
    let room = width - 2.0 * MARGIN - date_width;
    let fits = [18.0, 16.0, 14.0, 12.0, 10.0]
        .into_iter()
        .find(|size| title.width(*size) <= room);
    let baseline = MARGIN + 6.5;
    let marks = match fits {
        Some(size) => {
            vec![text(
                &title,
                0..title.text.len(),
                (MARGIN, baseline),
                size,
                true,
                Ink::Words,
            )]
        }
        // A very long title is cut after its second line; the whole of it is in the file's metadata.
        None => title
            .wrap(ruler, 9.0, room)
            .into_iter()
            .take(2)
            .enumerate()
            .map(|(at, line)| {
                let place = (MARGIN, MARGIN + 3.0 + 4.2 * at as f32);
                text(&title, line.range, place, 9.0, true, Ink::Words)
            })
            .collect(),
    };
    blocks.push(Block {
        role: Role::Title,
        marks,
    });
    if let Some(date) = date {
        let place = (width - MARGIN - date.width(10.0), baseline);
        let marks = vec![text(&date, 0..date.text.len(), place, 10.0, false, Ink::Quiet)];
        blocks.push(Block {
            role: Role::Text,
            marks,
        });
    }
    blocks
}

/// One line of a measured text as a mark.
pub(in crate::page) fn text(
    measured: &Measured,
    range: Range<usize>,
    (x, y): (f32, f32),
    size: f32,
    bold: bool,
    ink: Ink,
) -> Mark {
    Mark::Text {
        x,
        y,
        size,
        bold,
        ink,
        words: measured.text[range].to_owned(),
        rtl: measured.rtl,
    }
}

/// A wrapped text, its lines going on to the next column where they must. `keep` is the height that should follow on
/// the same side.
pub(in crate::page) fn wrapped(
    ruler: &impl Ruler,
    words: &str,
    role: &Role,
    (size, bold, ink): (f32, bool, Ink),
    keep: f32,
    sides: &mut Sides,
) {
    let measured = Measured::new(ruler, words, bold);
    let leading = size * 1.3 * POINT;
    let lines = measured.wrap(ruler, size, sides.column_width());
    sides.want(leading * lines.len().min(3) as f32 + keep);
    let mut marks = Vec::new();
    for line in lines {
        if sides.y() + leading > sides.bottom() && !sides.at_top() {
            let marks = std::mem::take(&mut marks);
            if !marks.is_empty() {
                sides.push(Block {
                    role: role.clone(),
                    marks,
                });
            }
            sides.next_column();
        }
        let dx = if measured.rtl {
            sides.column_width() - line.width
        } else {
            0.0
        };
        let place = (sides.x() + dx, sides.y() + size * POINT);
        marks.push(text(&measured, line.range, place, size, bold, ink));
        sides.down(leading);
    }
    sides.push(Block {
        role: role.clone(),
        marks,
    });
}

fn heading(ruler: &impl Ruler, words: &str, sides: &mut Sides) {
    if !sides.at_top() {
        sides.down(4.0);
    }
    wrapped(
        ruler,
        words,
        &Role::Heading,
        (13.0, true, Ink::Words),
        18.0,
        sides,
    );
    sides.down(1.5);
}

fn paragraph(ruler: &impl Ruler, words: &str, sides: &mut Sides) {
    wrapped(ruler, words, &Role::Text, (11.0, false, Ink::Words), 0.0, sides);
    sides.down(2.0);
}

fn list(ruler: &impl Ruler, items: &[Item], sides: &mut Sides) {
    let width = sides.column_width();
    let mut waiting: Vec<_> = items
        .iter()
        .map(|item| MeasuredItem::new(ruler, item).set(ruler, 11.0, width))
        .collect();
    while !waiting.is_empty() {
        let column = Column {
            x: sides.x(),
            top: sides.y(),
            bottom: sides.bottom(),
        };
        let before: f32 = waiting.iter().map(SetItem::height).sum();
        let count = waiting.len();
        let (blocks, rest) = fill(waiting, &[column], None);
        let after: f32 = rest.iter().map(SetItem::height).sum();
        sides.extend(blocks);
        sides.down(before - after);
        waiting = rest;
        if !waiting.is_empty() && (waiting.len() < count || !sides.at_top()) {
            sides.next_column();
        }
    }
    sides.down(2.0);
}

fn lines(count: usize, sides: &mut Sides) {
    for _ in 0..count {
        sides.want(9.0);
        sides.down(9.0);
        let (x, y) = (sides.x(), sides.y());
        let rule = Mark::line((x, y), (x + sides.column_width(), y), Ink::Rule, 0.2);
        sides.push(Block {
            role: Role::Backdrop,
            marks: vec![rule],
        });
    }
    sides.down(3.0);
}
