//! The fixed words of pages, by the names that they have in the words file.

use crate::language::counted;
use crate::language::filled;
use crate::language::line;
use crate::map::Field;
use crate::map::Mark;
use crate::page::Fields;
use crate::page::Guidance;

macro_rules! words {
    ($($name:ident: $line:literal,)*) => {
        $(pub(in crate::page) fn $name() -> &'static str {
            line($line)
        })*
    };
}

words! {
    my_map: "page.my-map",
    noticing: "page.noticing",
    away: "page.away",
    toward: "page.toward",
    above: "page.above",
    below: "page.below",
    loops: "page.loops",
    steps: "page.steps",
    key: "page.key",
    pulls: "page.pulls",
    costs_later: "page.costs-later",
    serves: "page.serves",
    same: "page.same",
    hook: "page.hook",
    away_move: "page.away-move",
    relief: "page.relief",
    cost: "page.cost",
    then: "page.then",
    open_path: "page.open-path",
    appointment: "page.appointment",
    hooks_lately: "page.hooks-lately",
    moves_lately: "page.moves-lately",
    steps_went: "page.steps-went",
    question: "page.question",
    lookback: "page.lookback",
    weeks: "page.weeks",
    both: "page.both",
    not_sure: "page.not-sure",
    workability: "page.workability",
    now: "page.now",
    later: "page.later",
    lived: "page.lived",
    important: "page.important",
    close: "page.close",
    blank: "page.blank",
    order: "page.order",
    toward_share: "page.toward-share",
    all: "page.all",
    followed: "page.followed",
    no_loops: "page.no-loops",
    trend_more: "page.trend-more",
    trend_fewer: "page.trend-fewer",
    trend_open: "page.trend-open",
    around: "page.around",
    did_then: "page.did-then",
    did_too_few: "page.did-too-few",
    did_stands_out: "page.did-stands-out",
    did_none_stands_out: "page.did-none-stands-out",
    showed_up: "page.showed-up",
    was_done: "page.was-done",
    was_for: "page.was-for",
}

/// What follows the last stop of a ring that closes.
#[must_use]
pub fn back_to_one() -> &'static str {
    line("page.back-to-one")
}

/// A row without any count.
#[must_use]
pub fn none() -> &'static str {
    line("page.none")
}

/// A field with no entries, where an empty space would say nothing.
#[must_use]
pub fn nothing_yet() -> &'static str {
    line("page.nothing-yet")
}

/// Stands before the name of a script that no font can draw, in brackets.
#[must_use]
pub fn no_letters() -> &'static str {
    line("page.no-letters")
}

/// Stands for the name of a script where signs belong to none.
#[must_use]
pub fn some_signs() -> &'static str {
    line("page.some-signs")
}

/// The language of all fixed words, as a BCP 47 tag.
pub(in crate::page) fn language() -> &'static str {
    crate::language::spoken().tag()
}

pub(in crate::page) fn heading(field: Field) -> &'static str {
    line(match field {
        Field::Matters => "page.field.matters",
        Field::Inner => "page.field.inner",
        Field::Away => "page.field.away",
        Field::Toward => "page.field.toward",
    })
}

pub(in crate::page) fn mark(mark: Mark) -> &'static str {
    line(match mark {
        Mark::Done => "page.mark.done",
        Mark::Partly => "page.mark.partly",
        Mark::NotYet => "page.mark.not-yet",
        Mark::LetGo => "page.mark.let-go",
    })
}

pub(in crate::page) fn matters_in_it(words: &str) -> String {
    filled("page.matters-in-it", &[("words", words)])
}

/// A step in one line. What sets it off was often written with its own "when", or is a time or a place, and then stands
/// alone: "At six", and not "If at six".
pub(in crate::page) fn if_then(when: &str, act: &str) -> String {
    let first = when.split_whitespace().next().unwrap_or_default().to_lowercase();
    if line("words.when").split(' ').any(|word| word == first) {
        let mut signs = when.chars();
        let capital = signs
            .next()
            .map(|sign| sign.to_uppercase().to_string())
            .unwrap_or_default();
        let when = format!("{capital}{}", signs.as_str());
        return filled("page.when-then", &[("when", &when), ("act", act)]);
    }
    filled("page.if-then", &[("when", when), ("act", act)])
}

pub(in crate::page) fn for_what(words: &str) -> String {
    filled("page.for-what", &[("words", words)])
}

/// What a share says: the count first, and a share only with its interval.
pub(in crate::page) fn share(count: u32, of: u32, interval: Option<(f64, f64)>) -> String {
    let numbers = [("part", count.to_string()), ("of", of.to_string())];
    let mut blanks: Vec<_> = numbers
        .iter()
        .map(|(name, value)| (*name, value.as_str()))
        .collect();
    let Some((low, high)) = interval else {
        return filled("page.share", &blanks);
    };
    // In whole moments of as many, rounded outward: someone who never met statistics can picture them.
    let whole = f64::from(of);
    let (low, high) = ((low * whole).floor(), (high * whole).ceil());
    let (low, high) = (format!("{low:.0}"), format!("{high:.0}"));
    blanks.extend([("low", low.as_str()), ("high", high.as_str())]);
    filled("page.share-and-doubt", &blanks)
}

/// The foot of a side.
pub(in crate::page) fn side(at: usize, of: usize) -> String {
    filled("page.side", &[("at", &at.to_string()), ("of", &of.to_string())])
}

/// A ring in words, for those who do not see it.
pub(in crate::page) fn ring_alt(stops: usize, closes: bool) -> String {
    let name = if closes {
        "page.ring-alt"
    } else {
        "page.open-ring-alt"
    };
    counted(name, stops as u64, &[])
}

pub(in crate::page) fn more(count: usize) -> String {
    counted("page.more", count as u64, &[])
}

pub(in crate::page) fn times(count: usize) -> String {
    counted("page.times", count as u64, &[])
}

/// One line of guidance for a field of the empty sheet.
pub(in crate::page) fn guide(field: Field, guidance: Guidance) -> &'static str {
    line(match (guidance, field) {
        (Guidance::Plain, Field::Matters) => "page.guide.matters",
        (Guidance::Plain, Field::Inner) => "page.guide.inner",
        (Guidance::Plain, Field::Away) => "page.guide.away",
        (Guidance::Plain, Field::Toward) => "page.guide.toward",
        (Guidance::Plainer, Field::Matters) => "page.plainer.matters",
        (Guidance::Plainer, Field::Inner) => "page.plainer.inner",
        (Guidance::Plainer, Field::Away) => "page.plainer.away",
        (Guidance::Plainer, Field::Toward) => "page.plainer.toward",
    })
}

/// The drawing of the four fields in words, for those who do not see it.
pub(in crate::page) fn fields_alt(fields: &Fields) -> String {
    filled(
        "page.fields-alt",
        &[
            ("centre", &fields.centre),
            ("left", &fields.left),
            ("right", &fields.right),
            ("above", &fields.above),
            ("below", &fields.below),
        ],
    )
}

pub(in crate::page) fn moments(count: u64) -> String {
    if count == 0 {
        return line("page.no-moments").to_owned();
    }
    counted("page.moments", count, &[])
}

pub(in crate::page) fn before(day: &str) -> String {
    filled("page.before", &[("day", day)])
}

pub(in crate::page) fn since(day: &str) -> String {
    filled("page.since", &[("day", day)])
}

/// How an away move works, the two numbers beside each other and never added up.
pub(in crate::page) fn works(words: &str, now: u8, later: u8) -> String {
    let (now, later) = (now.to_string(), later.to_string());
    filled(
        "page.works",
        &[("now", &now), ("later", &later), ("words", words)],
    )
}

/// What the shares before and since a day say together. No more is meant than before and since.
pub(in crate::page) fn before_since(low: f64, high: f64) -> &'static str {
    line(if low > 0.0 {
        "page.before-since-more"
    } else if high < 0.0 {
        "page.before-since-fewer"
    } else {
        "page.before-since-open"
    })
}

/// What was done when something showed up, how many times, and whether that stands out from the rest.
pub(in crate::page) fn did(words: &str, count: u64, stands_out: Option<bool>) -> String {
    let name = match stands_out {
        None => "page.did",
        Some(true) => "page.did-more",
        Some(false) => "page.did-less",
    };
    counted(name, count, &[("words", words)])
}

/// A place in a loop where the person has once stepped out.
pub(in crate::page) fn way_out(at: usize, did: &str, served: &str) -> String {
    let at = at.to_string();
    let name = match (did.is_empty(), served.is_empty()) {
        (true, true) => "page.way-out",
        (false, true) => "page.way-out-did",
        (true, false) => "page.way-out-for",
        (false, false) => "page.way-out-did-for",
    };
    filled(name, &[("at", &at), ("did", did), ("served", served)])
}
