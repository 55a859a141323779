//! A quick way through the files of patterns and classes, which are plain: tables of names with a text, a list or a yes or
//! no each. A reader for all of TOML takes several times as long, and the first words of a sitting wait for these files. A
//! test holds that each reads here as it does there.

use std::borrow::Cow;

/// A table of a file; what stands before the first heading is one without a name.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Section<'f> {
    /// Its heading.
    pub name: &'f str,
    /// Whether it is one of many with this heading.
    pub many: bool,
    /// Its lines, each a name and what it says.
    pub lines: Vec<(&'f str, Said<'f>)>,
}

/// What a line says.
#[derive(Debug, PartialEq)]
pub(super) enum Said<'f> {
    Text(Cow<'f, str>),
    List(Vec<Said<'f>>),
    Yes(bool),
}

impl Said<'_> {
    /// A text.
    pub(super) fn text(self) -> Option<String> {
        match self {
            Self::Text(text) => Some(text.into_owned()),
            _ => None,
        }
    }

    /// A list of texts.
    pub(super) fn texts(self) -> Option<Vec<String>> {
        match self {
            Self::List(list) => list.into_iter().map(Self::text).collect(),
            _ => None,
        }
    }

    /// A list of lists of texts.
    pub(super) fn lists(self) -> Option<Vec<Vec<String>>> {
        match self {
            Self::List(list) => list.into_iter().map(Self::texts).collect(),
            _ => None,
        }
    }

    /// A yes or no.
    pub(super) fn yes(self) -> Option<bool> {
        match self {
            Self::Yes(yes) => Some(yes),
            _ => None,
        }
    }
}

/// The tables of a file, in their order. `None` where anything in it is not plain.
pub(super) fn sections(file: &str) -> Option<Vec<Section<'_>>> {
    let mut rest = Rest(file);
    let mut sections = vec![Section::default()];
    loop {
        rest.skip();
        if rest.0.is_empty() {
            return Some(sections);
        }
        if rest.0.starts_with('[') {
            let line = rest.line();
            let name = line.trim_start_matches('[').trim_end_matches(']');
            let many = line.starts_with("[[");
            let brackets = if many { 4 } else { 2 };
            if line.len() != name.len() + brackets || !name.bytes().all(is_bare) {
                return None;
            }
            let lines = Vec::new();
            sections.push(Section { name, many, lines });
            continue;
        }
        let end = rest.0.bytes().position(|byte| !is_bare(byte))?;
        let name = rest.take(end);
        rest.take_mark(" = ")?;
        let said = rest.said()?;
        sections.last_mut()?.lines.push((name, said));
    }
}

fn is_bare(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_')
}

/// What of a file is still to be read.
struct Rest<'f>(&'f str);

impl<'f> Rest<'f> {
    fn take(&mut self, length: usize) -> &'f str {
        let (taken, rest) = self.0.split_at(length);
        self.0 = rest;
        taken
    }

    fn take_mark(&mut self, mark: &str) -> Option<()> {
        self.0 = self.0.strip_prefix(mark)?;
        Some(())
    }

    fn line(&mut self) -> &'f str {
        let end = self.0.bytes().position(|byte| byte == b'\n');
        self.take(end.unwrap_or(self.0.len()))
    }

    /// Passes over blanks, line breaks and notes.
    fn skip(&mut self) {
        loop {
            self.0 = self.0.trim_start_matches([' ', '\n']);
            if !self.0.starts_with('#') {
                return;
            }
            self.line();
        }
    }

    fn said(&mut self) -> Option<Said<'f>> {
        let said = match self.0.as_bytes().first()? {
            b'"' if self.0.starts_with("\"\"\"") => Said::Text(self.long_text()?),
            b'"' => Said::Text(Cow::Borrowed(self.text()?)),
            b'[' => Said::List(self.list()?),
            b't' => self.take_mark("true").map(|()| Said::Yes(true))?,
            b'f' => self.take_mark("false").map(|()| Said::Yes(false))?,
            _ => return None,
        };
        Some(said)
    }

    fn text(&mut self) -> Option<&'f str> {
        self.take_mark("\"")?;
        let end = self
            .0
            .bytes()
            .position(|byte| byte == b'"' || byte == b'\\' || byte < b' ')?;
        let text = self.take(end);
        self.take_mark("\"")?;
        Some(text)
    }

    /// A text over several lines. A backslash at the end of one takes the line break away, and the blanks that follow.
    fn long_text(&mut self) -> Option<Cow<'f, str>> {
        self.take_mark("\"\"\"")?;
        let end = self.0.find("\"\"\"")?;
        let text = self.take(end);
        self.take_mark("\"\"\"")?;
        let text = text.strip_prefix('\n').unwrap_or(text);
        if self.0.starts_with('"') || text.contains(['\r', '\t']) {
            return None;
        }
        if !text.contains('\\') {
            return Some(Cow::Borrowed(text));
        }
        let mut pieces = text.split('\\');
        let mut out = pieces.next()?.to_owned();
        for piece in pieces {
            out.push_str(piece.strip_prefix('\n')?.trim_start_matches([' ', '\n']));
        }
        Some(Cow::Owned(out))
    }

    fn list(&mut self) -> Option<Vec<Said<'f>>> {
        self.take_mark("[")?;
        let mut list = Vec::new();
        loop {
            self.skip();
            if self.take_mark("]").is_some() {
                return Some(list);
            }
            list.push(self.said()?);
            self.skip();
            if !self.0.starts_with(']') {
                self.take_mark(",")?;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::safety::classes;
    use crate::safety::groups;

    fn value(said: &Said) -> toml::Value {
        match said {
            Said::Text(text) => text.as_ref().into(),
            Said::List(list) => list.iter().map(value).collect::<Vec<_>>().into(),
            Said::Yes(yes) => (*yes).into(),
        }
    }

    /// The table that a reader for all of TOML would make of the sections.
    fn table(sections: &[Section]) -> toml::Table {
        let mut whole = toml::Table::new();
        for section in sections {
            let lines = section.lines.iter();
            let lines: toml::Table = lines
                .map(|(name, said)| ((*name).to_owned(), value(said)))
                .collect();
            let there = whole.entry(section.name);
            match (section.name, section.many) {
                ("", _) => whole.extend(lines),
                (_, false) => {
                    there.or_insert(toml::Value::Table(lines));
                }
                (_, true) => {
                    let all = there.or_insert_with(|| Vec::<toml::Value>::new().into());
                    all.as_array_mut().expect("many").push(lines.into());
                }
            }
        }
        whole
    }

    #[test]
    fn every_file_reads_here_as_a_reader_for_all_of_toml_reads_it() {
        let files = groups::FILES.iter().chain(&groups::FILES_OF_ANSWERS);
        for file in files.chain(&classes::FILES) {
            let expected: toml::Table = toml::from_str(file).expect("TOML");
            let start: String = file.chars().take(80).collect();
            let read = sections(file).unwrap_or_else(|| panic!("this is not plain: {start}"));
            assert!(table(&read) == expected, "{start}");
        }
    }

    #[test]
    fn what_is_not_plain_is_not_read() {
        let plain = "a = \"One\"\n# A note.\n[[part]]\nb = [\n  \"two\", # Another.\n  \"three\",\n]\nc = true\nd = false\n";
        let text = |text| Said::Text(Cow::Borrowed(text));
        let expected = [
            Section {
                name: "",
                many: false,
                lines: vec![("a", text("One"))],
            },
            Section {
                name: "part",
                many: true,
                lines: vec![
                    ("b", Said::List(vec![text("two"), text("three")])),
                    ("c", Said::Yes(true)),
                    ("d", Said::Yes(false)),
                ],
            },
        ];
        assert_eq!(sections(plain).as_deref(), Some(&expected[..]));
        for (from, to) in [
            ("One", "On\\u0065"),
            ("One", "On\te"),
            ("\"One\"", "\"\"\"On\te\"\"\""),
            ("\"One\"", "1"),
            ("\"One\"", "'One'"),
            ("\"One\"", "\"One"),
            ("\"One\"", "\"\"\"One\"\"\"\""),
            ("\"One\"", "\"\"\"On\\te\"\"\""),
            ("a =", "\"a\" ="),
            ("a =", "a="),
            ("a =", "a.b ="),
            ("[[part]]", "[[part]"),
            ("[[part]]", "[[part.more]]"),
            ("c = true", "c = 1"),
            ("true", "{}"),
        ] {
            let other = plain.replacen(from, to, 1);
            assert_ne!(other, plain);
            assert_eq!(sections(&other), None, "{other}");
        }
    }

    #[test]
    fn a_text_over_lines_is_what_toml_says_it_is() {
        for text in [
            "\"\"\"one\ntwo\"\"\"",
            "\"\"\"\none two\n  three\n\"\"\"",
            "\"\"\"\\\n    one|\\\n\n    two\"\"\"",
        ] {
            let file = format!("a = {text}\n");
            let read: toml::Table = toml::from_str(&file).expect("TOML");
            let sections = sections(&file).expect("plain");
            let [(_, Said::Text(read_here))] = &sections[0].lines[..] else {
                panic!("{sections:?}")
            };
            assert_eq!(Some(read_here.as_ref()), read["a"].as_str());
        }
    }
}
