//! The ear: a speech model, loaded once, that turns a recording into words.
//!
//! Most of the time goes into looking at the sound, and the model is made to look at 30 s whatever it is given.
//! So the ear asks it to look only at the length there is, never under a floor below which it was seen to loop.

use std::ops::Range;
use std::path::Path;
use std::path::PathBuf;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use super::Ended;
use super::Heard;
use super::Level;
use super::Listening;
use super::Microphone;
use super::Samples;
use super::VoiceError;
use super::microphone::Listener;

mod echo;
#[cfg(feature = "voice")]
mod engine;
#[cfg(not(feature = "voice"))]
#[path = "ear/missing.rs"]
mod engine;

pub use engine::Ear;

/// What may help the ear: the language, and names and words from the person's own map.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Hints {
    /// The language as two letters, such as `en`; found by the model itself if none is given and it can.
    pub language: Option<String>,
    /// What fits as an answer, where only a few words do: numbers and choices, likeliest first.
    pub choices: Vec<String>,
    /// Whether nothing but these choices fits.
    pub only: bool,
    /// Names and rare words that may well be said, most likely first; about 40 are used.
    pub names: Vec<String>,
}

/// How hard the ear tries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Threads, at least 1.
    pub threads: u16,
    /// How many readings are followed side by side, 1 to 8: more is slower and a little better.
    pub beam: u8,
    /// The longest time for one utterance before it is given up.
    pub bound: Duration,
}

impl Default for Effort {
    /// All cores up to four, five readings, 30 s. On an idle machine five readings took a third longer than one; on
    /// 20 made sentences they had 6.7 % wrong words, one had 7.5 % and two had 7.9 %.
    fn default() -> Self {
        let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        let threads = u16::try_from(cores.min(4)).unwrap_or(1);
        Self {
            threads,
            beam: 5,
            bound: Duration::from_secs(30),
        }
    }
}

/// An ear that is being loaded while the person reads the first prompts.
#[derive(Debug)]
pub struct Loading(std::thread::JoinHandle<Result<Ear, VoiceError>>);

impl Loading {
    /// The ear, once it is there.
    ///
    /// # Errors
    /// Those of [`Ear::load`].
    pub fn wait(self) -> Result<Ear, VoiceError> {
        self.0.join().unwrap_or(Err(VoiceError::Engine))
    }
}

impl Ear {
    /// Loads in a thread of its own.
    #[must_use]
    pub fn load_in_background(model: PathBuf, activity: PathBuf) -> Loading {
        Loading(std::thread::spawn(move || Self::load(&model, &activity)))
    }

    /// Loads a model with the default effort.
    ///
    /// # Errors
    /// `File` or `BadModel` for either file, `Engine`, or `NotBuilt` without the feature `voice`.
    pub fn load(model: &Path, activity: &Path) -> Result<Self, VoiceError> {
        Self::load_with(model, activity, Effort::default())
    }

    /// What is said in a recording. Silence and noise give empty text.
    ///
    /// # Errors
    /// `NotFinite`, `TookTooLong`, `Engine`, or `NotBuilt` without the feature `voice`.
    pub fn hear(&mut self, samples: &Samples, hints: &Hints) -> Result<Heard, VoiceError> {
        let start = std::time::Instant::now();
        if samples.as_slice().iter().any(|sample| !sample.is_finite()) {
            return Err(VoiceError::NotFinite);
        }
        let mut heard = self.words(samples, hints)?;
        let recited = echo::recited(&heard.text, &hints.choices);
        let told = |list: &[String]| !hints.only && echo::told_in(&heard.text, list);
        if recited || told(&hints.names) || told(&hints.choices) {
            let untold = Hints {
                language: hints.language.clone(),
                ..Hints::default()
            };
            let plain = self.words(samples, &untold)?;
            if recited || echo::made_up(&heard.text, &plain.text) {
                heard = plain;
            }
        }
        heard.seconds = samples.seconds();
        heard.took = start.elapsed();
        Ok(heard)
    }

    /// Listens to a microphone and writes down what is said. The words so far are heard at every short lull and
    /// told to `during`, so that they stand there before the pause is over; nobody waits twice. Where the listening
    /// ended in another way, they are still to be heard, by whoever wants them: see [`TakenDown::words`].
    ///
    /// # Errors
    /// Those of [`Microphone::listen`], and of [`Self::hear`] at a lull.
    pub fn take_down(
        &mut self,
        microphone: &Microphone,
        settings: &Listening,
        hints: &Hints,
        during: &mut dyn FnMut(During<'_>),
        stop: &AtomicBool,
    ) -> Result<TakenDown, VoiceError> {
        let mut writing = Writing {
            ear: self,
            hints,
            during,
            heard: None,
        };
        let (samples, ended) = microphone.run(settings, &mut writing, stop)?;
        let heard = writing.heard.filter(|_| ended == Ended::Pause);
        Ok(TakenDown {
            heard,
            samples,
            ended,
        })
    }
}

/// What happens while a person speaks.
#[derive(Debug)]
pub enum During<'a> {
    /// How loud it is.
    Level(Level),
    /// The words so far; more may come, and then these are heard anew with the rest.
    Words(&'a Heard),
}

/// What came of listening.
#[derive(Debug)]
pub struct TakenDown {
    /// The words, where a lull before the pause had all of them.
    heard: Option<Heard>,
    /// The recording, for a person who asked to keep it.
    pub samples: Samples,
    /// Why the listening ended.
    pub ended: Ended,
}

impl TakenDown {
    /// The words, heard now where they were not heard yet.
    ///
    /// # Errors
    /// Those of [`Ear::hear`].
    pub fn words(&mut self, ear: &mut Ear, hints: &Hints) -> Result<Heard, VoiceError> {
        match self.heard.take() {
            Some(heard) => Ok(heard),
            None => ear.hear(&self.samples, hints),
        }
    }
}

struct Writing<'a> {
    ear: &'a mut Ear,
    hints: &'a Hints,
    during: &'a mut dyn FnMut(During<'_>),
    heard: Option<Heard>,
}

impl Listener for Writing<'_> {
    fn spans(&mut self, sound: &[f32]) -> Result<Vec<Range<usize>>, VoiceError> {
        self.ear.activity().spans(sound)
    }

    fn level(&mut self, level: Level) {
        (self.during)(During::Level(level));
    }

    fn lull(&mut self, samples: &Samples) -> Result<(), VoiceError> {
        let heard = self.ear.hear(samples, self.hints)?;
        (self.during)(During::Words(&heard));
        self.heard = Some(heard);
        Ok(())
    }

    fn goes_on(&mut self) {
        self.heard = None;
    }
}
