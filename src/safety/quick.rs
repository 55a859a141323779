//! A quick hash for tables that are ours and only looked up, so that nobody can fill them with words that collide.

use std::hash::BuildHasherDefault;
use std::hash::Hasher;

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
        for eight in bytes.chunks(8) {
            let mut word = [0; 8];
            word[..eight.len()].copy_from_slice(eight);
            self.write_u64(u64::from_le_bytes(word));
        }
    }

    fn write_u8(&mut self, byte: u8) {
        self.write_u64(u64::from(byte));
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(5) ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }
}
