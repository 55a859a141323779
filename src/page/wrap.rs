//! Breaking text into lines of a given width.

use std::ops::Range;

/// Tells how wide text is, in the letterforms it will be drawn with.
pub trait Ruler {
    /// The pieces of a text that must stay together on a line, with their widths. They follow each other without
    /// gaps and cover the whole text.
    fn pieces(&self, text: &str, bold: bool) -> Vec<Piece>;

    /// The same for one piece that is too wide for any line: the smallest pieces that a reader takes as one sign.
    fn signs(&self, text: &str, bold: bool) -> Vec<Piece>;

    /// Whether a text runs from right to left.
    fn runs_left(&self, text: &str) -> bool;
}

/// A piece of text that stays together.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Where in the text, in bytes.
    pub range: Range<usize>,
    /// Its width without the space at its end, in units of the letters' size.
    pub width: f32,
    /// The width of the space at its end, in the same units.
    pub space: f32,
}

/// One point in millimetres.
pub(in crate::page) const POINT: f32 = 25.4 / 72.0;

/// A text measured once, to be wrapped at any size.
pub(in crate::page) struct Measured {
    pub(in crate::page) text: String,
    pub(in crate::page) rtl: bool,
    bold: bool,
    pieces: Vec<Piece>,
}

/// One line of a wrapped text.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::page) struct Line {
    pub(in crate::page) range: Range<usize>,
    /// Width in millimetres.
    pub(in crate::page) width: f32,
}

impl Measured {
    pub(in crate::page) fn new(ruler: &impl Ruler, text: &str, bold: bool) -> Self {
        let text = text.to_owned();
        let (pieces, rtl) = (ruler.pieces(&text, bold), ruler.runs_left(&text));
        Self {
            text,
            rtl,
            bold,
            pieces,
        }
    }

    /// The width on one line, in millimetres.
    pub(in crate::page) fn width(&self, size: f32) -> f32 {
        let all: f32 = self.pieces.iter().map(|piece| piece.width + piece.space).sum();
        all * size * POINT
    }

    /// The lines at a size in points, none wider than a width in millimetres unless a single sign is. A text with
    /// nothing in it has one empty line.
    pub(in crate::page) fn wrap(&self, ruler: &impl Ruler, size: f32, width: f32) -> Vec<Line> {
        let unit = size * POINT;
        let mut lines = Vec::new();
        let mut open = Open {
            start: 0,
            end: 0,
            width: 0.0,
            space: 0.0,
        };
        for piece in &self.pieces {
            if piece.width * unit > width {
                let start = piece.range.start;
                for sign in ruler.signs(&self.text[piece.range.clone()], self.bold) {
                    let range = start + sign.range.start..start + sign.range.end;
                    open.take(&mut lines, &Piece { range, ..sign }, unit, width);
                }
            } else {
                open.take(&mut lines, piece, unit, width);
            }
        }
        if open.start < open.end || lines.is_empty() {
            lines.push(open.line(unit));
        }
        lines
    }
}

/// The line being filled.
struct Open {
    start: usize,
    end: usize,
    width: f32,
    space: f32,
}

impl Open {
    fn take(&mut self, lines: &mut Vec<Line>, piece: &Piece, unit: f32, width: f32) {
        let wider = self.width + self.space + piece.width;
        if self.start < self.end && wider * unit > width {
            lines.push(self.line(unit));
            *self = Self {
                start: piece.range.start,
                end: piece.range.start,
                width: 0.0,
                space: 0.0,
            };
        }
        self.width += self.space + piece.width;
        self.space = piece.space;
        self.end = piece.range.end;
    }

    fn line(&self, unit: f32) -> Line {
        Line {
            range: self.start..self.end,
            width: self.width * unit,
        }
    }
}
