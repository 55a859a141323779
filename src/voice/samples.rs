//! A person's voice in memory: one type that holds it, shows it to nobody, and wipes it when it is dropped.

use std::fmt;

use zeroize::Zeroize;
use zeroize::ZeroizeOnDrop;

/// Sound at 16 kHz, one channel, from -1 to 1; wiped when dropped, and never shown by `Debug`.
#[derive(Clone, Default, Zeroize, ZeroizeOnDrop)]
pub struct Samples(Vec<f32>);

impl Samples {
    /// Samples a second.
    pub const RATE: u32 = 16_000;

    /// The longest recording that is taken at once, in seconds.
    pub const MOST_SECONDS: u32 = 600;

    /// Takes sound that already is at [`Self::RATE`] with one channel.
    #[must_use]
    pub fn new(samples: Vec<f32>) -> Self {
        Self(samples)
    }

    /// Room for this many seconds, so that growing never leaves an unwiped copy behind.
    pub(super) fn with_room(seconds: u32) -> Self {
        Self(Vec::with_capacity(Self::RATE as usize * seconds as usize))
    }

    /// Appends as much as still has room; tells whether all of it had.
    pub(super) fn push(&mut self, more: &[f32]) -> bool {
        let room = self.0.capacity() - self.0.len();
        self.0.extend_from_slice(&more[..more.len().min(room)]);
        more.len() <= room
    }

    /// The sound itself.
    #[must_use]
    pub fn as_slice(&self) -> &[f32] {
        &self.0
    }

    /// The length in seconds.
    #[must_use]
    pub fn seconds(&self) -> f32 {
        self.0.len() as f32 / Self::RATE as f32
    }

    /// Whether there is no sound at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl fmt::Debug for Samples {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Samples({:.1} s)", self.seconds())
    }
}
