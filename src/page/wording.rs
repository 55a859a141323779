//! The fixed words of pages, in one place so that one test can read them all.

use crate::map::Field;
use crate::map::Kind;
use crate::map::Mark;

/// The language of everything below.
pub(in crate::page) const LANGUAGE: &str = "en";

pub(in crate::page) const MY_MAP: &str = "My map";
pub(in crate::page) const NOTICING: &str = "noticing";
pub(in crate::page) const AWAY: &str = "away";
pub(in crate::page) const TOWARD: &str = "toward";
pub(in crate::page) const ABOVE: &str = "what a camera sees";
pub(in crate::page) const BELOW: &str = "what only you know";
pub(in crate::page) const LOOPS: &str = "Loops";
pub(in crate::page) const STEPS: &str = "Small steps";
pub(in crate::page) const KEY: &str = "The small numbers say which things on the sheet belong together.";
pub(in crate::page) const PULLS: &str = "pulls to";
pub(in crate::page) const COSTS_LATER: &str = "later feeds";
pub(in crate::page) const SERVES: &str = "for";
pub(in crate::page) const SAME: &str = "same act as";

pub(in crate::page) const HOOK: &str = "what shows up";
pub(in crate::page) const AWAY_MOVE: &str = "away move";
pub(in crate::page) const RELIEF: &str = "at once";
pub(in crate::page) const COST: &str = "later";
pub(in crate::page) const BACK: &str = "and then again";

pub(in crate::page) fn heading(field: Field) -> &'static str {
    match field {
        Field::Matters => "What matters",
        Field::Inner => "What shows up",
        Field::Away => "Away moves",
        Field::Toward => "Toward moves",
    }
}

pub(in crate::page) fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Person => "person",
        Kind::Quality => "quality",
        Kind::Activity => "something to do",
        Kind::Thought => "thought",
        Kind::Feeling => "feeling",
        Kind::Body => "body",
        Kind::Urge => "urge",
        Kind::Memory => "memory",
    }
}

pub(in crate::page) fn mark(mark: Mark) -> &'static str {
    match mark {
        Mark::Done => "done",
        Mark::Partly => "partly done",
        Mark::NotYet => "not yet",
        Mark::LetGo => "let go",
    }
}

pub(in crate::page) fn matters_in_it(words: &str) -> String {
    format!("What matters in it: {words}")
}

pub(in crate::page) fn if_then(when: &str, act: &str) -> String {
    format!("If {when}, then {act}")
}

pub(in crate::page) fn for_what(words: &str) -> String {
    format!("for {words}")
}

/// What a share says: the count first, and a share only with its interval.
pub(in crate::page) fn share(count: u32, of: u32, interval: Option<(f64, f64)>) -> String {
    match interval {
        Some((low, high)) => {
            format!(
                "{count} of {of} (likely between {:.0} and {:.0} in 100)",
                low * 100.0,
                high * 100.0
            )
        }
        None => format!("{count} of {of}"),
    }
}

pub(in crate::page) const BACK_TO_ONE: &str = "Then back to 1.";
pub(in crate::page) const NONE: &str = "none";

/// The foot of a side.
pub(in crate::page) fn side(at: usize, of: usize) -> String {
    format!("{at} of {of}")
}

/// A ring in words, for those who do not see it.
pub(in crate::page) fn ring_alt(stops: usize, closes: bool) -> String {
    if closes {
        format!("A ring of {stops} stops, each leading to the next and the last to the first.")
    } else {
        format!("A row of {stops} stops on an open ring, each leading to the next.")
    }
}
