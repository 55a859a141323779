//! Moments by week of the calendar, where the person lives.

use jiff::Timestamp;
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::civil::Time;
use jiff::tz::TimeZone;
use serde::Serialize;

use crate::insight::sequence::Ways;
use crate::map::Moment;

/// One week, Monday to Sunday.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Week {
    /// Its Monday.
    pub monday: Date,
    /// Whether all of it lies between the two ends that were looked at; a part of a week cannot be compared.
    pub whole: bool,
    /// How its moments went.
    pub ways: Ways,
}

/// The weeks from the one that holds `from` to the one that holds `until`, weeks without moments too, oldest first.
/// Moments outside of the two ends do not count. Empty when `until` is before `from`, or a week lies outside of the
/// calendar.
#[must_use]
pub fn weeks<'m>(
    moments: impl IntoIterator<Item = &'m Moment>,
    from: Timestamp,
    until: Timestamp,
    zone: &TimeZone,
) -> Vec<Week> {
    let Some(mut start) =
        monday_of(from, zone).and_then(|monday| begins(monday, zone).map(|at| (monday, at)))
    else {
        return Vec::new();
    };
    let mut weeks = Vec::new();
    let mut ends = Vec::new();
    while start.1 <= until {
        let Some(next) = after(start.0).and_then(|monday| begins(monday, zone).map(|at| (monday, at))) else {
            break;
        };
        // A week is whole when it began at or after the first end, and its last instant is not after the second.
        let whole = from <= start.1 && next.1.as_nanosecond() - 1 <= until.as_nanosecond();
        weeks.push(Week {
            monday: start.0,
            whole,
            ways: Ways::default(),
        });
        ends.push(next.1);
        start = next;
    }
    for moment in moments {
        if from <= moment.at && moment.at <= until {
            let place = ends.partition_point(|end| *end <= moment.at);
            if let Some(week) = weeks.get_mut(place) {
                week.ways.add(moment.way);
            }
        }
    }
    weeks
}

fn monday_of(at: Timestamp, zone: &TimeZone) -> Option<Date> {
    let date = zone.to_datetime(at).date();
    let days = i64::from(date.weekday().to_monday_zero_offset());
    date.checked_sub(days.days()).ok()
}

fn after(monday: Date) -> Option<Date> {
    monday.checked_add(1.week()).ok()
}

/// The first instant of a day in the zone.
fn begins(date: Date, zone: &TimeZone) -> Option<Timestamp> {
    let midnight = date.to_datetime(Time::midnight());
    zone.to_ambiguous_zoned_datetime(midnight)
        .compatible()
        .ok()
        .map(|start| start.timestamp())
}
