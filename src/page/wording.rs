//! The fixed words of pages, in one place so that one test can read them all.

use crate::map::Field;
use crate::map::Mark;
use crate::page::Fields;
use crate::page::Guidance;

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
pub(in crate::page) const THEN: &str = "and then";
pub(in crate::page) const OPEN_PATH: &str = "A path that did not come back round, so far";

pub(in crate::page) fn heading(field: Field) -> &'static str {
    match field {
        Field::Matters => "What matters",
        Field::Inner => "What shows up",
        Field::Away => "Away moves",
        Field::Toward => "Toward moves",
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

/// A step in one line. What sets it off was often written with its own "when", which then stands alone.
pub(in crate::page) fn if_then(when: &str, act: &str) -> String {
    let first = when.split_whitespace().next().unwrap_or_default().to_lowercase();
    if ["after", "as", "before", "if", "once", "when", "whenever"].contains(&first.as_str()) {
        let mut signs = when.chars();
        let capital = signs
            .next()
            .map(|sign| sign.to_uppercase().to_string())
            .unwrap_or_default();
        return format!("{capital}{}, then {act}", signs.as_str());
    }
    format!("If {when}, then {act}")
}

pub(in crate::page) fn for_what(words: &str) -> String {
    format!("for {words}")
}

/// What a share says: the count first, and a share only with its interval.
pub(in crate::page) fn share(count: u32, of: u32, interval: Option<(f64, f64)>) -> String {
    match interval {
        // In whole moments of as many, rounded outward: someone who never met statistics can picture them.
        Some((low, high)) => {
            let whole = f64::from(of);
            let (low, high) = ((low * whole).floor(), (high * whole).ceil());
            format!(
                "{count} of {of}; with so few, anything from {low:.0} to {high:.0} of {of} would be no surprise"
            )
        }
        None => format!("{count} of {of}"),
    }
}

/// What follows the last stop of a ring that closes.
pub const BACK_TO_ONE: &str = "Then back to 1.";
/// A row without any count.
pub const NONE: &str = "none";
/// A field with no entries, where an empty space would say nothing.
pub const NOTHING_YET: &str = "nothing yet";
/// Stands before the name of a script that no font can draw, in brackets.
pub const NO_LETTERS: &str = "no letters for";

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

pub(in crate::page) const APPOINTMENT: &str = "For our talk";
pub(in crate::page) const HOOKS_LATELY: &str = "What showed up lately";
pub(in crate::page) const MOVES_LATELY: &str = "Away moves I noticed";
pub(in crate::page) const STEPS_WENT: &str = "Small steps, and how they went";
pub(in crate::page) const QUESTION: &str = "What I would like to ask";
pub(in crate::page) const LOOKBACK: &str = "Looking back";
pub(in crate::page) const WEEKS: &str = "Moments by week (the Monday it began)";
pub(in crate::page) const BOTH: &str = "some of each";
pub(in crate::page) const NOT_SURE: &str = "not sure";
pub(in crate::page) const WORKABILITY: &str = "How away moves work, 0 to 10";
pub(in crate::page) const NOW: &str = "now";
pub(in crate::page) const LATER: &str = "later";
pub(in crate::page) const LIVED: &str = "What matters, and how close I lived to it, 0 to 10";
pub(in crate::page) const IMPORTANT: &str = "important";
pub(in crate::page) const CLOSE: &str = "close";
pub(in crate::page) const BLANK: &str = "A map of my own";
pub(in crate::page) const ORDER: &str =
    "Start at the lower right, then lower left, upper left, upper right. Skip what does not fit today.";

pub(in crate::page) fn more(count: usize) -> String {
    format!("and {count} more")
}

pub(in crate::page) fn times(count: usize) -> String {
    if count == 1 {
        "once".to_owned()
    } else {
        format!("{count} times")
    }
}

/// One line of guidance for a field of the empty sheet.
pub(in crate::page) fn guide(field: Field, guidance: Guidance) -> &'static str {
    match (guidance, field) {
        (Guidance::Plain, Field::Matters) => {
            "Who and what do you want to be there for? How do you want to be?"
        }
        (Guidance::Plain, Field::Inner) => "Thoughts, feelings, body, urges, memories that get in the way.",
        (Guidance::Plain, Field::Away) => "What would we see you do to get rid of that, or when it has you?",
        (Guidance::Plain, Field::Toward) => {
            "What would we see you do, done lately or possible, for what matters?"
        }
        (Guidance::Plainer, Field::Matters) => "Who do you care about? What do you love to do?",
        (Guidance::Plainer, Field::Inner) => "What hard stuff turns up in your head or body?",
        (Guidance::Plainer, Field::Away) => "What do you do to make it go away?",
        (Guidance::Plainer, Field::Toward) => "What could you do for the people and things you care about?",
    }
}

/// The drawing of the four fields in words, for those who do not see it.
pub(in crate::page) fn fields_alt(fields: &Fields) -> String {
    let Fields {
        left,
        right,
        above,
        below,
        centre,
        ..
    } = fields;
    format!(
        "Two lines cross at a circle, {centre}. Left is {left}, right is {right}. Above is {above}, below is {below}."
    )
}

pub(in crate::page) const SHARE: &str = "Toward, of all moments";
pub(in crate::page) const ALL: &str = "all of them";
pub(in crate::page) const FOLLOWED: &str = "What followed, when this showed up";
pub(in crate::page) const NO_LOOPS: &str = "There is no loop here. A map may have none.";
pub(in crate::page) const TREND_MORE: &str = "Toward moments have become more over the weeks.";
pub(in crate::page) const TREND_FEWER: &str = "Toward moments have become fewer over the weeks.";
pub(in crate::page) const TREND_OPEN: &str =
    "Over the weeks it could be more, fewer or the same; these counts do not tell.";

pub(in crate::page) fn moments(count: u64) -> String {
    match count {
        0 => "No moments yet.".to_owned(),
        1 => "One moment.".to_owned(),
        count => format!("{count} moments."),
    }
}

pub(in crate::page) fn before(day: &str) -> String {
    format!("before {day}")
}

pub(in crate::page) fn since(day: &str) -> String {
    format!("since {day}")
}

/// How an away move works, the two numbers beside each other and never added up.
pub(in crate::page) fn works(words: &str, now: u8, later: u8) -> String {
    format!("How much it helps to “{words}”, 0 to 10: {now} at once, {later} later.")
}

pub(in crate::page) const AROUND: &str = "What was there when it went toward";
pub(in crate::page) const SHOWED_UP: &str = "showed up";
pub(in crate::page) const WAS_DONE: &str = "what I did";
pub(in crate::page) const WAS_FOR: &str = "for whom or what";

/// What the shares before and since a day say together. No more is meant than before and since.
pub(in crate::page) fn before_since(low: f64, high: f64) -> &'static str {
    if low > 0.0 {
        "Since that day, more of the moments went toward than before it."
    } else if high < 0.0 {
        "Since that day, fewer of the moments went toward than before it."
    } else {
        "More, fewer or the same: these counts do not tell the days before from the days since."
    }
}

/// A place in a loop where the person has once stepped out.
pub(in crate::page) fn way_out(at: usize, did: &str, served: &str) -> String {
    let mut says = format!("A way out you once took at {at}");
    if !did.is_empty() {
        says.push_str(": ");
        says.push_str(did);
    }
    if !served.is_empty() {
        says.push_str(" (for ");
        says.push_str(served);
        says.push(')');
    }
    says.push('.');
    says
}
