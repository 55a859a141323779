//! What a person can type at any prompt, beside an answer.

use std::path::PathBuf;

use zeroize::Zeroizing;

use crate::map::What;
use crate::safety::Level;
use crate::shell::House;
use crate::shell::arguments;
use crate::shell::containing;
use crate::shell::first_run;
use crate::shell::idle;
use crate::shell::idle::Choice;
use crate::shell::people;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;

/// A command at a prompt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Slash {
    /// One question back.
    Back,
    /// Leave this question out.
    Skip,
    /// Stop, with everything kept.
    Pause,
    /// What there is.
    Help,
    /// Who to call.
    Crisis,
    /// Steady yourself.
    Ground,
    /// See the map.
    Map,
    /// Speak, or read a recording.
    Voice(Option<PathBuf>),
    /// How long a pause ends listening, as typed.
    VoicePause(String),
    /// Change the country.
    Region(String),
    /// The person's own people: list, add or drop, as typed.
    People(String),
    /// Clear the screen now.
    Hide,
    /// Keep the sitting when hiding, or drop it.
    HideChoice(&'static str),
    /// Whether the entry check asks.
    Check(&'static str),
    /// After how many minutes without an answer the screen hides by itself: a number, or `off`.
    Lock(String),
    /// Nothing that there is.
    Unknown(String),
}

/// Every command with the name of the phrase that says what it does.
const MEANINGS: [(&str, &str); 15] = [
    ("/back", "help.back"),
    ("/skip", "help.skip"),
    ("/pause", "help.pause"),
    ("/crisis", "help.crisis"),
    ("/ground", "help.ground"),
    ("/map", "help.map"),
    ("/voice", "help.voice"),
    ("/voice FILE.wav", "help.voice-file"),
    ("/voice pause 3", "help.voice-pause"),
    ("/region NZ", "help.region"),
    ("/people Olga 021 555 019", "help.people"),
    ("/hide, Ctrl-G", "help.hide"),
    ("/hide keep, drop", "help.hide-choice"),
    ("/lock 15, off", "help.lock"),
    ("/check on, off", "help.check"),
];

/// Reads a line that starts with a slash; any other line is an answer, and so is one with words of danger in it.
pub(crate) fn read(line: &str) -> Option<Slash> {
    let line = line.trim();
    let command = named(line)?;
    // Hiding waits for nothing, who to call is shown either way, and the name of a recording is no answer.
    let at_once = matches!(command, Slash::Hide | Slash::Crisis | Slash::Voice(Some(_)));
    (at_once || containing::screen(line).level() < Level::Pause).then_some(command)
}

/// The command that a whole answer may have been meant as, with its slash left out. Any other words are an answer.
pub(crate) fn meant(line: &str) -> Option<(&'static str, Slash)> {
    match line.trim().to_lowercase().as_str() {
        "help" => Some(("/help", Slash::Help)),
        "exit" | "quit" => Some(("/pause", Slash::Pause)),
        _ => None,
    }
}

/// A line at a question that takes no words of the person's own, where such a word can only be a command.
pub(crate) fn slashed(line: Line) -> Line {
    match &line {
        Line::Typed(typed) => match meant(typed) {
            Some((command, _)) => Line::Typed(Zeroizing::new(command.to_owned())),
            None => line,
        },
        Line::Closed | Line::Hide => line,
    }
}

fn named(line: &str) -> Option<Slash> {
    let rest = line.strip_prefix('/')?;
    let (word, value) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    let value = value.trim();
    let choice = value.to_lowercase();
    Some(match (word.to_lowercase().as_str(), choice.as_str()) {
        ("back", _) => Slash::Back,
        ("skip", _) => Slash::Skip,
        ("pause", _) => Slash::Pause,
        ("help", _) => Slash::Help,
        ("crisis", _) => Slash::Crisis,
        ("ground", _) => Slash::Ground,
        ("map", _) => Slash::Map,
        ("voice", "") => Slash::Voice(None),
        ("voice", "pause") => Slash::VoicePause(String::new()),
        ("voice", pause) if pause.starts_with("pause ") => {
            Slash::VoicePause(pause["pause ".len()..].trim().to_owned())
        }
        ("voice", _) => Slash::Voice(Some(PathBuf::from(value))),
        ("region", code) => Slash::Region(code.to_owned()),
        ("people", _) => Slash::People(value.to_owned()),
        ("hide", "keep") => Slash::HideChoice("keep"),
        ("hide", "drop") => Slash::HideChoice("drop"),
        ("hide", _) => Slash::Hide,
        ("lock", minutes) => Slash::Lock(minutes.to_owned()),
        ("check", "on") => Slash::Check("on"),
        ("check", "off") => Slash::Check("off"),
        _ => Slash::Unknown(format!("/{word}")),
    })
}

/// Reads a line in which words stood already: a command is often typed behind them. What is no command there is a
/// part of the answer.
pub(crate) fn read_after(given: &str, line: &str) -> Option<Slash> {
    let behind = line.strip_prefix(given).filter(|_| !given.is_empty());
    let command = behind
        .and_then(read)
        .filter(|command| !matches!(command, Slash::Unknown(_)));
    command.or_else(|| read(line))
}

/// Carries out a command that leaves the sitting where it stands.
pub(crate) fn obey(house: &mut House, command: &Slash) -> Result<(), Trouble> {
    match command {
        Slash::Help => {
            house.terminal.say(&phrase("help.answer"));
            for (word, name) in MEANINGS {
                house.terminal.meaning(word, &phrase(name));
            }
        }
        Slash::Crisis => show::crisis(house),
        Slash::Map => show::map(house),
        Slash::Region(code) => first_run::change_region(house, code)?,
        Slash::People(typed) => people::obey(house, typed)?,
        Slash::HideChoice(choice) => {
            choose(house, "hide", choice)?;
            house.terminal.say(&phrase(&format!("hide.{choice}")));
        }
        Slash::Check(choice) => {
            choose(house, "entry-check", choice)?;
            house.terminal.say(&phrase(&format!("check.{choice}")));
        }
        Slash::Lock(minutes) => lock(house, minutes)?,
        Slash::VoicePause(seconds) => match arguments::pause(seconds) {
            Ok(_) => {
                choose(house, "voice-pause", seconds)?;
                // What is chosen now counts more than what was asked for when the program began.
                house.manner.pause = None;
                house
                    .terminal
                    .say(&filled("voice.pause-kept", &[("seconds", seconds)]));
            }
            Err(_) => house.terminal.say(&phrase("voice.pause-range")),
        },
        Slash::Unknown(word) => house
            .terminal
            .say(&filled("prompt.unknown-command", &[("value", word)])),
        // Where these mean something, they were carried out before.
        Slash::Back => house.terminal.say(&phrase("prompt.first")),
        Slash::Voice(_) => house.terminal.say(&phrase("voice.only-entries")),
        Slash::Skip | Slash::Pause | Slash::Ground | Slash::Hide => {}
    }
    Ok(())
}

fn lock(house: &mut House, minutes: &str) -> Result<(), Trouble> {
    let Some(choice) = idle::read(minutes) else {
        house
            .terminal
            .say(&filled("lock.unknown", &[("most", &idle::MOST.to_string())]));
        return Ok(());
    };
    choose(house, idle::SETTING, minutes)?;
    house.terminal.hide_after(choice.patience());
    house.terminal.say(&match choice {
        Choice::After(after) => counted("lock.after", after.as_secs() / 60, &[]),
        Choice::Never => phrase("lock.off"),
    });
    Ok(())
}

fn choose(house: &mut House, name: &str, value: &str) -> Result<(), Trouble> {
    house.kept.record(What::SettingChosen {
        name: name.to_owned(),
        value: value.to_owned(),
    })?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_is_no_command() {
        assert_eq!(read("call my sister"), None);
        assert_eq!(read(""), None);
        assert_eq!(read(" / "), Some(Slash::Unknown("/".to_owned())));
    }

    #[test]
    fn a_word_alone_may_be_a_command_and_words_are_an_answer() {
        assert_eq!(meant(" Help "), Some(("/help", Slash::Help)));
        for word in ["exit", "QUIT"] {
            assert_eq!(meant(word), Some(("/pause", Slash::Pause)));
        }
        for words in [
            "help my sister",
            "ask for help",
            "quit early",
            "exits",
            "/help",
            "help!",
            "",
        ] {
            assert_eq!(meant(words), None, "{words}");
        }
    }

    #[test]
    fn a_command_behind_given_words_is_one_and_other_words_are_an_answer() {
        let given = "tea with my sister";
        assert_eq!(read_after(given, "tea with my sister/pause"), Some(Slash::Pause));
        assert_eq!(read_after(given, "tea with my sister /back"), Some(Slash::Back));
        assert_eq!(read_after(given, "/skip"), Some(Slash::Skip));
        assert_eq!(read_after(given, "tea with my sister/brother"), None);
        assert_eq!(read_after(given, "tea with my sister"), None);
        assert_eq!(read_after("", "/pause"), Some(Slash::Pause));
    }

    #[test]
    fn commands_take_their_values() {
        assert_eq!(
            read("/voice my take.wav"),
            Some(Slash::Voice(Some(PathBuf::from("my take.wav"))))
        );
        assert_eq!(read("/voice pause 3"), Some(Slash::VoicePause("3".to_owned())));
        assert_eq!(read("/voice pause"), Some(Slash::VoicePause(String::new())));
        assert_eq!(
            read("/voice My Take.wav"),
            Some(Slash::Voice(Some(PathBuf::from("My Take.wav"))))
        );
        assert_eq!(read("/BACK"), Some(Slash::Back));
        assert_eq!(read("/hide drop"), Some(Slash::HideChoice("drop")));
        assert_eq!(read("/Hide Drop"), Some(Slash::HideChoice("drop")));
        assert_eq!(read("/lock OFF"), Some(Slash::Lock("off".to_owned())));
    }

    #[test]
    fn danger_behind_a_slash_is_an_answer_and_no_command_is_danger() {
        for line in ["/I want to kill myself", "/help me, I want to kill myself"] {
            assert_eq!(read(line), None, "{line}");
        }
        assert!(read("/crisis I want to kill myself").is_some());
        for (line, _) in MEANINGS {
            assert!(read(line).is_some(), "{line}");
        }
    }
}
