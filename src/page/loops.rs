//! Loops as a page of rings: those that the person followed, and those that the map's links make.

use crate::insight;
use crate::insight::Node;
use crate::map::EntryId;
use crate::map::Map;
use crate::page::Page;
use crate::page::Part;
use crate::page::Ring;
use crate::page::SheetOptions;
use crate::page::lookback::upright;
use crate::page::sheet::Picked;
use crate::page::wording;

/// Loops as a page, and below them the paths that did not come round. A loop or path with a place that was not chosen
/// is left out.
#[must_use]
pub fn loops(map: &Map, found: &[insight::Loop], open: &[insight::OpenPath], options: &SheetOptions) -> Page {
    let zone = options.zone.clone().unwrap_or(jiff::tz::TimeZone::UTC);
    let picked = Picked::new(map, options.chosen.as_ref(), zone);
    let rings = found.iter().filter_map(|one| ring(&picked, one));
    let paths = open.iter().filter_map(|one| path(&picked, one));
    let mut parts: Vec<Part> = rings.map(Part::Ring).collect();
    if parts.is_empty() {
        parts.push(Part::Text(wording::no_loops().to_owned()));
    }
    parts.extend(paths.map(Part::Ring));
    upright(wording::loops(), parts, options)
}

/// A path that ends where it was last followed to.
fn path(picked: &Picked, one: &insight::OpenPath) -> Option<Ring> {
    Some(Ring {
        heading: wording::open_path().to_owned(),
        stops: picked.stops(&one.nodes, &[one.away.entry], false)?,
        closes: false,
        notes: works(picked, &one.away).into_iter().collect(),
    })
}

fn ring(picked: &Picked, one: &insight::Loop) -> Option<Ring> {
    let moves: Vec<EntryId> = one.away.iter().map(|works| works.entry).collect();
    let stops = picked.stops(&one.nodes, &moves, true)?;
    let ways_out = one.stepped_out.iter().filter_map(|out| {
        let at = one
            .nodes
            .iter()
            .position(|node| *node == Node::Entry(out.entry))?
            + 1;
        let list = |ids: &[EntryId]| {
            ids.iter()
                .filter_map(|id| picked.entry(*id))
                .collect::<Vec<_>>()
                .join(", ")
        };
        Some(wording::way_out(at, &list(&out.did), &list(&out.served)))
    });
    let works = one.away.iter().filter_map(|away| works(picked, away));
    Some(Ring {
        heading: String::new(),
        stops,
        closes: true,
        notes: works.chain(ways_out).collect(),
    })
}

/// How an away move works, where that was said.
fn works(picked: &Picked, away: &insight::Works) -> Option<String> {
    let latest = away.latest?;
    let words = picked.entry(away.entry)?;
    Some(wording::works(&words, latest.now, latest.later))
}
