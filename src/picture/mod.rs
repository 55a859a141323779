//! Pages as pictures: terminal text, SVG, PDF, PNG, Markdown and plain text, all from the same neutral page.
//!
//! Everything here is computed from the page and the fonts that are handed in: the same page and fonts give the same
//! bytes. Nothing but the page's own title, language and date goes into a file's metadata.

mod fonts;
mod lines;
mod pdf;
mod png;
mod shape;
mod svg;
pub mod terminal;

pub use fonts::Fonts;
pub use lines::markdown;
pub use lines::plain;

use std::borrow::Cow;

use crate::page::Page;
use crate::page::lay;
use crate::picture::shape::Shaper;

/// Why a picture could not be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PictureError {
    /// The picture would be larger than can be drawn; a smaller scale or a PDF works.
    TooLarge,
    /// The PDF writer refused; the text says why and holds no words of the person's.
    Pdf(String),
    /// The drawing of the PNG failed.
    Png,
}

/// The page as one SVG document, its sides below each other. Signs that no font here has stay in the text, since the
/// viewer may have them.
#[must_use]
pub fn svg(page: &Page, fonts: &Fonts) -> String {
    let page = page.with_words(&terminal::safe);
    let shaper = Shaper::new(fonts);
    svg::write(&page, &lay(&page, &shaper), &shaper, fonts, true)
}

/// The page as a tagged PDF with its fonts embedded and cut down to the signs in use.
///
/// # Errors
/// [`PictureError::Pdf`] when the writer refuses.
pub fn pdf(page: &Page, fonts: &Fonts) -> Result<Vec<u8>, PictureError> {
    let page = drawable(page, fonts);
    let shaper = Shaper::new(fonts);
    pdf::write(&page, &lay(&page, &shaper), &shaper, fonts)
}

/// The page as a PNG, its sides below each other. A scale of 1 is 96 dots an inch.
///
/// # Errors
/// [`PictureError::TooLarge`] when the picture would have more than 200 million dots, [`PictureError::Png`] when it
/// cannot be drawn.
pub fn png(page: &Page, fonts: &Fonts, scale: f32) -> Result<Vec<u8>, PictureError> {
    let page = drawable(page, fonts);
    let shaper = Shaper::new(fonts);
    png::draw(
        &svg::write(&page, &lay(&page, &shaper), &shaper, fonts, false),
        fonts,
        scale,
    )
}

/// A page of which every sign can be drawn.
fn drawable<'p>(page: &'p Page, fonts: &Fonts) -> Cow<'p, Page> {
    page.with_words(&|words| Cow::Owned(fonts.drawable(&terminal::safe(words))))
}
