//! Doubtful words in the line that a person edits: they are underlined where the terminal can, for as long as they
//! stand there as they were heard.

use std::borrow::Cow;

use rustyline::Helper;
use rustyline::completion::Completer;
use rustyline::highlight::CmdKind;
use rustyline::highlight::Highlighter;
use rustyline::hint::Hinter;
use rustyline::validate::Validator;
use zeroize::Zeroizing;

use super::Reader;
use super::Terminal;

/// The words to underline in the next line.
pub(crate) struct Marks(Vec<Zeroizing<String>>);

impl Terminal {
    /// Marks these words in the next line that is asked for. False where they cannot be marked in the line itself.
    pub(crate) fn mark(&mut self, words: &[&str]) -> bool {
        let coloured = self.screen.colour;
        match &mut self.reader {
            Reader::Editor { editor, .. } if coloured => {
                editor.set_helper(Some(Marks(
                    words
                        .iter()
                        .map(|word| Zeroizing::new((*word).to_owned()))
                        .collect(),
                )));
                true
            }
            Reader::Editor { .. } | Reader::Lines(_) => false,
        }
    }
}

impl Highlighter for Marks {
    fn highlight<'l>(&self, line: &'l str, _pos: usize) -> Cow<'l, str> {
        Cow::Owned(marked(line, &self.0))
    }

    fn highlight_char(&self, _line: &str, _pos: usize, _kind: CmdKind) -> bool {
        true
    }
}

impl Completer for Marks {
    type Candidate = String;
}

impl Hinter for Marks {
    type Hint = String;
}

impl Validator for Marks {}

impl Helper for Marks {}

/// The line with every word that is among the doubtful ones underlined.
fn marked(line: &str, doubtful: &[Zeroizing<String>]) -> String {
    let words = line.split_inclusive(' ').map(|piece| {
        let word = piece.trim_end_matches(' ');
        if doubtful.iter().any(|other| other.as_str() == word) {
            format!("\u{1b}[4m{word}\u{1b}[24m{}", &piece[word.len()..])
        } else {
            piece.to_owned()
        }
    });
    words.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_doubtful_words_are_underlined() {
        let doubtful = [Zeroizing::new("jonah.".to_owned())];
        assert_eq!(
            marked("my brother jonah.", &doubtful),
            "my brother \u{1b}[4mjonah.\u{1b}[24m"
        );
        assert_eq!(marked("my brother  Jonas", &doubtful), "my brother  Jonas");
    }
}
