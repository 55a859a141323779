//! A list that keeps the order in which things came, and finds each by its identity at once, so that folding a long
//! history takes time in proportion to its length.

use std::hash::Hash;

use rustc_hash::FxHashMap;

/// A thing with an identity.
pub(in crate::map) trait Keyed {
    /// The identity.
    type Key: Copy + Eq + Hash;

    /// What tells it from all others of its sort.
    fn key(&self) -> Self::Key;
}

/// Things in the order in which they came, each once.
///
/// Letting one go only marks its place; [`Kept::settle`] closes the gaps, so many departures cost one pass.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::map) struct Kept<T: Keyed> {
    items: Vec<T>,
    place_of: FxHashMap<T::Key, usize>,
}

impl<T: Keyed> Default for Kept<T> {
    fn default() -> Self {
        Self {
            items: Vec::new(),
            place_of: FxHashMap::default(),
        }
    }
}

impl<T: Keyed> Kept<T> {
    /// Takes in a thing at the end, unless one with its identity is here: the first to come stays.
    pub(in crate::map) fn add(&mut self, item: T) {
        let place = self.items.len();
        if let std::collections::hash_map::Entry::Vacant(free) = self.place_of.entry(item.key()) {
            free.insert(place);
            self.items.push(item);
        }
    }

    /// Lets a thing go. It stays in the slice until [`Kept::settle`], but can no longer be found.
    pub(in crate::map) fn let_go(&mut self, key: T::Key) {
        self.place_of.remove(&key);
    }

    /// Closes the gaps that were left since the last time. Does nothing when there are none.
    pub(in crate::map) fn settle(&mut self) {
        if self.items.len() == self.place_of.len() {
            return;
        }
        let mut old_place = 0;
        let place_of = &self.place_of;
        self.items.retain(|item| {
            let stays = place_of.get(&item.key()) == Some(&old_place);
            old_place += 1;
            stays
        });
        for (place, item) in self.items.iter().enumerate() {
            self.place_of.insert(item.key(), place);
        }
    }

    /// One thing.
    pub(in crate::map) fn get(&self, key: T::Key) -> Option<&T> {
        self.place_of.get(&key).map(|place| &self.items[*place])
    }

    /// One thing, to change it. Its identity must stay.
    pub(in crate::map) fn get_mut(&mut self, key: T::Key) -> Option<&mut T> {
        self.place_of.get(&key).map(|place| &mut self.items[*place])
    }

    /// All of them, in the order in which they came.
    pub(in crate::map) fn as_slice(&self) -> &[T] {
        &self.items
    }
}
