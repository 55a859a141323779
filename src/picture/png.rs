//! The SVG as a PNG, drawn by resvg.

use std::sync::Arc;

use resvg::tiny_skia;
use resvg::usvg;

use crate::picture::Fonts;
use crate::picture::PictureError;
use crate::picture::fonts::FAMILY;

/// The most dots of one picture, four bytes each in memory.
const MOST: f32 = 200e6;

pub(in crate::picture) fn draw(svg: &str, fonts: &Fonts, scale: f32) -> Result<Vec<u8>, PictureError> {
    let mut database = fontdb::Database::new();
    for face in &fonts.faces {
        database.load_font_source(fontdb::Source::Binary(face.bytes.clone()));
    }
    database.set_sans_serif_family(FAMILY);
    let options = usvg::Options {
        font_family: FAMILY.to_owned(),
        fontdb: Arc::new(database),
        ..usvg::Options::default()
    };
    let tree = usvg::Tree::from_str(svg, &options).map_err(|_| PictureError::Png)?;
    let (width, height) = (
        (tree.size().width() * scale).ceil(),
        (tree.size().height() * scale).ceil(),
    );
    if !(width >= 1.0 && height >= 1.0 && width * height <= MOST) {
        return Err(PictureError::TooLarge);
    }
    // Both are whole, positive and below 2e8.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let dots = (width as u32, height as u32);
    let mut canvas = tiny_skia::Pixmap::new(dots.0, dots.1).ok_or(PictureError::TooLarge)?;
    canvas.fill(tiny_skia::Color::WHITE);
    resvg::render(
        &tree,
        tiny_skia::Transform::from_scale(scale, scale),
        &mut canvas.as_mut(),
    );
    canvas.encode_png().map_err(|_| PictureError::Png)
}
