//! A quick way through words files, which are long and nearly always plain: the program has them to read before it says its
//! first word. What is not plain is left to a reader for all of TOML.

use std::borrow::Cow;
use std::ops::Range;

/// A row of a words file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row<'f> {
    /// The name of the line.
    pub name: &'f str,
    /// Where in the file the name stands, with its quotes.
    pub name_at: Range<usize>,
    /// What is said.
    pub text: Cow<'f, str>,
    /// Where in the file that stands, with its quotes.
    pub text_at: Range<usize>,
}

/// The rows of a file that holds notes, the one heading, and a name and a text in quotes on each other line, in which a
/// backslash stands only before a quote or another backslash. `None` where anything else is in it, or a name is there
/// twice. In the order of the names, as a reader for all of TOML gives them.
#[must_use]
pub fn plain_rows(file: &str) -> Option<Vec<Row<'_>>> {
    if has_controls(file) {
        return None;
    }
    let mut rows = Vec::new();
    let mut headed = false;
    let mut at = 0;
    for line in file.split('\n') {
        let start = at;
        at += line.len() + 1;
        match line.as_bytes().first() {
            None | Some(b'#') => {}
            Some(b'[') if line == "[lines]" && !headed => headed = true,
            Some(b'"') if headed => {
                let (name, rest) = line[1..].split_once('"')?;
                let text = rest.strip_prefix(" = \"")?;
                let between = start + name.len() + 2;
                rows.push(Row {
                    name: Some(name).filter(|name| !name.contains('\\'))?,
                    name_at: start..between,
                    text: unescaped(text.strip_suffix('"')?)?,
                    text_at: between + 3..start + line.len(),
                });
            }
            Some(_) => return None,
        }
    }
    rows.sort_by_key(|row| row.name);
    let twice = rows.windows(2).any(|pair| pair[0].name == pair[1].name);
    (headed && !twice).then_some(rows)
}

/// Whether there is a control sign in a file, other than the ends of its lines.
fn has_controls(file: &str) -> bool {
    let controls = |byte: u8| byte < b' ' && byte != b'\n' || byte == 0x7f;
    file.bytes().any(controls)
        || !file.is_ascii() && file.contains(|sign: char| sign != '\n' && sign.is_control())
}

/// A text without the backslash before a quote or another backslash. `None` where either stands in another way.
fn unescaped(text: &str) -> Option<Cow<'_, str>> {
    if !text.bytes().any(|byte| matches!(byte, b'"' | b'\\')) {
        return Some(Cow::Borrowed(text));
    }
    let mut out = String::with_capacity(text.len());
    let mut signs = text.chars();
    while let Some(sign) = signs.next() {
        out.push(match sign {
            '"' => return None,
            '\\' => signs.next().filter(|next| matches!(next, '"' | '\\'))?,
            sign => sign,
        });
    }
    Some(Cow::Owned(out))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_plain_is_left_to_a_reader_for_all_of_toml() {
        let plain = "[lines]\n\"a\" = \"One.\"\n# A note.\n\n\"b\" = \"Two \\\"three\\\" \\\\.\"";
        let rows = plain_rows(plain).expect("plain");
        assert_eq!(rows[1].text, "Two \"three\" \\.");
        assert_eq!(&plain[rows[1].name_at.clone()], "\"b\"");
        assert_eq!(&plain[rows[1].text_at.clone()], "\"Two \\\"three\\\" \\\\.\"");
        for (from, to) in [
            ("[lines]\n", ""),
            ("[lines]", "[words]"),
            ("\"b\"", "\"a\""),
            ("\"b\"", "b"),
            ("\"b\"", " \"b\""),
            ("\"b\"", "\"\\\"\""),
            ("Two", "Tw\\u006f"),
            ("Two", "Two\""),
            ("\\\\.\"", "\\\\.\" # A note."),
            ("\\\\.\"", "\\\\."),
            ("\\\\.\"", "\\\""),
            ("\"One.\"", "\"\"\"One.\"\"\""),
            ("\"One.\"", "[\"One.\"]"),
            ("One", "One\t"),
            ("One", "One\u{85}"),
            ("\n\"b\"", "\r\n\"b\""),
            ("\"b\"", "[lines]\n\"b\""),
        ] {
            let other = plain.replacen(from, to, 1);
            assert_ne!(other, plain);
            assert!(plain_rows(&other).is_none(), "{other}");
        }
    }
}
