//! The crisis page and the numbers of a safety message. It needs no store, no passphrase and no model, and a number
//! is never shown without its country's name.

use std::io;
use std::io::Write;
use std::process::ExitCode;

use crate::map::Map;
use crate::map::OwnLine;
use crate::safety::Level;
use crate::safety::directory;
use crate::safety::directory::Help;
use crate::safety::directory::Line;
use crate::safety::directory::Standing;
use crate::shell::arguments::Arguments;
use crate::shell::first_run;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;
use crate::shell::terminal::complain;

/// `wayfold crisis`: the page for the region named, else for the one that locale and time zone suggest.
pub(crate) fn run(arguments: &Arguments, region: Option<&str>, json: bool) -> ExitCode {
    if let Some(code) = region
        && directory::country(&code.to_uppercase()).is_none()
    {
        let told = filled("trouble.region", &[("value", code)]);
        if json {
            complain(&told);
            print(None);
        } else {
            let mut terminal = Terminal::new(arguments.manner.plain);
            terminal.say(&told);
            terminal.gap();
            page(&mut terminal, None, None);
        }
        return ExitCode::from(2);
    }
    if json {
        print(region.or(first_run::guess()));
    } else {
        let mut terminal = Terminal::new(arguments.manner.plain);
        match region {
            Some(_) => page(&mut terminal, None, region),
            None => guessed_page(&mut terminal),
        }
    }
    ExitCode::SUCCESS
}

/// Whether `/crisis` was typed where a passphrase is asked for.
pub(crate) fn is_asked_for(typed: &str) -> bool {
    typed.trim() == "/crisis"
}

/// The page for the region that locale and time zone suggest, which it says.
pub(crate) fn guessed_page(terminal: &mut Terminal) {
    let region = first_run::guess();
    page(terminal, None, region);
    if let Some(country) = region.and_then(directory::country) {
        terminal.say(&filled("crisis.guessed", &[("country", country)]));
    }
}

/// The help for a region as JSON, for another program.
fn print(region: Option<&str>) {
    let text = serde_json::to_string(&directory::help(region, &[])).unwrap_or_default();
    // A reader that has gone away is no failure of ours.
    let _ = writeln!(io::stdout(), "{text}");
}

/// The whole page: the person's own people first, then the numbers, then the limits.
pub(crate) fn page(terminal: &mut Terminal, map: Option<&Map>, region: Option<&str>) {
    let help = help(map, region);
    terminal.stress(&phrase("crisis.title"));
    own(terminal, &help);
    emergency(terminal, &help);
    for line in &help.lines {
        one_line(terminal, line);
    }
    terminal.gap();
    for name in ["crisis.professional", "crisis.local", "crisis.limits"] {
        terminal.say(&phrase(name));
    }
}

/// The numbers of a safety message: what is most urgent first.
pub(crate) fn message(terminal: &mut Terminal, map: &Map, region: Option<&str>, level: Level) {
    let help = help(Some(map), region);
    if level == Level::Emergency {
        emergency(terminal, &help);
    }
    own(terminal, &help);
    for line in help.lines.iter().filter(|line| line.whom == "all") {
        one_line(terminal, line);
    }
    if level != Level::Emergency {
        emergency(terminal, &help);
    }
}

fn help(map: Option<&Map>, region: Option<&str>) -> Help {
    let own: Vec<_> = map
        .map(|map| map.own_lines().iter().map(own_line).collect())
        .unwrap_or_default();
    directory::help(region, &own)
}

fn own_line(line: &OwnLine) -> Line {
    Line {
        region: String::new(),
        number: line.number.as_str().to_owned(),
        shown: None,
        name: line.name.as_str().to_owned(),
        hours: String::new(),
        channels: Vec::new(),
        languages: Vec::new(),
        whom: "all".to_owned(),
        source: String::new(),
        checked_on: String::new(),
        standing: Standing::Own,
    }
}

fn own(terminal: &mut Terminal, help: &Help) {
    if !help.own.is_empty() {
        terminal.say(&phrase("crisis.own"));
        for line in &help.own {
            terminal.stress(&filled(
                "crisis.line",
                &[("name", &line.name), ("number", &line.number)],
            ));
        }
    }
}

fn emergency(terminal: &mut Terminal, help: &Help) {
    let numbers = help.emergency.join(", ");
    if help.country.is_empty() {
        terminal.stress(&filled("crisis.emergency-unknown", &[("numbers", &numbers)]));
        terminal.say(&phrase("crisis.no-region"));
    } else {
        terminal.stress(&filled(
            "crisis.emergency",
            &[("country", &help.country), ("numbers", &numbers)],
        ));
    }
    if help.lines.is_empty() {
        terminal.say(&phrase("crisis.fallback"));
    }
}

fn one_line(terminal: &mut Terminal, line: &Line) {
    let number = line.shown.as_deref().unwrap_or(&line.number);
    terminal.stress(&filled(
        "crisis.line",
        &[("name", &line.name), ("number", number)],
    ));
    let country = directory::country(&line.region).unwrap_or_default();
    let mut about = vec![
        country.to_owned(),
        line.channels.join(", "),
        line.hours.clone(),
        line.languages.join(", "),
    ];
    if line.whom != "all" {
        about.push(filled("crisis.for", &[("whom", &line.whom)]));
    }
    about.push(match line.standing {
        Standing::Official | Standing::Own => String::new(),
        Standing::SecondHand => phrase("crisis.second-hand"),
        Standing::Memory => phrase("crisis.unchecked"),
    });
    about.retain(|part| !part.is_empty());
    terminal.hint(&format!("  {}", about.join("; ")));
}
