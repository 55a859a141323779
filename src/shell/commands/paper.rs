//! Pages on their way out: which form is asked for, which letters it needs, and putting it into a file.

use std::io;
use std::io::Write;
use std::process::ExitCode;

use serde_json::Value;
use serde_json::json;

use crate::page;
use crate::page::Guidance;
use crate::page::Item;
use crate::page::Page;
use crate::page::Part;
use crate::picture;
use crate::picture::Fonts;
use crate::shell::arguments::Form;
use crate::shell::arguments::MapArguments;
use crate::shell::arguments::Paper;
use crate::shell::commands::view;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::writing;

/// How many dots a PNG has to each of the screen's 96 an inch.
const SCALE: f32 = 2.0;

/// The form asked for: the one named, else the one that the file's ending says. `None` is the screen. A form that is
/// not for a screen needs a file, and a file that is there stays unless the person says otherwise.
pub(crate) fn form(what: &MapArguments) -> Result<Option<Form>, Trouble> {
    let Some(file) = &what.out else {
        if matches!(what.form, Some(Form::Pdf | Form::Png)) {
            return Err(Trouble::Usage("trouble.form-needs-file", String::new()));
        }
        return Ok(what.form);
    };
    writing::free_for(file, what.replace)?;
    if what.form.is_some() {
        return Ok(what.form);
    }
    let ending = file
        .extension()
        .and_then(|ending| ending.to_str())
        .unwrap_or_default();
    let form = match ending.to_lowercase().as_str() {
        "txt" => Form::Text,
        "json" => Form::Json,
        "md" => Form::Markdown,
        "svg" => Form::Svg,
        "pdf" => Form::Pdf,
        "png" => Form::Png,
        _ => return Err(Trouble::Usage("trouble.which-form", file.display().to_string())),
    };
    Ok(Some(form))
}

/// The paper asked for.
pub(crate) fn paper(what: &MapArguments) -> page::Paper {
    match what.paper {
        Paper::A4 => page::Paper::A4,
        Paper::Letter => page::Paper::Letter,
    }
}

/// Where this command talks: beside its result, where that goes to standard output.
pub(crate) fn terminal(plain: bool, form: Option<Form>, what: &MapArguments) -> Terminal {
    let terminal = Terminal::new(plain);
    if form.is_some() && what.out.is_none() {
        terminal.aside()
    } else {
        terminal
    }
}

/// `wayfold map --blank`: an empty sheet. It opens no store.
pub(crate) fn blank(plain: bool, what: &MapArguments) -> Result<ExitCode, Trouble> {
    let form = form(what)?;
    let guidance = if what.plainer {
        Guidance::Plainer
    } else {
        Guidance::Plain
    };
    let sheet = page::blank(paper(what), guidance);
    give(&mut terminal(plain, form, what), &sheet, form, what)
}

/// Shows a page, or writes it in the form asked for.
pub(crate) fn give(
    terminal: &mut Terminal,
    page: &Page,
    form: Option<Form>,
    what: &MapArguments,
) -> Result<ExitCode, Trouble> {
    match form {
        None => view::show(terminal, &|screen| picture::terminal::draw(page, screen)),
        Some(form) => {
            let fonts = fonts(terminal, page, form);
            let bytes = bytes(page, form, &fonts)?;
            deliver(terminal, &bytes, what)?;
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// Puts bytes where they were asked for: into the file, or onto standard output.
pub(crate) fn deliver(terminal: &mut Terminal, bytes: &[u8], what: &MapArguments) -> Result<(), Trouble> {
    match &what.out {
        Some(file) => {
            writing::put_new(file, bytes, what.replace)?;
            terminal.say(&filled("map.written", &[("value", &file.display().to_string())]));
        }
        None => {
            // A reader that has gone away is no failure of ours.
            let _ = io::stdout().write_all(bytes);
        }
    }
    Ok(())
}

/// A page in a form, and the letters for it.
pub(crate) fn bytes(page: &Page, form: Form, fonts: &Fonts) -> Result<Vec<u8>, Trouble> {
    let refused = |error: picture::PictureError| {
        let why = match error {
            picture::PictureError::TooLarge => "why.too-large",
            picture::PictureError::Pdf(_) | picture::PictureError::Png => "why.not-drawn",
        };
        Trouble::Told("trouble.picture", phrase(why))
    };
    match form {
        Form::Text => Ok(picture::plain(page).into_bytes()),
        Form::Markdown => Ok(picture::markdown(page).into_bytes()),
        Form::Json => Ok(told(page).into_bytes()),
        Form::Svg => Ok(picture::svg(page, fonts).into_bytes()),
        Form::Pdf => picture::pdf(page, fonts).map_err(refused),
        Form::Png => picture::png(page, fonts, SCALE).map_err(refused),
    }
}

/// The letters that a form of a page needs: those that the program carries, then the system's. Says which scripts are
/// still missing. Forms that are text need none.
pub(crate) fn fonts(terminal: &mut Terminal, page: &Page, form: Form) -> Fonts {
    let fonts = Fonts::embedded();
    if matches!(form, Form::Text | Form::Markdown | Form::Json) || fonts.missing(page).is_empty() {
        return fonts;
    }
    let mut database = fontdb::Database::new();
    database.load_system_fonts();
    let fonts = fonts.with_system(&database, page);
    let missing = fonts.missing(page);
    if !missing.is_empty() {
        let says = if form == Form::Svg {
            "paper.no-letters-svg"
        } else {
            "paper.no-letters"
        };
        terminal.say(&filled(says, &[("scripts", &missing.join(", "))]));
    }
    fonts
}

/// A page as JSON, for another program: its sections in reading order.
fn told(page: &Page) -> String {
    let mut sections: Vec<Value> = Vec::new();
    let mut heading = String::new();
    for part in &page.parts {
        match part {
            Part::Heading(words) => heading.clone_from(words),
            Part::Text(words) => sections.push(json!({ "heading": heading, "text": words })),
            Part::List(items) => sections.push(json!({ "heading": heading, "items": rows(items) })),
            Part::Lines(_) => sections.push(json!({ "heading": heading })),
            Part::Fields(fields) => sections.extend(fields.corners.iter().map(|corner| {
                json!({ "heading": corner.heading, "guide": corner.guide, "items": rows(&corner.items) })
            })),
            Part::Ring(ring) => {
                let stops: Vec<_> = ring.stops.iter().map(|stop| json!({ "role": stop.role, "words": stop.words })).collect();
                sections.push(json!({ "heading": heading, "loop": stops, "closes": ring.closes, "notes": ring.notes }));
            }
            // No page that is written from here has charts.
            Part::Bars(_) | Part::Shares(_) | Part::Pairs(_) => {}
        }
    }
    let whole =
        json!({ "title": page.title, "date": page.date, "language": page.language, "sections": sections });
    format!("{whole:#}\n")
}

fn rows(items: &[Item]) -> Vec<Value> {
    items
        .iter()
        .map(|item| json!({ "words": item.words, "notes": item.notes }))
        .collect()
}
