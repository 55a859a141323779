//! The guide's voice in a sitting: what the terminal says is gathered and read once the person is asked for something.
//! Any key stops it, and so does speaking where headphones keep the two voices apart.

use std::time::Duration;

use crate::voice::Line;
use crate::voice::Speaker;
use crate::voice::Stopper;
use crate::voice::VoiceError;

/// The silence between one thing that is said and the next.
const BREATH: Duration = Duration::from_millis(350);

/// What is to be read, and who reads it.
pub(crate) struct Aloud {
    speaker: Speaker,
    lines: Vec<Line>,
}

impl Aloud {
    /// Finds a voice.
    pub(crate) fn open(language: &str) -> Result<Self, VoiceError> {
        Ok(Self {
            speaker: Speaker::open(language)?,
            lines: Vec::new(),
        })
    }

    /// What stops the voice from where keys are read.
    pub(crate) fn stopper(&self) -> Stopper {
        self.speaker.stopper()
    }

    /// Adds something to be read.
    pub(crate) fn add(&mut self, text: &str) {
        if text.chars().any(char::is_alphanumeric) {
            self.lines.push(Line {
                text: text.to_owned(),
                pause: BREATH,
            });
        }
    }

    /// Begins to read what was gathered.
    pub(crate) fn begin(&mut self) {
        if !self.lines.is_empty() {
            self.speaker.say(std::mem::take(&mut self.lines));
        }
    }

    /// Whether it is reading right now.
    pub(crate) fn speaking(&self) -> bool {
        self.speaker.speaking()
    }

    /// Stops at once.
    pub(crate) fn hush(&mut self) {
        self.speaker.stop();
    }

    /// Reads what is left, to the end.
    pub(crate) fn finish(&mut self) {
        self.begin();
        // If the voice went away, the words are on the screen all the same.
        let _ = self.speaker.wait();
    }
}
