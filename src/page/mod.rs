//! The map and its insights as neutral pages: what is on them and in which order, before anyone decides whether they
//! become a terminal picture, a PDF or a line of plain text.
//!
//! A [`Page`] is a list of [`Part`]s in reading order. [`lay()`] gives every part its place on paper, in millimetres; it
//! asks a [`Ruler`] how wide text is, so that this room needs no fonts.

mod appointment;
mod blank;
mod charts;
mod chosen;
mod corners;
mod entry;
mod lay;
mod leaf;
mod lookback;
mod loops;
mod ring;
mod sheet;
mod wording;
mod words;
mod wrap;

use jiff::civil::Date;

pub use appointment::AppointmentOptions;
pub use appointment::appointment;
pub use blank::Guidance;
pub use blank::blank;
pub use chosen::Chosen;
pub use lay::lay;
pub use leaf::Block;
pub use leaf::Ink;
pub use leaf::Leaf;
pub use leaf::Mark;
pub use leaf::Role;
pub use lookback::lookback;
pub use loops::loops;
pub use sheet::SheetOptions;
pub use sheet::sheet;
pub use wording::back_to_one;
pub use wording::no_letters;
pub use wording::none;
pub use wording::nothing_yet;
pub use wording::some_signs;
pub use wrap::Piece;
pub use wrap::Ruler;

/// A page to be drawn. It holds a person's plain words, so it has no `Debug`.
#[derive(Clone, PartialEq)]
pub struct Page {
    /// What the page is called, shown at its top and kept as the title of files.
    pub title: String,
    /// The date at its top, when the person wants one.
    pub date: Option<Date>,
    /// The language of the fixed words, as a BCP 47 tag.
    pub language: &'static str,
    /// The paper.
    pub paper: Paper,
    /// How the paper is turned.
    pub turned: Turned,
    /// What is on it, in reading order.
    pub parts: Vec<Part>,
}

/// A size of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Paper {
    /// ISO 216 A4, 210 by 297 mm.
    #[default]
    A4,
    /// North American letter, 8.5 by 11 inches, 215.9 by 279.4 mm.
    Letter,
}

/// How the paper is turned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Turned {
    /// The long side runs across.
    #[default]
    Landscape,
    /// The long side runs down.
    Portrait,
}

impl Paper {
    /// Width and height in millimetres.
    #[must_use]
    pub fn size(self, turned: Turned) -> (f32, f32) {
        let (short, long) = match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        };
        match turned {
            Turned::Landscape => (long, short),
            Turned::Portrait => (short, long),
        }
    }
}

/// One part of a page.
#[derive(Clone, PartialEq)]
pub enum Part {
    /// A heading of its own.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// A list.
    List(Vec<Item>),
    /// Empty lines to write on, this many.
    Lines(usize),
    /// The four fields.
    Fields(Box<Fields>),
    /// A loop, drawn as a ring.
    Ring(Ring),
    /// Counts by row, such as a week or a hook.
    Bars(Bars),
    /// Shares with their intervals.
    Shares(Shares),
    /// Pairs on a scale from 0 to 10.
    Pairs(Pairs),
}

/// One line of a list or a field: words, and what is said beside them.
#[derive(Clone, PartialEq, Eq, Default)]
pub struct Item {
    /// The small number by which others point here.
    pub number: Option<usize>,
    /// The words.
    pub words: String,
    /// Said beside them, smaller: links by number, a date.
    pub notes: Vec<String>,
}

/// The four fields around the noticing circle.
#[derive(Clone, PartialEq, Eq)]
pub struct Fields {
    /// In reading order: what matters, what shows up, away moves, toward moves.
    pub corners: [Corner; 4],
    /// The word in the circle.
    pub centre: String,
    /// The word at the left end of the line across.
    pub left: String,
    /// The word at its right end.
    pub right: String,
    /// The words at the top of the line down.
    pub above: String,
    /// The words at its bottom.
    pub below: String,
    /// How to read the small numbers; empty when there are none.
    pub key: String,
}

/// One of the four fields.
#[derive(Clone, PartialEq, Eq)]
pub struct Corner {
    /// Where it stands.
    pub place: Place,
    /// Its name.
    pub heading: String,
    /// One line of guidance; empty for none.
    pub guide: String,
    /// What is in it, in order.
    pub items: Vec<Item>,
    /// How many empty lines to write on follow.
    pub lines: usize,
}

/// Where a field stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// Lower right.
    Matters,
    /// Lower left.
    Inner,
    /// Upper left.
    Away,
    /// Upper right.
    Toward,
}

impl Place {
    /// Whether it is on the away side, left.
    #[must_use]
    pub fn is_left(self) -> bool {
        matches!(self, Self::Inner | Self::Away)
    }

    /// Whether it is in the upper half, what a camera sees.
    #[must_use]
    pub fn is_upper(self) -> bool {
        matches!(self, Self::Away | Self::Toward)
    }
}

/// A loop as a ring: from each stop to the next, and from the last to the first where it closes.
#[derive(Clone, PartialEq, Eq)]
pub struct Ring {
    /// What the loop is called.
    pub heading: String,
    /// The stops in order.
    pub stops: Vec<Stop>,
    /// Whether the last leads back to the first.
    pub closes: bool,
    /// Sentences about the loop, such as where one could step out.
    pub notes: Vec<String>,
}

/// One stop of a ring.
#[derive(Clone, PartialEq, Eq)]
pub struct Stop {
    /// What it is in the loop, in one or two words.
    pub role: String,
    /// The person's words.
    pub words: String,
    /// Whether it lies on the away side of the colours (an away move or what it costs).
    pub away: bool,
}

/// Counts by row (a week, a hook), several kinds beside each other.
#[derive(Clone, PartialEq, Eq)]
pub struct Bars {
    /// What is counted.
    pub heading: String,
    /// The kinds, at most four, each with its look.
    pub kinds: Vec<(String, Look)>,
    /// Each row's label and its count of every kind.
    pub rows: Vec<(String, Vec<u32>)>,
}

/// How a kind looks, so that colour never says it alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Look {
    /// Filled, in the colour of the toward side.
    Toward,
    /// Striped, in the colour of the away side.
    Away,
    /// Outlined.
    Plain,
    /// Dotted.
    Faint,
}

/// Shares with their intervals.
#[derive(Clone, PartialEq)]
pub struct Shares {
    /// What is shared out.
    pub heading: String,
    /// One row each.
    pub rows: Vec<Share>,
}

/// A share: so many of so many, and how far the true share may lie to either side.
#[derive(Clone, PartialEq)]
pub struct Share {
    /// Of what.
    pub label: String,
    /// How many.
    pub count: u32,
    /// Of how many.
    pub of: u32,
    /// The interval, 0 to 1; `None` while there are too few to say a share.
    pub interval: Option<(f64, f64)>,
}

/// Pairs of numbers on a scale from 0 to 10, such as now and later.
#[derive(Clone, PartialEq, Eq)]
pub struct Pairs {
    /// What is compared.
    pub heading: String,
    /// The names of the two ends, such as "now" and "later".
    pub ends: (String, String),
    /// Each row's words and its two numbers, 0 to 10.
    pub rows: Vec<(String, u8, u8)>,
}

impl Share {
    /// The share in words: counts first, and how far the true share may lie where that can be said.
    #[must_use]
    pub fn says(&self) -> String {
        wording::share(self.count, self.of, self.interval)
    }
}
