//! The person's own people: `/people` at any prompt, and `wayfold people`. They come first where who to call is shown.

use crate::map::OwnLineId;
use crate::map::What;
use crate::shell::House;
use crate::shell::containing;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::trouble::Trouble;

/// The most people that the list holds: a longer one is no help when it is needed.
const MOST: usize = 8;

/// The most letters of a name, and of a number: whoever looks for help has all of them on one screen.
const LONGEST: usize = 60;

/// What is asked of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Asked {
    List,
    Add { name: String, number: String },
    Drop(usize),
    Unclear,
}

/// Where one is told how to change the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    Prompt,
    CommandLine,
}

impl Place {
    fn how_to_drop(self) -> &'static str {
        match self {
            Self::Prompt => "people.drop-how",
            Self::CommandLine => "people.drop-there",
        }
    }
}

/// Carries out `/people` with what was typed behind it.
pub(crate) fn obey(house: &mut House, typed: &str) -> Result<(), Trouble> {
    match read(typed) {
        Asked::List => list(house, Place::Prompt),
        Asked::Add { name, number } => record(house, &name, &number, Place::Prompt)?,
        Asked::Drop(place) => {
            if !drop_at(house, place)? {
                list(house, Place::Prompt);
            }
        }
        Asked::Unclear => house.terminal.say(&phrase("people.how")),
    }
    Ok(())
}

/// Adds the one who is named in a line. False, and told, where the line names nobody.
pub(crate) fn add(house: &mut House, line: &str) -> Result<bool, Trouble> {
    let Asked::Add { name, number } = read(line) else {
        house.terminal.say(&phrase("people.unclear"));
        return Ok(false);
    };
    record(house, &name, &number, Place::CommandLine)?;
    Ok(true)
}

fn record(house: &mut House, name: &str, number: &str, from: Place) -> Result<(), Trouble> {
    if house.kept.map().own_lines().len() >= MOST {
        house.terminal.say(&counted("people.full", MOST as u64, &[]));
        house.terminal.say(&phrase(from.how_to_drop()));
        return Ok(());
    }
    let line = OwnLineId(house.kept.minting().identity());
    house.kept.record(What::OwnLineAdded {
        line,
        name: containing::screen(name).into_words(),
        number: containing::screen(number).into_words(),
    })?;
    house
        .terminal
        .say(&filled("people.added", &[("name", name), ("number", number)]));
    Ok(())
}

/// Takes one off, counted from 1 as in the list. False where there is none.
pub(crate) fn drop_at(house: &mut House, place: usize) -> Result<bool, Trouble> {
    let lines = house.kept.map().own_lines();
    let line = place.checked_sub(1).and_then(|place| lines.get(place));
    let Some((line, name)) = line.map(|line| (line.id, line.name.as_str().to_owned())) else {
        return Ok(false);
    };
    house.kept.record(What::OwnLineRemoved { line })?;
    house.terminal.say(&filled("people.dropped", &[("name", &name)]));
    Ok(true)
}

/// Shows the list, and how to change it from there.
pub(crate) fn list(house: &mut House, from: Place) {
    let lines = house.kept.map().own_lines().iter();
    let told: Vec<String> = lines
        .map(|line| {
            filled(
                "crisis.line",
                &[("name", line.name.as_str()), ("number", line.number.as_str())],
            )
        })
        .collect();
    if !told.is_empty() {
        house.terminal.stress(&phrase("crisis.own"));
    }
    for (place, line) in (1..).zip(&told) {
        house.terminal.option(place, line);
    }
    house.terminal.say(&phrase(match from {
        Place::Prompt => "people.how",
        Place::CommandLine => "people.add-there",
    }));
    if !told.is_empty() {
        house.terminal.say(&phrase(from.how_to_drop()));
    }
}

/// A name ends where a number begins, or at the last comma.
fn read(typed: &str) -> Asked {
    let typed = typed.trim();
    if typed.is_empty() {
        return Asked::List;
    }
    if let Some(place) = typed.strip_prefix("drop ") {
        return place.trim().parse().map_or(Asked::Unclear, Asked::Drop);
    }
    let is_number = |word: &str| word.starts_with(|sign: char| sign.is_ascii_digit() || "+(".contains(sign));
    let by_comma = typed.rsplit_once(',');
    let by_number = || {
        let words = typed.match_indices(char::is_whitespace).map(|(at, _)| at);
        words
            .filter_map(|at| typed.split_at_checked(at))
            .find(|(_, rest)| is_number(rest.trim_start()))
    };
    let Some((name, number)) = by_comma.or_else(by_number) else {
        return Asked::Unclear;
    };
    let (name, number) = (name.trim(), number.trim());
    let fits = |words: &str| words.chars().count() <= LONGEST;
    if name.contains(char::is_alphabetic) && !number.is_empty() && fits(name) && fits(number) {
        Asked::Add {
            name: name.to_owned(),
            number: number.to_owned(),
        }
    } else {
        Asked::Unclear
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_ends_where_a_number_begins_or_at_the_last_comma() {
        let add = |name: &str, number: &str| Asked::Add {
            name: name.to_owned(),
            number: number.to_owned(),
        };
        for (typed, expected) in [
            ("", Asked::List),
            ("Olga 021 555 019", add("Olga", "021 555 019")),
            ("my aunt Olga +64 21 555", add("my aunt Olga", "+64 21 555")),
            ("Dr Amsel (03) 555 019", add("Dr Amsel", "(03) 555 019")),
            ("Olga, the blue door", add("Olga", "the blue door")),
            ("Amsel, Olga, knock twice", add("Amsel, Olga", "knock twice")),
            ("drop 2", Asked::Drop(2)),
            ("drop Olga", Asked::Unclear),
            ("Olga", Asked::Unclear),
            ("021 555 019", Asked::Unclear),
            ("Olga,", Asked::Unclear),
        ] {
            assert_eq!(read(typed), expected, "{typed}");
        }
        let long = "o".repeat(LONGEST);
        assert_eq!(read(&format!("{long} 021")), add(&long, "021"));
        assert_eq!(read(&format!("{long}o 021")), Asked::Unclear);
        assert_eq!(read(&format!("Olga, {long}o")), Asked::Unclear);
    }
}
