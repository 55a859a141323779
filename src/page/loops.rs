//! Loops as a page of rings: those that the person followed, and those that the map's links make.

use crate::insight;
use crate::insight::Node;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Map;
use crate::page::Chosen;
use crate::page::Page;
use crate::page::Part;
use crate::page::Ring;
use crate::page::SheetOptions;
use crate::page::Stop;
use crate::page::lookback::upright;
use crate::page::sheet::Picked;
use crate::page::wording;

/// Loops as a page, and below them the paths that did not come round. A loop or path with a place that was not chosen
/// is left out.
#[must_use]
pub fn loops(map: &Map, found: &[insight::Loop], open: &[insight::OpenPath], options: &SheetOptions) -> Page {
    let chosen = options.chosen.clone().unwrap_or_else(|| Chosen::everything(map));
    let zone = options.zone.clone().unwrap_or(jiff::tz::TimeZone::UTC);
    let picked = Picked::new(map, &chosen, zone);
    let rings = found.iter().filter_map(|one| ring(map, &picked, &chosen, one));
    let paths = open.iter().filter_map(|one| path(map, &picked, &chosen, one));
    let mut parts: Vec<Part> = rings.map(Part::Ring).collect();
    if parts.is_empty() {
        parts.push(Part::Text(wording::no_loops().to_owned()));
    }
    parts.extend(paths.map(Part::Ring));
    upright(wording::loops(), parts, options)
}

/// A path that ends where it was last followed to.
fn path(map: &Map, picked: &Picked, chosen: &Chosen, one: &insight::OpenPath) -> Option<Ring> {
    let mut stops: Vec<Stop> = one
        .nodes
        .iter()
        .map(|node| stop(map, picked, chosen, *node))
        .collect::<Option<_>>()?;
    // What a path feeds in the end is told like any inner entry, but it is where the path leads and not its hook.
    if let (Some(last), Some(Node::Entry(id))) =
        (stops.last_mut().filter(|stop| !stop.away), one.nodes.last())
        && map.entry(*id).is_some_and(|entry| entry.field == Field::Inner)
    {
        wording::then().clone_into(&mut last.role);
    }
    let works = one.away.latest.and_then(|latest| {
        Some(wording::works(
            &picked.entry(one.away.entry)?,
            latest.now,
            latest.later,
        ))
    });
    Some(Ring {
        heading: wording::open_path().to_owned(),
        stops,
        closes: false,
        notes: works.into_iter().collect(),
    })
}

fn ring(map: &Map, picked: &Picked, chosen: &Chosen, one: &insight::Loop) -> Option<Ring> {
    let stops: Option<Vec<Stop>> = one
        .nodes
        .iter()
        .map(|node| stop(map, picked, chosen, *node))
        .collect();
    let works = one.away.iter().filter_map(|works| {
        let latest = works.latest?;
        Some(wording::works(
            &picked.entry(works.entry)?,
            latest.now,
            latest.later,
        ))
    });
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
    let notes = works.chain(ways_out).collect();
    Some(Ring {
        heading: String::new(),
        stops: stops?,
        closes: true,
        notes,
    })
}

fn stop(map: &Map, picked: &Picked, chosen: &Chosen, node: Node) -> Option<Stop> {
    let traced = |id| {
        map.loops()
            .iter()
            .find(|one| one.id == id && chosen.loops.contains(&id))
    };
    let (role, words, away) = match node {
        Node::Entry(id) if map.entry(id)?.field == Field::Away => {
            (wording::away_move(), picked.entry(id)?, true)
        }
        Node::Entry(id) => (wording::hook(), picked.entry(id)?, false),
        Node::Relief(id) => (
            wording::relief(),
            picked.words(traced(id)?.relief.as_ref()?.as_str()),
            false,
        ),
        Node::Cost(id) => (
            wording::cost(),
            picked.words(traced(id)?.cost.as_ref()?.as_str()),
            true,
        ),
    };
    Some(Stop {
        role: role.to_owned(),
        words,
        away,
    })
}
