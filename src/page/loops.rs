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

/// Loops as a page. A loop with a place that was not chosen is left out.
#[must_use]
pub fn loops(map: &Map, found: &[insight::Loop], options: &SheetOptions) -> Page {
    let rings = rings(map, found, options);
    let parts = if rings.is_empty() {
        vec![Part::Text(wording::NO_LOOPS.to_owned())]
    } else {
        rings.into_iter().map(Part::Ring).collect()
    };
    upright(wording::LOOPS, parts, options)
}

/// The same loops as rings, for a page of another kind.
#[must_use]
pub fn rings(map: &Map, found: &[insight::Loop], options: &SheetOptions) -> Vec<Ring> {
    let chosen = options.chosen.clone().unwrap_or_else(|| Chosen::everything(map));
    let picked = Picked::new(
        map,
        &chosen,
        options.zone.clone().unwrap_or(jiff::tz::TimeZone::UTC),
    );
    found
        .iter()
        .filter_map(|one| ring(map, &picked, &chosen, one))
        .collect()
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
            (wording::AWAY_MOVE, picked.entry(id)?, true)
        }
        Node::Entry(id) => (wording::HOOK, picked.entry(id)?, false),
        Node::Relief(id) => (
            wording::RELIEF,
            picked.words(traced(id)?.relief.as_ref()?.as_str()),
            false,
        ),
        Node::Cost(id) => (
            wording::COST,
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
