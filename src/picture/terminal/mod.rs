//! Pages as terminal text: a picture where there is room, a list where there is not or where it is read aloud.

mod fields;
mod figures;
mod fold;
mod ink;
mod list;
mod rows;

use std::borrow::Cow;

use crate::page::Page;
use crate::page::Part;
use crate::picture::terminal::fold::fold;
use crate::picture::terminal::fold::width;
use crate::picture::terminal::ink::Ink;
use crate::picture::terminal::ink::dyed;

/// The narrowest screen on which the four fields stand side by side.
pub const SIDE_BY_SIDE: usize = 60;

/// What a screen can show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Screen {
    /// How many columns wide.
    pub columns: usize,
    /// Whether it shows box-drawing and other signs beyond ASCII.
    pub unicode: bool,
    /// Whether it shows colour.
    pub colour: bool,
    /// Whether to print a list with no drawing, each thing once, as for a screen reader.
    pub plain: bool,
}

/// Text as it may reach a screen: control characters and escape sequences are shown, not obeyed; line breaks and tabs
/// become spaces; signs that turn the writing direction, and signs with no shape, are left out.
#[must_use]
pub fn shown(text: &str) -> String {
    safe(text).into_owned()
}

/// The same, left where it is when it has nothing to look after.
pub(in crate::picture) fn safe(text: &str) -> Cow<'_, str> {
    let is_same = |sign| matches!(seen(sign), Seen::Same);
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~')) || text.chars().all(is_same) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        if sign == '\r' && signs.peek() == Some(&'\n') {
            continue;
        }
        match seen(sign) {
            Seen::Same => out.push(sign),
            Seen::Space => out.push(' '),
            Seen::Caret(before, code) => {
                out.push_str(before);
                out.push(char::from(code));
            }
            Seen::Nothing => {}
            Seen::Unknown => out.push('\u{fffd}'),
        }
    }
    Cow::Owned(out)
}

/// What a screen is given for a sign.
enum Seen {
    Same,
    Space,
    /// What stands before a letter or sign that names a control character.
    Caret(&'static str, u8),
    Nothing,
    Unknown,
}

fn seen(sign: char) -> Seen {
    match sign {
        ' '..='~' => Seen::Same,
        '\n' | '\r' | '\t' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => Seen::Space,
        // Caret notation, as `cat -v` and the terminal's own echo write control characters.
        '\0'..='\u{1f}' => Seen::Caret("^", sign as u8 + 0x40),
        '\u{7f}' => Seen::Caret("^", b'?'),
        '\u{80}'..='\u{9f}' => Seen::Caret("^[", sign as u8 - 0x40),
        // Marks that only turn the writing direction, soft hyphens, and signs with no shape.
        '\u{61c}'
        | '\u{200e}'
        | '\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2066}'..='\u{206f}'
        | '\u{ad}'
        | '\u{180e}'
        | '\u{200b}'
        | '\u{2060}'..='\u{2065}'
        | '\u{feff}'
        | '\u{fff9}'..='\u{fffb}'
        | '\u{e0000}'..='\u{e007f}' => Seen::Nothing,
        other if (0xfdd0..=0xfdef).contains(&u32::from(other)) || u32::from(other) & 0xfffe == 0xfffe => {
            Seen::Unknown
        }
        _ => Seen::Same,
    }
}

/// The page for a screen. No line is wider than the screen, unless a single sign is.
#[must_use]
pub fn draw(page: &Page, screen: &Screen) -> String {
    let page = page.with_words(&safe);
    let screen = Screen {
        columns: screen.columns.clamp(20, 400),
        ..*screen
    };
    let mut out = String::new();
    add(head(&page, &screen), &mut out);
    let mut after_heading = false;
    for part in &page.parts {
        if !after_heading {
            out.push('\n');
        }
        draw_part(part, &screen, &mut out);
        after_heading = matches!(part, Part::Heading(_));
    }
    out
}

fn add(rows: Vec<String>, out: &mut String) {
    for row in rows {
        out.push_str(&row);
        out.push('\n');
    }
}

fn head(page: &Page, screen: &Screen) -> Vec<String> {
    let date = page.date.map(|date| date.to_string());
    let space = date
        .as_ref()
        .and_then(|date| screen.columns.checked_sub(width(&page.title) + width(date)));
    match (date, space) {
        (Some(date), Some(space)) if space > 1 && !screen.plain => {
            vec![format!(
                "{}{}{date}",
                dyed(&page.title, Ink::Strong, screen),
                " ".repeat(space)
            )]
        }
        (date, _) => {
            let title = fold(&page.title, screen.columns).into_iter();
            title
                .map(|line| dyed(&line, Ink::Strong, screen))
                .chain(date)
                .collect()
        }
    }
}

fn draw_part(part: &Part, screen: &Screen, out: &mut String) {
    let rows = match part {
        Part::Heading(words) => fold(words, screen.columns)
            .iter()
            .map(|line| dyed(line, Ink::Strong, screen))
            .collect(),
        Part::Text(words) => fold(words, screen.columns),
        Part::List(items) => list::items(items, screen),
        Part::Lines(count) => vec!["_".repeat(screen.columns.min(60)); *count],
        Part::Fields(fields) if !screen.plain && screen.columns >= SIDE_BY_SIDE => {
            return fields::draw(fields, screen, out);
        }
        Part::Fields(fields) => list::fields(fields, screen),
        Part::Ring(ring) => figures::ring(ring, screen),
        Part::Bars(bars) => figures::bars(bars, screen),
        Part::Shares(shares) => figures::shares(shares, screen),
        Part::Pairs(pairs) => figures::pairs(pairs, screen),
    };
    add(rows, out);
}
