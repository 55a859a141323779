//! A list that keeps the order in which things came, and finds each by its identity at once, so that folding a long
//! history takes time in proportion to its length.

use std::hash::BuildHasher;
use std::hash::Hash;

use hashbrown::HashTable;
use hashbrown::hash_table::Entry;
use rustc_hash::FxBuildHasher;

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
#[derive(Clone, Debug)]
pub(in crate::map) struct Kept<T: Keyed> {
    items: Vec<T>,
    /// Where each thing is, found by its identity. Four bytes a thing, and none of them the identity itself, which the
    /// thing has: of a long history more of it then stays close to the processor.
    places: HashTable<u32>,
}

impl<T: Keyed> Default for Kept<T> {
    fn default() -> Self {
        Self {
            items: Vec::new(),
            places: HashTable::new(),
        }
    }
}

impl<T: Keyed + PartialEq> PartialEq for Kept<T> {
    fn eq(&self, other: &Self) -> bool {
        self.items == other.items
    }
}

impl<T: Keyed> Kept<T> {
    /// Makes room for so many more, so that taking them in moves nothing about.
    pub(in crate::map) fn make_room(&mut self, more: usize) {
        self.items.reserve(more);
        let items = &self.items;
        self.places
            .reserve(more, |place| hash(items[*place as usize].key()));
    }

    /// Takes in a thing at the end, unless one with its identity is here: the first to come stays. It is made only
    /// when it is taken in.
    pub(in crate::map) fn add(&mut self, key: T::Key, make: impl FnOnce() -> T) {
        // Memory ends long before this does.
        let Ok(place) = u32::try_from(self.items.len()) else {
            return;
        };
        let items = &self.items;
        let is_it = |place: &u32| items[*place as usize].key() == key;
        let free = self
            .places
            .entry(hash(key), is_it, |place| hash(items[*place as usize].key()));
        if let Entry::Vacant(free) = free {
            free.insert(place);
            self.items.push(make());
        }
    }

    /// Lets a thing go. It stays in the slice until [`Kept::settle`], but can no longer be found.
    pub(in crate::map) fn let_go(&mut self, key: T::Key) {
        let items = &self.items;
        let is_it = |place: &u32| items[*place as usize].key() == key;
        if let Ok(found) = self.places.find_entry(hash(key), is_it) {
            found.remove();
        }
    }

    /// Closes the gaps that were left since the last time. Does nothing when there are none.
    pub(in crate::map) fn settle(&mut self) {
        if self.items.len() == self.places.len() {
            return;
        }
        let mut stays = vec![false; self.items.len()];
        for place in &self.places {
            stays[*place as usize] = true;
        }
        let mut stays = stays.into_iter();
        self.items.retain(|_| stays.next().unwrap_or(true));
        self.places.clear();
        for (place, item) in (0..).zip(&self.items) {
            self.places.insert_unique(hash(item.key()), place, |place| {
                hash(self.items[*place as usize].key())
            });
        }
    }

    /// One thing.
    pub(in crate::map) fn get(&self, key: T::Key) -> Option<&T> {
        self.place(key).map(|place| &self.items[place])
    }

    /// One thing, to change it. Its identity must stay.
    pub(in crate::map) fn get_mut(&mut self, key: T::Key) -> Option<&mut T> {
        self.place(key).map(|place| &mut self.items[place])
    }

    /// Where a thing is among all of them.
    pub(in crate::map) fn place(&self, key: T::Key) -> Option<usize> {
        let is_it = |place: &u32| self.items[*place as usize].key() == key;
        self.places.find(hash(key), is_it).map(|place| *place as usize)
    }

    /// All of them, in the order in which they came.
    pub(in crate::map) fn as_slice(&self) -> &[T] {
        &self.items
    }
}

fn hash(key: impl Hash) -> u64 {
    FxBuildHasher.hash_one(key)
}
