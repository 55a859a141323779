//! Holds the screen to grids of sentences, put together of beginnings, middles and ends: that denials are understood in whatever words,
//! that negatives which deny nothing are not, that a past is past until it comes back, and that plain intent is heard. And to single
//! sentences, by somebody who sought what these forms silence.

// A test may print the figures it measures.
#![allow(clippy::print_stdout)]

use serde::Deserialize;
use wayfold::safety::Level;
use wayfold::safety::screen;

#[derive(Deserialize)]
struct Grids {
    grid: Vec<Grid>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Grid {
    name: String,
    at_most: Option<Level>,
    at_least: Option<Level>,
    begin: Vec<String>,
    middle: Vec<String>,
    end: Vec<String>,
}

impl Grid {
    fn sentences(&self) -> impl Iterator<Item = String> + '_ {
        self.begin.iter().flat_map(move |begin| {
            self.middle
                .iter()
                .flat_map(move |middle| self.end.iter().map(move |end| format!("{begin} {middle}{end}")))
        })
    }

    fn holds(&self, level: Level) -> bool {
        self.at_most.is_none_or(|most| level <= most) && self.at_least.is_none_or(|least| level >= least)
    }
}

#[test]
fn every_sentence_of_a_grid_has_its_level() {
    let read: Result<Grids, _> = toml::from_str(include_str!("data/safety/grids.toml"));
    let grids = read.expect("the file of grids is TOML").grid;
    let mut wrong = Vec::new();
    for grid in &grids {
        assert!(
            grid.at_most.is_some() != grid.at_least.is_some(),
            "{}: one bound",
            grid.name
        );
        let others = grid.sentences().filter(|text| !grid.holds(screen(text).level()));
        wrong.extend(others.map(|text| format!("{}: {text}", grid.name)));
    }
    let count: usize = grids.iter().map(|grid| grid.sentences().count()).sum();
    assert!(count > 5_000, "only {count} sentences");
    assert!(wrong.is_empty(), "{} of {count}: {wrong:#?}", wrong.len());
}

/// Written by somebody who had the forms before them and sought sentences that they silence, or that they leave at stop; most were, and
/// were mended. The bounds follow what was measured since.
#[test]
fn what_was_found_to_break_the_forms_is_mended() {
    let rows: Vec<(&str, &str)> = include_str!("data/safety/denials.tsv")
        .lines()
        .skip(1)
        .filter_map(|row| row.split_once('\t'))
        .collect();
    let otherwise = |meant: &str, holds: fn(Level) -> bool| -> Vec<&str> {
        let texts = rows.iter().filter(|row| row.0 == meant).map(|row| row.1);
        texts.filter(|text| !holds(screen(text).level())).collect()
    };
    let silenced = otherwise("at least pause", |level| level >= Level::Pause);
    let stopped = otherwise("at most pause", |level| level <= Level::Pause);
    println!(
        "of {} rows {} silenced, {} stopped",
        rows.len(),
        silenced.len(),
        stopped.len()
    );
    assert!(rows.len() >= 210, "only {} rows", rows.len());
    assert!(silenced.len() <= 3, "silenced: {silenced:#?}");
    assert!(stopped.len() <= 8, "stopped: {stopped:#?}");
}
