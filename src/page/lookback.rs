//! What changed over time, as small charts: moments by week, shares with their intervals, workability in pairs. And
//! loops, each as a ring.

use std::collections::BTreeMap;

use jiff::civil::Date;
use jiff::civil::Weekday;
use jiff::tz::TimeZone;

use crate::map::EntryId;
use crate::map::Map;
use crate::map::Way;
use crate::page::Bars;
use crate::page::Chosen;
use crate::page::Look;
use crate::page::Page;
use crate::page::Pairs;
use crate::page::Part;
use crate::page::Ring;
use crate::page::Shares;
use crate::page::SheetOptions;
use crate::page::Turned;
use crate::page::sheet::Picked;
use crate::page::wording;

/// A look back as it is drawn; every part that is empty is left out.
#[derive(Clone, Default, PartialEq)]
pub struct Lookback {
    /// Sentences at the top.
    pub lines: Vec<String>,
    /// Moments by week.
    pub weeks: Option<Bars>,
    /// Shares.
    pub shares: Vec<Shares>,
    /// Pairs, such as workability now and later.
    pub pairs: Vec<Pairs>,
}

/// A look back as a page.
#[must_use]
pub fn lookback(look: Lookback, options: &SheetOptions) -> Page {
    let mut parts: Vec<Part> = look.lines.into_iter().map(Part::Text).collect();
    parts.extend(look.weeks.map(Part::Bars));
    parts.extend(look.shares.into_iter().map(Part::Shares));
    parts.extend(look.pairs.into_iter().map(Part::Pairs));
    upright(wording::LOOKBACK, parts, options)
}

/// Loops as a page. The rings are those of [`traced`], or any others, such as loops that were found on the map.
#[must_use]
pub fn loops(rings: Vec<Ring>, options: &SheetOptions) -> Page {
    upright(
        wording::LOOPS,
        rings.into_iter().map(Part::Ring).collect(),
        options,
    )
}

fn upright(title: &str, parts: Vec<Part>, options: &SheetOptions) -> Page {
    Page {
        title: options.title.clone().unwrap_or_else(|| title.to_owned()),
        date: options.date,
        language: wording::LANGUAGE,
        paper: options.paper,
        turned: Turned::Portrait,
        parts,
    }
}

/// The loops that the person followed, as rings. A loop of which the hook or the away move is not chosen is left out.
#[must_use]
pub fn traced(map: &Map, chosen: &Chosen) -> Vec<Ring> {
    Picked::new(map, chosen, TimeZone::UTC).rings()
}

/// Moments counted by week, which way they went, from the week of one day to the week of another. Weeks begin on
/// Monday (ISO 8601); a week without moments is there with none.
#[must_use]
pub fn weeks(map: &Map, from: Date, to: Date, zone: &TimeZone) -> Bars {
    let mut counts: BTreeMap<Date, Vec<u32>> = BTreeMap::new();
    let mut monday = monday_of(from);
    // Ten years of weeks are more than any page shows.
    while monday <= to && counts.len() < 520 {
        counts.insert(monday, vec![0; 4]);
        monday = monday.saturating_add(jiff::Span::new().days(7));
    }
    for moment in map.moments() {
        let day = zone.to_datetime(moment.at).date();
        if from <= day
            && day <= to
            && let Some(week) = counts.get_mut(&monday_of(day))
        {
            week[match moment.way {
                Way::Toward => 0,
                Way::Away => 1,
                Way::Both => 2,
                Way::NotSure => 3,
            }] += 1;
        }
    }
    Bars {
        heading: wording::WEEKS.to_owned(),
        kinds: vec![
            (wording::TOWARD.to_owned(), Look::Toward),
            (wording::AWAY.to_owned(), Look::Away),
            (wording::BOTH.to_owned(), Look::Plain),
            (wording::NOT_SURE.to_owned(), Look::Faint),
        ],
        rows: counts
            .into_iter()
            .map(|(monday, counts)| (monday.to_string(), counts))
            .collect(),
    }
}

fn monday_of(day: Date) -> Date {
    let past = day.weekday().since(Weekday::Monday);
    day.saturating_sub(jiff::Span::new().days(past))
}

/// The latest word on how each chosen away move works, now and later; `None` while none was given.
#[must_use]
pub fn workability(map: &Map, chosen: &Chosen) -> Option<Pairs> {
    let ratings = map
        .workability()
        .iter()
        .map(|one| (one.entry, one.now, one.later));
    pairs(
        map,
        chosen,
        wording::WORKABILITY,
        (wording::NOW, wording::LATER),
        ratings,
    )
}

/// The latest word on how important each chosen thing is, and how close to it the person lived; `None` while none was
/// given.
#[must_use]
pub fn lived(map: &Map, chosen: &Chosen) -> Option<Pairs> {
    let ratings = map
        .lived()
        .iter()
        .map(|one| (one.entry, one.importance, one.closeness));
    pairs(
        map,
        chosen,
        wording::LIVED,
        (wording::IMPORTANT, wording::CLOSE),
        ratings,
    )
}

fn pairs(
    map: &Map,
    chosen: &Chosen,
    heading: &str,
    ends: (&str, &str),
    ratings: impl Iterator<Item = (EntryId, u8, u8)>,
) -> Option<Pairs> {
    let picked = Picked::new(map, chosen, TimeZone::UTC);
    let latest: BTreeMap<EntryId, (u8, u8)> = ratings.map(|(entry, one, two)| (entry, (one, two))).collect();
    let rows: Vec<_> = map
        .entries()
        .iter()
        .filter_map(|entry| {
            let (one, two) = *latest.get(&entry.id)?;
            Some((picked.entry(entry.id)?, one, two))
        })
        .collect();
    let ends = (ends.0.to_owned(), ends.1.to_owned());
    (!rows.is_empty()).then(|| Pairs {
        heading: heading.to_owned(),
        ends,
        rows,
    })
}
