//! `wayfold script play --answers`: a whole sitting as a transcript, with no map and no store.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use crate::dialogue::Input;
use crate::dialogue::Library;
use crate::dialogue::Output;
use crate::dialogue::Rehearsal;
use crate::dialogue::Show;
use crate::dialogue::Wait;
use crate::shell::containing;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::prompt;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Plays a script with these answers. The exit code is 0 when they lead to the end.
pub(crate) fn run(
    terminal: &mut Terminal,
    library: &Library,
    name: &str,
    answers: &Path,
) -> Result<ExitCode, Trouble> {
    let answers = fs::read_to_string(answers).map_err(|error| Trouble::Read(answers.to_owned(), error))?;
    let mut lines = answers.lines();
    let Some((mut rehearsal, outputs)) = Rehearsal::begin(library, name) else {
        return Err(Trouble::Told("trouble.script", name.to_owned()));
    };
    show(terminal, &outputs);
    while rehearsal.prompt().wait != Wait::End {
        prompt::show(terminal, rehearsal.prompt(), false);
        let Some(line) = lines.next() else {
            terminal.gap();
            terminal.say(&phrase("play.no-more-answers"));
            return Ok(ExitCode::FAILURE);
        };
        terminal.say(&format!("> {line}"));
        let input = match slash::read(line) {
            None => Input::Answer(containing::screen(line.trim())),
            Some(Slash::Skip) => Input::Skip,
            Some(Slash::Ground) => Input::Ground,
            Some(Slash::Back) => {
                let said = if rehearsal.back() {
                    "prompt.back"
                } else {
                    "prompt.first"
                };
                terminal.say(&phrase(said));
                continue;
            }
            Some(Slash::Pause) => {
                terminal.say(&phrase("play.paused"));
                return Ok(ExitCode::SUCCESS);
            }
            Some(_) => {
                terminal.say(&phrase("play.no-command"));
                continue;
            }
        };
        match rehearsal.give(input) {
            Ok(outputs) => show(terminal, &outputs),
            Err(wrong) => terminal.say(&prompt::wrong(&wrong, &rehearsal.prompt().wait)),
        }
    }
    terminal.gap();
    let left = lines.filter(|line| !line.is_empty()).count();
    if left > 0 {
        terminal.say(&counted("play.answers-left", left as u64, &[]));
    }
    let map = rehearsal.map();
    let counts = [
        ("entries", map.entries().len()),
        ("loops", map.loops().len()),
        ("steps", map.steps().len()),
    ];
    let counts: Vec<_> = counts
        .iter()
        .map(|(name, count)| (*name, counted(&format!("play.{name}"), *count as u64, &[])))
        .collect();
    let blanks: Vec<_> = counts
        .iter()
        .map(|(name, count)| (*name, count.as_str()))
        .collect();
    terminal.say(&filled("play.ended", &blanks));
    Ok(ExitCode::SUCCESS)
}

fn show(terminal: &mut Terminal, outputs: &[Output]) {
    for output in outputs {
        match output {
            Output::Say(said) => {
                terminal.gap();
                terminal.say(&said.text);
            }
            Output::Show(shown) => terminal.say(&phrase(match shown {
                Show::Map => "play.shows-map",
                Show::Loops | Show::Fitting(_) => "play.shows-loops",
                Show::Steps | Show::Helped(_) => "play.shows-steps",
                Show::Changes => "play.shows-changes",
                Show::Numbers => "play.shows-numbers",
                Show::Hiding => "play.shows-hiding",
            })),
            Output::SafetyMessage { .. } => terminal.say(&phrase("play.safety")),
            Output::Pause => terminal.say(&phrase("play.paused")),
            Output::Record(_) | Output::Ended => {}
        }
    }
}
