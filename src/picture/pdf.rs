//! Sides of paper as a PDF that a screen reader can follow: tagged, with title, language, headings and lists, its
//! fonts embedded. It is written to PDF/UA-1 (ISO 14289-1), which the writer checks as far as a program can.

use std::num::NonZeroU16;

use krilla::Document;
use krilla::SerializeSettings;
use krilla::color::rgb;
use krilla::configure::Accessibility;
use krilla::configure::ConfigurationBuilder;
use krilla::destination::XyzDestination;
use krilla::geom::PathBuilder;
use krilla::geom::Point;
use krilla::geom::Rect;
use krilla::metadata::DateTime;
use krilla::metadata::Metadata;
use krilla::outline::Outline;
use krilla::outline::OutlineNode;
use krilla::page::PageSettings;
use krilla::paint::Fill;
use krilla::paint::LineCap;
use krilla::paint::LineJoin;
use krilla::paint::Stroke;
use krilla::surface::Surface;
use krilla::tagging::Artifact;
use krilla::tagging::ArtifactType;
use krilla::tagging::BBox;
use krilla::tagging::ContentTag;
use krilla::tagging::Identifier;
use krilla::tagging::ListNumbering;
use krilla::tagging::SpanTag;
use krilla::tagging::Tag;
use krilla::tagging::TagGroup;
use krilla::tagging::TagTree;
use krilla::text::Font;
use krilla::text::GlyphId;
use krilla::text::KrillaGlyph;

use crate::page::Block;
use crate::page::Ink;
use crate::page::Leaf;
use crate::page::Mark;
use crate::page::Page;
use crate::page::Role;
use crate::picture::Fonts;
use crate::picture::PictureError;
use crate::picture::shape::Shaper;

/// Points in a millimetre.
const MM: f32 = 72.0 / 25.4;

pub(in crate::picture) fn write(
    page: &Page,
    leaves: &[Leaf],
    shaper: &Shaper,
    fonts: &Fonts,
) -> Result<Vec<u8>, PictureError> {
    let refused = |what: &dyn std::fmt::Display| PictureError::Pdf(what.to_string());
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|_| refused(&"no such standard"))?;
    let settings = SerializeSettings {
        configuration,
        ..SerializeSettings::default()
    };
    let mut document = Document::new_with(settings);
    let faces = fonts
        .faces
        .iter()
        .map(|face| Font::new(face.bytes.clone().into(), face.index));
    let faces: Option<Vec<Font>> = faces.collect();
    let faces = faces.ok_or_else(|| refused(&"a font could not be read"))?;
    let mut pen = Pen {
        shaper,
        faces,
        tree: TagTree::new().with_lang(Some(page.language.to_owned())),
        outline: Outline::new(),
    };
    for (index, leaf) in leaves.iter().enumerate() {
        let size = PageSettings::from_wh(leaf.width * MM, leaf.height * MM);
        let mut paper = document.start_page_with(size.ok_or_else(|| refused(&"no such paper"))?);
        let mut surface = paper.surface();
        pen.side(&mut surface, index, leaf);
        surface.finish();
        paper.finish();
    }
    document.set_outline(pen.outline);
    document.set_tag_tree(pen.tree);
    document.set_metadata(metadata(page));
    document.finish().map_err(|error| refused(&error))
}

/// The title, the language and the chosen day; nothing of the person or the machine.
fn metadata(page: &Page) -> Metadata {
    let metadata = Metadata::new()
        .title(page.title.clone())
        .language(page.language.to_owned());
    match page
        .date
        .and_then(|date| Some((u16::try_from(date.year()).ok()?, date)))
    {
        Some((year, date)) => {
            let (month, day) = (date.month().unsigned_abs(), date.day().unsigned_abs());
            metadata.creation_date(DateTime::new(year).month(month).day(day))
        }
        None => metadata,
    }
}

struct Pen<'s, 'f> {
    shaper: &'s Shaper<'f>,
    faces: Vec<Font>,
    tree: TagTree,
    outline: Outline,
}

impl Pen<'_, '_> {
    fn side(&mut self, surface: &mut Surface, index: usize, leaf: &Leaf) {
        let mut list: Option<TagGroup> = None;
        for block in &leaf.blocks {
            if !matches!(block.role, Role::Entry | Role::Backdrop)
                && let Some(list) = list.take()
            {
                self.tree.push(list);
            }
            match &block.role {
                Role::Backdrop | Role::Foot => self.artifact(surface, &block.marks),
                Role::Title | Role::Heading => {
                    let level = if block.role == Role::Title {
                        NonZeroU16::MIN
                    } else {
                        NonZeroU16::MIN.saturating_add(1)
                    };
                    let words = words_of(block);
                    if let Some(top) = top_of(block) {
                        let place =
                            XyzDestination::new(index, Point::from_xy(0.0, (top - 8.0).max(0.0) * MM));
                        self.outline.push_child(OutlineNode::new(words.clone(), place));
                    }
                    let mut group = TagGroup::new(Tag::Hn(level, Some(words)));
                    self.texts(surface, &block.marks, &mut group);
                    self.tree.push(group);
                }
                Role::Text => {
                    let mut group = TagGroup::new(Tag::P);
                    self.texts(surface, &block.marks, &mut group);
                    self.tree.push(group);
                }
                Role::Entry => {
                    let mut body = TagGroup::new(Tag::LBody);
                    self.texts(surface, &block.marks, &mut body);
                    let mut item = TagGroup::new(Tag::LI);
                    item.push(body);
                    list.get_or_insert_with(|| TagGroup::new(Tag::L(ListNumbering::None)))
                        .push(item);
                }
                Role::Figure(alt) => {
                    let mut tag = Tag::Figure(Some(alt.clone()));
                    tag = tag.with_bbox(bounds(&block.marks).map(|rect| BBox::new(index, rect)));
                    let mut group = TagGroup::new(tag);
                    let id = surface.start_tagged(ContentTag::Other);
                    self.draw(surface, &block.marks);
                    surface.end_tagged();
                    group.push(id);
                    self.tree.push(group);
                }
            }
        }
        if let Some(list) = list {
            self.tree.push(list);
        }
    }

    fn artifact(&self, surface: &mut Surface, marks: &[Mark]) {
        surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)));
        self.draw(surface, marks);
        surface.end_tagged();
    }

    /// Draws marks whose text is read, line by line; what is not text is only for the eye.
    fn texts(&self, surface: &mut Surface, marks: &[Mark], group: &mut TagGroup) {
        for mark in marks {
            let one = std::slice::from_ref(mark);
            if matches!(mark, Mark::Text { .. }) {
                let id: Identifier = surface.start_tagged(ContentTag::Span(SpanTag::empty()));
                self.draw(surface, one);
                surface.end_tagged();
                group.push(id);
            } else {
                self.artifact(surface, one);
            }
        }
    }

    fn draw(&self, surface: &mut Surface, marks: &[Mark]) {
        for mark in marks {
            match mark {
                Mark::Text {
                    x,
                    y,
                    size,
                    bold,
                    ink,
                    words,
                    rtl,
                } => {
                    surface.set_stroke(None);
                    surface.set_fill(Some(fill(*ink)));
                    self.text(surface, (*x * MM, *y * MM), *size, words, *bold, *rtl);
                }
                Mark::Path {
                    points,
                    closed,
                    fill,
                    stroke,
                } => {
                    let mut path = PathBuilder::new();
                    for (at, (x, y)) in points.iter().enumerate() {
                        if at == 0 {
                            path.move_to(x * MM, y * MM);
                        } else {
                            path.line_to(x * MM, y * MM);
                        }
                    }
                    if *closed {
                        path.close();
                    }
                    paint(surface, path, *fill, *stroke);
                }
                Mark::Circle {
                    at,
                    radius,
                    fill,
                    stroke,
                } => {
                    paint(
                        surface,
                        circle((at.0 * MM, at.1 * MM), radius * MM),
                        *fill,
                        *stroke,
                    );
                }
            }
        }
    }

    fn text(&self, surface: &mut Surface, (x, y): (f32, f32), size: f32, words: &str, bold: bool, rtl: bool) {
        // The space at a line's end is kept where it lies at the end, so that copied lines do not grow together.
        let words = if rtl { words.trim_end() } else { words };
        let mut at = x;
        for run in self.shaper.runs(words, bold, rtl) {
            let glyphs: Vec<KrillaGlyph> = run
                .glyphs
                .iter()
                .map(|glyph| KrillaGlyph {
                    glyph_id: GlyphId::new(glyph.id),
                    text_range: glyph.range.clone(),
                    x_advance: glyph.advance,
                    x_offset: glyph.dx,
                    y_offset: glyph.dy,
                    y_advance: 0.0,
                    location: None,
                })
                .collect();
            let place = Point::from_xy(at, y);
            surface.draw_glyphs(
                place,
                &glyphs,
                self.faces[run.face].clone(),
                &words[run.range],
                size,
                false,
            );
            at += run.width * size;
        }
    }
}

fn fill(ink: Ink) -> Fill {
    let [red, green, blue] = ink.rgb();
    Fill {
        paint: rgb::Color::new(red, green, blue).into(),
        ..Fill::default()
    }
}

fn paint(surface: &mut Surface, path: PathBuilder, inside: Option<Ink>, stroke: Option<(Ink, f32)>) {
    surface.set_fill(inside.map(fill));
    surface.set_stroke(stroke.map(|(ink, width)| Stroke {
        paint: fill(ink).paint,
        width: width * MM,
        line_cap: LineCap::Round,
        line_join: LineJoin::Round,
        ..Stroke::default()
    }));
    if let Some(path) = path.finish() {
        surface.draw_path(&path);
    }
}

/// A circle as four cubic curves; 0.5523 is the usual length of their handles, within 0.03 % of a true circle.
fn circle((x, y): (f32, f32), r: f32) -> PathBuilder {
    let k = 0.552_3 * r;
    let mut path = PathBuilder::new();
    path.move_to(x + r, y);
    path.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
    path.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
    path.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
    path.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
    path.close();
    path
}

fn words_of(block: &Block) -> String {
    let words = block.marks.iter().filter_map(|mark| match mark {
        Mark::Text { words, .. } => Some(words.as_str()),
        _ => None,
    });
    words.collect::<String>().trim_end().to_owned()
}

fn top_of(block: &Block) -> Option<f32> {
    block.marks.iter().find_map(|mark| match mark {
        Mark::Text { y, .. } => Some(*y),
        _ => None,
    })
}

/// The rectangle around shapes, in points.
fn bounds(marks: &[Mark]) -> Option<Rect> {
    let mut points = Vec::new();
    for mark in marks {
        match mark {
            Mark::Path { points: path, .. } => points.extend(path.iter().copied()),
            Mark::Circle { at, radius, .. } => {
                points.extend([(at.0 - radius, at.1 - radius), (at.0 + radius, at.1 + radius)]);
            }
            Mark::Text { .. } => {}
        }
    }
    let fold = |of: fn(&(f32, f32)) -> f32, pick: fn(f32, f32) -> f32, start: f32| {
        points.iter().map(of).fold(start, pick) * MM
    };
    let (left, top) = (
        fold(|p| p.0, f32::min, f32::MAX),
        fold(|p| p.1, f32::min, f32::MAX),
    );
    let (right, bottom) = (
        fold(|p| p.0, f32::max, f32::MIN),
        fold(|p| p.1, f32::max, f32::MIN),
    );
    Rect::from_ltrb(left, top, right, bottom)
}
