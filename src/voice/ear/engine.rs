//! The ear itself, with the speech library behind it.

use std::path::Path;
use std::time::Duration;
use std::time::Instant;

use whisper_rs::FullParams;
use whisper_rs::SamplingStrategy;
use whisper_rs::WhisperContext;
use whisper_rs::WhisperContextParameters;
use whisper_rs::WhisperError;
use whisper_rs::WhisperState;
use zeroize::Zeroize;
use zeroize::Zeroizing;

use super::Effort;
use super::Hints;
use crate::voice::Activity;
use crate::voice::Heard;
use crate::voice::Samples;
use crate::voice::VoiceError;
use crate::voice::activity::utterances;
use crate::voice::heard::Piece;
use crate::voice::heard::compose;
use crate::voice::model;
use crate::voice::model::Reach;

/// The model looks at 50 frames a second of sound.
const FRAMES_A_SECOND: f32 = 50.0;

/// Frames beyond the sound's own; with 100 in place of 128 tiny.en was seen to loop.
const FRAMES_BEYOND: f32 = 128.0;

/// The fewest frames, for the same reason.
const FRAMES_FLOOR: f32 = 512.0;

/// All that the ear needs of a model: frames for the longest utterance, and tokens for the names that are told and
/// for the words that are heard. The library's memory grows in steps of 256 of either.
const REACH: Reach = Reach {
    sound: 768,
    writing: 256,
};

/// The most tokens of choices and names; half of the reach is for what is told, and each costs a little time.
const TOLD_TOKENS: usize = 120;

/// How the choices are put before the model.
const CHOICES_BEGIN: &str = " Say: ";

/// How the names are put before the model. Of eight uncommon names spoken by a machine six came back with this
/// beginning and five without it.
const NAMES_BEGIN: &str = " Names: ";

/// The time of a first try on several threads, beside the length of the sound itself. It was never seen to need a
/// third of that on an idle machine.
const FIRST_TRY: Duration = Duration::from_secs(1);

/// A loaded speech model.
#[derive(Debug)]
pub struct Ear {
    context: WhisperContext,
    state: WhisperState,
    activity: Activity,
    effort: Effort,
}

impl Ear {
    /// Loads a model. The file is checked first, since the library trusts what it reads.
    ///
    /// # Errors
    /// `File` or `BadModel` for either file, or `Engine`.
    pub fn load_with(path: &Path, activity: &Path, effort: Effort) -> Result<Self, VoiceError> {
        let model = model::load(path, REACH)?;
        let activity = Activity::load(activity)?;
        let mut settings = WhisperContextParameters::new();
        // Where no graphics processor is there, the engine hears on the others.
        settings.use_gpu(cfg!(feature = "voice-vulkan"));
        let context = WhisperContext::new_from_buffer_with_params(&model, settings);
        drop(model);
        let context = context.map_err(|_| VoiceError::Engine)?;
        let state = context.create_state().map_err(|_| VoiceError::Engine)?;
        Ok(Self {
            context,
            state,
            activity,
            effort,
        })
    }

    /// The part that tells speech from silence, for [`crate::voice::Microphone::listen`].
    pub fn activity(&mut self) -> &mut Activity {
        &mut self.activity
    }

    /// Changes how hard it tries from now on.
    pub fn set_effort(&mut self, effort: Effort) {
        self.effort = effort;
    }

    pub(super) fn words(&mut self, samples: &Samples, hints: &Hints) -> Result<Heard, VoiceError> {
        let sound = samples.as_slice();
        let spans = self.activity.spans(sound)?;
        let told = self.told(hints);
        let mut pieces = Vec::new();
        for utterance in utterances(&spans, sound.len()) {
            let length = utterance.iter().map(ExactSizeIterator::len).sum();
            let mut part = Zeroizing::new(Vec::with_capacity(length));
            for range in utterance {
                part.extend_from_slice(&sound[range]);
            }
            self.utterance(&part, hints, &told, &mut pieces)?;
        }
        let (text, doubtful) = compose(&pieces);
        Ok(Heard {
            text,
            doubtful,
            ..Heard::default()
        })
    }

    /// Choices and names as the model's own tokens. Given as tokens, because text given to the library is never freed
    /// there.
    fn told(&self, hints: &Hints) -> Zeroizing<Vec<i32>> {
        let mut text = Zeroizing::new(String::new());
        for (begin, list) in [(CHOICES_BEGIN, &hints.choices), (NAMES_BEGIN, &hints.names)] {
            let mut join = begin;
            for one in list.iter().filter(|one| !one.contains('\0')).take(40) {
                text.push_str(std::mem::replace(&mut join, ", "));
                text.push_str(one.trim());
            }
            if join != begin {
                text.push('.');
            }
        }
        if text.is_empty() {
            return Zeroizing::new(Vec::new());
        }
        let mut tokens = self.context.tokenize(&text, 1024).unwrap_or_default();
        tokens.truncate(TOLD_TOKENS);
        Zeroizing::new(tokens)
    }

    /// Two threads wait for each other thousands of times an utterance, without letting go of their cores. On a busy
    /// machine that was seen to take ten times as long as one thread alone; so busy cores are left alone, and a
    /// first try that takes long is given up for one on a single thread.
    fn utterance(
        &mut self,
        sound: &[f32],
        hints: &Hints,
        told: &[i32],
        pieces: &mut Vec<Piece>,
    ) -> Result<(), VoiceError> {
        let end = Instant::now() + self.effort.bound;
        let threads = idle_cores().min(self.effort.threads.max(1));
        if threads > 1 {
            let length = sound.len() as f32 / Samples::RATE as f32;
            let soon = Instant::now() + FIRST_TRY + Duration::from_secs_f32(length);
            if soon < end {
                match self.attempt(sound, hints, told, (threads, soon), pieces) {
                    Err(VoiceError::TookTooLong) => {}
                    done => return done,
                }
            }
        }
        self.attempt(sound, hints, told, (1, end), pieces)
    }

    fn attempt(
        &mut self,
        sound: &[f32],
        hints: &Hints,
        told: &[i32],
        (threads, deadline): (u16, Instant),
        pieces: &mut Vec<Piece>,
    ) -> Result<(), VoiceError> {
        let beam = i32::from(self.effort.beam.clamp(1, 8));
        let mut settings = FullParams::new(if beam == 1 {
            SamplingStrategy::Greedy { best_of: 1 }
        } else {
            SamplingStrategy::BeamSearch {
                beam_size: beam,
                patience: -1.0,
            }
        });
        settings.set_n_threads(i32::from(threads));
        settings.set_audio_ctx(frames(sound.len()));
        settings.set_no_context(true);
        settings.set_no_timestamps(true);
        settings.set_single_segment(true);
        settings.set_suppress_nst(true);
        settings.set_print_progress(false);
        settings.set_print_realtime(false);
        settings.set_print_timestamps(false);
        settings.set_print_special(false);
        settings.set_tokens(told);
        let language = if self.context.is_multilingual() {
            hints.language.as_deref()
        } else {
            Some("en")
        };
        let known = language.filter(|code| whisper_rs::get_lang_id(code).is_some());
        settings.set_language(Some(known.unwrap_or("auto")));
        // The library's wrapper calls back through a box of this very type; with a plain closure it would not.
        let late: Box<dyn FnMut() -> bool> = Box::new(move || Instant::now() > deadline);
        settings.set_abort_callback_safe::<Box<dyn FnMut() -> bool>, Box<dyn FnMut() -> bool>>(late);
        match self.state.full(settings, sound) {
            Ok(()) => {}
            Err(_) if Instant::now() > deadline => return Err(VoiceError::TookTooLong),
            Err(WhisperError::NoSamples) => return Ok(()),
            Err(_) => return Err(VoiceError::Engine),
        }
        let end = self.context.token_eot();
        for segment in self.state.as_iter() {
            for at in 0..segment.n_tokens() {
                let Some(token) = segment.get_token(at) else {
                    continue;
                };
                if token.token_id() >= end {
                    continue;
                }
                let bytes = token.to_bytes().map_err(|_| VoiceError::Engine)?.to_vec();
                pieces.push(Piece {
                    bytes,
                    probability: token.token_probability(),
                });
            }
        }
        Ok(())
    }
}

impl Drop for Ear {
    /// The library keeps the last spectrogram and the last words in memory that it does not wipe; hearing a breath
    /// of silence writes over the first, and dropping the state frees the second.
    fn drop(&mut self) {
        let mut silence = vec![0.0_f32; Samples::RATE as usize];
        let _ = self.state.pcm_to_mel(&silence, 1);
        silence.zeroize();
    }
}

/// How many frames the model should look at for so many samples.
fn frames(samples: usize) -> i32 {
    let seconds = samples as f32 / Samples::RATE as f32;
    // Between the floor and the reach, so it fits.
    #[expect(clippy::cast_possible_truncation, reason = "clamped to the reach")]
    let frames = (FRAMES_A_SECOND * seconds + FRAMES_BEYOND).clamp(FRAMES_FLOOR, REACH.sound as f32) as i32;
    frames
}

/// Cores that nothing else is using right now, at least one. The system counts the tasks that want to run; the
/// highest of a few counts is taken, since one alone may fall into a gap.
#[cfg(target_os = "linux")]
fn idle_cores() -> u16 {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let running = || -> Option<usize> {
        let line = std::fs::read_to_string("/proc/loadavg").ok()?;
        line.split(' ').nth(3)?.split_once('/')?.0.parse().ok()
    };
    let mut most = 1;
    for _ in 0..3 {
        most = running().unwrap_or(1).max(most);
        std::thread::sleep(Duration::from_millis(1));
    }
    // One of those that run is this very thread.
    u16::try_from((cores + 1).saturating_sub(most))
        .unwrap_or(1)
        .max(1)
}

/// Elsewhere the system gives no such count, and the first try's own bound has to do.
#[cfg(not(target_os = "linux"))]
fn idle_cores() -> u16 {
    u16::MAX
}
