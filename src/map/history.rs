//! The history: every event once, in the order of their identities, whatever order they came in.

use std::collections::HashSet;

use jiff::Timestamp;

use crate::map::Event;
use crate::map::EventId;
use crate::map::Map;
use crate::map::What;

/// Every event of one store, and the map they make. Grow-only: adding an event twice changes nothing, and the order
/// of adding does not matter.
#[derive(Clone, Debug, Default)]
pub struct History {
    /// In the order of their identities. New ones nearly always come last.
    events: Vec<Event>,
    /// The events that some event takes back, whether they have come yet or not: of two devices, one clock may lag.
    taken_back: HashSet<EventId>,
    map: Map,
}

impl History {
    /// Gathers events from anywhere, in any order.
    #[must_use]
    pub fn new(events: impl IntoIterator<Item = Event>) -> Self {
        let mut events: Vec<_> = events.into_iter().collect();
        // A store gives them in their order, nearly always.
        if !events.is_sorted_by(|one, next| one.id < next.id) {
            events.sort_by_key(|event| event.id);
            events.dedup_by_key(|event| event.id);
        }
        let map = Map::fold(&events);
        let taken_back = events.iter().filter_map(takes_back).collect();
        Self {
            events,
            taken_back,
            map,
        }
    }

    /// Adds events. Newest-first additions are cheap; an older event, or one taken back, folds the map afresh.
    pub fn add(&mut self, events: impl IntoIterator<Item = Event>) {
        let mut fresh_fold = false;
        for event in events {
            let Err(place) = self.place(event.id) else {
                continue;
            };
            let newest = place == self.events.len();
            if let Some(target) = takes_back(&event) {
                self.taken_back.insert(target);
                fresh_fold = true;
            } else if self.taken_back.contains(&event.id) {
                // It was taken back before it came, so the map never hears of it.
            } else if newest && !fresh_fold {
                self.map.apply(&event);
            } else {
                fresh_fold = true;
            }
            self.events.insert(place, event);
        }
        if fresh_fold {
            self.map = Map::fold(&self.events);
        }
    }

    /// Where an event is, or else where it would have to be.
    fn place(&self, id: EventId) -> Result<usize, usize> {
        match self.events.last() {
            Some(last) if last.id < id => Err(self.events.len()),
            _ => self.events.binary_search_by_key(&id, |event| event.id),
        }
    }

    /// Whether an event was taken back, so that it counts as never said.
    #[must_use]
    pub fn is_taken_back(&self, id: EventId) -> bool {
        self.taken_back.contains(&id)
    }

    /// Lets events go that no longer count: taken back, or places of a sitting that is over. The map stays as it is.
    pub fn forget(&mut self, events: &[EventId]) {
        let gone: HashSet<_> = events.iter().collect();
        self.events.retain(|event| !gone.contains(&event.id));
    }

    /// The map as it is now.
    #[must_use]
    pub fn map(&self) -> &Map {
        &self.map
    }

    /// The map as it was at a moment in the past: the fold of the events up to and including it.
    #[must_use]
    pub fn map_at(&self, until: Timestamp) -> Map {
        Map::fold(self.events.iter().filter(|event| event.at <= until))
    }

    /// Every event, oldest first.
    #[must_use]
    pub fn events(&self) -> impl DoubleEndedIterator<Item = &Event> {
        self.events.iter()
    }

    /// One event.
    #[must_use]
    pub fn event(&self, id: EventId) -> Option<&Event> {
        self.place(id).ok().map(|place| &self.events[place])
    }

    /// How many events there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.events.len()
    }

    /// Whether nothing has been recorded yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }
}

/// The event that this one takes back, if it takes one back.
fn takes_back(event: &Event) -> Option<EventId> {
    match event.what {
        What::TakenBack { event } => Some(event),
        _ => None,
    }
}
