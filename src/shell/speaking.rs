//! Speech at a prompt: loads the model while the person reads, hears a recording or the microphone, and says in one
//! line what is missing when it cannot. Typing always goes on.

use std::env;
use std::path::Path;
use std::path::PathBuf;
use std::sync::atomic::AtomicBool;
use std::sync::atomic::Ordering;
use std::time::Duration;

use zeroize::Zeroizing;

use crate::map::Map;
use crate::shell::House;
use crate::shell::arguments::Manner;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Key;
use crate::shell::terminal::Keys;
use crate::shell::terminal::Line;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::why;
use crate::voice::During;
use crate::voice::Ear;
use crate::voice::Heard;
use crate::voice::Hints;
use crate::voice::Listening;
use crate::voice::Loading;
use crate::voice::Microphone;
use crate::voice::Samples;
use crate::voice::VoiceError;
use crate::voice::model;
use crate::voice::wav;

/// How long a spoken sitting waits for a first word.
const PATIENCE: Duration = Duration::from_mins(1);

/// How often a spoken sitting listens for one answer until it waits for a key: nobody who only speaks is left there, and
/// no microphone is open for ever.
const TRIES: u8 = 3;

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
    // A program that lies elsewhere has a folder of somebody else's there.
    let source = env::current_exe()
        .ok()
        .and_then(|exe| Some(exe.parent()?.parent()?.parent()?.to_owned()))
        .filter(|source| source.join("Cargo.toml").is_file());
    let beside = source.map(|source| source.join("models"));
    named.into_iter().chain([own_folder()]).chain(beside).collect()
}

/// The person's own folder for models.
pub(crate) fn own_folder() -> PathBuf {
    directories::ProjectDirs::from("", "", "wayfold").map_or_else(
        || PathBuf::from("models"),
        |folders| folders.data_dir().join("models"),
    )
}

/// What fits as an answer, for the ear to know.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Fitting {
    /// Words of the person's own; and these, which may be said too.
    Words(Vec<String>),
    /// Only these.
    Only(Vec<String>),
}

/// What came of listening.
pub(crate) enum Said {
    /// Words, plain and unscreened.
    Words(Heard),
    /// The person types instead, and began with this.
    Types(String),
    /// Nothing, and the reason was told.
    Nothing,
    /// Everything is to be hidden.
    Hide,
}

/// One line, spoken where the sitting is, typed elsewhere.
pub(crate) fn line(house: &mut House, fitting: &Fitting) -> Line {
    let said = if house.manner.voice {
        hear(house, None, fitting)
    } else {
        Said::Nothing
    };
    match said {
        Said::Words(heard) => Line::Typed(heard.text),
        Said::Types(begun) => house.terminal.ask(&begun),
        Said::Nothing => house.terminal.ask(""),
        Said::Hide => Line::Hide,
    }
}

/// Hears a recording or the microphone, or says in one line why not.
pub(crate) fn hear(house: &mut House, file: Option<&Path>, fitting: &Fitting) -> Said {
    let hints = hints(house.kept.map(), fitting);
    let said = if let Some(file) = file {
        hear_file(house, file, &hints)
    } else {
        let mut left = if house.manner.voice { TRIES } else { 1 };
        loop {
            left -= 1;
            match hear_microphone(house, &hints) {
                Ok(Said::Nothing) if left > 0 => {}
                said => break said,
            }
        }
    };
    said.unwrap_or_else(|error| {
        house.manner.voice &= file.is_some() || passes(&error, house.terminal.is_interactive());
        house.terminal.say(&words(&error));
        Said::Nothing
    })
}

/// Whether it may be otherwise at the next prompt. What is missing now is missing then too, so listening by itself ends with
/// it. A microphone that went away may be back, and only its one recording is lost; and the next answer may be shorter.
fn passes(error: &VoiceError, interactive: bool) -> bool {
    match error {
        VoiceError::TookTooLong | VoiceError::TooLong { .. } => true,
        VoiceError::Unplugged => interactive,
        _ => false,
    }
}

fn hear_file(house: &mut House, file: &Path, hints: &Hints) -> Result<Said, VoiceError> {
    let samples = wav::read(file)?;
    let heard = house.speech.ear()?.hear(&samples, hints)?;
    Ok(spoken(&mut house.terminal, heard))
}

/// Words, or the line that says that nobody spoke.
fn spoken(terminal: &mut Terminal, heard: Heard) -> Said {
    if heard.text.trim().is_empty() {
        terminal.say(&phrase("voice.nothing"));
        return Said::Nothing;
    }
    Said::Words(heard)
}

fn hear_microphone(house: &mut House, hints: &Hints) -> Result<Said, VoiceError> {
    let pause = house
        .manner
        .pause
        .or_else(|| house.kept.map().setting("voice-pause")?.parse().ok());
    let mut settings = Listening::default();
    if let Some(pause) = pause.filter(|pause| (1.5..=8.0).contains(pause)) {
        settings.pause = Duration::from_secs_f32(pause);
    }
    if house.manner.voice {
        settings.patience = PATIENCE;
    }
    let House {
        terminal,
        speech,
        manner,
        ..
    } = house;
    let (said, samples) = listen(terminal, speech.ear()?, &settings, hints, manner.headphones)?;
    if let (Some(file), Some(samples)) = (&manner.keep_audio, samples) {
        match keep_audio(&samples, file) {
            Ok(kept) => terminal.hint(&filled(
                "voice.recording-kept",
                &[("file", &kept.display().to_string())],
            )),
            // The words count all the same.
            Err(error) => terminal.say(&words(&error)),
        }
    }
    Ok(said)
}

/// Listens once, with the level and the words so far on one steady line. The recording comes along where words were
/// heard, and is wiped unless somebody keeps it.
pub(crate) fn listen(
    terminal: &mut Terminal,
    ear: &mut Ear,
    settings: &Listening,
    hints: &Hints,
    headphones: bool,
) -> Result<(Said, Option<Samples>), VoiceError> {
    let microphone = Microphone::open()?;
    let keys = terminal.keys();
    // Without headphones the microphone would hear the guide, so the guide comes first, until a key is pressed.
    let mut pressed = if headphones {
        begin_aloud(terminal)
    } else {
        read_out(terminal, &keys)
    };
    let listening = if terminal.screen().plain {
        "voice.listening-plain"
    } else {
        "voice.listening"
    };
    // It is told once sound really comes in, so that nobody speaks to a microphone that is still being opened.
    let mut told = pressed.is_some();
    let stop = AtomicBool::new(pressed.is_some());
    let mut so_far = Zeroizing::new(String::new());
    let taken = ear.take_down(
        &microphone,
        settings,
        hints,
        &mut |during| match during {
            During::Level(level) => {
                if !std::mem::replace(&mut told, true) {
                    terminal.hint_between(&keys, &phrase(listening));
                }
                if let Some(key) = keys.pressed() {
                    if key == Key::Hide {
                        terminal.hide();
                    }
                    pressed = Some(key);
                    stop.store(true, Ordering::Relaxed);
                }
                if (level.spoken || pressed.is_some())
                    && let Some(aloud) = terminal.aloud()
                {
                    aloud.stopper().stop();
                }
                terminal.level(&keys, level.loudness, &so_far);
            }
            During::Words(heard) => {
                so_far.clone_from(&heard.text);
                terminal.level(&keys, 0.0, &so_far);
            }
        },
        &stop,
    );
    let mut typed = String::new();
    if let Some(Key::Letter(letter)) = pressed {
        // More may have been typed before the listening ended.
        let more;
        (typed, more) = keys.typed_on(letter);
        if more == Some(Key::Hide) {
            pressed = more;
        }
    }
    terminal.keys_done(keys);
    let mut taken = match (pressed, taken) {
        (Some(Key::Hide), _) => return Ok((Said::Hide, None)),
        (Some(Key::Drop | Key::Letter(_)), _) => return Ok((Said::Types(typed), None)),
        (Some(Key::Enter) | None, taken) => taken?,
    };
    let heard = taken.words(ear, hints)?;
    let spoke = !heard.text.trim().is_empty();
    if pressed.is_some() && !spoke {
        return Ok((Said::Types(String::new()), None));
    }
    Ok((spoken(terminal, heard), spoke.then_some(taken.samples)))
}

fn begin_aloud(terminal: &mut Terminal) -> Option<Key> {
    if let Some(aloud) = terminal.aloud() {
        aloud.begin();
    }
    None
}

/// Reads what was said to its end, unless a key stops it. Enter only stops the reading; any other key counts.
fn read_out(terminal: &mut Terminal, keys: &Keys) -> Option<Key> {
    begin_aloud(terminal);
    while terminal.aloud().is_some_and(|aloud| aloud.speaking()) {
        if let Some(key) = keys.pressed() {
            if let Some(aloud) = terminal.aloud() {
                aloud.hush();
            }
            return Some(key).filter(|key| *key != Key::Enter);
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    None
}

/// Writes the recording that a person asked to keep. No older file is replaced: the next free number goes behind the
/// name.
fn keep_audio(samples: &Samples, file: &Path) -> Result<PathBuf, VoiceError> {
    let (stem, ending) = (
        file.file_stem().unwrap_or_default(),
        file.extension().unwrap_or_default(),
    );
    let numbered = (2..1_000).map(|number| {
        file.with_file_name(format!("{}-{number}", stem.to_string_lossy()))
            .with_extension(ending)
    });
    for path in std::iter::once(file.to_owned()).chain(numbered) {
        match wav::keep(samples, &path) {
            Err(VoiceError::File {
                kind: std::io::ErrorKind::AlreadyExists,
                ..
            }) => {}
            kept => return kept.map(|()| path),
        }
    }
    Err(VoiceError::File {
        path: file.to_owned(),
        kind: std::io::ErrorKind::AlreadyExists,
    })
}

/// What fits here, and where words of the person's own do, names and words from their map, which may well be said again.
fn hints(map: &Map, fitting: &Fitting) -> Hints {
    let (choices, own) = match fitting {
        Fitting::Words(choices) => (choices, NAMES),
        Fitting::Only(choices) => (choices, 0),
    };
    let words = map.entries().iter().rev().map(|entry| entry.words.as_str());
    let names = words
        .filter(|words| words.split_whitespace().count() <= 4)
        .take(own)
        .map(str::to_owned)
        .collect();
    Hints {
        language: Some("en".to_owned()),
        choices: choices.clone(),
        only: matches!(fitting, Fitting::Only(_)),
        names,
    }
}

/// What is missing, in one line.
pub(crate) fn words(error: &VoiceError) -> String {
    match error {
        VoiceError::NotBuilt => phrase("voice.not-built"),
        VoiceError::NoModel { .. } => phrase("voice.no-model"),
        VoiceError::NoActivityModel { .. } => phrase("voice.no-activity-model"),
        VoiceError::BadModel { .. } => phrase("voice.damaged-model"),
        VoiceError::File { path, kind } => filled(
            "voice.file",
            &[("file", &path.display().to_string()), ("why", &why(*kind))],
        ),
        VoiceError::NotWav { path } => filled("voice.bad-file", &[("value", &path.display().to_string())]),
        VoiceError::NotFinite => phrase("voice.damaged-sound"),
        VoiceError::TooLong { .. } | VoiceError::TookTooLong => phrase("voice.too-long"),
        VoiceError::NoMicrophone
        | VoiceError::MicrophoneBusy
        | VoiceError::NotAllowed
        | VoiceError::MicrophoneFormat => phrase("voice.no-microphone"),
        VoiceError::Unplugged => phrase("voice.unplugged"),
        VoiceError::NoSpeaker => phrase("voice.no-speaker"),
        VoiceError::Engine => phrase("voice.failed"),
    }
}
