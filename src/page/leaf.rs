//! A page laid out: sides of paper with everything in its place, in millimetres from the upper left corner.

/// One side of paper.
#[derive(Clone, PartialEq)]
pub struct Leaf {
    /// Width in millimetres.
    pub width: f32,
    /// Height in millimetres.
    pub height: f32,
    /// What is on it, in reading order.
    pub blocks: Vec<Block>,
}

/// Marks that belong together, and what they are to a reader.
#[derive(Clone, PartialEq)]
pub struct Block {
    /// What it is.
    pub role: Role,
    /// The marks, in the order in which they are drawn.
    pub marks: Vec<Mark>,
}

/// What a block is to a reader, and to a program that reads aloud.
#[derive(Clone, PartialEq, Eq)]
pub enum Role {
    /// Only for the eye; not read.
    Backdrop,
    /// The title of the page.
    Title,
    /// A heading.
    Heading,
    /// A paragraph.
    Text,
    /// An entry of a list; entries in a row make one list.
    Entry,
    /// A drawing, with what it shows in words.
    Figure(String),
    /// The foot of a side, the same on each; not read.
    Foot,
}

/// One thing drawn.
#[derive(Clone, PartialEq)]
pub enum Mark {
    /// One line of text.
    Text {
        /// Its left end.
        x: f32,
        /// Its baseline.
        y: f32,
        /// The size of the letters, in points.
        size: f32,
        /// Whether it is bold.
        bold: bool,
        /// Its ink.
        ink: Ink,
        /// The words.
        words: String,
        /// Whether the paragraph it belongs to runs from right to left.
        rtl: bool,
    },
    /// A straight or bent line through points, or a shape when it is closed.
    Path {
        /// The points.
        points: Vec<(f32, f32)>,
        /// Whether the last point is joined to the first.
        closed: bool,
        /// The ink that fills it.
        fill: Option<Ink>,
        /// The ink along the line and its width in millimetres.
        stroke: Option<(Ink, f32)>,
    },
    /// A circle.
    Circle {
        /// The centre.
        at: (f32, f32),
        /// The radius.
        radius: f32,
        /// The ink that fills it.
        fill: Option<Ink>,
        /// The ink along the line and its width in millimetres.
        stroke: Option<(Ink, f32)>,
    },
}

/// The inks. Blue and orange are those of Okabe and Ito (2008), which people with every kind of colour vision can
/// tell apart; text on the away side has a darker ink of the same hue, since orange is too light to read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// The person's words.
    Words,
    /// What is said beside them.
    Quiet,
    /// Lines.
    Rule,
    /// The toward side.
    Toward,
    /// The away side, for filling only.
    Away,
    /// Text and outlines on the away side.
    AwayText,
    /// The ground of the toward side.
    TowardGround,
    /// The ground of the away side.
    AwayGround,
    /// Paper.
    Paper,
}

impl Ink {
    /// Every ink that text or an outline may have.
    pub const FRONT: [Self; 5] = [Self::Words, Self::Quiet, Self::Rule, Self::Toward, Self::AwayText];
    /// Every ink that may lie under text.
    pub const GROUND: [Self; 3] = [Self::Paper, Self::TowardGround, Self::AwayGround];

    /// Red, green and blue in sRGB.
    #[must_use]
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Self::Words => [0x1c, 0x1c, 0x1e],
            Self::Quiet => [0x4d, 0x51, 0x57],
            Self::Rule => [0x5f, 0x64, 0x6b],
            Self::Toward => [0x00, 0x72, 0xb2],
            Self::Away => [0xe6, 0x9f, 0x00],
            Self::AwayText => [0x7d, 0x4e, 0x00],
            Self::TowardGround => [0xf1, 0xf7, 0xfb],
            Self::AwayGround => [0xfe, 0xf8, 0xec],
            Self::Paper => [0xff, 0xff, 0xff],
        }
    }
}

impl Mark {
    /// A straight line.
    #[must_use]
    pub fn line(from: (f32, f32), to: (f32, f32), ink: Ink, width: f32) -> Self {
        Self::Path {
            points: vec![from, to],
            closed: false,
            fill: None,
            stroke: Some((ink, width)),
        }
    }

    /// A rectangle.
    #[must_use]
    pub fn rectangle(
        (left, top): (f32, f32),
        (width, height): (f32, f32),
        fill: Option<Ink>,
        stroke: Option<(Ink, f32)>,
    ) -> Self {
        let (right, bottom) = (left + width, top + height);
        let points = vec![(left, top), (right, top), (right, bottom), (left, bottom)];
        Self::Path {
            points,
            closed: true,
            fill,
            stroke,
        }
    }
}
