//! The terminal: the only place that prints and the only place that reads what a person types.
//!
//! Two ways of reading stand behind one interface: a line editor where a person sits at a terminal, and plain lines
//! where standard input comes from elsewhere. Everything that is said goes through [`Terminal::say`], which wraps it
//! and shows control characters instead of obeying them.

mod keys;
mod marks;
mod saying;

use std::borrow::Cow;
use std::env;
use std::io;
use std::io::BufRead;
use std::io::IsTerminal;
use std::io::Write;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::sync::atomic::Ordering;
use std::time::Duration;

use rustyline::Cmd;
use rustyline::ConditionalEventHandler;
use rustyline::Config;
use rustyline::Editor;
use rustyline::Event;
use rustyline::EventContext;
use rustyline::EventHandler;
use rustyline::KeyEvent;
use rustyline::RepeatCount;
use rustyline::history::MemHistory;
use zeroize::Zeroizing;

use crate::picture::terminal::Screen;
use crate::picture::terminal::shown;
use crate::shell::aloud::Aloud;
use crate::shell::idle::Idle;
use crate::shell::terminal::marks::Marks;
use crate::voice::Stopper;

pub(crate) use crate::shell::terminal::keys::Key;
pub(crate) use crate::shell::terminal::keys::Keys;

/// The widest that talk is set, in columns, however wide the window: long lines are hard to read.
const READING_WIDTH: usize = 76;

/// The fewest columns that anything is set for; on a screen with fewer, lines run over.
pub(crate) const NARROWEST: usize = 20;

/// What came back from a prompt.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Line {
    /// The person's line.
    Typed(Zeroizing<String>),
    /// Ctrl-C, Ctrl-D, the end of the input, or nobody there for too long.
    Closed,
    /// The key chord that hides everything.
    Hide,
}

/// Where people and program meet.
pub(crate) struct Terminal {
    reader: Reader,
    screen: Screen,
    plain: bool,
    out: Box<dyn Write>,
    /// How long a prompt may stand without an answer before the screen is hidden.
    patience: Option<Duration>,
    /// Whether the screen was hidden. From then on nothing is said and nothing is asked.
    hidden: bool,
    aloud: Option<Aloud>,
}

enum Reader {
    Editor {
        editor: Box<Editor<Marks, MemHistory>>,
        hide: Arc<AtomicBool>,
    },
    Lines(Box<dyn BufRead>),
}

impl Terminal {
    /// Looks at the surroundings once: a line editor where input and output are a terminal, plain lines elsewhere.
    ///
    /// `plain` is what the person asked for; `NO_COLOR`, `ACCESSIBLE` and `TERM=dumb` count as well.
    pub(crate) fn new(plain: bool) -> Self {
        let set = |name: &str| env::var_os(name).is_some_and(|value| !value.is_empty());
        let dumb = env::var_os("TERM").is_some_and(|term| term == "dumb");
        let plain = plain || set("ACCESSIBLE") || dumb;
        let at_terminal = io::stdin().is_terminal() && io::stdout().is_terminal();
        let reader = if at_terminal && !dumb { line_editor() } else { None };
        let reader = reader.unwrap_or_else(|| Reader::Lines(Box::new(io::stdin().lock())));
        let drawn = io::stdout().is_terminal() && !plain;
        let screen = Screen {
            columns: columns(),
            unicode: drawn && speaks_unicode(),
            colour: drawn && !set("NO_COLOR"),
            plain,
        };
        Self {
            reader,
            screen,
            plain,
            out: Box::new(io::stdout()),
            patience: None,
            hidden: false,
            aloud: None,
        }
    }

    /// The same terminal, speaking on standard error: for commands whose result goes to standard output.
    pub(crate) fn aside(mut self) -> Self {
        self.out = Box::new(io::stderr());
        self
    }

    /// From now on what is said is read aloud too, until a key is pressed or the person speaks.
    pub(crate) fn read_aloud(&mut self, aloud: Aloud) {
        if let Reader::Editor { editor, .. } = &mut self.reader {
            let hush = EventHandler::Conditional(Box::new(HushOnKey(aloud.stopper())));
            editor.bind_sequence(Event::Any, hush);
        }
        self.aloud = Some(aloud);
    }

    /// The guide's voice, if there is one.
    pub(crate) fn aloud(&mut self) -> Option<&mut Aloud> {
        self.aloud.as_mut()
    }

    /// How wide and able the screen is, for drawings.
    pub(crate) fn screen(&self) -> Screen {
        self.screen
    }

    /// Whether the person, or the surroundings, asked for the plain manner.
    pub(crate) fn is_plain(&self) -> bool {
        self.plain
    }

    /// From now on a prompt that stands this long without an answer hides the screen.
    pub(crate) fn hide_after(&mut self, patience: Option<Duration>) {
        self.patience = patience;
    }

    /// Whether a person sits at a line editor.
    pub(crate) fn is_interactive(&self) -> bool {
        matches!(self.reader, Reader::Editor { .. })
    }

    /// Asks for one line. `given` is text that is already there to edit.
    pub(crate) fn ask(&mut self, given: &str) -> Line {
        if self.hidden {
            return Line::Closed;
        }
        let _ = self.out.flush();
        if let Some(aloud) = &mut self.aloud {
            aloud.begin();
        }
        let line = self.read(given);
        if self.is_interactive() {
            // The window may have another size by now.
            self.screen.columns = columns();
        }
        if let Some(aloud) = &mut self.aloud {
            aloud.hush();
        }
        line
    }

    fn read(&mut self, given: &str) -> Line {
        match &mut self.reader {
            Reader::Editor { editor, hide } => {
                let prompt = if self.plain { ": " } else { "> " };
                let idle = self.patience.map(Idle::after);
                let read = editor.readline_with_initial(prompt, (given, ""));
                editor.set_helper(None);
                if read.is_err() && idle.is_some_and(Idle::ended_it) {
                    self.hide();
                    return Line::Closed;
                }
                if hide.swap(false, Ordering::Relaxed) {
                    return Line::Hide;
                }
                match read {
                    Ok(line) => {
                        // The history lives in memory only, and ends with the program.
                        let _ = editor.add_history_entry(line.as_str());
                        Line::Typed(Zeroizing::new(line))
                    }
                    Err(_) => Line::Closed,
                }
            }
            Reader::Lines(lines) => read_line(lines.as_mut()),
        }
    }

    /// Asks for something secret; it is not shown and not remembered.
    pub(crate) fn ask_secret(&mut self, prompt: &str) -> Option<Zeroizing<String>> {
        let width = self.width();
        let _ = write!(self.out, "{} ", textwrap::wrap(prompt, width).join("\n"));
        let _ = self.out.flush();
        rpassword::read_password().ok().map(Zeroizing::new)
    }

    /// Clears the screen and what can be scrolled back to, and leaves nothing behind but an empty screen.
    pub(crate) fn hide(&mut self) {
        self.hidden = true;
        if let Some(aloud) = &self.aloud {
            aloud.stopper().stop();
        }
        let _ = write!(self.out, "\u{1b}[H\u{1b}[2J\u{1b}[3J");
        let _ = self.out.flush();
        // The voice is silent by now, or soon, and reads nothing more. The screen does not wait for it.
        self.aloud = None;
    }
}

/// One line of an input that is no terminal. Bytes that are no text are shown as such rather than refused.
fn read_line(lines: &mut dyn BufRead) -> Line {
    let mut bytes = Zeroizing::new(Vec::new());
    match lines.read_until(b'\n', &mut bytes) {
        Ok(0) | Err(_) => Line::Closed,
        Ok(_) => {
            let text = String::from_utf8_lossy(&bytes);
            let line = text.trim_end_matches(['\n', '\r']).to_owned();
            if let Cow::Owned(text) = text {
                drop(Zeroizing::new(text));
            }
            Line::Typed(Zeroizing::new(line))
        }
    }
}

fn line_editor() -> Option<Reader> {
    let config = Config::builder()
        .bracketed_paste(true)
        .auto_add_history(false)
        .build();
    let mut editor = Editor::<Marks, MemHistory>::with_history(config, MemHistory::new()).ok()?;
    let hide = Arc::new(AtomicBool::new(false));
    let chord = EventHandler::Conditional(Box::new(HideChord(Arc::clone(&hide))));
    editor.bind_sequence(KeyEvent::ctrl('G'), chord);
    Some(Reader::Editor {
        editor: Box::new(editor),
        hide,
    })
}

/// Ctrl-G: leaves the prompt at once and remembers why.
struct HideChord(Arc<AtomicBool>);

impl ConditionalEventHandler for HideChord {
    fn handle(&self, _: &Event, _: RepeatCount, _: bool, _: &EventContext<'_>) -> Option<Cmd> {
        self.0.store(true, Ordering::Relaxed);
        Some(Cmd::Interrupt)
    }
}

/// Any key: the voice stops, and the key does what it always does.
struct HushOnKey(Stopper);

impl ConditionalEventHandler for HushOnKey {
    fn handle(&self, _: &Event, _: RepeatCount, _: bool, _: &EventContext<'_>) -> Option<Cmd> {
        self.0.stop();
        None
    }
}

impl Drop for Terminal {
    /// The last words are read to their end, since nobody waits for an answer to them.
    fn drop(&mut self) {
        if let Some(aloud) = &mut self.aloud {
            aloud.finish();
        }
    }
}

/// The width of the screen in columns: the terminal's, else `COLUMNS`, else 80; never under [`NARROWEST`].
fn columns() -> usize {
    let from_terminal = io::stdout()
        .is_terminal()
        .then(crossterm::terminal::size)
        .and_then(Result::ok);
    let from_environment = || env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
    let columns = from_terminal
        .map(|(columns, _)| usize::from(columns))
        .filter(|columns| *columns > 0);
    columns.or_else(from_environment).unwrap_or(80).max(NARROWEST)
}

fn speaks_unicode() -> bool {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"]
        .into_iter()
        .find_map(|name| env::var(name).ok().filter(|v| !v.is_empty()));
    locale.is_some_and(|locale| locale.to_lowercase().replace('-', "").contains("utf8"))
}

/// One thing that went wrong, on standard error.
pub(crate) fn complain(text: &str) {
    let width = columns().min(READING_WIDTH);
    for line in textwrap::wrap(&shown(text), width) {
        let _ = writeln!(io::stderr(), "{line}");
    }
}
