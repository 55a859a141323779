//! Lines with placeholders, `{slot}`, `{slot|fallback}` and `{count.away}`, and how a person's words are made safe to
//! show inside them.

use unicode_segmentation::UnicodeSegmentation as _;

use crate::dialogue::guard::Counted;
use crate::dialogue::guard::counted;
use crate::dialogue::guard::is_slot_name;

/// The most letters of a person's words that one line repeats.
const MOST_REPEATED: usize = 120;

/// A line, read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct Line(pub(in crate::dialogue) Vec<Piece>);

/// A piece of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Piece {
    Text(String),
    Slot { name: String, fallback: Option<String> },
    Count(Counted),
}

impl Line {
    /// The line as an author reads it: each placeholder as its fallback, or as one word.
    pub(in crate::dialogue) fn as_read(&self) -> String {
        self.0
            .iter()
            .map(|piece| match piece {
                Piece::Text(text) => text.as_str(),
                Piece::Slot {
                    fallback: Some(fallback),
                    ..
                } => fallback,
                Piece::Slot { .. } | Piece::Count(_) => "this",
            })
            .collect()
    }

    /// Reads a line. The error is the placeholder that is not understood.
    pub(in crate::dialogue) fn parse(text: &str) -> Result<Self, String> {
        let mut pieces = Vec::new();
        let mut rest = text;
        while let Some(open) = rest.find(['{', '}']) {
            let (before, from) = rest.split_at(open);
            if !before.is_empty() {
                pieces.push(Piece::Text(before.to_owned()));
            }
            let close = from
                .find('}')
                .filter(|close| *close > 0)
                .ok_or_else(|| from.to_owned())?;
            pieces.push(placeholder(&from[1..close]).ok_or_else(|| from[..=close].to_owned())?);
            rest = &from[close + 1..];
        }
        if !rest.is_empty() {
            pieces.push(Piece::Text(rest.to_owned()));
        }
        Ok(Self(pieces))
    }

    /// The slots that must be set for the line to read well.
    pub(in crate::dialogue) fn needs(&self) -> impl Iterator<Item = &str> {
        self.0.iter().filter_map(|piece| match piece {
            Piece::Slot { name, fallback: None } => Some(name.as_str()),
            _ => None,
        })
    }

    /// Every slot that it names.
    pub(in crate::dialogue) fn slots(&self) -> impl Iterator<Item = &str> {
        self.0.iter().filter_map(|piece| match piece {
            Piece::Slot { name, .. } => Some(name.as_str()),
            _ => None,
        })
    }

    /// The line with its placeholders filled.
    pub(in crate::dialogue) fn fill(
        &self,
        slot: impl Fn(&str) -> Option<String>,
        count: impl Fn(Counted) -> usize,
    ) -> String {
        let mut filled = String::new();
        for piece in &self.0 {
            match piece {
                Piece::Text(text) => filled.push_str(text),
                Piece::Slot { name, fallback } => {
                    filled.push_str(&slot(name).or_else(|| fallback.clone()).unwrap_or_default());
                }
                Piece::Count(what) => filled.push_str(&count(*what).to_string()),
            }
        }
        filled
    }
}

fn placeholder(inside: &str) -> Option<Piece> {
    if let Some(what) = inside.strip_prefix("count.") {
        return counted(what).map(Piece::Count);
    }
    let (name, fallback) = match inside.split_once('|') {
        Some((name, fallback)) => (name, Some(fallback.to_owned())),
        None => (inside, None),
    };
    is_slot_name(name).then(|| Piece::Slot {
        name: name.to_owned(),
        fallback,
    })
}

/// A person's words as one line that is safe to show: control characters become visible signs, signs that turn the
/// direction of text are left out, line breaks become blanks, and a very long text is cut at a letter.
pub(in crate::dialogue) fn shown(words: &str) -> String {
    let mut text = String::new();
    for (count, letter) in words.trim().graphemes(true).enumerate() {
        if count == MOST_REPEATED {
            text.push('…');
            break;
        }
        // A letter can carry any number of marks; sixteen are more than any script needs.
        text.extend(letter.chars().take(16).filter_map(visible));
    }
    text
}

fn visible(c: char) -> Option<char> {
    match c {
        '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => Some(' '),
        '\u{0}'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)),
        '\u{7f}' => Some('\u{2421}'),
        c if c.is_control() => Some('\u{fffd}'),
        '\u{200e}' | '\u{200f}' | '\u{061c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => None,
        c => Some(c),
    }
}
