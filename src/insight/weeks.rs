//! Moments by week of the calendar, where the person lives.

use jiff::Timestamp;
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::civil::Time;
use jiff::tz::TimeZone;
use serde::Serialize;

use crate::insight::sequence::Ways;
use crate::map::Moment;
use crate::map::Way;

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
    let mut by_week = ByWeek::new(from, until, zone);
    for moment in moments {
        by_week.add(moment.at, moment.way);
    }
    by_week.finish()
}

/// Weeks as moments are counted into them.
pub(in crate::insight) struct ByWeek {
    from: Timestamp,
    until: Timestamp,
    weeks: Vec<Week>,
    /// The instant at which each week is over.
    ends: Vec<Timestamp>,
    /// The place of the week in which the last moment was: the next is most often in it, too.
    last: usize,
}

impl ByWeek {
    /// The weeks of [`weeks`], with nothing counted yet.
    pub(in crate::insight) fn new(from: Timestamp, until: Timestamp, zone: &TimeZone) -> Self {
        let (mut weeks, mut ends) = (Vec::new(), Vec::new());
        let begun = |monday: Date| begins(monday, zone).map(|at| (monday, at));
        // Both ends may lie in one week, and the second before the first all the same.
        let first = monday_of(from, zone).filter(|_| from <= until);
        let mut week = first.and_then(begun);
        while let Some((monday, start)) = week.filter(|(_, start)| *start <= until) {
            let Some((next, end)) = after(monday).and_then(begun) else {
                break;
            };
            // A week is whole when it began at or after the first end, and its last instant is not after the second.
            let whole = from <= start && end.as_nanosecond() - 1 <= until.as_nanosecond();
            let ways = Ways::default();
            weeks.push(Week { monday, whole, ways });
            ends.push(end);
            week = Some((next, end));
        }
        let last = 0;
        Self {
            from,
            until,
            weeks,
            ends,
            last,
        }
    }

    /// Counts one moment, if it is between the two ends.
    pub(in crate::insight) fn add(&mut self, at: Timestamp, way: Way) {
        if at < self.from || self.until < at {
            return;
        }
        let over = |place: usize| self.ends.get(place).is_none_or(|end| *end <= at);
        let in_the_same = !over(self.last) && (self.last == 0 || over(self.last - 1));
        if !in_the_same {
            self.last = self.ends.partition_point(|end| *end <= at);
        }
        if let Some(week) = self.weeks.get_mut(self.last) {
            week.ways.add(way);
        }
    }

    /// The weeks, oldest first.
    pub(in crate::insight) fn finish(self) -> Vec<Week> {
        self.weeks
    }
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
