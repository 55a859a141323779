//! Parts of the program that can be shown at a prompt: the map, loops, steps, and the crisis page.

use jiff::Timestamp;

use crate::dialogue::Output;
use crate::dialogue::Show;
use crate::insight;
use crate::map::EntryId;
use crate::map::Map;
use crate::map::Step;
use crate::page;
use crate::picture;
use crate::shell::House;
use crate::shell::changes;
use crate::shell::crisis;
use crate::shell::dates;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;

/// The most loops that are shown at once; of more, the shortest.
const MOST_LOOPS: usize = 12;

/// The most helpful steps that are shown at once.
const MOST_HELPED: usize = 3;

/// Shows one output of the dialogue.
pub(crate) fn output(house: &mut House, output: &Output) {
    match output {
        Output::Say(said) => {
            house.terminal.gap();
            house.terminal.say(&said.text);
        }
        Output::Show(Show::Map) => map(house),
        Output::Show(Show::Loops) => {
            house.terminal.gap();
            all_loops(&mut house.terminal, house.kept.map());
        }
        Output::Show(Show::Steps) => {
            house.terminal.gap();
            all_steps(&mut house.terminal, house.kept.map());
        }
        Output::Show(Show::Fitting(Some(entry))) => fitting(&mut house.terminal, house.kept.map(), *entry),
        Output::Show(Show::Helped(entry)) => helped(&mut house.terminal, house.kept.map(), *entry),
        Output::Show(Show::Changes) => changed(house),
        Output::Show(Show::Numbers) => crisis(house),
        Output::Show(Show::Hiding) => {
            house.terminal.say(&phrase("first.hide"));
            house.terminal.say(&phrase("first.hide-limits"));
        }
        Output::SafetyMessage { level, .. } => {
            house.terminal.gap();
            let region = house.region();
            crisis::message(&mut house.terminal, house.kept.map(), region.as_deref(), *level);
        }
        Output::Show(Show::Fitting(None)) | Output::Record(_) | Output::Pause | Output::Ended => {}
    }
}

/// Shows the map as it is now.
pub(crate) fn map(house: &mut House) {
    let options = page::SheetOptions {
        date: Some(dates::today()),
        zone: Some(dates::zone()),
        ..Default::default()
    };
    let sheet = page::sheet(house.kept.map(), &options);
    let drawn = picture::terminal::draw(&sheet, &house.terminal.screen());
    house.terminal.gap();
    house.terminal.print(&drawn);
}

/// Shows what changed over time.
pub(crate) fn lookback(house: &mut House) {
    house.terminal.gap();
    look_back(&mut house.terminal, house.kept.map(), None);
}

/// What changed over time, up to now, compared with the time before `since` if there is one.
pub(crate) fn look_back(terminal: &mut Terminal, map: &Map, since: Option<Timestamp>) {
    if map.moments().is_empty() {
        terminal.say(&phrase("lookback.none"));
        return;
    }
    let look = insight::look_back(map, &dates::asked(map, since));
    let options = page::SheetOptions {
        date: Some(dates::today()),
        zone: Some(dates::zone()),
        ..Default::default()
    };
    let drawn = picture::terminal::draw(&page::lookback(map, &look, &options), &terminal.screen());
    terminal.print(&drawn);
    terminal.gap();
    terminal.say(&phrase("lookback.note"));
}

/// Shows who to call.
pub(crate) fn crisis(house: &mut House) {
    let region = house.region();
    house.terminal.gap();
    crisis::page(&mut house.terminal, Some(house.kept.map()), region.as_deref());
    if house.kept.map().own_lines().is_empty() {
        house.terminal.hint(&phrase("people.how"));
    }
}

/// Every loop on the map, and every path that was followed and did not come round.
pub(crate) fn all_loops(terminal: &mut Terminal, map: &Map) {
    let found = insight::loops(map).fullest();
    let mut shown: Vec<_> = found.iter().collect();
    if shown.len() > MOST_LOOPS {
        shown.sort_by_key(|one| one.nodes.len());
        shown.truncate(MOST_LOOPS);
    }
    let open = insight::open_paths(map);
    let page = page::loops(map, &shown, &open, &page::SheetOptions::default());
    terminal.print(&picture::terminal::draw(&page, &terminal.screen()));
    let more = found.len().saturating_sub(MOST_LOOPS);
    if more > 0 || found.cut.is_some() {
        terminal.gap();
    }
    if more > 0 {
        terminal.say(&counted("loops.cut-shown", more as u64, &[]));
    }
    if let Some(cut) = found.cut {
        if cut.entries > 0 {
            terminal.say(&counted("loops.cut-entries", cut.entries as u64, &[]));
        }
        if cut.longer {
            terminal.say(&filled(
                "loops.cut-longer",
                &[("most", &insight::LONGEST.to_string())],
            ));
        }
    }
}

/// The loop that fits an inner entry, if one goes through it.
fn fitting(terminal: &mut Terminal, map: &Map, entry: EntryId) {
    let Some(fits) = insight::fitting(map, entry) else {
        return;
    };
    let options = page::SheetOptions {
        title: Some(phrase("loops.fits")),
        ..Default::default()
    };
    let drawn = picture::terminal::draw(&page::loops(map, &[fits], &[], &options), &terminal.screen());
    terminal.gap();
    terminal.print(&drawn);
}

/// All steps, by how they stand.
pub(crate) fn all_steps(terminal: &mut Terminal, map: &Map) {
    let review = insight::steps_review(map);
    let mut parts = Vec::new();
    for (heading, ids) in [
        ("steps.open", &review.open),
        ("steps.partly-done", &review.partly),
        ("steps.were-done", &review.done),
        ("steps.were-let-go", &review.let_go),
    ] {
        let items: Vec<_> = map
            .steps()
            .iter()
            .filter(|step| ids.contains(&step.id))
            .map(|step| item(map, step))
            .collect();
        if !items.is_empty() {
            parts.push(page::Part::Heading(phrase(heading)));
            parts.push(page::Part::List(items));
        }
    }
    if parts.is_empty() {
        parts.push(page::Part::Text(phrase("steps.none")));
    }
    let page = page::Page {
        title: phrase("steps.title"),
        date: None,
        language: crate::language::spoken().tag(),
        paper: page::Paper::default(),
        turned: page::Turned::Portrait,
        parts,
    };
    terminal.print(&picture::terminal::draw(&page, &terminal.screen()));
}

/// A step in one line: when, and what.
pub(crate) fn step_words(step: &Step) -> String {
    match &step.when {
        Some(when) => filled(
            "steps.when-act",
            &[("when", when.as_str()), ("act", step.act.as_str())],
        ),
        None => step.act.as_str().to_owned(),
    }
}

fn item(map: &Map, step: &Step) -> page::Item {
    let words = |id: &EntryId| map.entry(*id).map(|entry| entry.words.as_str().to_owned());
    let mut notes = Vec::new();
    let serves: Vec<_> = step.serves.iter().filter_map(words).collect();
    if !serves.is_empty() {
        notes.push(filled("steps.for", &[("whom", &serves.join(", "))]));
    }
    if let Some((at, mark)) = step.mark {
        let day = dates::day_of(at).to_string();
        notes.push(filled(
            "steps.marked",
            &[("mark", &changes::mark(mark)), ("day", &day)],
        ));
    }
    if step.helpful == Some(true) {
        notes.push(phrase("steps.it-helped"));
    }
    if let Some(entry) = step.got_in_the_way.as_ref().and_then(words) {
        notes.push(filled("steps.in-the-way", &[("what", &entry)]));
    }
    page::Item {
        number: None,
        words: step_words(step),
        notes,
    }
}

/// Steps that helped before, for one thing that matters or, where there is none, for any.
fn helped(terminal: &mut Terminal, map: &Map, entry: Option<EntryId>) {
    let mut steps = insight::helpful_steps(map, entry);
    if steps.is_empty() {
        steps = insight::helpful_steps(map, None);
    }
    if steps.is_empty() {
        return;
    }
    terminal.gap();
    terminal.say(&phrase("steps.helped"));
    for step in steps.iter().take(MOST_HELPED) {
        terminal.say(&format!("- {}", step_words(step)));
    }
}

/// What came, went and changed since the review that is under way began.
fn changed(house: &mut House) {
    let map = house.kept.map();
    let sitting = map
        .sittings()
        .iter()
        .rev()
        .find(|sitting| sitting.script == "review");
    let began = sitting.and_then(|one| house.kept.history().event(one.places.first()?.0));
    let Some(began) = began.map(|event| event.at) else {
        return;
    };
    let earlier = house.kept.history().map_at(began);
    let found = insight::differences(&earlier, map);
    let page = changes::page(&earlier, map, &found, &phrase("changes.this-review"));
    let drawn = picture::terminal::draw(&page, &house.terminal.screen());
    house.terminal.gap();
    house.terminal.print(&drawn);
}
