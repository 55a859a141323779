//! An empty sheet for paper, with a line of guidance in each field, in two wordings.

use crate::map::Field;
use crate::page::Corner;
use crate::page::Fields;
use crate::page::Page;
use crate::page::Paper;
use crate::page::Part;
use crate::page::Turned;
use crate::page::sheet::place;
use crate::page::wording;

/// How simply the guidance speaks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Guidance {
    /// For most grown-ups.
    #[default]
    Plain,
    /// Shorter words, for a young reader or a tired one.
    Plainer,
}

/// The empty sheet.
#[must_use]
pub fn blank(paper: Paper, guidance: Guidance) -> Page {
    let corner = |field| Corner {
        place: place(field),
        heading: wording::heading(field).to_owned(),
        guide: wording::guide(field, guidance).to_owned(),
        items: Vec::new(),
        lines: 6,
    };
    let fields = Fields {
        corners: Field::ALL.map(corner),
        centre: wording::noticing().to_owned(),
        left: wording::away().to_owned(),
        right: wording::toward().to_owned(),
        above: wording::above().to_owned(),
        below: wording::below().to_owned(),
        key: wording::order().to_owned(),
    };
    Page {
        title: wording::blank().to_owned(),
        date: None,
        language: wording::language(),
        paper,
        turned: Turned::Landscape,
        parts: vec![Part::Fields(Box::new(fields))],
    }
}
