//! One page for an appointment: what matters, what showed up lately, loops, steps and how they went, a question to
//! bring. The person's own words, counts before anything else.

use std::collections::BTreeMap;

use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::map::EntryId;
use crate::map::Field;
use crate::map::Map;
use crate::page::Chosen;
use crate::page::Item;
use crate::page::Page;
use crate::page::Paper;
use crate::page::Part;
use crate::page::Turned;
use crate::page::sheet::Picked;
use crate::page::wording;

/// How a page for an appointment is made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AppointmentOptions {
    /// The paper, used upright.
    pub paper: Paper,
    /// The day of the appointment, shown at the top.
    pub date: Date,
    /// The first day that counts for what showed up; usually a month before.
    pub since: Date,
    /// What of the map to show; `None` is everything that is true today.
    pub chosen: Option<Chosen>,
    /// A question to bring, in the person's words; `None` leaves lines to write on.
    pub question: Option<String>,
    /// The time zone in which days are told; `None` is UTC.
    pub zone: Option<TimeZone>,
}

/// The most entries of one list, so that the page stays one page.
const MOST: usize = 7;
/// The most loops.
const LOOPS: usize = 2;

/// A page for an appointment.
#[must_use]
pub fn appointment(map: &Map, options: &AppointmentOptions) -> Page {
    let zone = options.zone.clone().unwrap_or(TimeZone::UTC);
    let picked = Picked::new(map, options.chosen.as_ref(), zone.clone());
    let mut parts = Vec::new();
    let matters = bare(picked.items(Field::Matters));
    section(&mut parts, wording::heading(Field::Matters), first(matters));
    let counts = counts(map, options, &zone);
    for (heading, field) in [
        (wording::hooks_lately(), Field::Inner),
        (wording::moves_lately(), Field::Away),
    ] {
        let items = noticed(&picked, map, field, &counts);
        section(&mut parts, heading, first(items));
    }
    let rings = picked.rings();
    if !rings.is_empty() {
        parts.push(Part::Heading(wording::loops().to_owned()));
        // The newest loops are what the talk will be about.
        let from = rings.len().saturating_sub(LOOPS);
        parts.extend(rings.into_iter().skip(from).map(Part::Ring));
    }
    let mut steps = picked.steps();
    let from = steps.len().saturating_sub(MOST);
    section(&mut parts, wording::steps_went(), steps.split_off(from));
    parts.push(Part::Heading(wording::question().to_owned()));
    parts.push(match &options.question {
        Some(question) => Part::Text(picked.words(question)),
        None => Part::Lines(2),
    });
    Page {
        title: wording::appointment().to_owned(),
        date: Some(options.date),
        language: wording::language(),
        paper: options.paper,
        turned: Turned::Portrait,
        parts,
    }
}

fn section(parts: &mut Vec<Part>, heading: &str, items: Vec<Item>) {
    if !items.is_empty() {
        parts.push(Part::Heading(heading.to_owned()));
        parts.push(Part::List(items));
    }
}

/// Without numbers and links, which belong to the sheet.
fn bare(items: Vec<Item>) -> Vec<Item> {
    items
        .into_iter()
        .map(|item| Item {
            words: item.words,
            ..Item::default()
        })
        .collect()
}

/// As many as fit, and how many more there are.
fn first(mut items: Vec<Item>) -> Vec<Item> {
    let more = items.len().saturating_sub(MOST);
    if more > 0 {
        items.truncate(MOST);
        items.push(Item {
            words: wording::more(more),
            ..Item::default()
        });
    }
    items
}

/// How often each entry was noticed since the day, up to the day of the appointment.
fn counts(map: &Map, options: &AppointmentOptions, zone: &TimeZone) -> BTreeMap<EntryId, usize> {
    let mut counts = BTreeMap::new();
    for moment in map.moments() {
        let day = zone.to_datetime(moment.at).date();
        if options.since <= day && day <= options.date {
            for entry in moment.showed_up.iter().chain(&moment.did) {
                *counts.entry(*entry).or_insert(0) += 1;
            }
        }
    }
    counts
}

/// The entries of a field that were noticed, the most often noticed first, each with its count.
fn noticed(picked: &Picked, map: &Map, field: Field, counts: &BTreeMap<EntryId, usize>) -> Vec<Item> {
    let mut found: Vec<_> = map
        .entries()
        .iter()
        .filter(|entry| entry.field == field)
        .filter_map(|entry| Some((*counts.get(&entry.id)?, picked.entry(entry.id)?)))
        .collect();
    found.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
    found
        .into_iter()
        .map(|(count, words)| Item {
            number: None,
            words,
            notes: vec![wording::times(count)],
        })
        .collect()
}
