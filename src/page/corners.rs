//! The four fields on paper: two crossing lines, the noticing circle where they meet, a field in each corner.

use crate::page::Block;
use crate::page::Corner;
use crate::page::Fields;
use crate::page::Ink;
use crate::page::Mark;
use crate::page::Role;
use crate::page::Ruler;
use crate::page::entry::Column;
use crate::page::entry::MeasuredItem;
use crate::page::entry::SetItem;
use crate::page::entry::fill;
use crate::page::lay::Sides;
use crate::page::lay::text;
use crate::page::wording;
use crate::page::wrap::Line;
use crate::page::wrap::Measured;
use crate::page::wrap::POINT;

/// Radius of the noticing circle, millimetres.
const RADIUS: f32 = 11.0;
/// Room kept free on either side of the line down, so that nothing meets the circle.
const INNER: f32 = 18.0;
/// Room between the edge and the words.
const OUTER: f32 = 5.0;
/// Room kept free above and below the line across.
const MIDDLE: f32 = 5.0;
/// The largest and the smallest letters of entries, in points, with how many columns a field has.
const SIZES: [(f32, usize); 11] = [
    (14.0, 1),
    (13.0, 1),
    (12.0, 1),
    (11.0, 1),
    (10.5, 1),
    (10.0, 1),
    (9.5, 1),
    (9.0, 1),
    (9.0, 2),
    (8.5, 2),
    (8.0, 2),
];
/// Room between two columns of a field.
const BETWEEN: f32 = 4.0;

/// The area of the four fields on one side.
#[derive(Clone, Copy)]
struct Area {
    left: f32,
    right: f32,
    top: f32,
    bottom: f32,
}

impl Area {
    fn middle(&self) -> (f32, f32) {
        (
            f32::midpoint(self.left, self.right),
            f32::midpoint(self.top, self.bottom),
        )
    }

    /// Left, width, top, bottom of a corner.
    fn corner(&self, corner: &Corner) -> (f32, f32, f32, f32) {
        let (cx, cy) = self.middle();
        let (x, right) = if corner.place.is_left() {
            (self.left + OUTER, cx - INNER)
        } else {
            (cx + INNER, self.right - OUTER)
        };
        let (top, bottom) = if corner.place.is_upper() {
            (self.top + 3.0, cy - MIDDLE)
        } else {
            (cy + MIDDLE, self.bottom - 3.0)
        };
        (x, right - x, top, bottom)
    }

    fn columns(&self, corner: &Corner, head: f32, count: usize) -> (Vec<Column>, f32) {
        let (x, width, top, bottom) = self.corner(corner);
        let each = (width - BETWEEN * (count - 1) as f32) / count as f32;
        let column = |at: usize| Column {
            x: x + at as f32 * (each + BETWEEN),
            top: top + head,
            bottom,
        };
        ((0..count).map(column).collect(), each)
    }
}

/// Lays out the four fields, over as many sides as they need.
pub(in crate::page) fn lay(ruler: &impl Ruler, fields: &Fields, sides: &mut Sides) {
    sides.fresh();
    let measured: Vec<Vec<MeasuredItem>> = fields
        .corners
        .iter()
        .map(|corner| {
            corner
                .items
                .iter()
                .map(|item| MeasuredItem::new(ruler, item))
                .collect()
        })
        .collect();
    let area = area(sides, fields);
    let heads: Vec<Head> = fields
        .corners
        .iter()
        .map(|corner| Head::new(ruler, corner, &area))
        .collect();
    let set = |at: usize, (size, columns): (f32, usize)| -> Vec<SetItem> {
        let (_, width) = area.columns(&fields.corners[at], 0.0, columns);
        measured[at]
            .iter()
            .map(|item| item.set(ruler, size, width))
            .collect()
    };
    let fits = |&(size, count): &(f32, usize)| {
        (0..4).all(|at| {
            let (columns, _) = area.columns(&fields.corners[at], heads[at].height, count);
            fill(set(at, (size, count)), &columns, None).1.is_empty()
        })
    };
    let chosen = SIZES.into_iter().find(fits).unwrap_or(SIZES[SIZES.len() - 1]);
    let mut waiting: Vec<Vec<SetItem>> = (0..4).map(|at| set(at, chosen)).collect();
    let mut first = true;
    loop {
        let role = if first {
            Role::Figure(wording::fields_alt(fields))
        } else {
            Role::Backdrop
        };
        sides.push(Block {
            role,
            marks: backdrop(ruler, fields, &area),
        });
        first = false;
        for (at, corner) in fields.corners.iter().enumerate() {
            let (columns, _) = area.columns(corner, heads[at].height, chosen.1);
            sides.extend(heads[at].blocks(corner, &area));
            let entries = std::mem::take(&mut waiting[at]);
            let (blocks, rest) = fill(entries, &columns, Some(corner.place.is_left()));
            sides.extend(blocks);
            sides.extend(write_lines(corner, &area, heads[at].height));
            waiting[at] = rest;
        }
        if !fields.key.is_empty() {
            let key = Measured::new(ruler, &fields.key, false);
            let marks = vec![text(
                &key,
                0..key.text.len(),
                (area.left, area.bottom + 5.0),
                8.0,
                false,
                Ink::Quiet,
            )];
            sides.push(Block {
                role: Role::Text,
                marks,
            });
        }
        sides.close();
        if waiting.iter().all(Vec::is_empty) {
            break;
        }
    }
}

fn area(sides: &Sides, fields: &Fields) -> Area {
    let foot = if fields.key.is_empty() { 0.0 } else { 6.0 };
    Area {
        left: Sides::left(),
        right: sides.right(),
        top: Sides::top(),
        bottom: sides.bottom() - foot,
    }
}

/// The heading and the guidance of a corner.
struct Head {
    heading: Measured,
    guide: Option<(Measured, Vec<Line>)>,
    height: f32,
}

const HEADING: f32 = 13.0;
const GUIDE: f32 = 9.5;

impl Head {
    fn new(ruler: &impl Ruler, corner: &Corner, area: &Area) -> Self {
        let heading = Measured::new(ruler, &corner.heading, true);
        let (_, width, ..) = area.corner(corner);
        let guide = (!corner.guide.is_empty()).then(|| {
            let guide = Measured::new(ruler, &corner.guide, false);
            let lines = guide.wrap(ruler, GUIDE, width);
            (guide, lines)
        });
        let guide_height = guide
            .as_ref()
            .map_or(0.0, |(_, lines)| lines.len() as f32 * GUIDE * 1.25 * POINT + 1.0);
        Self {
            heading,
            guide,
            height: HEADING * 1.5 * POINT + guide_height,
        }
    }

    fn blocks(&self, corner: &Corner, area: &Area) -> Vec<Block> {
        let (x, _, top, _) = area.corner(corner);
        let ink = if corner.place.is_left() {
            Ink::AwayText
        } else {
            Ink::Toward
        };
        let mut y = top + HEADING * POINT;
        let all = 0..self.heading.text.len();
        let mut blocks = vec![Block {
            role: Role::Heading,
            marks: vec![text(&self.heading, all, (x, y), HEADING, true, ink)],
        }];
        if let Some((guide, lines)) = &self.guide {
            y += 0.5;
            let mut marks = Vec::new();
            for line in lines {
                y += GUIDE * 1.25 * POINT;
                marks.push(text(guide, line.range.clone(), (x, y), GUIDE, false, Ink::Quiet));
            }
            blocks.push(Block {
                role: Role::Text,
                marks,
            });
        }
        blocks
    }
}

/// Empty lines to write on, as many as are wanted and fit.
fn write_lines(corner: &Corner, area: &Area, head: f32) -> Option<Block> {
    let (x, width, top, bottom) = area.corner(corner);
    let marks: Vec<Mark> = (0..corner.lines)
        .map(|at| top + head + 9.0 * (at + 1) as f32)
        .take_while(|y| *y <= bottom)
        .map(|y| Mark::line((x, y), (x + width, y), Ink::Rule, 0.2))
        .collect();
    (!marks.is_empty()).then_some(Block {
        role: Role::Backdrop,
        marks,
    })
}

/// The two lines, their ends' words, and the circle.
fn backdrop(ruler: &impl Ruler, fields: &Fields, area: &Area) -> Vec<Mark> {
    let Area {
        left,
        right,
        top,
        bottom,
    } = *area;
    let (cx, cy) = area.middle();
    let half = (cx - left, bottom - top);
    let mut marks = vec![
        Mark::rectangle((left, top), half, Some(Ink::AwayGround), None),
        Mark::rectangle((cx, top), half, Some(Ink::TowardGround), None),
    ];
    let centred = |words: &str, (x, y): (f32, f32), size: f32, bold: bool, ink: Ink, from: f32| {
        let measured = Measured::new(ruler, words, bold);
        let width = measured.width(size);
        let all = 0..measured.text.len();
        (
            text(&measured, all, (x - width * from, y), size, bold, ink),
            width,
        )
    };
    let label = 10.0;
    let (away, away_width) = centred(
        &fields.left,
        (left + 5.5, cy + 1.2),
        label,
        true,
        Ink::AwayText,
        0.0,
    );
    let (toward, toward_width) = centred(
        &fields.right,
        (right - 5.5, cy + 1.2),
        label,
        true,
        Ink::Toward,
        1.0,
    );
    let (above, _) = centred(&fields.above, (cx, top + 4.0), 8.0, false, Ink::Quiet, 0.5);
    let (below, _) = centred(&fields.below, (cx, bottom - 2.0), 8.0, false, Ink::Quiet, 0.5);
    let (centre, _) = centred(&fields.centre, (cx, cy + 1.1), 9.5, true, Ink::Words, 0.5);
    let rule = Some((Ink::Rule, 0.45));
    let arrow = |tip: f32, base: f32, fill: Ink, ink: Ink| Mark::Path {
        points: vec![(tip, cy), (base, cy - 2.0), (base, cy + 2.0)],
        closed: true,
        fill: Some(fill),
        stroke: Some((ink, 0.3)),
    };
    marks.extend([
        Mark::line(
            (left + 7.5 + away_width, cy),
            (right - 7.5 - toward_width, cy),
            Ink::Rule,
            0.45,
        ),
        Mark::line((cx, top + 6.0), (cx, bottom - 6.0), Ink::Rule, 0.45),
        arrow(left + 0.8, left + 4.2, Ink::Away, Ink::AwayText),
        arrow(right - 0.8, right - 4.2, Ink::Toward, Ink::Toward),
        Mark::Circle {
            at: (cx, cy),
            radius: RADIUS,
            fill: Some(Ink::Paper),
            stroke: rule,
        },
        Mark::Circle {
            at: (cx, cy),
            radius: RADIUS - 1.3,
            fill: None,
            stroke: Some((Ink::Rule, 0.18)),
        },
        away,
        toward,
        above,
        below,
        centre,
    ]);
    marks
}
