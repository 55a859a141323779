//! `wayfold voice`: what is there for speech, and what is missing.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Duration;

use crate::shell::arguments::Arguments;
use crate::shell::arguments::VoiceCommand;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::speaking;
use crate::shell::speaking::Said;
use crate::shell::speaking::Speech;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::voice;
use crate::voice::Hints;
use crate::voice::Listening;
use crate::voice::Speaker;
use crate::voice::VoiceError;
use crate::voice::model;

/// Carries out one of the voice commands.
pub(crate) fn run(arguments: &Arguments, what: &VoiceCommand) -> Result<ExitCode, Trouble> {
    let mut terminal = Terminal::new(arguments.manner.plain);
    match what {
        VoiceCommand::Check => Ok(check(&mut terminal, arguments)),
        VoiceCommand::Devices => devices(&mut terminal),
        VoiceCommand::Model { what } => match what {
            crate::shell::arguments::ModelCommand::List => list(&mut terminal),
            crate::shell::arguments::ModelCommand::Install { files, into } => {
                let into = into.clone().unwrap_or_else(speaking::own_folder);
                let installed = model::install(files, &into)?;
                let path = installed.path.display().to_string();
                terminal.say(&filled(
                    "voice.installed",
                    &[("name", &installed.name), ("file", &path)],
                ));
                Ok(ExitCode::SUCCESS)
            }
        },
    }
}

/// Every part that speech needs, one line each; the exit code is 0 if an entry could be spoken.
fn check(terminal: &mut Terminal, arguments: &Arguments) -> ExitCode {
    let model = if voice::built() {
        model::find(&speaking::folders(), arguments.manner.model.as_deref()).map(|found| found.model)
    } else {
        Err(VoiceError::NotBuilt)
    };
    let mut ready = true;
    match model {
        Ok(path) => terminal.say(&filled(
            "voice.model-ready",
            &[("file", &path.display().to_string())],
        )),
        Err(error) => {
            ready = false;
            terminal.say(&speaking::words(&error));
            terminal.say(&phrase("voice.how-to-get-model"));
        }
    }
    let microphone = voice::Microphone::open();
    match &microphone {
        Ok(microphone) => terminal.say(&filled("voice.microphone-ready", &[("name", microphone.name())])),
        Err(error) => {
            ready = false;
            terminal.say(&speaking::words(error));
            if *error != VoiceError::NotBuilt {
                terminal.say(&phrase("voice.how-to-get-microphone"));
            }
        }
    }
    match Speaker::open("en") {
        Ok(_) => terminal.say(&phrase("voice.speaker-ready")),
        Err(error) => terminal.say(&speaking::words(&error)),
    }
    if ready && let Err(error) = try_out(terminal, arguments) {
        terminal.say(&speaking::words(&error));
        ready = false;
    }
    if ready {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

/// Listens once and shows what was heard.
fn try_out(terminal: &mut Terminal, arguments: &Arguments) -> Result<(), VoiceError> {
    let mut speech = Speech::new(&arguments.manner);
    let ear = speech.ear()?;
    terminal.say(&phrase("voice.say-something"));
    let mut settings = Listening {
        patience: Duration::from_secs(10),
        ..Listening::default()
    };
    if let Some(pause) = arguments.manner.pause {
        settings.pause = Duration::from_secs_f32(pause);
    }
    let hints = Hints {
        language: Some("en".to_owned()),
        ..Hints::default()
    };
    match speaking::listen(terminal, ear, &settings, &hints, false)?.0 {
        Said::Words(heard) => terminal.say(&filled("voice.heard", &[("words", &heard.text)])),
        Said::Hide => terminal.hide(),
        Said::Types(_) | Said::Nothing => {}
    }
    Ok(())
}

fn devices(terminal: &mut Terminal) -> Result<ExitCode, Trouble> {
    let devices = voice::devices()?;
    if devices.is_empty() {
        terminal.say(&phrase("voice.no-device"));
    }
    for device in devices {
        let mark = if device.default {
            phrase("voice.default-device")
        } else {
            String::new()
        };
        terminal.say(format!("{} {mark}", device.name).trim_end());
    }
    Ok(ExitCode::SUCCESS)
}

fn list(terminal: &mut Terminal) -> Result<ExitCode, Trouble> {
    let mut found = false;
    let folders: Vec<PathBuf> = speaking::folders();
    for folder in folders {
        for one in model::list(&folder)? {
            found = true;
            let state = if one.fault.is_some() {
                phrase("voice.model-damaged")
            } else {
                String::new()
            };
            let size = format!("{} MB", one.bytes / 1_000_000);
            let line = format!("{}  {size}  {} {state}", one.name, one.path.display());
            terminal.say(line.trim_end());
        }
    }
    if !found {
        terminal.say(&phrase("voice.no-model"));
    }
    Ok(ExitCode::SUCCESS)
}
