//! The first time: what this is and is not, how the map is locked, and which country's crisis lines to show. Each
//! question is asked once a store.

use std::env;

use crate::map::What;
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
use crate::shell::terminal::Line;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::store::Unlock;

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
    let question = match guess.and_then(directory::country) {
        Some(country) => filled("region.confirm", &[("country", country)]),
        None => phrase("region.ask"),
    };
    loop {
        house.terminal.gap();
        house.terminal.stress(&question);
        containing::get_ready();
        let line = match house.terminal.ask("") {
            Line::Typed(line) => line,
            Line::Closed => return Ok(false),
            Line::Hide => {
                house.terminal.hide();
                return Ok(false);
            }
        };
        let answer = line.trim().to_uppercase();
        let chosen = match answer.as_str() {
            "" | "YES" | "Y" => guess.unwrap_or(OPEN),
            "/SKIP" => OPEN,
            code if directory::country(code).is_some() => code,
            _ => {
                house
                    .terminal
                    .say(&filled("region.unknown", &[("value", line.trim())]));
                continue;
            }
        };
        keep_region(house, chosen)?;
        return Ok(true);
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
