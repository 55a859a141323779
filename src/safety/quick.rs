//! A quick hash for tables that are ours and only looked up, so that nobody can fill them with words that collide.

use std::collections::BTreeMap;
use std::collections::HashMap;
use std::hash::BuildHasherDefault;
use std::hash::Hasher;

use serde::Serialize;
use serde::Serializer;

/// Builds the hash.
pub(super) type Quick = BuildHasherDefault<QuickHasher>;

/// The hash of a word or a number.
#[derive(Debug, Default)]
pub(super) struct QuickHasher(u64);

impl Hasher for QuickHasher {
    fn finish(&self) -> u64 {
        self.0 ^ self.0 >> 29
    }

    fn write(&mut self, bytes: &[u8]) {
        let (eights, rest) = bytes.as_chunks();
        for eight in eights {
            self.write_u64(u64::from_le_bytes(*eight));
        }
        if !rest.is_empty() {
            let word = rest
                .iter()
                .rev()
                .fold(0, |word, byte| word << 8 | u64::from(*byte));
            self.write_u64(word);
        }
    }

    fn write_u8(&mut self, byte: u8) {
        self.write_u64(u64::from(byte));
    }

    fn write_u128(&mut self, words: u128) {
        for eight in words.to_le_bytes().as_chunks().0 {
            self.write_u64(u64::from_le_bytes(*eight));
        }
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(5) ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }
}

/// Writes a table in the order of its keys, so that what is built twice from the same files is the same.
pub(super) fn sorted<K: Ord + Serialize, V: Serialize, S: Serializer>(
    table: &HashMap<K, V, Quick>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    table.iter().collect::<BTreeMap<_, _>>().serialize(serializer)
}
