//! `wayfold try`: one part of the program on lines from standard input or on files, touching no map.

use std::io;
use std::io::BufRead;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::process::ExitCode;

use serde::Serialize;
use zeroize::Zeroizing;

use crate::coach::Answer;
use crate::coach::Verdict;
use crate::map::Field;
use crate::safety;
use crate::shell::arguments::Arguments;
use crate::shell::arguments::TryCommand;
use crate::shell::arguments::TryField;
use crate::shell::speaking;
use crate::shell::speaking::Speech;
use crate::shell::terminal::complain;
use crate::shell::trouble::Trouble;
use crate::voice::Heard;
use crate::voice::Hints;
use crate::voice::wav;

/// Runs one part.
pub(crate) fn run(arguments: &Arguments, what: &TryCommand) -> Result<ExitCode, Trouble> {
    match what {
        TryCommand::Safety { json } => each_line(*json, |number, line| {
            let row = safety::report(number, line);
            let brief = format!("{:?}", row.level).to_lowercase();
            (row, brief)
        }),
        TryCommand::Entry { field, json } => {
            let field = Field::from(*field);
            each_line(*json, |number, line| {
                let verdict = Verdict::on(number, field, line);
                let brief = match (verdict.verdict, verdict.kind) {
                    (Answer::Question, Some(kind)) => format!("question {kind:?}").to_lowercase(),
                    _ => "ok".to_owned(),
                };
                (verdict, brief)
            })
        }
        TryCommand::Voice { files, json } => Ok(voice(arguments, files, *json)),
    }
}

impl From<TryField> for Field {
    fn from(field: TryField) -> Self {
        match field {
            TryField::Matters => Self::Matters,
            TryField::Inner => Self::Inner,
            TryField::Away => Self::Away,
            TryField::Toward => Self::Toward,
        }
    }
}

/// Answers each line of standard input with one line: JSON, or a brief word.
fn each_line<T: Serialize>(
    json: bool,
    mut answer: impl FnMut(usize, &str) -> (T, String),
) -> Result<ExitCode, Trouble> {
    let mut input = io::stdin().lock();
    let mut out = io::BufWriter::new(io::stdout().lock());
    let mut bytes = Zeroizing::new(Vec::new());
    let mut number = 0;
    loop {
        bytes.clear();
        let read = input
            .read_until(b'\n', &mut bytes)
            .map_err(|error| Trouble::Read(PathBuf::from("-"), error))?;
        if read == 0 {
            break;
        }
        number += 1;
        let line = Zeroizing::new(
            String::from_utf8_lossy(&bytes)
                .trim_end_matches(['\n', '\r'])
                .to_owned(),
        );
        let (row, brief) = answer(number, &line);
        let text = if json {
            serde_json::to_string(&row).unwrap_or_default()
        } else {
            brief
        };
        // A reader that has gone away ends the work quietly.
        if writeln!(out, "{text}").is_err() {
            return Ok(ExitCode::SUCCESS);
        }
    }
    let _ = out.flush();
    Ok(ExitCode::SUCCESS)
}

/// What was heard in one file, for another program.
#[derive(Serialize)]
struct HeardRow<'a> {
    file: String,
    text: &'a str,
    seconds: f32,
    took_ms: u128,
    doubtful: Vec<&'a str>,
}

fn voice(arguments: &Arguments, files: &[PathBuf], json: bool) -> ExitCode {
    let mut speech = Speech::new(&arguments.manner);
    let mut code = ExitCode::SUCCESS;
    for file in files {
        match hear(&mut speech, file) {
            Ok(heard) => say(file, &heard, json),
            Err(error) => {
                complain(&speaking::words(&error));
                code = ExitCode::FAILURE;
            }
        }
    }
    code
}

fn hear(speech: &mut Speech, file: &Path) -> Result<Heard, crate::voice::VoiceError> {
    let samples = wav::read(file)?;
    speech.ear()?.hear(
        &samples,
        &Hints {
            language: Some("en".to_owned()),
            ..Hints::default()
        },
    )
}

fn say(file: &Path, heard: &Heard, json: bool) {
    let line = if json {
        let row = HeardRow {
            file: file.display().to_string(),
            text: &heard.text,
            seconds: heard.seconds,
            took_ms: heard.took.as_millis(),
            doubtful: heard
                .doubtful
                .iter()
                .filter_map(|range| heard.text.get(range.clone()))
                .collect(),
        };
        serde_json::to_string(&row).unwrap_or_default()
    } else {
        heard.text.to_string()
    };
    let _ = writeln!(io::stdout(), "{line}");
}
