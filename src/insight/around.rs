//! What was around when moments went toward: which entries, and how many times.

use serde::Serialize;

use crate::insight::places::Places;
use crate::map::EntryId;

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

/// Counts of entries by their numbers.
#[derive(Default)]
pub(in crate::insight) struct Tally {
    times: Vec<u64>,
    /// The numbers in the order in which they first came up here.
    order: Vec<usize>,
}

impl Tally {
    /// Counts each of these once more.
    pub(in crate::insight) fn add(&mut self, numbers: &[usize]) {
        for &number in numbers {
            if self.times.len() <= number {
                self.times.resize(number + 1, 0);
            }
            if self.times[number] == 0 {
                self.order.push(number);
            }
            self.times[number] += 1;
        }
    }

    /// The counts with their entries, as [`Around`] orders them.
    pub(in crate::insight) fn most_first(&self, places: &Places) -> Vec<Times> {
        let one = |&number: &usize| {
            let (entry, times) = (places.entries()[number], self.times[number]);
            Times { entry, times }
        };
        let mut all: Vec<Times> = self.order.iter().map(one).collect();
        all.sort_by_key(|one| std::cmp::Reverse(one.times));
        all
    }
}
