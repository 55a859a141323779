//! The look back: every number that `wayfold lookback` shows, and nothing that it must not show. Counts come before
//! shares, and where the numbers are too few to say something, there is no number.

use std::collections::HashMap;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde::Serialize;

use crate::insight::around::Around;
use crate::insight::around::Tally;
use crate::insight::newcombe::Difference;
use crate::insight::newcombe::newcombe;
use crate::insight::places::Places;
use crate::insight::sequence::Followed;
use crate::insight::sequence::Following;
use crate::insight::sequence::Ways;
use crate::insight::trend::Trend;
use crate::insight::trend::mann_kendall;
use crate::insight::weeks::ByWeek;
use crate::insight::weeks::Week;
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
    /// The test and the slope, for the JSON form. The slope is in toward moments from one of these weeks to the next: weeks
    /// without a moment are passed over.
    pub trend: Trend,
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
    let mut before = Ways::default();
    let mut by_week = from.map(|from| ByWeek::new(from, asked.until, &asked.zone));
    let mut counting = Counting::default();
    for moment in until_end() {
        match &mut by_week {
            Some(by_week) if from <= Some(moment.at) => {
                by_week.add(moment.at, moment.way);
                counting.add(moment);
            }
            _ => before.add(moment.way),
        }
    }
    let ways = counting.ways;
    let weeks = by_week.map_or_else(Vec::new, ByWeek::finish);
    let living = living(map, asked.until);
    Lookback {
        from,
        until: asked.until,
        ways,
        toward: share(ways),
        before_since: asked.since.map(|since| before_since(since, before, ways)),
        over_weeks: over_weeks(&weeks),
        weeks,
        around: counting.around(),
        followed: counting.following.finish(&counting.hooks, &counting.moves),
        composite: composite(&living),
        living,
    }
}

/// What is counted in one walk over the moments: there may be many, and the walk is what takes the time.
#[derive(Default)]
struct Counting {
    ways: Ways,
    hooks: Places,
    moves: Places,
    served: Places,
    following: Following,
    toward: u64,
    hooks_around: Tally,
    moves_around: Tally,
    served_around: Tally,
    /// The numbers of what was in one moment, kept for their room.
    showed_up: Vec<usize>,
    did: Vec<usize>,
    serves: Vec<usize>,
}

impl Counting {
    fn add(&mut self, moment: &Moment) {
        self.ways.add(moment.way);
        self.hooks.number(&moment.showed_up, &mut self.showed_up);
        self.moves.number(&moment.did, &mut self.did);
        self.following.add(moment.way, &self.showed_up, &self.did);
        if matches!(moment.way, Way::Toward | Way::Both) {
            self.served.number(&moment.serves, &mut self.serves);
            self.toward += 1;
            self.hooks_around.add(&self.showed_up);
            self.moves_around.add(&self.did);
            self.served_around.add(&self.serves);
        }
    }

    fn around(&self) -> Around {
        Around {
            moments: self.toward,
            showed_up: self.hooks_around.most_first(&self.hooks),
            did: self.moves_around.most_first(&self.moves),
            served: self.served_around.most_first(&self.served),
        }
    }
}

fn before_since(since: Timestamp, before: Ways, after: Ways) -> BeforeSince {
    let enough = before.moments >= LEAST_FOR_SHARE && after.moments >= LEAST_FOR_SHARE;
    let difference = || newcombe((after.toward, after.moments), (before.toward, before.moments));
    BeforeSince {
        since,
        before,
        after,
        difference: enough.then(difference).flatten(),
    }
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

/// The trend over the whole weeks in which anything was noted: a week without a note says nothing, and counting it as
/// none would make a trend out of silence.
fn over_weeks(weeks: &[Week]) -> Option<OverWeeks> {
    let whole = weeks.iter().filter(|week| week.whole && week.ways.moments > 0);
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
