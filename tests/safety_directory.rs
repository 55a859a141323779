//! Holds the crisis directory to libphonenumber, live, and to its own promises.

// A test may fail by unwrapping in its own small functions too, and may print the figures it measures.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use std::collections::BTreeMap;

use serde::Deserialize;
use wayfold::safety::Level;
use wayfold::safety::directory;
use wayfold::safety::directory::Line;
use wayfold::safety::directory::Standing;
use wayfold::safety::screen;

use crate::python;

#[derive(Deserialize)]
struct Answer {
    emergency: BTreeMap<String, BTreeMap<String, bool>>,
    lines: Vec<(String, String, bool, bool)>,
}

fn ask() -> Answer {
    let question = serde_json::json!({
        "emergency": directory::emergency_numbers(),
        "lines": directory::lines().iter().map(|line| (&line.region, &line.number)).collect::<Vec<_>>(),
    });
    python::answer("reference/safety_numbers.py", &[], &question)
}

#[test]
fn every_number_stands_in_the_metadata_as_what_it_is() {
    let answer = ask();
    assert!(
        answer.emergency.len() > 200,
        "only {} regions",
        answer.emergency.len()
    );
    let mut wrong = Vec::new();
    for (region, numbers) in &answer.emergency {
        wrong.extend(
            numbers
                .iter()
                .filter(|(_, right)| !**right)
                .map(|(number, _)| format!("emergency {region} {number}")),
        );
    }
    for (region, number, valid, emergency) in &answer.lines {
        if *emergency {
            wrong.push(format!("line {region} {number} is an emergency number"));
        }
        if !valid && !directory::UNKNOWN_TO_METADATA.contains(&(region.as_str(), number.as_str())) {
            wrong.push(format!("line {region} {number} is not valid"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let known: Vec<_> = answer
        .lines
        .iter()
        .filter(|line| line.2)
        .map(|line| (line.0.as_str(), line.1.as_str()))
        .collect();
    for row in directory::UNKNOWN_TO_METADATA {
        assert!(
            !known.contains(&row),
            "{row:?} is valid by now: take it off the list"
        );
    }
}

#[test]
fn a_region_never_shows_numbers_without_its_country() {
    for region in directory::emergency_numbers().keys() {
        let help = directory::help(Some(region), &[]);
        assert!(!help.country.is_empty(), "{region} has no name");
        assert!(!help.emergency.is_empty());
        assert!(help.lines.iter().all(|line| line.region == *region));
    }
    let unknown = directory::help(Some("QQ"), &[]);
    assert_eq!(
        (unknown.country.as_str(), unknown.emergency.as_slice()),
        ("", &["112".to_owned()][..])
    );
    assert!(unknown.lines.is_empty());
}

#[test]
fn every_country_has_two_letters_and_a_name() {
    let countries = directory::countries();
    // ISO 3166-1 has 249 countries and territories.
    assert!(countries.len() >= 240, "only {}", countries.len());
    for (letters, name) in &countries {
        assert!(
            letters.len() == 2 && letters.bytes().all(|byte| byte.is_ascii_uppercase()),
            "{letters}"
        );
        assert_eq!(directory::country(letters), Some(*name));
    }
    assert!(countries.contains(&("NZ", "New Zealand")));
}

#[test]
fn every_line_says_what_was_seen_of_it() {
    let lines = directory::lines();
    assert!(lines.len() >= 30, "only {}", lines.len());
    for line in lines {
        assert!(!line.source.is_empty());
        assert_eq!(
            line.checked_on.is_empty(),
            line.standing == Standing::Memory,
            "{} {}",
            line.region,
            line.number
        );
    }
}

#[test]
fn own_lines_come_first() {
    let own = Line {
        standing: Standing::Own,
        name: "Odile".to_owned(),
        ..directory::lines()[0].clone()
    };
    assert_eq!(directory::help(Some("at"), std::slice::from_ref(&own)).own, [own]);
}

#[test]
fn the_region_is_guessed_from_locale_then_zone() {
    for (locale, zone, region) in [
        (Some("de_AT.UTF-8"), Some("Europe/Berlin"), Some("AT")),
        (Some("en-NZ"), None, Some("NZ")),
        (Some("zh_Hans_CN"), None, Some("CN")),
        (Some("C.UTF-8"), Some("Africa/Johannesburg"), Some("ZA")),
        (Some("en_US.UTF-8"), Some("Europe/Dublin"), Some("IE")),
        (Some("en_US.UTF-8"), None, Some("US")),
        (None, Some("Etc/UTC"), None),
        (Some("eo"), None, None),
    ] {
        assert_eq!(directory::guess(locale, zone), region, "{locale:?} {zone:?}");
    }
}

#[test]
fn the_open_lexicon_sets_off_messages() {
    let constructs: BTreeMap<String, Vec<String>> = python::answer("reference/safety_lexicon.py", &[], &());
    assert_eq!(constructs.len(), 3);
    for (construct, phrases) in constructs {
        let set_off = |phrase: &&String| screen(&format!("I {phrase}")).level() >= Level::Pause;
        let found = phrases.iter().filter(set_off).count();
        println!(
            "{construct}: {found} of {} phrases set off a message",
            phrases.len()
        );
        // Single words and clinical abbreviations in the lexicon are no sign on their own.
        assert!(
            found * 100 >= phrases.len() * 80,
            "{construct}: {found} of {}",
            phrases.len()
        );
    }
}
