//! What a sitting remembers of the screen: several quiet findings together call for a pause.

use serde::Deserialize;
use serde::Serialize;

use crate::safety::Level;
use crate::safety::Screened;

/// How many quiet entries in a sitting make a pause; common practice, no source.
const QUIETS: usize = 3;

/// Counts quiet findings over one sitting. It holds no words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Watch {
    quiets: usize,
}

impl Watch {
    /// A watch at the beginning of a sitting.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The level of an entry in the light of those before it: the third quiet one becomes a pause and the count
    /// begins anew. Every other level stays as it is.
    pub fn level(&mut self, screened: &Screened) -> Level {
        let level = screened.level();
        if level != Level::Quiet {
            return level;
        }
        self.quiets += 1;
        if self.quiets < QUIETS {
            return level;
        }
        self.quiets = 0;
        Level::Pause
    }
}
