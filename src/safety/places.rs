//! Sets of places among the words of a stretch, all of which are moved and compared at once.

/// A set of places among the words of a stretch: before the first word is 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Places<const BLOCKS: usize>([u64; BLOCKS]);

impl<const BLOCKS: usize> Places<BLOCKS> {
    /// No place.
    pub(super) const NONE: Self = Self([0; BLOCKS]);

    /// Puts a place into the set.
    pub(super) fn add(&mut self, place: usize) {
        self.0[place / 64] |= 1 << (place % 64);
    }

    /// Whether there is no place in the set.
    pub(super) fn is_empty(self) -> bool {
        self.0.iter().fold(0, |all, block| all | block) == 0
    }

    /// The places that are in both.
    pub(super) fn and(mut self, other: Self) -> Self {
        for (block, with) in self.0.iter_mut().zip(other.0) {
            *block &= with;
        }
        self
    }

    /// The places that are in one or the other.
    pub(super) fn or(mut self, other: Self) -> Self {
        for (block, with) in self.0.iter_mut().zip(other.0) {
            *block |= with;
        }
        self
    }

    /// The same places, each one word further.
    pub(super) fn next(mut self) -> Self {
        let mut carried = 0;
        for block in &mut self.0 {
            let over = *block >> 63;
            *block = *block << 1 | carried;
            carried = over;
        }
        self
    }
}

/// What was found out about some numbered things in a stretch, each when it was first asked for.
#[derive(Debug)]
pub(super) struct Memo<const BLOCKS: usize> {
    // For each thing the place of its answer among the answers, counted from 1; 0 is not asked yet.
    places: Vec<u32>,
    answers: Vec<(u32, Places<BLOCKS>)>,
}

impl<const BLOCKS: usize> Memo<BLOCKS> {
    /// Knows nothing yet about so many things.
    pub(super) fn new(things: usize) -> Self {
        Self {
            places: vec![0; things],
            answers: Vec::new(),
        }
    }

    /// Forgets all answers, in time that grows with their number and not with the number of things.
    pub(super) fn clear(&mut self) {
        for (thing, _) in self.answers.drain(..) {
            self.places[thing as usize] = 0;
        }
    }

    /// What was found out about a thing.
    pub(super) fn get(&self, thing: u32) -> Option<Places<BLOCKS>> {
        let place = self.places[thing as usize].checked_sub(1)?;
        Some(self.answers[place as usize].1)
    }

    /// Remembers what was found out about a thing.
    pub(super) fn set(&mut self, thing: u32, answer: Places<BLOCKS>) {
        self.answers.push((thing, answer));
        self.places[thing as usize] = u32::try_from(self.answers.len()).unwrap_or_default();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_at_the_end_of_one_block_goes_on_into_the_next() {
        let only = |place: usize| {
            let mut places = Places::<3>::NONE;
            places.add(place);
            places
        };
        for place in 0..191 {
            assert_eq!(only(place).next(), only(place + 1), "{place}");
        }
        assert!(only(191).next().is_empty(), "there is no place after the last");
    }
}
