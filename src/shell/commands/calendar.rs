//! Open steps as a calendar file (RFC 5545). Calendars are often seen by others, so the title says nothing unless the
//! person asks for their own words.

use std::path::Path;
use std::process::ExitCode;

use chrono::NaiveDate;
use icalendar::Alarm;
use icalendar::Calendar;
use icalendar::CalendarDateTime;
use icalendar::Class;
use icalendar::Component;
use icalendar::Event;
use icalendar::EventLike;
use jiff::ToSpan;
use jiff::civil::DateTime;
use jiff::civil::Time;

use crate::insight;
use crate::map::Map;
use crate::map::Step;
use crate::shell::arguments::StepsArguments;
use crate::shell::dates;
use crate::shell::phrases::counted;
use crate::shell::phrases::phrase;
use crate::shell::show;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::writing;

/// How long the time for one step is, in minutes.
const MINUTES: i64 = 15;

/// Writes the open steps, one after the other from the day and time that were asked for.
pub(crate) fn write(
    terminal: &mut Terminal,
    map: &Map,
    file: &Path,
    what: &StepsArguments,
) -> Result<ExitCode, Trouble> {
    let day = match &what.day {
        Some(day) => dates::date(day)?,
        None => dates::today().tomorrow().unwrap_or_else(|_| dates::today()),
    };
    let time = match &what.time {
        Some(time) => {
            Time::strptime("%H:%M", time).map_err(|_| Trouble::Usage("trouble.time", time.clone()))?
        }
        None => Time::constant(9, 0, 0, 0),
    };
    let open = insight::steps_review(map).open;
    let steps: Vec<_> = map
        .steps()
        .iter()
        .filter(|step| open.contains(&step.id))
        .collect();
    if steps.is_empty() {
        terminal.say(&phrase("steps.none-open"));
        return Ok(ExitCode::SUCCESS);
    }
    let mut calendar = Calendar::new();
    let mut at = day.to_datetime(time);
    for step in &steps {
        calendar.push(event(step, at, what));
        at = at.checked_add(MINUTES.minutes()).unwrap_or(at);
    }
    writing::put_new(file, calendar.to_string().as_bytes(), what.replace)?;
    let value = file.display().to_string();
    terminal.say(&counted(
        "steps.written",
        steps.len() as u64,
        &[("value", &value)],
    ));
    let told = if what.own_words {
        "steps.written-words"
    } else {
        "steps.written-neutral"
    };
    terminal.say(&phrase(told));
    Ok(ExitCode::SUCCESS)
}

/// One step, in the time of wherever the person is. The same step always has the same identity, so that a calendar
/// that reads the file twice has it once.
fn event(step: &Step, at: DateTime, what: &StepsArguments) -> Event {
    let title = if what.own_words {
        show::step_words(step)
    } else {
        phrase("calendar.title")
    };
    let mut event = Event::with_uid(&format!("{}@wayfold", step.id.0));
    event
        .summary(&title)
        .class(Class::Private)
        .add_property("DTSTAMP", step.added.strftime("%Y%m%dT%H%M%SZ").to_string());
    let end = at.checked_add(MINUTES.minutes()).unwrap_or(at);
    if let (Some(from), Some(to)) = (floating(at), floating(end)) {
        event.starts(from).ends(to);
    }
    if let Some(minutes) = what.remind {
        event.alarm(Alarm::display(
            &title,
            -chrono::Duration::minutes(i64::from(minutes)),
        ));
    }
    event.done()
}

fn floating(at: DateTime) -> Option<CalendarDateTime> {
    let (month, day) = (u32::try_from(at.month()).ok()?, u32::try_from(at.day()).ok()?);
    let (hour, minute) = (u32::try_from(at.hour()).ok()?, u32::try_from(at.minute()).ok()?);
    let day = NaiveDate::from_ymd_opt(i32::from(at.year()), month, day)?;
    day.and_hms_opt(hour, minute, 0).map(CalendarDateTime::Floating)
}
