//! Makes events for the tests: identities are numbers, and so are times.

use jiff::Timestamp;
use uuid::Uuid;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::History;
use wayfold::map::Link;
use wayfold::map::Map;
use wayfold::map::MomentId;
use wayfold::map::TraceId;
use wayfold::map::Way;
use wayfold::map::What;
use wayfold::safety::Words;

/// Monday, 6 January 2025, at noon in UTC, and so many seconds.
pub(crate) fn time(seconds: i64) -> Timestamp {
    Timestamp::from_second(1_736_164_800 + seconds).unwrap()
}

/// So many days after [`time`] zero.
pub(crate) fn day(days: i64) -> Timestamp {
    time(days * 86_400)
}

pub(crate) fn id(number: u32) -> EntryId {
    EntryId(Uuid::from_u128(u128::from(number)))
}

pub(crate) fn words(text: &str) -> Words {
    wayfold::safety::screen(text).into_words()
}

/// An event whose identity sorts by its number.
pub(crate) fn event(number: u32, at: Timestamp, what: What) -> Event {
    let id = EventId(Uuid::from_u128(u128::from(number)));
    Event { id, at, what }
}

/// Events in the order in which they are said, each an hour after the one before unless a time is given.
#[derive(Default)]
pub(crate) struct Told {
    pub(crate) events: Vec<Event>,
}

impl Told {
    pub(crate) fn at(&mut self, at: Timestamp, what: What) -> &mut Self {
        let number = u32::try_from(self.events.len()).unwrap();
        self.events.push(event(number, at, what));
        self
    }

    pub(crate) fn say(&mut self, what: What) -> &mut Self {
        let hours = i64::try_from(self.events.len()).unwrap();
        self.at(time(hours * 3600), what)
    }

    pub(crate) fn entry(&mut self, number: u32, field: Field, text: &str) -> &mut Self {
        self.say(What::EntryAdded {
            entry: id(number),
            field,
            kind: None,
            words: words(text),
        })
    }

    pub(crate) fn link(&mut self, from: u32, to: u32, link: Link) -> &mut Self {
        self.say(What::Linked {
            from: id(from),
            to: id(to),
            link,
        })
    }

    pub(crate) fn trace(&mut self, number: u32, hook: u32, away: u32, back_to: Option<u32>) -> &mut Self {
        self.say(What::LoopTraced {
            trace: TraceId(Uuid::from_u128(u128::from(number))),
            hook: id(hook),
            away: id(away),
            relief: Some(words("quiet for an hour")),
            cost: Some(words("one more thing undone")),
            back_to: back_to.map(id),
            matters: None,
        })
    }

    pub(crate) fn moment_at(
        &mut self,
        at: Timestamp,
        showed_up: &[u32],
        did: &[u32],
        way: Way,
        serves: &[u32],
    ) -> &mut Self {
        let number = self.events.len() as u128;
        let all = |numbers: &[u32]| numbers.iter().copied().map(id).collect();
        self.at(
            at,
            What::MomentNoted {
                moment: MomentId(Uuid::from_u128(number)),
                showed_up: all(showed_up),
                did: all(did),
                way,
                serves: all(serves),
                words: None,
            },
        )
    }

    pub(crate) fn moment(&mut self, showed_up: &[u32], did: &[u32], way: Way, serves: &[u32]) -> &mut Self {
        let hours = i64::try_from(self.events.len()).unwrap();
        self.moment_at(time(hours * 3600), showed_up, did, way, serves)
    }

    pub(crate) fn map(&self) -> Map {
        Map::fold(&self.events)
    }

    pub(crate) fn history(&self) -> History {
        History::new(self.events.clone())
    }
}
