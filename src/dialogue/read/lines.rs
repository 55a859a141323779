//! A quick way through words files, which are long and nearly always plain: what it does not know at a glance is left to
//! the reader for all of TOML.

use std::ops::Range;

use crate::dialogue::written::At;
use crate::dialogue::written::WrittenLines;

/// The lines of a file that is nothing but notes, the one heading, and rows of a name and a text in quotes, without
/// escapes; in the order of their names, as the other reader gives them. `None` where anything else is in it.
pub(super) fn plain_lines(file: &str) -> Option<WrittenLines> {
    let mut lines = WrittenLines::new();
    let mut headed = false;
    let mut at = 0;
    for row in file.split('\n') {
        let start = at;
        at += row.len() + 1;
        if row.contains(|sign: char| sign.is_control() || sign == '\\') {
            return None;
        }
        match row.as_bytes().first() {
            None | Some(b'#') => {}
            Some(b'[') if row == "[lines]" && !headed => headed = true,
            Some(b'"') if headed => {
                let (name, text) = row[1..].split_once("\" = \"")?;
                let text = text.strip_suffix('"')?;
                if name.contains('"') || text.contains('"') {
                    return None;
                }
                let between = start + name.len() + 2;
                lines.push((
                    part(name, start..between),
                    part(text, between + 3..start + row.len()),
                ));
            }
            Some(_) => return None,
        }
    }
    lines.sort_by(|(one, _), (other, _)| one.value.cmp(&other.value));
    let twice = lines.windows(2).any(|pair| pair[0].0.value == pair[1].0.value);
    (headed && !twice).then_some(lines)
}

fn part(value: &str, span: Range<usize>) -> At<String> {
    At {
        value: value.to_owned(),
        span,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dialogue::read::read_toml;

    fn told(lines: &WrittenLines) -> Vec<(&str, Range<usize>, &str, Range<usize>)> {
        lines
            .iter()
            .map(|(name, text)| {
                (
                    name.value.as_str(),
                    name.span.clone(),
                    text.value.as_str(),
                    text.span.clone(),
                )
            })
            .collect()
    }

    #[test]
    fn the_quick_way_and_the_long_way_read_the_same() {
        let mut quick = 0;
        for file in [
            include_str!("../../../scripts/dialogue/en/coach.toml"),
            include_str!("../../../scripts/dialogue/en/common.toml"),
            include_str!("../../../scripts/dialogue/en/first-map.toml"),
            include_str!("../../../scripts/dialogue/en/safety.toml"),
            include_str!("../../../scripts/dialogue/en/stuck.toml"),
            "[lines]\n\"b\" = \"Zwei Wörter — ein Satz.\"\n# A note.\n\n\"a\" = \"\"",
        ] {
            let long = read_toml("words.toml", file, false);
            assert!(long.faults.is_empty());
            if let Some(lines) = plain_lines(file) {
                quick += 1;
                assert_eq!(told(&lines), told(&long.lines));
            }
        }
        assert!(quick >= 5, "{quick} files are plain");
    }

    #[test]
    fn what_is_not_plain_is_left_to_the_long_way() {
        let plain = "[lines]\n\"a\" = \"One.\"\n\"b\" = \"Two.\"\n";
        assert!(plain_lines(plain).is_some());
        for (from, to) in [
            ("[lines]\n", ""),
            ("[lines]", "[words]"),
            ("\"b\"", "\"a\""),
            ("\"b\"", "b"),
            ("\"b\"", " \"b\""),
            ("Two.", "Two \\\"three\\\"."),
            ("Two.", "Two\"."),
            ("Two.\"", "Two.\" # A note."),
            ("Two.\"", "Two."),
            ("\"Two.\"", "\"\"\"Two.\"\"\""),
            ("\"Two.\"", "[\"Two.\"]"),
            ("One", "One\t"),
            ("\n\"b\"", "\r\n\"b\""),
            ("\"b\"", "[lines]\n\"b\""),
        ] {
            let other = plain.replacen(from, to, 1);
            assert_ne!(other, plain);
            assert!(plain_lines(&other).is_none(), "{other}");
        }
    }
}
