//! Identities and times for new events. The pure rooms take them as values; here is where they come from.

use jiff::Timestamp;
use uuid::ContextV7;
use uuid::Uuid;

use crate::map::Event;
use crate::map::EventId;
use crate::map::What;

/// Mints identities that only ever grow, even when the clock is set back.
pub(crate) struct Minting {
    context: ContextV7,
    not_before: u64,
}

impl Minting {
    /// Starts after the newest event there is.
    pub(crate) fn after(newest: Option<EventId>) -> Self {
        let milliseconds = newest.and_then(|id| id.0.get_timestamp()).map_or(0, |time| {
            let (seconds, nanoseconds) = time.to_unix();
            seconds * 1_000 + u64::from(nanoseconds) / 1_000_000 + 1
        });
        Self {
            context: ContextV7::new(),
            not_before: milliseconds,
        }
    }

    /// A new identity: a version 7 UUID (RFC 9562, section 5.7) above every earlier one.
    pub(crate) fn identity(&mut self) -> Uuid {
        let now = u64::try_from(Timestamp::now().as_millisecond()).unwrap_or(0);
        self.not_before = self.not_before.max(now);
        let nanoseconds = u32::try_from(self.not_before % 1_000).unwrap_or(0) * 1_000_000;
        let time = uuid::Timestamp::from_unix(&self.context, self.not_before / 1_000, nanoseconds);
        Uuid::new_v7(time)
    }

    /// A new event, now.
    pub(crate) fn event(&mut self, what: What) -> Event {
        Event {
            id: EventId(self.identity()),
            at: Timestamp::now(),
            what,
        }
    }
}
