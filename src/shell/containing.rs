//! What happens when something in the program breaks. What a panic says may hold a person's words, so it is never
//! shown. If it was the screen for signs of danger that broke, the program never goes on without it: it stops and
//! shows who to call.

use std::cell::Cell;
use std::cell::RefCell;
use std::panic;
use std::panic::AssertUnwindSafe;
use std::sync::Once;
use std::thread;

use crate::safety;
use crate::safety::Screened;
use crate::shell::crisis;
use crate::shell::first_run;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;

thread_local! {
    /// Whether the screen is at work. A panic in it leaves the mark behind.
    static SCREENING: Cell<bool> = const { Cell::new(false) };
    /// Where in the program's own source the last panic began.
    static PLACE: RefCell<String> = const { RefCell::new(String::new()) };
    /// The person's region, if a store that knows it was opened.
    static REGION: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// What broke.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Broken {
    /// The screen for signs of danger.
    Screen,
    /// Anything else, with the file and line; empty where it was not in this program's own source.
    Other(String),
}

/// Builds the screen's patterns beside what the person reads, so that the first answer does not wait for it. A fault in
/// them shows again, and is told, at that answer.
pub(crate) fn get_ready() {
    static BEGUN: Once = Once::new();
    BEGUN.call_once(|| drop(thread::spawn(|| drop(screen("ready")))));
}

/// As [`safety::screen`]; if it breaks, whoever contains this learns what broke.
pub(crate) fn screen(text: &str) -> Screened {
    marked(|| safety::screen(text))
}

/// As [`safety::screen_spoken`]; if it breaks, whoever contains this learns what broke.
pub(crate) fn screen_spoken(heard: &str, corrected: &str) -> Screened {
    marked(|| safety::screen_spoken(heard, corrected))
}

fn marked<T>(look: impl FnOnce() -> T) -> T {
    SCREENING.set(true);
    let looked = look();
    SCREENING.set(false);
    looked
}

/// Remembers the person's region, so that the numbers are right even when everything else is gone.
pub(crate) fn region_is(region: &str) {
    REGION.set(Some(region.to_owned()).filter(|region| region != "-"));
}

/// From now on a panic says nothing by itself.
pub(crate) fn hush() {
    panic::set_hook(Box::new(|info| {
        let own = info.location().filter(|place| place.file().starts_with("src/"));
        let place = own.map(|place| format!("{}:{}", place.file(), place.line()));
        PLACE.set(place.unwrap_or_default());
    }));
}

/// Does the work, and tells what broke if something did.
pub(crate) fn contained<T>(work: impl FnOnce() -> T) -> Result<T, Broken> {
    SCREENING.set(false);
    PLACE.take();
    panic::catch_unwind(AssertUnwindSafe(work)).map_err(|_| {
        let place = PLACE.take();
        if SCREENING.take() || place.starts_with("src/safety/") {
            Broken::Screen
        } else {
            Broken::Other(place)
        }
    })
}

/// Says what broke. The numbers are shown if it was the screen.
pub(crate) fn tell(broken: &Broken, plain: bool) {
    let _ = crossterm::terminal::disable_raw_mode();
    let mut terminal = Terminal::new(plain);
    terminal.gap();
    match broken {
        Broken::Screen => {
            terminal.say(&phrase("crisis.broken"));
            terminal.gap();
            let region = REGION.take().or_else(|| first_run::guess().map(str::to_owned));
            // The numbers come from the same room as the screen, so they may be broken too; the last line is not.
            if contained(|| crisis::page(&mut terminal, None, region.as_deref())).is_err() {
                terminal.stress(&phrase("crisis.fallback"));
            }
        }
        Broken::Other(place) => terminal.say(&filled("trouble.broke", &[("value", place)])),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_screen_that_breaks_is_known_from_everything_else_that_breaks() {
        let at_work = contained(|| marked(|| panic!("the words of a person")));
        assert_eq!(at_work, Err::<(), _>(Broken::Screen));
        let elsewhere = contained(|| {
            drop(screen("a quiet garden"));
            panic!("the words of a person")
        });
        assert!(
            matches!(elsewhere, Err::<(), _>(Broken::Other(_))),
            "{elsewhere:?}"
        );
        assert_eq!(
            contained(|| screen("a quiet garden").level()),
            Ok(safety::Level::None)
        );
    }

    #[test]
    fn nothing_after_a_broken_screen_is_done() {
        let kept = Cell::new(0);
        let outcome = contained(|| {
            for answer in ["first", "second", "third"] {
                marked(|| assert!(answer != "second", "{answer}"));
                kept.set(kept.get() + 1);
            }
        });
        assert_eq!((outcome, kept.get()), (Err(Broken::Screen), 1));
    }
}
