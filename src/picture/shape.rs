//! From words to placed letterforms: which face draws which sign, in which direction, and how wide it comes out.

use std::ops::Range;

use harfrust::Direction;
use harfrust::FontRef;
use harfrust::ShapeOptions;
use harfrust::ShaperData;
use harfrust::UnicodeBuffer;
use unicode_bidi::BidiInfo;
use unicode_bidi::Level;
use unicode_script::Script;
use unicode_script::UnicodeScript;
use unicode_segmentation::UnicodeSegmentation;

use crate::page::Piece;
use crate::page::Ruler;
use crate::picture::Fonts;

/// The fonts of one drawing, opened once.
pub(in crate::picture) struct Shaper<'f> {
    fonts: &'f Fonts,
    faces: Vec<(FontRef<'f>, ShaperData)>,
}

/// Letterforms of one face in one direction.
pub(in crate::picture) struct Run {
    /// Which face.
    pub(in crate::picture) face: usize,
    /// Where in the line, in bytes.
    pub(in crate::picture) range: Range<usize>,
    /// Whether it runs from right to left.
    pub(in crate::picture) rtl: bool,
    /// The letterforms from left to right, in units of the letters' size.
    pub(in crate::picture) glyphs: Vec<Glyph>,
    /// Their width together.
    pub(in crate::picture) width: f32,
}

/// One letterform.
pub(in crate::picture) struct Glyph {
    pub(in crate::picture) id: u32,
    /// The signs of the run that it stands for, in bytes from the start of the run.
    pub(in crate::picture) range: Range<usize>,
    pub(in crate::picture) advance: f32,
    pub(in crate::picture) dx: f32,
    pub(in crate::picture) dy: f32,
}

impl<'f> Shaper<'f> {
    pub(in crate::picture) fn new(fonts: &'f Fonts) -> Self {
        let faces = fonts
            .faces
            .iter()
            .filter_map(|face| FontRef::from_index(&face.bytes, face.index).ok())
            .map(|font| (font.clone(), ShaperData::new(&font)))
            .collect::<Vec<_>>();
        debug_assert_eq!(
            faces.len(),
            fonts.faces.len(),
            "a face was opened before it was kept"
        );
        Self { fonts, faces }
    }

    /// The runs of a line, from left to right.
    pub(in crate::picture) fn runs(&self, line: &str, bold: bool, rtl: bool) -> Vec<Run> {
        let mut runs = Vec::new();
        if line.is_empty() {
            return runs;
        }
        if !rtl && line.is_ascii() {
            self.shape_level(line, 0..line.len(), false, bold, &mut runs);
            return runs;
        }
        let base = if rtl { Level::rtl() } else { Level::ltr() };
        let bidi = BidiInfo::new(line, Some(base));
        for paragraph in &bidi.paragraphs {
            let (levels, ranges) = bidi.visual_runs(paragraph, paragraph.range.clone());
            for range in ranges {
                let runs_left = levels[range.start].is_rtl();
                self.shape_level(line, range, runs_left, bold, &mut runs);
            }
        }
        runs
    }

    /// Shapes a stretch of one direction: split where the face or the script changes.
    fn shape_level(&self, line: &str, range: Range<usize>, rtl: bool, bold: bool, runs: &mut Vec<Run>) {
        let mut parts: Vec<(Range<usize>, usize, Option<Script>)> = Vec::new();
        for (at, sign) in line[range.clone()].grapheme_indices(true) {
            let start = range.start + at;
            let face = self.fonts.face_for(sign, bold).unwrap_or(0);
            let script = sign
                .chars()
                .map(|c| c.script())
                .find(|s| !matches!(s, Script::Common | Script::Inherited));
            match parts.last_mut() {
                Some((last, last_face, last_script))
                    if *last_face == face
                        && (script.is_none() || last_script.is_none() || script == *last_script) =>
                {
                    last.end = start + sign.len();
                    *last_script = last_script.or(script);
                }
                _ => parts.push((start..start + sign.len(), face, script)),
            }
        }
        if rtl {
            parts.reverse();
        }
        for (part, face, _) in parts {
            runs.push(self.shape(line, part, face, rtl));
        }
    }

    fn shape(&self, line: &str, range: Range<usize>, face: usize, rtl: bool) -> Run {
        let text = &line[range.clone()];
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.guess_segment_properties();
        buffer.set_direction(if rtl {
            Direction::RightToLeft
        } else {
            Direction::LeftToRight
        });
        let (font, data) = &self.faces[face];
        let shaper = data.shaper(font).build();
        let drawn = shaper.shape(buffer, ShapeOptions::new());
        let unit = shaper.units_per_em().max(1) as f32;
        let starts = clusters(
            drawn.glyph_infos().iter().map(|info| info.cluster as usize),
            text.len(),
        );
        let glyphs: Vec<Glyph> = drawn
            .glyph_infos()
            .iter()
            .zip(drawn.glyph_positions())
            .map(|(info, position)| {
                let start = info.cluster as usize;
                let end = starts[starts.partition_point(|at| *at <= start)];
                Glyph {
                    id: info.glyph_id,
                    range: start..end,
                    advance: position.x_advance as f32 / unit,
                    dx: position.x_offset as f32 / unit,
                    dy: position.y_offset as f32 / unit,
                }
            })
            .collect();
        let width = glyphs.iter().map(|glyph| glyph.advance).sum();
        Run {
            face,
            range,
            rtl,
            glyphs,
            width,
        }
    }

    /// The width of a text on one line, in units of the letters' size.
    fn width(&self, text: &str, bold: bool) -> f32 {
        self.runs(text, bold, false).iter().map(|run| run.width).sum()
    }

    fn piece(&self, text: &str, range: Range<usize>, bold: bool) -> Piece {
        let words = text[range.clone()].trim_end();
        let space = &text[range.start + words.len()..range.end];
        Piece {
            width: self.width(words, bold),
            space: self.width(space, bold),
            range,
        }
    }
}

/// The starts of clusters in order, with the end of the text last, so that each cluster's end can be looked up.
fn clusters(starts: impl Iterator<Item = usize>, end: usize) -> Vec<usize> {
    let mut starts: Vec<usize> = starts.collect();
    starts.sort_unstable();
    starts.dedup();
    starts.push(end);
    starts
}

impl Ruler for Shaper<'_> {
    fn pieces(&self, text: &str, bold: bool) -> Vec<Piece> {
        let mut start = 0;
        unicode_linebreak::linebreaks(text)
            .map(|(end, _)| {
                let piece = self.piece(text, start..end, bold);
                start = end;
                piece
            })
            .collect()
    }

    fn signs(&self, text: &str, bold: bool) -> Vec<Piece> {
        text.grapheme_indices(true)
            .map(|(at, sign)| self.piece(text, at..at + sign.len(), bold))
            .collect()
    }

    fn runs_left(&self, text: &str) -> bool {
        runs_left(text)
    }
}

/// Whether a text runs from right to left: its first letter with a direction decides (UAX #9, rules P2 and P3).
pub(in crate::picture) fn runs_left(text: &str) -> bool {
    unicode_bidi::get_base_direction(text) == unicode_bidi::Direction::Rtl
}
