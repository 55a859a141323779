//! The look back: every number that `wayfold lookback` shows, and nothing that it must not show. Counts come before
//! shares, and where the numbers are too few to say something, there is no number.

use std::collections::HashMap;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde::Serialize;

use crate::insight::newcombe::Difference;
use crate::insight::newcombe::newcombe;
use crate::insight::sequence::Followed;
use crate::insight::sequence::Ways;
use crate::insight::sequence::distinct;
use crate::insight::sequence::followed;
use crate::insight::trend::Trend;
use crate::insight::trend::mann_kendall;
use crate::insight::weeks::Week;
use crate::insight::weeks::weeks;
use crate::insight::wilson::Interval;
use crate::insight::wilson::wilson;
use crate::map::EntryId;
use crate::map::Map;
use crate::map::Moment;
use crate::map::Way;

/// Under so many moments no share is given.
pub const LEAST_FOR_SHARE: u64 = 10;

/// Under so many whole weeks no trend is given.
pub const LEAST_WEEKS: usize = 4;

/// A chance under this, in either direction, counts as a trend.
pub const LEVEL: f64 = 0.05;

/// What a person wants to look back at.
#[derive(Clone, Debug)]
pub struct Asked {
    /// From here on, and compared with what was before; nothing means from the beginning.
    pub since: Option<Timestamp>,
    /// Up to and including this instant: usually now.
    pub until: Timestamp,
    /// Where the person's weeks begin.
    pub zone: TimeZone,
}

/// A share of moments.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Share {
    /// So many of them,
    pub part: u64,
    /// of so many, [`LEAST_FOR_SHARE`] or more.
    pub whole: u64,
    /// The share, 0 to 1.
    pub share: f64,
    /// Its 95 % interval (Wilson), 0 to 1.
    pub interval: Interval,
}

/// What was before and since a date. No more is meant: not phases, and not an effect of anything.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BeforeSince {
    /// The date.
    pub since: Timestamp,
    /// The moments before it.
    pub before: Ways,
    /// The moments from it on.
    pub after: Ways,
    /// The share of toward moments since less the share before, with its 95 % interval (Newcombe), where both have
    /// [`LEAST_FOR_SHARE`] moments.
    pub difference: Option<Difference>,
}

/// What a series of weeks says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// There are more.
    More,
    /// There are fewer.
    Fewer,
    /// It cannot be told.
    CannotTell,
}

/// How the toward moments of whole weeks went over time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OverWeeks {
    /// What the series says: more or fewer only where the two-sided chance is under [`LEVEL`].
    pub direction: Direction,
    /// The test and the slope, in toward moments a week, for the JSON form.
    pub trend: Trend,
}

/// One entry, and how many times it was around.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Times {
    /// The entry.
    pub entry: EntryId,
    /// In how many moments.
    pub times: u64,
}

/// What was around when moments went toward, or both ways. Each list has the most frequent first; of equals, the one
/// that came up first.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Around {
    /// How many such moments there were.
    pub moments: u64,
    /// What showed up in them.
    pub showed_up: Vec<Times>,
    /// What was done in them.
    pub did: Vec<Times>,
    /// For whom or what it was.
    pub served: Vec<Times>,
}

/// How important something is, and how close to it the person lived, said at one time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct LivedPair {
    /// When.
    pub at: Timestamp,
    /// How important, 0 to 10.
    pub importance: u8,
    /// How close, 0 to 10.
    pub closeness: u8,
}

/// What was said of one thing that matters.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Living {
    /// The thing that matters.
    pub entry: EntryId,
    /// The pairs up to the end that was asked for, oldest first. Never empty.
    pub pairs: Vec<LivedPair>,
}

/// A look back.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Lookback {
    /// From here on: the date that was asked for, or else the first moment; nothing when there is no moment.
    pub from: Option<Timestamp>,
    /// Up to here.
    pub until: Timestamp,
    /// How the moments in between went.
    pub ways: Ways,
    /// The share of toward moments among all of them.
    pub toward: Option<Share>,
    /// Before and since, when a date was asked for.
    pub before_since: Option<BeforeSince>,
    /// The weeks, oldest first.
    pub weeks: Vec<Week>,
    /// How toward moments went over the whole weeks; nothing under [`LEAST_WEEKS`] of them.
    pub over_weeks: Option<OverWeeks>,
    /// What followed each hook.
    pub followed: Vec<Followed>,
    /// What was around when moments went toward.
    pub around: Around,
    /// How important, how close: pairs for each thing that matters, in the order in which they were first rated.
    pub living: Vec<Living>,
    /// The mean of importance times closeness over the latest pair of each thing, 0 to 100; for the JSON form only,
    /// since on a screen it would read as a verdict. Source: K. G. Wilson and others, Psychol. Rec. 60 (2010) 249-272.
    pub composite: Option<f64>,
}

/// Looks back at a map. Reads no clock: what is "now" is asked for.
#[must_use]
pub fn look_back(map: &Map, asked: &Asked) -> Lookback {
    let until_end = || map.moments().iter().filter(|moment| moment.at <= asked.until);
    let from = asked.since.or_else(|| until_end().map(|moment| moment.at).min());
    let within = || until_end().filter(|moment| from.is_some_and(|from| from <= moment.at));
    let ways = counted(within());
    let weeks = from.map_or_else(Vec::new, |from| weeks(within(), from, asked.until, &asked.zone));
    let living = living(map, asked.until);
    Lookback {
        from,
        until: asked.until,
        ways,
        toward: share(ways),
        before_since: asked.since.map(|since| {
            let before = counted(until_end().filter(|moment| moment.at < since));
            let enough = before.moments >= LEAST_FOR_SHARE && ways.moments >= LEAST_FOR_SHARE;
            let difference = || newcombe((ways.toward, ways.moments), (before.toward, before.moments));
            BeforeSince {
                since,
                before,
                after: ways,
                difference: enough.then(difference).flatten(),
            }
        }),
        over_weeks: over_weeks(&weeks),
        weeks,
        followed: followed(within()),
        around: around(within()),
        composite: composite(&living),
        living,
    }
}

fn counted<'m>(moments: impl Iterator<Item = &'m Moment>) -> Ways {
    let mut ways = Ways::default();
    for moment in moments {
        ways.add(moment.way);
    }
    ways
}

fn share(ways: Ways) -> Option<Share> {
    if ways.moments < LEAST_FOR_SHARE {
        return None;
    }
    Some(Share {
        part: ways.toward,
        whole: ways.moments,
        share: ways.toward as f64 / ways.moments as f64,
        interval: wilson(ways.toward, ways.moments)?,
    })
}

fn over_weeks(weeks: &[Week]) -> Option<OverWeeks> {
    let whole = weeks.iter().filter(|week| week.whole);
    let toward: Vec<f64> = whole.map(|week| week.ways.toward as f64).collect();
    if toward.len() < LEAST_WEEKS {
        return None;
    }
    let trend = mann_kendall(&toward)?;
    let direction = match trend.s {
        _ if trend.two_sided >= LEVEL => Direction::CannotTell,
        1.. => Direction::More,
        _ => Direction::Fewer,
    };
    Some(OverWeeks { direction, trend })
}

fn around<'m>(moments: impl Iterator<Item = &'m Moment>) -> Around {
    let mut number = 0;
    let [mut showed_up, mut did, mut served] = [Tally::default(), Tally::default(), Tally::default()];
    for moment in moments.filter(|moment| matches!(moment.way, Way::Toward | Way::Both)) {
        number += 1;
        showed_up.add(&moment.showed_up);
        did.add(&moment.did);
        served.add(&moment.serves);
    }
    Around {
        moments: number,
        showed_up: showed_up.most_first(),
        did: did.most_first(),
        served: served.most_first(),
    }
}

/// Counts of entries, in the order in which they first came up.
#[derive(Default)]
struct Tally {
    times: Vec<Times>,
    place_of: HashMap<EntryId, usize>,
}

impl Tally {
    fn add(&mut self, entries: &[EntryId]) {
        for entry in distinct(entries) {
            let times = &mut self.times;
            let place = *self.place_of.entry(entry).or_insert_with(|| {
                times.push(Times { entry, times: 0 });
                times.len() - 1
            });
            times[place].times += 1;
        }
    }

    fn most_first(mut self) -> Vec<Times> {
        self.times.sort_by_key(|one| std::cmp::Reverse(one.times));
        self.times
    }
}

fn living(map: &Map, until: Timestamp) -> Vec<Living> {
    let mut all: Vec<Living> = Vec::new();
    let mut place_of: HashMap<EntryId, usize> = HashMap::new();
    for said in map.lived().iter().filter(|said| said.at <= until) {
        let place = *place_of.entry(said.entry).or_insert_with(|| {
            let (entry, pairs) = (said.entry, Vec::new());
            all.push(Living { entry, pairs });
            all.len() - 1
        });
        all[place].pairs.push(LivedPair {
            at: said.at,
            importance: said.importance,
            closeness: said.closeness,
        });
    }
    all
}

fn composite(living: &[Living]) -> Option<f64> {
    let latest: Vec<_> = living.iter().filter_map(|one| one.pairs.last()).collect();
    let products = latest
        .iter()
        .map(|pair| f64::from(pair.importance) * f64::from(pair.closeness));
    (!latest.is_empty()).then(|| products.sum::<f64>() / latest.len() as f64)
}
