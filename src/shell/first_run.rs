//! The first time: what this is and is not, how the map is locked, and which country's crisis lines to show. Each
//! question is asked once a store.

use std::env;

use crate::map::What;
use crate::safety::Level;
use crate::safety::directory;
use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::Keeping;
use crate::shell::containing;
use crate::shell::dates;
use crate::shell::idle;
use crate::shell::keeping;
use crate::shell::keeping::Kept;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::speaking;
use crate::shell::terminal::Line;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::store::Unlock;
use crate::voice::command;
use crate::voice::command::Accepted;
use crate::voice::command::Meant;
use crate::voice::command::Spoken;
use crate::voice::command::Word;

/// Opens the store, or makes one after a few words about what this is. `None` if the person left.
pub(crate) fn open(terminal: &mut Terminal, arguments: &Arguments) -> Result<Option<Kept>, Trouble> {
    if let Some(kept) = keeping::open(terminal, &arguments.keeping)? {
        return Ok(Some(kept));
    }
    needs_a_lock(terminal, &arguments.keeping)?;
    for name in [
        "first.hello",
        "first.what",
        "first.private",
        "first.crisis",
        "first.hide",
        "first.hide-limits",
        "first.commands",
    ] {
        terminal.gap();
        terminal.say(&phrase(name));
    }
    if let Some(minutes) = idle::at_first(terminal) {
        terminal.gap();
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
    let guess = guess();
    let mut guessed = guess.and_then(directory::country);
    loop {
        house.terminal.gap();
        house.terminal.stress(&match guessed {
            Some(country) => filled("region.confirm", &[("country", country)]),
            None => phrase("region.ask"),
        });
        if house.manner.voice {
            house.terminal.hint(&phrase("voice.region"));
        }
        containing::get_ready();
        let line = match speaking::line(house, &[]) {
            Line::Typed(line) => line,
            Line::Closed => return Ok(false),
            Line::Hide => {
                house.terminal.hide();
                return Ok(false);
            }
        };
        if containing::screen_spoken(&line, &line).level() >= Level::Pause {
            show::crisis(house);
            continue;
        }
        match region(line.trim(), guessed.and(guess)) {
            Region::Is(chosen) => {
                keep_region(house, chosen)?;
                return Ok(true);
            }
            Region::Another => guessed = None,
            Region::Unknown => house
                .terminal
                .say(&filled("region.unknown", &[("value", line.trim())])),
        }
    }
}

/// What an answer to the question for the country came to.
#[derive(Debug, PartialEq, Eq)]
enum Region {
    /// This one, or [`OPEN`].
    Is(&'static str),
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
    let all = directory::countries();
    if let Some((code, _)) = all.iter().find(|(code, _)| code.eq_ignore_ascii_case(answer)) {
        return Region::Is(code);
    }
    let names: Vec<&str> = all.iter().map(|(_, name)| *name).collect();
    let accepted = Accepted {
        words: &[Word::Keep, Word::Skip],
        choices: &names,
    };
    match command::spoken(answer, accepted) {
        Spoken::None if bare.is_empty() || bare.eq_ignore_ascii_case("y") => {
            Region::Is(guessed.unwrap_or(OPEN))
        }
        Spoken::Sure(Meant::Word(Word::Keep)) => Region::Is(guessed.unwrap_or(OPEN)),
        Spoken::Sure(Meant::Word(_)) => Region::Is(OPEN),
        Spoken::Sure(Meant::Choice(at)) => Region::Is(all[at].0),
        _ => Region::Unknown,
    }
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
        .find_map(|name| env::var(name).ok().filter(|v| !v.is_empty()));
    let zone = dates::zone();
    directory::guess(locale.as_deref(), zone.iana_name())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_country_is_two_letters_a_name_a_yes_or_a_no() {
        for (answer, is) in [
            ("", Region::Is("NZ")),
            ("Yes.", Region::Is("NZ")),
            ("y", Region::Is("NZ")),
            ("ie", Region::Is("IE")),
            ("Ireland.", Region::Is("IE")),
            ("the Netherlands", Region::Is("NL")),
            ("Skip it.", Region::Is(OPEN)),
            ("/skip", Region::Is(OPEN)),
            ("No.", Region::Another),
            ("no", Region::Another),
            ("NO", Region::Is("NO")),
            ("xq", Region::Unknown),
            ("somewhere warm", Region::Unknown),
        ] {
            assert_eq!(region(answer, Some("NZ")), is, "{answer}");
        }
        assert_eq!(region("no", None), Region::Is("NO"));
        assert_eq!(region("", None), Region::Is(OPEN));
        for (code, name) in directory::countries() {
            assert_eq!(region(name, None), Region::Is(code), "{name}");
        }
    }
}
