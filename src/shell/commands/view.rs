//! A drawing on the screen: printed once, or moved up and down with keys where it is taller than the screen and a
//! person sits there. The moving view uses the terminal's other screen, so that nothing of it is left to scroll back to.

use std::io;
use std::io::Write;

use crossterm::cursor;
use crossterm::event;
use crossterm::event::Event;
use crossterm::event::KeyCode;
use crossterm::event::KeyEvent;
use crossterm::event::KeyEventKind;
use crossterm::event::KeyModifiers;
use crossterm::queue;
use crossterm::terminal;
use crossterm::terminal::ClearType;

use crate::picture::terminal::Screen;
use crate::shell::phrases::filled;
use crate::shell::terminal::NARROWEST;
use crate::shell::terminal::Terminal;

/// Shows a drawing, which is made for the screen's width, and made again when that changes.
pub(crate) fn show(terminal: &mut Terminal, draw: &dyn Fn(&Screen) -> String) {
    let screen = terminal.screen();
    let drawn = draw(&screen);
    // Elsewhere than at a terminal another program would be asked for the size.
    let rows = if screen.plain || !terminal.is_interactive() {
        0
    } else {
        terminal::size().map_or(0, |(_, rows)| usize::from(rows))
    };
    if rows < LEAST_ROWS || drawn.lines().count() < rows {
        terminal.print(&drawn);
        return;
    }
    match scroll(screen, draw) {
        Ok(Left::Hidden) => terminal.hide(),
        Ok(Left::Done) => {}
        // A terminal that refuses to be moved about in still gets the drawing.
        Err(_) => terminal.print(&drawn),
    }
}

/// Fewer rows than these are too few to move about in.
const LEAST_ROWS: usize = 5;

/// How the person left.
enum Left {
    Done,
    Hidden,
}

/// The other screen, with keys coming in one by one; both end when this does, whatever happens.
struct Taken;

impl Taken {
    fn new() -> io::Result<Self> {
        terminal::enable_raw_mode()?;
        let taken = Self;
        crossterm::execute!(io::stdout(), terminal::EnterAlternateScreen, cursor::Hide)?;
        Ok(taken)
    }
}

impl Drop for Taken {
    fn drop(&mut self) {
        let _ = crossterm::execute!(
            io::stdout(),
            terminal::Clear(ClearType::All),
            cursor::Show,
            terminal::LeaveAlternateScreen
        );
        let _ = terminal::disable_raw_mode();
    }
}

fn scroll(mut screen: Screen, draw: &dyn Fn(&Screen) -> String) -> io::Result<Left> {
    let _taken = Taken::new()?;
    let (columns, rows) = terminal::size()?;
    screen.columns = usize::from(columns).max(NARROWEST);
    let mut drawn = draw(&screen);
    let mut window = Window {
        top: 0,
        rows: usize::from(rows).saturating_sub(1).max(1),
        total: drawn.lines().count(),
    };
    loop {
        paint(&drawn, &window, &screen)?;
        match event::read()? {
            Event::Key(key) if key.kind != KeyEventKind::Release => match window.press(key) {
                Pressed::Moved => {}
                Pressed::Leave => return Ok(Left::Done),
                Pressed::Hide => return Ok(Left::Hidden),
            },
            Event::Resize(columns, rows) => {
                screen.columns = usize::from(columns).max(NARROWEST);
                drawn = draw(&screen);
                window.rows = usize::from(rows).saturating_sub(1).max(1);
                window.total = drawn.lines().count();
                window.move_to(window.top);
            }
            _ => {}
        }
    }
}

fn paint(drawn: &str, window: &Window, screen: &Screen) -> io::Result<()> {
    let mut out = io::stdout().lock();
    queue!(out, terminal::Clear(ClearType::All), cursor::MoveTo(0, 0))?;
    for line in drawn.lines().skip(window.top).take(window.rows) {
        write!(out, "{line}\r\n")?;
    }
    let last = (window.top + window.rows).min(window.total);
    let blanks = [
        ("from", &*(window.top + 1).to_string()),
        ("to", &*last.to_string()),
        ("of", &*window.total.to_string()),
    ];
    let foot = filled("view.keys", &blanks);
    // A foot that ran over the edge would push the drawing up.
    let foot: String = foot.chars().take(screen.columns.saturating_sub(1)).collect();
    queue!(
        out,
        cursor::MoveTo(0, u16::try_from(window.rows).unwrap_or(u16::MAX))
    )?;
    if screen.colour {
        write!(out, "\u{1b}[2m{foot}\u{1b}[0m")?;
    } else {
        write!(out, "{foot}")?;
    }
    out.flush()
}

/// Which rows of a drawing are on the screen.
struct Window {
    top: usize,
    rows: usize,
    total: usize,
}

/// What a key came to.
#[derive(Debug, PartialEq, Eq)]
enum Pressed {
    Moved,
    Leave,
    Hide,
}

impl Window {
    /// Takes one key. A key that means nothing here changes nothing.
    fn press(&mut self, key: KeyEvent) -> Pressed {
        let most = self.rows.saturating_sub(1).max(1);
        match (key.code, key.modifiers) {
            (KeyCode::Char('g'), KeyModifiers::CONTROL) => return Pressed::Hide,
            (KeyCode::Char('c' | 'd'), KeyModifiers::CONTROL) | (KeyCode::Char('q') | KeyCode::Esc, _) => {
                return Pressed::Leave;
            }
            (KeyCode::Down | KeyCode::Enter | KeyCode::Char('j'), _) => self.move_to(self.top + 1),
            (KeyCode::Up | KeyCode::Char('k'), _) => self.move_to(self.top.saturating_sub(1)),
            (KeyCode::PageDown | KeyCode::Char(' '), _) => self.move_to(self.top + most),
            (KeyCode::PageUp | KeyCode::Char('b'), _) => self.move_to(self.top.saturating_sub(most)),
            (KeyCode::Home, _) => self.move_to(0),
            (KeyCode::End, _) => self.move_to(self.total),
            _ => {}
        }
        Pressed::Moved
    }

    /// Puts a row at the top, as far as there are rows below it to fill the screen.
    fn move_to(&mut self, row: usize) {
        self.top = row.min(self.total.saturating_sub(self.rows));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(code: KeyCode) -> KeyEvent {
        KeyEvent::new(code, KeyModifiers::NONE)
    }

    #[test]
    fn keys_move_within_the_drawing_only() {
        let mut window = Window {
            top: 0,
            rows: 10,
            total: 35,
        };
        for (code, top) in [
            (KeyCode::Up, 0),
            (KeyCode::Down, 1),
            (KeyCode::PageDown, 10),
            (KeyCode::Char(' '), 19),
            (KeyCode::End, 25),
            (KeyCode::Down, 25),
            (KeyCode::PageUp, 16),
            (KeyCode::Char('x'), 16),
            (KeyCode::Home, 0),
        ] {
            assert_eq!(window.press(key(code)), Pressed::Moved);
            assert_eq!(window.top, top, "{code:?}");
        }
    }

    #[test]
    fn every_row_can_be_seen_by_going_down() {
        for total in 1..60 {
            let mut window = Window {
                top: 0,
                rows: 7,
                total,
            };
            let mut seen: std::collections::BTreeSet<usize> = (0..7).collect();
            for _ in 0..total {
                window.press(key(KeyCode::PageDown));
                seen.extend(window.top..window.top + window.rows);
            }
            assert!((0..total).all(|row| seen.contains(&row)), "{total}");
        }
    }

    #[test]
    fn the_hiding_chord_is_no_other_key() {
        let mut window = Window {
            top: 0,
            rows: 10,
            total: 35,
        };
        assert_eq!(
            window.press(KeyEvent::new(KeyCode::Char('g'), KeyModifiers::CONTROL)),
            Pressed::Hide
        );
        assert_eq!(window.press(key(KeyCode::Char('g'))), Pressed::Moved);
        for code in [KeyCode::Char('q'), KeyCode::Esc] {
            assert_eq!(window.press(key(code)), Pressed::Leave);
        }
    }
}
