//! `wayfold script draw`: a script's graph.

use std::io;
use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;

use crate::dialogue::Chart;
use crate::dialogue::Library;
use crate::shell::arguments::ChartForm;
use crate::shell::phrases::filled;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::writing;

/// Draws a script, to a file or to standard output.
pub(crate) fn run(
    terminal: &mut Terminal,
    library: &Library,
    name: &str,
    form: ChartForm,
    out: Option<&Path>,
) -> Result<ExitCode, Trouble> {
    let Some(chart) = Chart::of(library, name) else {
        return Err(Trouble::Told("trouble.script", name.to_owned()));
    };
    let text = match form {
        ChartForm::Svg => chart
            .svg()
            .ok_or_else(|| Trouble::Told("trouble.large-chart", name.to_owned()))?,
        ChartForm::Dot => chart.dot(),
        ChartForm::Mermaid => chart.mermaid(),
    };
    match out {
        Some(file) => {
            writing::put(file, text.as_bytes())?;
            terminal.say(&filled("map.written", &[("value", &file.display().to_string())]));
        }
        None => {
            // A reader that has gone away is no failure of ours.
            let _ = io::stdout().write_all(text.as_bytes());
        }
    }
    Ok(ExitCode::SUCCESS)
}
