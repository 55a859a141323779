//! What changed over time, as small charts: moments by week, shares with their intervals, what followed each hook,
//! pairs of numbers. All numbers come from [`crate::insight`]; this file only lays them out.

use crate::insight;
use crate::insight::Direction;
use crate::insight::Ways;
use crate::insight::wilson;
use crate::map::EntryId;
use crate::map::Map;
use crate::page::Bars;
use crate::page::Item;
use crate::page::Look;
use crate::page::Page;
use crate::page::Pairs;
use crate::page::Part;
use crate::page::Share;
use crate::page::Shares;
use crate::page::SheetOptions;
use crate::page::Turned;
use crate::page::sheet::Picked;
use crate::page::wording;

/// The most entries of one kind under one heading.
const MOST_SHOWN: usize = 3;

/// A look back as a page. Rows about entries that were not chosen are left out; counts over all moments stay.
#[must_use]
pub fn lookback(map: &Map, look: &insight::Lookback, options: &SheetOptions) -> Page {
    let zone = options.zone.clone().unwrap_or(jiff::tz::TimeZone::UTC);
    let picked = Picked::new(map, options.chosen.as_ref(), zone);
    let mut parts = vec![Part::Text(wording::moments(look.ways.moments))];
    if let Some(over) = &look.over_weeks {
        let says = match over.direction {
            Direction::More => wording::trend_more(),
            Direction::Fewer => wording::trend_fewer(),
            Direction::CannotTell => wording::trend_open(),
        };
        parts.push(Part::Text(says.to_owned()));
    }
    // A week without a note says nothing, and a row for it would read as something missed.
    let noted = look.weeks.iter().filter(|week| week.ways.moments > 0);
    let weeks: Vec<_> = noted
        .map(|week| (week.monday.to_string(), counts(&week.ways)))
        .collect();
    if !weeks.is_empty() {
        parts.push(Part::Bars(bars(wording::weeks(), weeks)));
    }
    let shares = shares(look, &picked);
    if look.ways.moments > 0 {
        parts.push(Part::Shares(Shares {
            heading: wording::toward_share().to_owned(),
            rows: shares,
        }));
    }
    let difference = look.before_since.and_then(|both| both.difference);
    if let Some(found) = difference {
        let says = wording::before_since(found.interval.low, found.interval.high);
        parts.push(Part::Text(says.to_owned()));
    }
    let followed: Vec<_> = look
        .followed
        .iter()
        .filter_map(|one| Some((picked.entry(one.hook)?, counts(&one.ways))))
        .collect();
    if !followed.is_empty() {
        parts.push(Part::Bars(bars(wording::followed(), followed)));
    }
    what_was_done(&mut parts, &look.followed, &picked);
    around(&mut parts, &look.around, &picked);
    parts.extend(workability(map, &picked).map(Part::Pairs));
    parts.extend(living(look, &picked).map(Part::Pairs));
    upright(wording::lookback(), parts, options)
}

/// What was done when each thing showed up, the most frequent first. Whether it stands out is said only where the counts
/// allow it; where they do not, that is said.
fn what_was_done(parts: &mut Vec<Part>, followed: &[insight::Followed], picked: &Picked) {
    let mut shown: Vec<&insight::Did> = Vec::new();
    let mut items = Vec::new();
    for one in followed {
        let Some(words) = picked.entry(one.hook) else {
            continue;
        };
        let chosen = one
            .did
            .iter()
            .filter_map(|did| Some((did, picked.entry(did.entry)?)));
        let chosen: Vec<_> = chosen.take(MOST_SHOWN).collect();
        let note = |(did, words): &(&insight::Did, String)| wording::did(words, did.times, did.stands_out());
        let notes: Vec<_> = chosen.iter().map(note).collect();
        if !notes.is_empty() {
            shown.extend(chosen.iter().map(|(did, _)| *did));
            items.push(Item {
                number: None,
                words,
                notes,
            });
        }
    }
    if items.is_empty() {
        return;
    }
    let says = if shown.iter().all(|did| did.residual.is_none()) {
        wording::did_too_few()
    } else if shown.iter().any(|did| did.stands_out().is_some()) {
        wording::did_stands_out()
    } else {
        wording::did_none_stands_out()
    };
    parts.push(Part::Heading(wording::did_then().to_owned()));
    parts.push(Part::List(items));
    parts.push(Part::Text(says.to_owned()));
}

/// What was there when moments went toward, the most frequent first.
fn around(parts: &mut Vec<Part>, around: &insight::Around, picked: &Picked) {
    let lists = [
        (wording::showed_up(), &around.showed_up),
        (wording::was_done(), &around.did),
        (wording::was_for(), &around.served),
    ];
    let item = |what: &str, one: &insight::Times| {
        let count = usize::try_from(one.times).unwrap_or(usize::MAX);
        let notes = vec![what.to_owned(), wording::times(count)];
        picked.entry(one.entry).map(|words| Item {
            number: None,
            words,
            notes,
        })
    };
    let items: Vec<_> = lists
        .into_iter()
        .flat_map(|(what, times)| {
            times
                .iter()
                .filter_map(move |one| item(what, one))
                .take(MOST_SHOWN)
        })
        .collect();
    if !items.is_empty() {
        parts.push(Part::Heading(wording::around().to_owned()));
        parts.push(Part::List(items));
    }
}

/// A page of its own, upright.
pub(in crate::page) fn upright(title: &str, parts: Vec<Part>, options: &SheetOptions) -> Page {
    Page {
        title: options.title.clone().unwrap_or_else(|| title.to_owned()),
        date: options.date,
        language: wording::language(),
        paper: options.paper,
        turned: Turned::Portrait,
        parts,
    }
}

fn bars(heading: &str, rows: Vec<(String, Vec<u32>)>) -> Bars {
    let kinds = [
        (wording::toward(), Look::Toward),
        (wording::away(), Look::Away),
        (wording::both(), Look::Plain),
        (wording::not_sure(), Look::Faint),
    ];
    let kinds = kinds.map(|(name, look)| (name.to_owned(), look)).to_vec();
    Bars {
        heading: heading.to_owned(),
        kinds,
        rows,
    }
}

fn counts(ways: &Ways) -> Vec<u32> {
    [ways.toward, ways.away, ways.both, ways.not_sure]
        .map(small)
        .to_vec()
}

/// A count as drawn; no bar shows more than four thousand million.
fn small(count: u64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn share(label: &str, part: u64, whole: u64) -> Share {
    let interval = (whole >= insight::LEAST_FOR_SHARE)
        .then(|| wilson(part, whole))
        .flatten();
    Share {
        label: label.to_owned(),
        count: small(part),
        of: small(whole),
        interval: interval.map(|interval| (interval.low, interval.high)),
    }
}

fn shares(look: &insight::Lookback, picked: &Picked) -> Vec<Share> {
    match &look.before_since {
        Some(both) => {
            let day = picked.day(both.since);
            vec![
                share(&wording::before(&day), both.before.toward, both.before.moments),
                share(&wording::since(&day), both.after.toward, both.after.moments),
            ]
        }
        None => vec![share(wording::all(), look.ways.toward, look.ways.moments)],
    }
}

/// The latest word on how each chosen away move works, now and later; `None` while none was given.
fn workability(map: &Map, picked: &Picked) -> Option<Pairs> {
    let rated = insight::workability(map);
    let latest = rated
        .iter()
        .filter_map(|one| one.pairs.last().map(|pair| (one.entry, pair.now, pair.later)));
    pairs(
        picked,
        wording::workability(),
        (wording::now(), wording::later()),
        latest,
    )
}

/// The latest word on how important each chosen thing is, and how close to it the person lived.
fn living(look: &insight::Lookback, picked: &Picked) -> Option<Pairs> {
    let latest = look.living.iter().filter_map(|one| {
        let pair = one.pairs.last()?;
        Some((one.entry, pair.importance, pair.closeness))
    });
    pairs(
        picked,
        wording::lived(),
        (wording::important(), wording::close()),
        latest,
    )
}

fn pairs(
    picked: &Picked,
    heading: &str,
    ends: (&str, &str),
    latest: impl Iterator<Item = (EntryId, u8, u8)>,
) -> Option<Pairs> {
    let rows: Vec<_> = latest
        .filter_map(|(entry, one, two)| Some((picked.entry(entry)?, one, two)))
        .collect();
    let ends = (ends.0.to_owned(), ends.1.to_owned());
    (!rows.is_empty()).then(|| Pairs {
        heading: heading.to_owned(),
        ends,
        rows,
    })
}
