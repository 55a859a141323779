//! What the program says outside its dialogues: one words file for the screen and one for pages.

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::LazyLock;

use rustc_hash::FxHashMap;
use serde::Deserialize;

use crate::language::Language;
use crate::language::category;
use crate::language::plain_rows;
use crate::language::pseudo_file;
use crate::language::spoken;

/// What the program says on the screen, in English, as it is written.
pub const SHELL_WORDS: &str = include_str!("../../scripts/dialogue/en/shell.toml");

/// What stands on pages, in English, as it is written.
pub const PAGE_WORDS: &str = include_str!("../../scripts/dialogue/en/page.toml");

// A words file that cannot be read would leave the program without a word to say, so it is no program at all.
const _: () = assert!(
    is_whole(SHELL_WORDS),
    "a line of scripts/dialogue/en/shell.toml is not whole"
);
const _: () = assert!(
    is_whole(PAGE_WORDS),
    "a line of scripts/dialogue/en/page.toml is not whole"
);

#[derive(Deserialize)]
struct WordsFile {
    lines: HashMap<String, String>,
}

/// The lines of a file, by name.
type Lines = FxHashMap<Cow<'static, str>, Cow<'static, str>>;

// Each file is read when its first line is said: most screens have nothing from a page on them.
static SHELL: LazyLock<Lines> = LazyLock::new(|| lines_of(SHELL_WORDS));
static PAGE: LazyLock<Lines> = LazyLock::new(|| lines_of(PAGE_WORDS));

/// How the names in the file for pages begin, and no others.
const ON_PAGES: [&str; 2] = ["page.", "words."];

fn is_on_pages(name: &str) -> bool {
    ON_PAGES.iter().any(|start| name.starts_with(start))
}

fn said(name: &str) -> Option<&'static str> {
    let file = if is_on_pages(name) { &PAGE } else { &SHELL };
    file.get(name).map(Cow::as_ref)
}

fn lines_of(file: &'static str) -> Lines {
    match spoken() {
        Language::English => english_lines(file).collect(),
        Language::Pseudo => pseudo_lines(file).collect(),
    }
}

/// The lines of a file. Its form is checked when the program is built, and a test reads it as TOML.
fn english_lines(file: &'static str) -> impl Iterator<Item = (Cow<'static, str>, Cow<'static, str>)> {
    let rows = plain_rows(file).unwrap_or_default();
    rows.into_iter().map(|row| (Cow::Borrowed(row.name), row.text))
}

fn pseudo_lines(file: &str) -> impl Iterator<Item = (Cow<'static, str>, Cow<'static, str>)> {
    let told = pseudo_file(file).unwrap_or_default();
    let lines = toml::from_str::<WordsFile>(&told).map(|file| file.lines);
    let owned = |(name, text)| (Cow::Owned(name), Cow::Owned(text));
    lines.unwrap_or_default().into_iter().map(owned)
}

/// A line by its name, in the language that is spoken. A name that is missing says itself, so that nothing is ever
/// silent.
#[must_use]
pub fn line(name: &'static str) -> &'static str {
    said(name).unwrap_or(name)
}

/// A line with its blanks filled: `{blank}` by the value named `blank`.
#[must_use]
pub fn filled(name: &str, blanks: &[(&str, &str)]) -> String {
    let mut rest = said(name).unwrap_or(name);
    let mut text = String::new();
    // In one pass, so that braces in a person's own words are never taken for a blank.
    while let Some((before, after)) = rest.split_once('{') {
        text.push_str(before);
        let known = after.split_once('}').and_then(|(blank, after)| {
            let (_, value) = blanks.iter().find(|(name, _)| *name == blank)?;
            Some((value, after))
        });
        rest = if let Some((value, after)) = known {
            text.push_str(value);
            after
        } else {
            text.push('{');
            after
        };
    }
    text + rest
}

/// A line that has a number in it, in the form that the number takes: the line named `name[one]`, say. A language
/// without that form uses `name[other]`. The number fills `{count}`.
#[must_use]
pub fn counted(name: &str, count: u64, blanks: &[(&str, &str)]) -> String {
    let form = |form: &str| format!("{name}[{form}]");
    let mut wanted = form(category(count));
    if said(&wanted).is_none() {
        wanted = form("other");
    }
    let number = count.to_string();
    let mut all = vec![("count", number.as_str())];
    all.extend_from_slice(blanks);
    filled(&wanted, &all)
}

/// Whether every line of a words file is blank, a note, the one heading, or a name and a text in quotes, in which a
/// backslash stands only before a quote or another backslash. This is less than TOML allows, and all that these files need;
/// the compiler can check it.
const fn is_whole(file: &str) -> bool {
    let bytes = file.as_bytes();
    let (mut at, mut headings) = (0, 0);
    while at < bytes.len() {
        match bytes[at] {
            b'\n' => at += 1,
            b'#' => at = end_of_line(bytes, at),
            b'[' => {
                headings += 1;
                at = end_of_line(bytes, at);
            }
            b'"' => {
                let name_end = end_of_text(bytes, at);
                let between = name_end + 3;
                if between >= bytes.len()
                    || bytes[name_end] != b' '
                    || bytes[name_end + 1] != b'='
                    || bytes[name_end + 2] != b' '
                    || bytes[between] != b'"'
                {
                    return false;
                }
                at = end_of_text(bytes, between);
                if at >= bytes.len() || bytes[at] != b'\n' {
                    return false;
                }
            }
            _ => return false,
        }
    }
    headings == 1
}

const fn end_of_line(bytes: &[u8], from: usize) -> usize {
    let mut at = from;
    while at < bytes.len() && bytes[at] != b'\n' {
        at += 1;
    }
    at
}

/// The place after the closing quote of a text on one line; the end of the file when it is not closed.
const fn end_of_text(bytes: &[u8], open: usize) -> usize {
    let mut at = open + 1;
    while at < bytes.len() {
        match bytes[at] {
            b'\\' if at + 1 < bytes.len() && matches!(bytes[at + 1], b'"' | b'\\') => at += 2,
            b'"' => return at + 1,
            b'\\' | b'\n' => return bytes.len(),
            _ => at += 1,
        }
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_broken_words_file_is_seen() {
        let whole = "# A note.\n[lines]\n\"a\" = \"One \\\"two\\\".\"\n\n\"b\" = \"Three.\"\n";
        assert!(is_whole(whole));
        for (from, to) in [
            ("\"One", "One"),
            ("two\\\"", "two\""),
            ("Three.\"", "Three."),
            ("\"b\" =", "\"b\""),
            ("\"b\"", "b"),
            ("Three", "Thr\\u0065e"),
            ("[lines]\n", ""),
        ] {
            let broken = whole.replacen(from, to, 1);
            assert_ne!(broken, whole);
            assert!(!is_whole(&broken), "{broken}");
        }
    }

    #[test]
    fn both_words_files_are_read_as_toml_reads_them() {
        for file in [
            SHELL_WORDS,
            PAGE_WORDS,
            "[lines]\n\"a\" = \"One \\\"two\\\" \\\\ three.\"\n",
        ] {
            let read: HashMap<String, String> = english_lines(file)
                .map(|(name, text)| (name.into_owned(), text.into_owned()))
                .collect();
            let expected: WordsFile = toml::from_str(file).expect("a words file");
            assert_eq!(read, expected.lines);
        }
    }

    #[test]
    fn the_beginning_of_a_name_tells_its_file() {
        for (name, on_pages) in [(SHELL_WORDS, false), (PAGE_WORDS, true)]
            .into_iter()
            .flat_map(|(file, on_pages)| english_lines(file).map(move |(name, _)| (name, on_pages)))
        {
            assert_eq!(is_on_pages(&name), on_pages, "{name}");
        }
    }

    #[test]
    fn a_number_takes_its_form() {
        assert_eq!(counted("page.moments", 1, &[]), "1 moment.");
        assert_eq!(counted("page.moments", 58, &[]), "58 moments.");
    }
}
