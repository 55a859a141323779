//! The few inks of the terminal. Colour only ever repeats what words and places say.

use crate::picture::terminal::Screen;

/// What a text is, for its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::picture::terminal) enum Ink {
    /// The person's words, as the terminal shows text.
    Words,
    /// Bold.
    Strong,
    /// Said beside them.
    Quiet,
    /// The away side.
    Away,
    /// The toward side.
    Toward,
}

/// Text with its colour, where the screen shows colour.
pub(in crate::picture::terminal) fn dyed(text: &str, ink: Ink, screen: &Screen) -> String {
    let mut out = String::with_capacity(text.len());
    dye(&mut out, text, ink, screen);
    out
}

/// The same, behind what is in `out` already.
pub(in crate::picture::terminal) fn dye(out: &mut String, text: &str, ink: Ink, screen: &Screen) {
    // Colours 172 and 32 of the 256 are the closest to the orange and blue of Okabe and Ito that read on dark and
    // on light ground; bold keeps headings apart where both look grey.
    let code = match ink {
        Ink::Words => None,
        Ink::Strong => Some("1"),
        Ink::Quiet => Some("2"),
        Ink::Away => Some("1;38;5;172"),
        Ink::Toward => Some("1;38;5;32"),
    };
    match code.filter(|_| screen.colour && !text.trim().is_empty()) {
        Some(code) => out.extend(["\u{1b}[", code, "m", text, "\u{1b}[0m"]),
        None => out.push_str(text),
    }
}
