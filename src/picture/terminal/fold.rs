//! Folding text to a number of columns, by what terminals take as the width of each sign.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// How many columns a text takes.
pub(in crate::picture::terminal) fn width(text: &str) -> usize {
    if is_simple(text) { text.len() } else { text.width() }
}

/// Whether every sign takes one column and none needs care; most lines are so, and thousands are folded at a time.
fn is_simple(text: &str) -> bool {
    text.bytes().all(|byte| matches!(byte, b' '..=b'~'))
}

/// Whether a text is one line as it is, by a look that is quick and sometimes too careful.
pub(in crate::picture::terminal) fn fits(text: &str, columns: usize) -> bool {
    text.len() <= columns && is_simple(text)
}

/// The lines of a text, none wider than `columns` unless a single sign is. A text with nothing in it has one empty line.
pub(in crate::picture::terminal) fn fold(text: &str, columns: usize) -> Vec<String> {
    let columns = columns.max(2);
    if fits(text, columns) {
        return vec![text.trim_end().to_owned()];
    }
    let mut lines = vec![String::new()];
    let mut used = 0;
    let mut start = 0;
    for (end, _) in unicode_linebreak::linebreaks(text) {
        let piece = &text[start..end];
        start = end;
        let bare = piece.trim_end();
        if used > 0 && used + width(bare) > columns {
            lines.push(String::new());
            used = 0;
        }
        if width(bare) > columns {
            for sign in piece.graphemes(true) {
                if used > 0 && used + width(sign) > columns {
                    lines.push(String::new());
                    used = 0;
                }
                used += width(sign);
                if let Some(line) = lines.last_mut() {
                    line.push_str(sign);
                }
            }
        } else if let Some(line) = lines.last_mut() {
            line.push_str(piece);
            used += width(piece);
        }
    }
    for line in &mut lines {
        line.truncate(line.trim_end().len());
    }
    lines
}

/// Text with spaces after it up to a width.
pub(in crate::picture::terminal) fn padded(text: &str, columns: usize) -> String {
    let missing = columns.saturating_sub(width(text));
    format!("{text}{}", " ".repeat(missing))
}

/// Text in the middle of a width.
pub(in crate::picture::terminal) fn centred(text: &str, columns: usize) -> String {
    let missing = columns.saturating_sub(width(text));
    format!("{}{text}", " ".repeat(missing / 2))
}
