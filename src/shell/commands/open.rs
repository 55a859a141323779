//! `wayfold` alone: the first time it begins; after that it asks what the person needs, and offers first to go on where
//! they left off.

use std::process::ExitCode;

use zeroize::Zeroizing;

use crate::safety::Level;
use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::commands::begin;
use crate::shell::containing;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::speaking;
use crate::shell::speaking::Fitting;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;
use crate::voice::command;
use crate::voice::command::Accepted;
use crate::voice::command::Meant;
use crate::voice::command::Spoken;
use crate::voice::command::Word;

/// What a person may need, in the order in which it is offered.
const NEEDS: [&str; 9] = [
    "stuck", "moment", "practice", "map", "loops", "steps", "lookback", "review", "leave",
];

/// Scripts that are never offered to go on with: they are over in a minute, or never wait.
const PASSING: [&str; 3] = ["ground", "one-line", "safety"];

/// What an answer came to.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Need {
    GoOn(String),
    One(&'static str),
}

/// Opens the companion.
pub(crate) fn run(arguments: &Arguments) -> Result<ExitCode, Trouble> {
    let Some(mut house) = begin::enter(arguments)? else {
        return Ok(ExitCode::SUCCESS);
    };
    if house.kept.map().entries().is_empty() && unfinished(&house).is_none_or(|script| script == "first-map")
    {
        return begin::walk(&mut house, &begin::shipped()?, "first-map");
    }
    loop {
        let stopped = unfinished(&house);
        let labels = offer(&mut house, stopped.as_deref());
        let line = match speaking::line(&mut house, &Fitting::Only(labels.clone())) {
            Line::Typed(said) if house.manner.voice => {
                if containing::screen_spoken(&said, &said).level() >= Level::Pause {
                    show::crisis(&mut house);
                    continue;
                }
                Line::Typed(as_typed(&said, &labels).unwrap_or(said))
            }
            line => line,
        };
        let line = match slash::slashed(line) {
            Line::Typed(line) => line,
            Line::Closed => return Ok(ExitCode::SUCCESS),
            Line::Hide => {
                house.terminal.hide();
                return Ok(ExitCode::SUCCESS);
            }
        };
        match slash::read(&line) {
            Some(Slash::Hide) => {
                house.terminal.hide();
                return Ok(ExitCode::SUCCESS);
            }
            Some(Slash::Pause) => return Ok(ExitCode::SUCCESS),
            Some(Slash::Ground) => return begin::walk(&mut house, &begin::shipped()?, "ground"),
            Some(command) => slash::obey(&mut house, &command)?,
            None => match need(&line, stopped) {
                Some(Need::GoOn(script)) => return begin::walk(&mut house, &begin::shipped()?, &script),
                Some(Need::One("leave")) => return Ok(ExitCode::SUCCESS),
                Some(Need::One(shown @ ("map" | "loops" | "steps" | "lookback"))) => {
                    look_at(&mut house, shown);
                }
                Some(Need::One(script)) => {
                    begin::let_bygones_go(&mut house, script)?;
                    return begin::walk(&mut house, &begin::shipped()?, script);
                }
                None => answer_in_words(&mut house, &line),
            },
        }
    }
}

/// The script of the sitting that was left last and has not come to its end.
fn unfinished(house: &House) -> Option<String> {
    let known = begin::shipped().ok()?;
    let sittings = house.kept.map().sittings().iter();
    let waiting = sittings
        .filter(|one| !PASSING.contains(&one.script.as_str()) && known.version(&one.script).is_some());
    waiting.max_by_key(|one| one.at).map(|one| one.script.clone())
}

/// Shows what there is to choose from, and gives it.
fn offer(house: &mut House, stopped: Option<&str>) -> Vec<String> {
    house.terminal.gap();
    house.terminal.stress(&phrase("open.hello"));
    let go_on = stopped.map(|script| {
        let name = format!("stopped.{script}");
        let what = phrase(&name);
        let what = if what == name {
            phrase("stopped.other")
        } else {
            what
        };
        filled("open.go-on", &[("what", &what)])
    });
    let needs = NEEDS.iter().map(|need| phrase(&format!("open.{need}")));
    let labels: Vec<String> = go_on.into_iter().chain(needs).collect();
    for (place, label) in labels.iter().enumerate() {
        house.terminal.option(place + 1, label);
    }
    if stopped.is_some() {
        house.terminal.hint(&phrase("open.let-go"));
    }
    labels
}

/// What was said, as it would be typed: the number of a choice, or a command. Nothing where it is neither.
fn as_typed(said: &str, labels: &[String]) -> Option<Zeroizing<String>> {
    let choices: Vec<&str> = labels.iter().map(String::as_str).collect();
    let accepted = Accepted {
        words: &[Word::Pause, Word::Help, Word::Crisis, Word::Ground],
        choices: &choices,
    };
    let typed = match command::spoken(said, accepted) {
        Spoken::Sure(Meant::Choice(at)) => (at + 1).to_string(),
        Spoken::Sure(Meant::Word(Word::Pause)) => "/pause".to_owned(),
        Spoken::Sure(Meant::Word(Word::Help)) => "/help".to_owned(),
        Spoken::Sure(Meant::Word(Word::Crisis)) => "/crisis".to_owned(),
        Spoken::Sure(Meant::Word(Word::Ground)) => "/ground".to_owned(),
        Spoken::Sure(Meant::Word(_)) | Spoken::Ask(_) | Spoken::None => return None,
    };
    Some(Zeroizing::new(typed))
}

fn look_at(house: &mut House, what: &str) {
    match what {
        "map" => return show::map(house),
        "lookback" => return show::lookback(house),
        _ => house.terminal.gap(),
    }
    match what {
        "loops" => show::all_loops(&mut house.terminal, house.kept.map()),
        _ => show::all_steps(&mut house.terminal, house.kept.map()),
    }
}

/// A number of the list, or the start of a need's own words. A bare Enter goes on where the person stopped.
fn need(line: &str, stopped: Option<String>) -> Option<Need> {
    let line = line.trim().to_lowercase();
    if let Ok(number) = line.parse::<usize>() {
        let place = number.checked_sub(1)?;
        return match stopped {
            Some(script) if place == 0 => Some(Need::GoOn(script)),
            Some(_) => NEEDS.get(place - 1).copied().map(Need::One),
            None => NEEDS.get(place).copied().map(Need::One),
        };
    }
    if line.is_empty() || line == "go on" {
        return stopped.map(Need::GoOn);
    }
    let said = |need: &&str| {
        need.starts_with(&line) || phrase(&format!("open.{need}")).to_lowercase().starts_with(&line)
    };
    NEEDS.into_iter().find(said).map(Need::One)
}

/// Words that are no choice are still looked at: someone may say here that they are in danger.
fn answer_in_words(house: &mut House, line: &str) {
    if containing::screen(line).level() >= Level::Pause {
        show::crisis(house);
    } else {
        house.terminal.say(&phrase("prompt.choose"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_is_taken_as_it_would_be_typed() {
        let labels = ["I feel stuck", "See my map", "Look back"].map(str::to_owned);
        for (said, typed) in [
            ("See my map.", Some("2")),
            ("Number three.", Some("3")),
            ("Pause.", Some("/pause")),
            ("/help", Some("/help")),
            ("The weather is nice.", None),
            ("", None),
        ] {
            let heard = as_typed(said, &labels);
            assert_eq!(heard.as_ref().map(|typed| typed.as_str()), typed, "{said}");
        }
    }

    #[test]
    fn going_on_comes_first_and_numbers_follow_the_list() {
        let stuck = || Some("stuck".to_owned());
        assert_eq!(need("", stuck()), Some(Need::GoOn("stuck".to_owned())));
        assert_eq!(need("1", stuck()), Some(Need::GoOn("stuck".to_owned())));
        assert_eq!(need("2", stuck()), Some(Need::One("stuck")));
        assert_eq!(need("1", None), Some(Need::One("stuck")));
        assert_eq!(need("look", None), Some(Need::One("steps")));
        assert_eq!(need("lookback", None), Some(Need::One("lookback")));
        assert_eq!(need("", None), None);
        assert_eq!(need("0", None), None);
    }
}
