//! Speech at a prompt: loads the model while the person reads, hears a recording or the microphone, and says in one
//! line what is missing when it cannot. Typing always goes on.

use std::env;
use std::path::Path;
use std::path::PathBuf;
use std::sync::atomic::AtomicBool;
use std::sync::atomic::Ordering;

use zeroize::Zeroizing;

use crate::map::Map;
use crate::shell::House;
use crate::shell::arguments::Manner;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Key;
use crate::voice::Ear;
use crate::voice::Ended;
use crate::voice::Heard;
use crate::voice::Hints;
use crate::voice::Listening;
use crate::voice::Loading;
use crate::voice::Microphone;
use crate::voice::Samples;
use crate::voice::VoiceError;
use crate::voice::model;
use crate::voice::wav;

/// How many names and words from the map are told to the ear.
const NAMES: usize = 40;

/// The ear, in whatever state it is.
pub(crate) enum Speech {
    /// Not wanted so far.
    Asleep(Manner),
    /// Being made ready.
    Waking(Loading),
    /// Ready.
    Awake(Box<Ear>),
    /// It cannot be had; the reason was said once.
    Away(VoiceError),
}

impl Speech {
    /// Begins to load the model at once if the whole sitting is to be spoken.
    pub(crate) fn new(manner: &Manner) -> Self {
        let asleep = Self::Asleep(manner.clone());
        if manner.voice { asleep.wake() } else { asleep }
    }

    fn wake(self) -> Self {
        match self {
            Self::Asleep(manner) => match model::find(&folders(), manner.model.as_deref()) {
                Ok(found) => Self::Waking(Ear::load_in_background(found.model, found.activity)),
                Err(error) => Self::Away(error),
            },
            other => other,
        }
    }

    /// The ear, once it is ready.
    pub(crate) fn ear(&mut self) -> Result<&mut Ear, VoiceError> {
        let before = std::mem::replace(self, Self::Away(VoiceError::Engine));
        *self = match before.wake() {
            Self::Waking(loading) => match loading.wait() {
                Ok(ear) => Self::Awake(Box::new(ear)),
                Err(error) => Self::Away(error),
            },
            other => other,
        };
        match self {
            Self::Awake(ear) => Ok(ear),
            Self::Away(error) => Err(error.clone()),
            Self::Asleep(_) | Self::Waking(_) => Err(VoiceError::Engine),
        }
    }
}

/// Where models are looked for: a folder named in the surroundings, the person's own, and the one beside the source.
pub(crate) fn folders() -> Vec<PathBuf> {
    let named = env::var_os("WAYFOLD_MODELS").map(PathBuf::from);
    let beside = env::current_exe().ok().and_then(|exe| Some(exe.parent()?.parent()?.parent()?.join("models")));
    named.into_iter().chain([own_folder()]).chain(beside).collect()
}

/// The person's own folder for models.
pub(crate) fn own_folder() -> PathBuf {
    directories::ProjectDirs::from("", "", "wayfold")
        .map_or_else(|| PathBuf::from("models"), |folders| folders.data_dir().join("models"))
}

/// Hears a recording or the microphone and gives the words, or says why there are none.
pub(crate) fn hear(house: &mut House, file: Option<&Path>) -> Option<Zeroizing<String>> {
    let heard = match file {
        Some(file) => hear_file(house, file),
        None => hear_microphone(house),
    };
    match heard {
        Ok(Some(heard)) if heard.text.trim().is_empty() => {
            house.terminal.say(&phrase("voice.nothing"));
            None
        }
        Ok(Some(heard)) => {
            tell_doubt(house, &heard);
            Some(heard.text)
        }
        Ok(None) => None,
        Err(error) => {
            // What is missing now will be missing at the next prompt too, so listening by itself ends here.
            house.manner.voice = false;
            house.terminal.say(&words(&error));
            None
        }
    }
}

fn tell_doubt(house: &mut House, heard: &Heard) {
    let doubtful: Vec<_> = heard.doubtful.iter().filter_map(|range| heard.text.get(range.clone())).collect();
    if !doubtful.is_empty() {
        house.terminal.hint(&filled("voice.doubtful", &[("words", &doubtful.join(", "))]));
    }
}

fn hear_file(house: &mut House, file: &Path) -> Result<Option<Heard>, VoiceError> {
    let samples = wav::read(file)?;
    let hints = hints(house.kept.map());
    house.speech.ear()?.hear(&samples, &hints).map(Some)
}

fn hear_microphone(house: &mut House) -> Result<Option<Heard>, VoiceError> {
    let hints = hints(house.kept.map());
    let House { terminal, speech, .. } = house;
    let ear = speech.ear()?;
    let microphone = Microphone::open()?;
    terminal.hint(&phrase("voice.listening"));
    let stop = AtomicBool::new(false);
    let mut dropped = false;
    let keys = terminal.keys();
    let listened = microphone.listen(
        &Listening::default(),
        ear.activity(),
        &mut |level| {
            match terminal.key(&keys) {
                Some(Key::Enter) => stop.store(true, Ordering::Relaxed),
                Some(Key::Drop) => {
                    dropped = true;
                    stop.store(true, Ordering::Relaxed);
                }
                None => {}
            }
            terminal.level(&keys, level.loudness);
        },
        &stop,
    );
    terminal.keys_done(keys);
    let (samples, ended): (Samples, Ended) = listened?;
    if dropped {
        return Ok(None);
    }
    if ended == Ended::Silence {
        return Ok(Some(Heard::default()));
    }
    terminal.hint(&phrase("voice.working"));
    ear.hear(&samples, &hints).map(Some)
}

/// Names and words from the person's own map, which may well be said again.
fn hints(map: &Map) -> Hints {
    let words = map.entries().iter().rev().map(|entry| entry.words.as_str());
    let names = words.filter(|words| words.split_whitespace().count() <= 4).take(NAMES).map(str::to_owned).collect();
    Hints { language: Some("en".to_owned()), names }
}

/// What is missing, in one line.
pub(crate) fn words(error: &VoiceError) -> String {
    match error {
        VoiceError::NotBuilt => phrase("voice.not-built"),
        VoiceError::NoModel { .. } | VoiceError::NoActivityModel { .. } => phrase("voice.no-model"),
        VoiceError::BadModel { .. } => phrase("voice.damaged-model"),
        VoiceError::File { path, .. } | VoiceError::NotWav { path } => {
            filled("voice.bad-file", &[("value", &path.display().to_string())])
        }
        VoiceError::NotFinite => filled("voice.bad-file", &[("value", "")]),
        VoiceError::TooLong { .. } | VoiceError::TookTooLong => phrase("voice.too-long"),
        VoiceError::NoMicrophone | VoiceError::MicrophoneBusy | VoiceError::NotAllowed | VoiceError::MicrophoneFormat => {
            phrase("voice.no-microphone")
        }
        VoiceError::Unplugged => phrase("voice.unplugged"),
        VoiceError::NoSpeaker => phrase("voice.no-speaker"),
        VoiceError::Engine => phrase("voice.failed"),
    }
}
