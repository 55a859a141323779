//! Today, and dates as people write them. The pure rooms take these as values.

use std::env;
use std::fs;
use std::sync::OnceLock;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::insight;
use crate::map::Map;
use crate::shell::trouble::Trouble;

/// The file that holds a Unix machine's time zone.
const LOCAL: &str = "/etc/localtime";

/// The time zone of this machine, looked up once.
pub(crate) fn zone() -> TimeZone {
    static ZONE: OnceLock<TimeZone> = OnceLock::new();
    ZONE.get_or_init(|| own_file().unwrap_or_else(TimeZone::system))
        .clone()
}

/// The zone from the machine's own file. To look a zone up by its name, the names of all there are would be listed first.
fn own_file() -> Option<TimeZone> {
    if env::var_os("TZ").is_some() {
        return None;
    }
    let target = fs::read_link(LOCAL).ok()?;
    let (_, name) = target.to_str()?.split_once("zoneinfo/")?;
    TimeZone::tzif(name, &fs::read(LOCAL).ok()?).ok()
}

/// Today, here.
pub(crate) fn today() -> Date {
    day_of(Timestamp::now())
}

/// A date such as 2026-03-14.
pub(crate) fn date(text: &str) -> Result<Date, Trouble> {
    text.parse()
        .map_err(|_| Trouble::Usage("trouble.date", text.to_owned()))
}

/// The last instant of a day, here.
pub(crate) fn end_of(day: Date) -> Timestamp {
    let next = day.tomorrow().unwrap_or(day).to_zoned_datetime(zone());
    next.map_or(Timestamp::MAX, |start| {
        start.timestamp() - jiff::SignedDuration::from_nanos(1)
    })
}

/// The first instant of a day, here.
pub(crate) fn start_of(day: Date) -> Timestamp {
    day.to_zoned_datetime(zone())
        .map_or(Timestamp::MIN, |start| start.timestamp())
}

/// The day of an instant, here.
pub(crate) fn day_of(at: Timestamp) -> Date {
    at.to_zoned_datetime(zone()).date()
}

/// A look back up to now, here. A moment that was noted on a device whose clock runs ahead was noted all the same, so
/// "now" is never before the last one.
pub(crate) fn asked(map: &Map, since: Option<Timestamp>) -> insight::Asked {
    let last = map.moments().iter().map(|moment| moment.at).max();
    let now = Timestamp::now();
    insight::Asked {
        since,
        until: last.map_or(now, |last| last.max(now)),
        zone: zone(),
    }
}
