//! A set of small numbers, one bit for each.

use std::ops::Range;

use serde::Deserialize;
use serde::Serialize;

/// The set.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
pub(super) struct Bits(Vec<u64>);

/// Some numbers that share one piece of a set, to be put into it at once.
#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
pub(super) struct Few {
    /// Which piece.
    pub place: u32,
    /// Which numbers of the piece.
    pub bits: u64,
}

impl Bits {
    /// An empty set of numbers below a bound.
    pub(super) fn new(bound: usize) -> Self {
        Self(vec![0; bound.div_ceil(64)])
    }

    /// Puts a number into the set.
    pub(super) fn set(&mut self, number: u32) {
        self.0[number as usize / 64] |= 1 << (number % 64);
    }

    /// Puts some numbers into the set.
    pub(super) fn set_all(&mut self, numbers: &[Few]) {
        for few in numbers {
            self.0[few.place as usize] |= few.bits;
        }
    }

    /// Takes a number out of the set.
    pub(super) fn unset(&mut self, number: u32) {
        self.0[number as usize / 64] &= !(1 << (number % 64));
    }

    /// Whether a number is in the set.
    pub(super) fn has(&self, number: u32) -> bool {
        self.0[number as usize / 64] >> (number % 64) & 1 == 1
    }

    /// The first number of a range that is in the set.
    pub(super) fn first(&self, range: Range<usize>) -> Option<usize> {
        let mut at = range.start;
        while at < range.end {
            let rest = self.0[at / 64] >> (at % 64);
            if rest != 0 {
                let found = at + rest.trailing_zeros() as usize;
                return (found < range.end).then_some(found);
            }
            at = at / 64 * 64 + 64;
        }
        None
    }

    /// Becomes like another set of the same bound.
    pub(super) fn copy(&mut self, other: &Self) {
        self.0.copy_from_slice(&other.0);
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn the_bits_are_a_set(numbers in prop::collection::vec(0..300_u32, 0..30), out in 0..300_u32, from in 0..300_usize, to in 0..300_usize) {
            let mut bits = Bits::new(300);
            let mut set = BTreeSet::new();
            let mut few = Vec::new();
            let (one_by_one, at_once) = numbers.split_at(numbers.len() / 2);
            for number in one_by_one {
                bits.set(*number);
            }
            let mut at_once = at_once.to_vec();
            at_once.sort_unstable();
            for number in at_once {
                Few::add(&mut few, number);
            }
            bits.set_all(&few);
            set.extend(numbers.iter().map(|number| *number as usize));
            bits.unset(out);
            set.remove(&(out as usize));
            prop_assert!((0..300).all(|number| bits.has(number) == set.contains(&(number as usize))));
            let first = set.iter().copied().find(|number| (from..to).contains(number));
            prop_assert_eq!(bits.first(from..to), first);
        }
    }
}
