//! Where help is, by region: emergency numbers and crisis lines, with what is known about each.
//!
//! Kept apart from the patterns so that it works when everything else is broken: it reads three small embedded
//! tables and nothing more. A number is only ever given inside [`Help`], which carries the country's name, because the
//! same digits mean different things in different countries.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde::Serialize;

/// What was seen of a line's source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// The official text itself was seen.
    Official,
    /// A text that quotes it was seen.
    SecondHand,
    /// From memory: not yet checked by a person.
    Memory,
    /// Added by the person who uses the program.
    Own,
}

/// A line, or a person, to turn to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Line {
    /// The country's two letters, ISO 3166.
    pub region: String,
    /// The number as dialled inside the country.
    pub number: String,
    /// The number as it is written there, when that differs.
    #[serde(default)]
    pub shown: Option<String>,
    /// What the line is, in our own words.
    pub name: String,
    /// When it answers.
    pub hours: String,
    /// How it is reached: call, text, chat, messages.
    pub channels: Vec<String>,
    /// Languages, where a source names them; empty when none was seen.
    pub languages: Vec<String>,
    /// Whom it is for: all, youth, abuse, veterans.
    #[serde(rename = "for")]
    pub whom: String,
    /// Who says so.
    pub source: String,
    /// When the source was looked at, as year-month-day; empty when nobody has.
    pub checked_on: String,
    /// What was seen of the source.
    pub standing: Standing,
}

/// Everything to show for one region. The country's name stands beside its numbers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Help {
    /// The country's two letters; empty when the region is not known.
    pub region: String,
    /// The country's name in English; empty when the region is not known.
    pub country: String,
    /// The person's own lines and people; they come first.
    pub own: Vec<Line>,
    /// Emergency numbers, the one to try first in front. Never empty: 112 works on most mobile phones.
    pub emergency: Vec<String>,
    /// Crisis lines.
    pub lines: Vec<Line>,
}

#[derive(Deserialize)]
struct LineFile {
    line: Vec<Line>,
    emergency: BTreeMap<String, Vec<String>>,
}

#[derive(Deserialize)]
struct NumberFile {
    numbers: BTreeMap<String, Vec<String>>,
}

/// The help for a region, with the person's own lines first. An unknown region gets the 112 fallback and no country.
#[must_use]
pub fn help(region: Option<&str>, own: &[Line]) -> Help {
    let region = region
        .map(str::to_ascii_uppercase)
        .filter(|region| country(region).is_some())
        .unwrap_or_default();
    let file = lines_file();
    let emergency = file
        .emergency
        .get(&region)
        .cloned()
        .or_else(|| numbers_file().numbers.get(&region).cloned())
        .unwrap_or_else(|| vec!["112".to_owned()]);
    Help {
        country: country(&region).unwrap_or_default().to_owned(),
        own: own.to_vec(),
        emergency,
        lines: file
            .line
            .into_iter()
            .filter(|line| line.region == region)
            .collect(),
        region,
    }
}

/// Every crisis line of the directory.
#[must_use]
pub fn lines() -> Vec<Line> {
    lines_file().line
}

/// Every region that has an emergency number of its own, with all its numbers.
#[must_use]
pub fn emergency_numbers() -> BTreeMap<String, Vec<String>> {
    let mut all = numbers_file().numbers;
    all.extend(lines_file().emergency);
    all
}

/// A country's name in English, from its two letters (ISO 3166, as the time zone database lists them).
#[must_use]
pub fn country(region: &str) -> Option<&'static str> {
    second(include_str!("countries.tsv"), region)
}

/// Every country: its two letters and its name in English.
#[must_use]
pub fn countries() -> Vec<(&'static str, &'static str)> {
    let rows = include_str!("countries.tsv").lines();
    rows.filter_map(|row| row.split_once('\t')).collect()
}

/// Guesses the region: the country of the locale (`en_GB.UTF-8`, `de-AT`), else that of the time zone
/// (`Europe/Vienna`). A locale of `en_US` that the time zone contradicts gives way, since it is so often only a default.
#[must_use]
pub fn guess(locale: Option<&str>, zone: Option<&str>) -> Option<&'static str> {
    let by_locale = locale.and_then(locale_region);
    let by_zone = zone.and_then(|zone| second(include_str!("zones.tsv"), zone));
    match (by_locale, by_zone) {
        (Some("US"), Some(zone)) => Some(zone),
        (Some(locale), _) => Some(locale),
        (None, zone) => zone,
    }
}

fn locale_region(locale: &str) -> Option<&'static str> {
    let tag = locale.split(['.', '@']).next()?;
    let part = tag
        .split(['_', '-'])
        .skip(1)
        .find(|part| part.len() == 2)?
        .to_ascii_uppercase();
    include_str!("countries.tsv")
        .lines()
        .filter_map(|row| row.split_once('\t'))
        .find(|(code, _)| *code == part)
        .map(|(code, _)| code)
}

fn second(table: &'static str, key: &str) -> Option<&'static str> {
    table
        .lines()
        .filter_map(|row| row.split_once('\t'))
        .find(|(first, _)| *first == key)
        .map(|(_, second)| second)
}

// The tables are embedded and read in a test. Should one be damaged all the same, the 112 fallback still stands.
fn lines_file() -> LineFile {
    toml::from_str(include_str!("lines.toml")).unwrap_or(LineFile {
        line: Vec::new(),
        emergency: BTreeMap::new(),
    })
}

fn numbers_file() -> NumberFile {
    toml::from_str(include_str!("emergency.toml")).unwrap_or(NumberFile {
        numbers: BTreeMap::new(),
    })
}

/// Lines that libphonenumber's metadata does not know as valid in their region though a source names them; a test
/// keeps the list no longer than it must be.
pub const UNKNOWN_TO_METADATA: [(&str, &str); 4] =
    [("IN", "14416"), ("NL", "113"), ("BR", "188"), ("KR", "109")];
