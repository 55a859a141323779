//! Pages as terminal text.

use crate::page::Page;

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
    let mut out = String::with_capacity(text.len());
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        if sign == '\r' && signs.peek() == Some(&'\n') {
            continue;
        }
        match sign {
            '\n' | '\r' | '\t' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => out.push(' '),
            // Caret notation, as `cat -v` and the terminal's own echo write control characters.
            '\0'..='\u{1f}' => out.extend(['^', char::from(sign as u8 + 0x40)]),
            '\u{7f}' => out.push_str("^?"),
            '\u{80}'..='\u{9f}' => out.extend(['^', '[', char::from(sign as u8 - 0x40)]),
            // Marks that only turn the writing direction, soft hyphens, and signs with no shape.
            '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{206f}' => {}
            '\u{ad}'
            | '\u{180e}'
            | '\u{200b}'
            | '\u{2060}'..='\u{2065}'
            | '\u{feff}'
            | '\u{fff9}'..='\u{fffb}'
            | '\u{e0000}'..='\u{e007f}' => {}
            other if (0xfdd0..=0xfdef).contains(&u32::from(other)) || u32::from(other) & 0xfffe == 0xfffe => {
                out.push('\u{fffd}')
            }
            other => out.push(other),
        }
    }
    out
}

/// The page for a screen.
#[must_use]
pub fn draw(page: &Page, screen: &Screen) -> String {
    let _ = screen;
    crate::picture::plain(page)
}
