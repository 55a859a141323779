//! What is put on the screen, a paragraph, a choice or a hint at a time: wrapped to a width that reads well, with control characters
//! shown instead of obeyed, and read aloud where the person wants that.

use std::borrow::Cow;
use std::io::Write;

use textwrap::core::display_width;

use super::READING_WIDTH;
use super::Terminal;
use crate::picture::terminal::shown;

/// The most lines that words take in a list of many.
const BRIEF: usize = 2;

impl Terminal {
    /// Says something: one paragraph, wrapped.
    pub(crate) fn say(&mut self, text: &str) {
        self.also_aloud(text);
        let width = self.width();
        for paragraph in text.split('\n') {
            for line in textwrap::wrap(&shown(paragraph), width) {
                self.line(&line);
            }
        }
    }

    /// Says something that must stand out: bold where the terminal can, always on lines of its own.
    pub(crate) fn stress(&mut self, text: &str) {
        self.also_aloud(text);
        let width = self.width();
        for line in textwrap::wrap(&shown(text), width) {
            if self.screen.colour {
                self.line(&format!("\u{1b}[1m{line}\u{1b}[0m"));
            } else {
                self.line(&line);
            }
        }
    }

    /// One thing that can be chosen, with its number.
    pub(crate) fn option(&mut self, number: usize, label: &str) {
        self.also_aloud(&format!("{number}: {label}"));
        for line in self.option_lines(number, label) {
            self.line(&line);
        }
    }

    /// The same for words of any length, in a list of many: their beginning is enough to know them by.
    pub(crate) fn option_in_brief(&mut self, number: usize, label: &str) {
        let lines = self.option_lines(number, label);
        if lines.len() <= BRIEF {
            return self.option(number, label);
        }
        let mut shown = lines[..BRIEF].join("\n");
        let mark = if self.screen.unicode { " …" } else { " ..." };
        // The mark of what is left out takes the place of the last word where there is no room for it.
        if display_width(&lines[BRIEF - 1]) + display_width(mark) > self.width() {
            shown.truncate(shown.rfind(' ').unwrap_or(shown.len()));
        }
        shown.push_str(mark);
        self.also_aloud(&format!("{number}: {}", shown.trim_start()));
        self.line(&shown);
    }

    fn option_lines(&self, number: usize, label: &str) -> Vec<String> {
        let width = self.width();
        let first = format!("{number:>3}  ");
        let options = textwrap::Options::new(width)
            .initial_indent(&first)
            .subsequent_indent("     ");
        let label = shown(label);
        let lines = textwrap::wrap(&label, options);
        lines.into_iter().map(Cow::into_owned).collect()
    }

    /// A word with its meaning, such as a command: in two columns, or in plain manner one after the other.
    pub(crate) fn meaning(&mut self, word: &str, meaning: &str) {
        let width = self.width();
        let (first, rest) = if self.plain {
            (format!("{word}: "), "")
        } else {
            (format!("{word:<16} "), "                 ")
        };
        let options = textwrap::Options::new(width)
            .initial_indent(&first)
            .subsequent_indent(rest);
        for line in textwrap::wrap(meaning, options) {
            self.line(&line);
        }
    }

    /// What fits at a prompt, said quietly: dim where the terminal can.
    pub(crate) fn hint(&mut self, text: &str) {
        let width = self.width();
        let indent = &text[..text.len() - text.trim_start().len()];
        let options = textwrap::Options::new(width)
            .initial_indent(indent)
            .subsequent_indent(indent);
        for line in textwrap::wrap(&shown(text.trim_start()), options) {
            if self.screen.colour {
                self.line(&format!("\u{1b}[2m{line}\u{1b}[0m"));
            } else {
                self.line(&line);
            }
        }
    }

    /// Prints what another room has already laid out and made safe to show, all at once.
    pub(crate) fn print(&mut self, laid_out: &str) {
        if !laid_out.is_empty() {
            self.line(laid_out.strip_suffix('\n').unwrap_or(laid_out));
        }
    }

    /// Leaves a line free.
    pub(crate) fn gap(&mut self) {
        self.line("");
    }

    fn line(&mut self, line: &str) {
        if self.hidden {
            return;
        }
        // A reader that has gone away is no reason to stop: what was said is kept in the store, not on the screen.
        let _ = writeln!(self.out, "{line}");
    }

    /// The columns that are written in.
    pub(super) fn width(&self) -> usize {
        self.screen.columns.min(READING_WIDTH)
    }

    fn also_aloud(&mut self, text: &str) {
        if let Some(aloud) = &mut self.aloud {
            aloud.add(text);
        }
    }
}
