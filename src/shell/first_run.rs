//! The first time: what this is and is not, how the map is locked, and which country's crisis lines to show. Each
//! question is asked once a store.

use std::env;

use crate::map::What;
use crate::safety::Level;
use crate::safety::directory;
use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Keeping;
use crate::shell::commands::asking;
use crate::shell::commands::asking::Answer;
use crate::shell::containing;
use crate::shell::crisis;
use crate::shell::dates;
use crate::shell::idle;
use crate::shell::keeping;
use crate::shell::keeping::Kept;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::speaking;
use crate::shell::speaking::Fitting;
use crate::shell::terminal::Line;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::store::Unlock;
use crate::voice::command;
use crate::voice::command::Accepted;
use crate::voice::command::Meant;
use crate::voice::command::Spoken;
use crate::voice::command::Word;
use crate::voice::numbers::spoken_numbers;

/// Opens the store, or makes one after a few words about what this is. `None` if the person left.
pub(crate) fn open(terminal: &mut Terminal, arguments: &Arguments) -> Result<Option<Kept>, Trouble> {
    if let Some(kept) = keeping::open(terminal, &arguments.keeping)? {
        return Ok(Some(kept));
    }
    needs_a_lock(terminal, &arguments.keeping)?;
    // With the question for a passphrase below it, all of it has room on a screen of 24 lines.
    for group in [
        &["first.hello", "first.what"][..],
        &["first.private", "first.crisis"],
        &["first.commands"],
        &["first.hide", "first.hide-limits"],
    ] {
        terminal.gap();
        for name in group {
            terminal.say(&phrase(name));
        }
    }
    if let Some(minutes) = idle::at_first(terminal) {
        terminal.say(&filled("first.lock", &[("minutes", &minutes.to_string())]));
    }
    match choose_lock(terminal, &arguments.keeping)? {
        Some(unlock) => keeping::create(&arguments.keeping, &unlock).map(Some),
        None => Ok(None),
    }
}

/// Refuses early where nobody can be asked for a passphrase and nothing on the command line decides about it.
pub(crate) fn needs_a_lock(terminal: &Terminal, keeping: &Keeping) -> Result<(), Trouble> {
    if terminal.is_interactive() || keeping.no_passphrase || keeping.passphrase_file.is_some() {
        Ok(())
    } else {
        Err(Trouble::Usage("trouble.passphrase-needed", String::new()))
    }
}

/// The lock of a new store, as the command line says or as the person chooses. `None` if the person left.
pub(crate) fn choose_lock(terminal: &mut Terminal, keeping: &Keeping) -> Result<Option<Unlock>, Trouble> {
    Ok(match &keeping.passphrase_file {
        Some(file) => Some(Unlock::Passphrase(keeping::passphrase_from(file)?)),
        None if keeping.no_passphrase => Some(Unlock::KeyFile),
        None => choose_passphrase(terminal),
    })
}

/// Asks for a new passphrase twice. `None` if the person left.
pub(crate) fn choose_passphrase(terminal: &mut Terminal) -> Option<Unlock> {
    terminal.gap();
    terminal.say(&phrase("passphrase.why"));
    loop {
        let first = terminal.ask_secret(&phrase("passphrase.choose"))?;
        if crisis::is_asked_for(&first) {
            crisis::guessed_page(terminal);
            continue;
        }
        if first.is_empty() {
            terminal.say(&phrase("passphrase.none"));
            return Some(Unlock::KeyFile);
        }
        let again = terminal.ask_secret(&phrase("passphrase.again"))?;
        if first == again {
            return Some(Unlock::Passphrase(first));
        }
        terminal.say(&phrase("passphrase.differ"));
    }
}

/// Asks for the country once a store. False if the person left.
pub(crate) fn settle_region(house: &mut House) -> Result<bool, Trouble> {
    if let Some(region) = house.kept.map().setting("region") {
        containing::region_is(region);
        return Ok(true);
    }
    let mut guess = guess();
    loop {
        let guessed = guess.and_then(directory::country);
        house.terminal.gap();
        house.terminal.stress(&match guessed {
            Some(country) => filled("region.confirm", &[("country", country)]),
            None => phrase("region.ask"),
        });
        if house.manner.voice {
            house.terminal.hint(&phrase("voice.region"));
        }
        containing::get_ready();
        let mut fitting = vec!["yes".to_owned(), "no".to_owned(), "skip it".to_owned()];
        fitting.extend(guessed.map(str::to_owned));
        let line = slash::slashed(speaking::line(house, &Fitting::Only(fitting)));
        if matches!(&line, Line::Typed(line) if slash::read(line) == Some(Slash::Skip)) {
            keep_region(house, OPEN)?;
            return Ok(true);
        }
        let line = match asking::read(house, "", line)? {
            Answer::Given(line) => line,
            Answer::Left | Answer::Hidden => return Ok(false),
            // It may have been the country itself, by /region.
            Answer::Again if house.kept.map().setting("region").is_some() => return Ok(true),
            Answer::Again => continue,
            Answer::Back => {
                house.terminal.say(&phrase("prompt.first"));
                continue;
            }
            Answer::Voice(_) => {
                house.terminal.say(&phrase("voice.only-entries"));
                continue;
            }
        };
        if containing::screen_spoken(&line, &line).level() >= Level::Pause {
            show::crisis(house);
            continue;
        }
        match region(&line, guess) {
            // A country may be misheard, and with it the numbers to call would be wrong.
            Region::Named(code) if house.manner.voice && code != OPEN && guess != Some(code) => {
                guess = Some(code);
            }
            Region::Yes if house.manner.voice && guess.is_none() && !line.is_empty() => {}
            Region::Yes => {
                keep_region(house, guess.unwrap_or(OPEN))?;
                return Ok(true);
            }
            Region::Named(code) => {
                keep_region(house, code)?;
                return Ok(true);
            }
            Region::Another => guess = None,
            Region::Unknown => {
                house.terminal.say(&filled("region.unknown", &[("value", &line)]));
                // Whoever began to name a country does not mean the one that was guessed.
                guess = None;
            }
        }
    }
}

/// What an answer to the question for the country came to.
#[derive(Debug, PartialEq, Eq)]
enum Region {
    /// The one that was guessed; where none was, it is left open.
    Yes,
    /// This one, or [`OPEN`].
    Named(&'static str),
    /// Not the one that was guessed.
    Another,
    /// Nothing that is known.
    Unknown,
}

/// Reads two letters, a country's name, a yes or a no. A small "no" to a guess is no Norway.
fn region(answer: &str, guessed: Option<&'static str>) -> Region {
    let bare = answer.trim_matches(|c: char| !c.is_alphanumeric());
    if guessed.is_some() && bare != "NO" && bare.eq_ignore_ascii_case("no") {
        return Region::Another;
    }
    if bare.is_empty() || bare.eq_ignore_ascii_case("y") {
        return Region::Yes;
    }
    let all = directory::countries();
    if let Some((code, _)) = all.iter().find(|(code, _)| code.eq_ignore_ascii_case(answer)) {
        return Region::Named(code);
    }
    // Ireland is so like Iceland that only the name itself will do, before anything that is like it.
    let said = bare_words(answer);
    if let Some((code, _)) = all.iter().find(|(_, name)| bare_words(name) == said) {
        return Region::Named(code);
    }
    let names: Vec<&str> = all.iter().map(|(_, name)| *name).collect();
    let accepted = Accepted {
        words: &[Word::Keep, Word::Skip],
        choices: &names,
    };
    match command::spoken(answer, accepted) {
        Spoken::Sure(Meant::Word(Word::Keep)) => Region::Yes,
        Spoken::Sure(Meant::Word(_)) => Region::Named(OPEN),
        // Nobody sees the list of countries, so its numbers are none to be chosen by.
        Spoken::Sure(Meant::Choice(at)) if spoken_numbers(answer, all.len()).is_none() => {
            Region::Named(all[at].0)
        }
        _ => Region::Unknown,
    }
}

/// Words in lower case, without signs and what stands before a country's name.
fn bare_words(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric());
    words
        .filter(|word| !["", "the", "i", "am", "in", "it", "is"].contains(word))
        .map(str::to_owned)
        .collect()
}

/// Changes the country at a prompt.
pub(crate) fn change_region(house: &mut House, code: &str) -> Result<(), Trouble> {
    let region = code.to_uppercase();
    if directory::country(&region).is_some() {
        keep_region(house, &region)
    } else {
        house.terminal.say(&phrase("region.how"));
        Ok(())
    }
}

/// The setting's value where the person left the country open.
const OPEN: &str = "-";

fn keep_region(house: &mut House, region: &str) -> Result<(), Trouble> {
    containing::region_is(region);
    house.kept.record(What::SettingChosen {
        name: "region".to_owned(),
        value: region.to_owned(),
    })?;
    match directory::country(region) {
        Some(country) => house
            .terminal
            .say(&filled("region.kept", &[("country", country)])),
        None => house.terminal.say(&phrase("region.open")),
    }
    Ok(())
}

/// The country that locale and time zone suggest; never more than a suggestion.
pub(crate) fn guess() -> Option<&'static str> {
    let locale = ["LC_ALL", "LC_MESSAGES", "LANG"]
        .into_iter()
        .find_map(|name| env::var(name).ok().filter(|value| !value.is_empty()));
    let zone = dates::zone();
    directory::guess(locale.as_deref(), zone.iana_name())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_country_is_two_letters_a_name_a_yes_or_a_no() {
        for (answer, is) in [
            ("", Region::Yes),
            ("Yes.", Region::Yes),
            ("y", Region::Yes),
            ("ie", Region::Named("IE")),
            ("Ireland.", Region::Named("IE")),
            ("the Netherlands", Region::Named("NL")),
            ("Skip it.", Region::Named(OPEN)),
            ("No.", Region::Another),
            ("no", Region::Another),
            ("NO", Region::Named("NO")),
            ("xq", Region::Unknown),
            ("Number 3.", Region::Unknown),
            ("two", Region::Unknown),
            ("somewhere warm", Region::Unknown),
        ] {
            assert_eq!(region(answer, Some("NZ")), is, "{answer}");
        }
        assert_eq!(region("no", None), Region::Named("NO"));
        for (code, name) in directory::countries() {
            assert_eq!(region(name, None), Region::Named(code), "{name}");
        }
    }
}
