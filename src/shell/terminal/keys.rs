//! Single keys while the program listens or reads aloud, and the line that shows how loud it is.

use std::io::Write;
use std::time::Duration;

use crossterm::event::KeyCode;
use crossterm::event::KeyModifiers;

use super::Terminal;
use crate::picture::terminal::shown;

/// The columns of the level line's bar: with the two before it, it has room on the narrowest screen.
const BAR: u8 = 16;

/// A key that was pressed while the program listened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Key {
    /// It is done.
    Enter,
    /// It is not to count.
    Drop,
    /// Everything is to be hidden.
    Hide,
    /// The person types instead.
    Letter(char),
}

/// The watch for single keys; it holds whether there is one.
pub(crate) struct Keys(bool);

impl Keys {
    /// What was typed on behind a letter, up to a key that is none. The last one is such a key, if there was any.
    pub(crate) fn typed_on(&self, letter: char) -> (String, Option<Key>) {
        let mut typed = String::from(letter);
        loop {
            match self.pressed() {
                Some(Key::Letter(letter)) => typed.push(letter),
                other => return (typed, other),
            }
        }
    }

    /// The next key that was pressed, if it means anything here.
    pub(crate) fn pressed(&self) -> Option<Key> {
        if !self.0 || !crossterm::event::poll(Duration::ZERO).unwrap_or(false) {
            return None;
        }
        match crossterm::event::read().ok()? {
            crossterm::event::Event::Key(key) => match (key.code, key.modifiers) {
                (KeyCode::Enter, _) => Some(Key::Enter),
                (KeyCode::Char('g'), KeyModifiers::CONTROL) => Some(Key::Hide),
                (KeyCode::Char('c' | 'd'), KeyModifiers::CONTROL) | (KeyCode::Esc, _) => Some(Key::Drop),
                (KeyCode::Char(letter), KeyModifiers::NONE | KeyModifiers::SHIFT) => {
                    Some(Key::Letter(letter))
                }
                _ => None,
            },
            _ => None,
        }
    }
}

impl Terminal {
    /// Begins to watch for single keys, where a person sits at a terminal.
    pub(crate) fn keys(&mut self) -> Keys {
        let _ = self.out.flush();
        Keys(self.is_interactive() && crossterm::terminal::enable_raw_mode().is_ok())
    }

    /// A hint while single keys are watched: lines then need their own way back to the left edge.
    pub(crate) fn hint_between(&mut self, keys: &Keys, text: &str) {
        if keys.0 {
            let _ = crossterm::terminal::disable_raw_mode();
        }
        self.hint(text);
        let _ = self.out.flush();
        if keys.0 {
            let _ = crossterm::terminal::enable_raw_mode();
        }
    }

    /// A steady line that shows how loud it is, from 0 to 1, and the words so far. In plain manner nothing is drawn.
    pub(crate) fn level(&mut self, keys: &Keys, loudness: f32, words: &str) {
        if keys.0 && !self.plain && !self.hidden {
            let full = if self.screen.unicode { "\u{2501}" } else { "=" };
            let filled = (0..BAR)
                .filter(|step| loudness * f32::from(BAR) > f32::from(*step))
                .count();
            let bar = usize::from(BAR);
            let _ = write!(
                self.out,
                "\r  {}{}",
                full.repeat(filled),
                " ".repeat(bar - filled)
            );
            let room = self.screen.columns.saturating_sub(bar + 6);
            let _ = write!(self.out, "  {}\u{1b}[K", last_part(&shown(words), room));
            let _ = self.out.flush();
        }
    }

    /// Ends the watch for single keys.
    pub(crate) fn keys_done(&mut self, Keys(watched): Keys) {
        if watched {
            let _ = crossterm::terminal::disable_raw_mode();
            if !self.plain && !self.hidden {
                let _ = write!(self.out, "\r\u{1b}[K");
                let _ = self.out.flush();
            }
        }
    }
}

/// As much of the end of a text as has room.
fn last_part(text: &str, room: usize) -> String {
    let width = textwrap::core::display_width;
    let mut starts = text.char_indices().map(|(at, _)| at);
    let start = starts.find(|at| width(&text[*at..]) <= room);
    start.map_or_else(String::new, |at| text[at..].to_owned())
}

#[cfg(test)]
mod tests {
    use super::last_part;

    #[test]
    fn the_end_of_a_long_text_is_shown() {
        assert_eq!(last_part("short", 10), "short");
        assert_eq!(last_part("a long walk home", 9), "walk home");
        assert_eq!(last_part("walk", 0), "");
        assert_eq!(last_part("\u{5bb6}\u{5bb6}", 3), "\u{5bb6}");
    }
}
