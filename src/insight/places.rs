//! Gives entries small numbers, so that counting what was in many moments is adding to a list.

use rustc_hash::FxHashMap;

use crate::map::EntryId;

/// Entries in the order in which they first came up. The place of each in that order is its number.
#[derive(Default)]
pub(in crate::insight) struct Places {
    order: Vec<EntryId>,
    place_of: FxHashMap<EntryId, usize>,
}

impl Places {
    /// Writes the numbers of the entries of a short list into `numbers`, each once.
    pub(in crate::insight) fn number(&mut self, entries: &[EntryId], numbers: &mut Vec<usize>) {
        numbers.clear();
        for entry in entries {
            let order = &mut self.order;
            let place = *self.place_of.entry(*entry).or_insert_with(|| {
                order.push(*entry);
                order.len() - 1
            });
            if !numbers.contains(&place) {
                numbers.push(place);
            }
        }
    }

    /// The entries by their numbers.
    pub(in crate::insight) fn entries(&self) -> &[EntryId] {
        &self.order
    }
}
