//! A prompt that nobody answers: after a time that the person chose, the screen is hidden and the program ends. Every
//! answer is kept before the next prompt is shown, so nothing is lost by it.
//!
//! The line editor waits for a key and for nothing else, but it lets a signal end the wait, in good order and with the
//! terminal as it was. So a thread that waits beside it sends the program the signal of Ctrl-C.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::sync::atomic::Ordering;
use std::sync::mpsc;
use std::sync::mpsc::RecvTimeoutError;
use std::sync::mpsc::Sender;
use std::thread;
use std::time::Duration;

use crate::map::Map;
use crate::shell::terminal::Terminal;

/// The name of the setting.
pub(crate) const SETTING: &str = "lock-after";
/// The most minutes that can be chosen: a day.
pub(crate) const MOST: u64 = 24 * 60;
/// The minutes where nothing was chosen.
const USUAL: u64 = 15;

/// What a person chose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Choice {
    /// The screen hides after this long.
    After(Duration),
    /// It stays.
    Never,
}

impl Choice {
    /// How long a prompt may stand; nothing where it may stand for ever.
    pub(crate) fn patience(self) -> Option<Duration> {
        match self {
            Self::After(patience) => Some(patience),
            Self::Never => None,
        }
    }
}

/// What was chosen, else fifteen minutes; in plain manner never, since reading aloud takes its time.
pub(crate) fn chosen(map: &Map, plain: bool) -> Option<Duration> {
    let usual = (!plain).then(|| minutes(USUAL));
    map.setting(SETTING)
        .and_then(read)
        .map_or(usual, Choice::patience)
}

/// The minutes after which a prompt hides where nothing was chosen yet; nothing where it stays: in plain manner, and where
/// no person sits at a terminal.
pub(crate) fn at_first(terminal: &Terminal) -> Option<u64> {
    (terminal.is_interactive() && !terminal.is_plain()).then_some(USUAL)
}

/// Reads a choice: a number of minutes, or `off`. Nothing where it is neither.
pub(crate) fn read(choice: &str) -> Option<Choice> {
    if choice == "off" {
        return Some(Choice::Never);
    }
    choice
        .parse()
        .ok()
        .filter(|count| (1..=MOST).contains(count))
        .map(|count| Choice::After(minutes(count)))
}

fn minutes(count: u64) -> Duration {
    Duration::from_secs(count * 60)
}

/// The wait beside one prompt. It ends with the prompt.
pub(crate) struct Idle {
    over: Arc<AtomicBool>,
    _prompt: Sender<()>,
}

impl Idle {
    /// Begins to wait.
    pub(crate) fn after(patience: Duration) -> Self {
        let over = Arc::new(AtomicBool::new(false));
        let (prompt, answered) = mpsc::channel();
        let passed = Arc::clone(&over);
        thread::spawn(move || {
            let mut patience = patience;
            // The answer drops the sender. Until then the signal is sent again, should it have come too early.
            while answered.recv_timeout(patience) == Err(RecvTimeoutError::Timeout) {
                passed.store(true, Ordering::Relaxed);
                wake();
                patience = Duration::from_secs(1);
            }
        });
        Self {
            over,
            _prompt: prompt,
        }
    }

    /// Whether the time was up before the prompt ended.
    pub(crate) fn ended_it(self) -> bool {
        self.over.load(Ordering::Relaxed)
    }
}

#[cfg(unix)]
fn wake() {
    let _ = rustix::process::kill_process(rustix::process::getpid(), rustix::process::Signal::INT);
}

/// Elsewhere there is no such signal; the prompt stands until it is answered, and then the screen is hidden.
#[cfg(not(unix))]
fn wake() {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_minutes_up_to_a_day_and_off_are_choices() {
        assert_eq!(read("off"), Some(Choice::Never));
        assert_eq!(read("10"), Some(Choice::After(Duration::from_mins(10))));
        assert_eq!(read("1440"), Some(Choice::After(Duration::from_hours(24))));
        for wrong in ["", "0", "1441", "-5", "ten", "1.5"] {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn it_is_fifteen_minutes_at_first_and_never_in_plain_manner() {
        assert_eq!(chosen(&Map::default(), false), Some(Duration::from_mins(15)));
        assert_eq!(chosen(&Map::default(), true), None);
    }
}
