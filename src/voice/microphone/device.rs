//! The microphone itself, through the platform's sound service.

use std::sync::atomic::AtomicBool;
use std::sync::atomic::Ordering;
use std::sync::mpsc;
use std::time::Duration;
use std::time::Instant;

use cpal::Data;
use cpal::Error;
use cpal::ErrorKind;
use cpal::FromSample;
use cpal::SampleFormat;
use cpal::SizedSample;
use cpal::SupportedStreamConfig;
use cpal::traits::DeviceTrait;
use cpal::traits::HostTrait;
use cpal::traits::StreamTrait;
use zeroize::Zeroizing;

use super::Device;
use super::Ended;
use super::Level;
use super::Listener;
use super::Listening;
use super::Waiting;
use super::loudness;
use super::recent;
use crate::voice::Activity;
use crate::voice::Samples;
use crate::voice::VoiceError;
use crate::voice::quiet::Quiet;
use crate::voice::rate::Rate;

/// How often the end of speech is looked for. Each look costs about 8 ms.
const LOOK: Duration = Duration::from_millis(250);

/// The silence after which what was said so far is heard already, so that the words stand there when the pause ends.
/// The sound that comes in meanwhile waits its turn.
const LULL: Duration = Duration::from_millis(600);

/// A running microphone gives sound many times a second. If none came for so long, it is gone, whether or not the
/// sound service says so. Some services idle for about two seconds before the first sound.
const GONE: Duration = Duration::from_secs(4);

/// Blocks that may wait to be taken; the sound thread drops what comes beyond and never waits.
const WAITING: usize = 4_096;

/// An open microphone. Nothing is listened to until [`Self::listen`].
pub struct Microphone {
    device: cpal::Device,
    config: SupportedStreamConfig,
    name: String,
}

impl std::fmt::Debug for Microphone {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_tuple("Microphone").field(&self.name).finish()
    }
}

/// The microphones that the system offers and that can really be opened.
///
/// # Errors
/// `NoMicrophone` if there is no sound service, or `NotBuilt` without the feature `voice`.
pub fn devices() -> Result<Vec<Device>, VoiceError> {
    let _quiet = Quiet::hush();
    let host = cpal::default_host();
    let usual = host.default_input_device().and_then(|device| device.id().ok());
    let all = host.input_devices().map_err(|error| worded(&error))?;
    let usable = all.filter(|device| device.default_input_config().is_ok());
    Ok(usable
        .filter_map(|device| {
            let id = device.id().ok()?;
            let default = usual.as_ref() == Some(&id);
            Some(Device {
                name: shown(&device),
                default,
            })
        })
        .collect())
}

impl Microphone {
    /// Opens the usual microphone. The sound service may name one where there is none, so its format is asked for.
    ///
    /// # Errors
    /// `NoMicrophone`, `MicrophoneBusy`, `NotAllowed`, `MicrophoneFormat`, or `NotBuilt` without the feature
    /// `voice`.
    pub fn open() -> Result<Self, VoiceError> {
        let _quiet = Quiet::hush();
        let device = cpal::default_host()
            .default_input_device()
            .ok_or(VoiceError::NoMicrophone)?;
        let config = device.default_input_config().map_err(|error| worded(&error))?;
        let name = shown(&device);
        Ok(Self { device, config, name })
    }

    /// The name to show.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Listens until the person pauses, the flag is raised, or a bound is reached. Standard error is silent for as
    /// long as it listens, because sound libraries write to it; the level is told about ten times a second.
    ///
    /// # Errors
    /// `Unplugged` if the microphone goes away, and then nothing of the recording is kept; those of
    /// [`Self::open`]; `Engine`.
    pub fn listen(
        &self,
        settings: &Listening,
        activity: &mut Activity,
        on_level: &mut dyn FnMut(Level),
        stop: &AtomicBool,
    ) -> Result<(Samples, Ended), VoiceError> {
        self.run(settings, &mut Waiting { activity, on_level }, stop)
    }

    pub(in crate::voice) fn run(
        &self,
        settings: &Listening,
        listener: &mut dyn Listener,
        stop: &AtomicBool,
    ) -> Result<(Samples, Ended), VoiceError> {
        let _quiet = Quiet::hush();
        let (sender, blocks) = mpsc::sync_channel(WAITING);
        let mut change = Rate::from(self.config.sample_rate())?;
        let stream = self.stream(sender)?;
        stream.play().map_err(|error| worded(&error))?;
        let most = u32::try_from(settings.longest.as_secs()).unwrap_or(u32::MAX);
        let mut samples = Samples::with_room(most.clamp(1, Samples::MOST_SECONDS));
        let start = Instant::now();
        let (mut last_block, mut last_look, mut last_level) = (start, start, start);
        let (mut spoken, mut lulled, mut full, mut level_from) = (false, false, false, 0);
        let ended = loop {
            match blocks.recv_timeout(Duration::from_millis(40)) {
                Ok(Block::Sound(block)) => {
                    last_block = Instant::now();
                    change.take(&block, &mut |ready| full |= !samples.push(ready))?;
                }
                Ok(Block::Fault(kind)) => return Err(kind),
                Err(mpsc::RecvTimeoutError::Timeout) => {}
                Err(mpsc::RecvTimeoutError::Disconnected) => return Err(VoiceError::Unplugged),
            }
            if stop.load(Ordering::Relaxed) {
                break Ended::Stopped;
            }
            if full {
                break Ended::Longest;
            }
            if last_block.elapsed() > GONE {
                return Err(VoiceError::Unplugged);
            }
            if last_level.elapsed() >= Duration::from_millis(100) {
                last_level = Instant::now();
                let heard = &samples.as_slice()[level_from..];
                listener.level(Level {
                    loudness: loudness(heard),
                    spoken,
                });
                level_from = samples.as_slice().len();
            }
            if last_look.elapsed() >= LOOK {
                last_look = Instant::now();
                let range = recent(&samples, settings.pause);
                let spans = listener.spans(&samples.as_slice()[range.clone()])?;
                spoken |= !spans.is_empty();
                let silent = spans.last().map_or(range.len(), |span| range.len() - span.end);
                let silence = Duration::from_secs_f32(silent as f32 / Samples::RATE as f32);
                if spoken && silence >= settings.pause {
                    break Ended::Pause;
                }
                if spoken && !lulled && silence >= LULL {
                    lulled = true;
                    listener.lull(&samples)?;
                } else if lulled && silence < LULL {
                    lulled = false;
                    listener.goes_on();
                }
                if !spoken && start.elapsed() >= settings.patience {
                    break Ended::Silence;
                }
            }
        };
        drop(stream);
        change.finish(&mut |ready| {
            samples.push(ready);
        })?;
        Ok((samples, ended))
    }

    fn stream(&self, sender: mpsc::SyncSender<Block>) -> Result<cpal::Stream, VoiceError> {
        let format = self.config.sample_format();
        if !readable(format) {
            return Err(VoiceError::MicrophoneFormat);
        }
        let channels = usize::from(self.config.channels()).max(1);
        let faults = sender.clone();
        let made = self.device.build_input_stream_raw(
            self.config.config(),
            format,
            move |data: &Data, _: &cpal::InputCallbackInfo| {
                let mut mono = Zeroizing::new(Vec::with_capacity(data.len() / channels));
                if mix(data, channels, &mut mono) {
                    let _ = sender.try_send(Block::Sound(mono));
                }
            },
            move |error: Error| {
                // A lost block or a changed route is no reason to stop.
                let passing = [
                    ErrorKind::Xrun,
                    ErrorKind::RealtimeDenied,
                    ErrorKind::DeviceChanged,
                ];
                if !passing.contains(&error.kind()) {
                    let _ = faults.try_send(Block::Fault(VoiceError::Unplugged));
                }
            },
            Some(Duration::from_secs(5)),
        );
        made.map_err(|error| worded(&error))
    }
}

/// What the sound thread hands over.
enum Block {
    Sound(Zeroizing<Vec<f32>>),
    Fault(VoiceError),
}

fn readable(format: SampleFormat) -> bool {
    use SampleFormat as F;
    matches!(
        format,
        F::F32 | F::F64 | F::I8 | F::I16 | F::I24 | F::I32 | F::U8 | F::U16 | F::U24 | F::U32
    )
}

/// The mean of all channels, from whatever the device gives; tells whether it was readable.
fn mix(data: &Data, channels: usize, mono: &mut Vec<f32>) -> bool {
    use SampleFormat as F;
    match data.sample_format() {
        F::F32 => mix_as::<f32>(data, channels, mono),
        F::F64 => mix_as::<f64>(data, channels, mono),
        F::I8 => mix_as::<i8>(data, channels, mono),
        F::I16 => mix_as::<i16>(data, channels, mono),
        F::I24 => mix_as::<cpal::I24>(data, channels, mono),
        F::I32 => mix_as::<i32>(data, channels, mono),
        F::U8 => mix_as::<u8>(data, channels, mono),
        F::U16 => mix_as::<u16>(data, channels, mono),
        F::U24 => mix_as::<cpal::U24>(data, channels, mono),
        F::U32 => mix_as::<u32>(data, channels, mono),
        _ => None,
    }
    .is_some()
}

fn mix_as<T: SizedSample>(data: &Data, channels: usize, mono: &mut Vec<f32>) -> Option<()>
where
    f32: FromSample<T>,
{
    let frames = data.as_slice::<T>()?.chunks_exact(channels);
    mono.extend(
        frames.map(|frame| {
            frame.iter().map(|sample| f32::from_sample_(*sample)).sum::<f32>() / channels as f32
        }),
    );
    Some(())
}

fn shown(device: &cpal::Device) -> String {
    device
        .description()
        .map(|found| found.name().to_owned())
        .unwrap_or_default()
}

fn worded(error: &Error) -> VoiceError {
    match error.kind() {
        ErrorKind::DeviceBusy => VoiceError::MicrophoneBusy,
        ErrorKind::PermissionDenied => VoiceError::NotAllowed,
        ErrorKind::UnsupportedConfig | ErrorKind::InvalidInput | ErrorKind::StreamInvalidated => {
            VoiceError::MicrophoneFormat
        }
        _ => VoiceError::NoMicrophone,
    }
}
