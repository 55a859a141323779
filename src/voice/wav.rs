//! WAV files of any rate, depth and channel count to samples, and samples to a file when a person asked to keep
//! them. Nothing else in this room writes sound anywhere.

use std::fs::File;
use std::io::BufReader;
use std::io::Read;
use std::path::Path;

use zeroize::Zeroizing;

use super::Samples;
use super::VoiceError;
use super::rate;
use super::rate::Rate;

/// Reads a WAV file and brings it to 16 kHz with one channel, the mean of all channels.
///
/// # Errors
/// `File` if it cannot be opened, `NotWav` if it is not a whole WAV file, `TooLong` above
/// [`Samples::MOST_SECONDS`], `NotFinite` if it holds a sample that is not a number, and `NotBuilt` without the
/// feature `voice` unless it is at 16 kHz already.
pub fn read(path: &Path) -> Result<Samples, VoiceError> {
    let file = File::open(path).map_err(|error| VoiceError::file(path, &error))?;
    decode(BufReader::new(file), path)
}

/// Writes a 16-bit WAV file that only the person's account may read. Only for a person who asked to keep the recording;
/// an older file is not replaced, and nothing is left of one that could not be written whole.
///
/// # Errors
/// `File` if the file exists already or cannot be written.
pub fn keep(samples: &Samples, path: &Path) -> Result<(), VoiceError> {
    let mut options = File::options();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let file = options
        .open(path)
        .map_err(|error| VoiceError::file(path, &error))?;
    write(samples, file, path).inspect_err(|_| drop(std::fs::remove_file(path)))
}

fn write(samples: &Samples, file: File, path: &Path) -> Result<(), VoiceError> {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: Samples::RATE,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let failed = |error: hound::Error| match error {
        hound::Error::IoError(error) => VoiceError::file(path, &error),
        _ => VoiceError::Engine,
    };
    let mut writer = hound::WavWriter::new(std::io::BufWriter::new(file), spec).map_err(failed)?;
    for sample in samples.as_slice() {
        // The clamp keeps the product inside an i16.
        #[expect(clippy::cast_possible_truncation, reason = "clamped just before")]
        let whole = (sample.clamp(-1.0, 1.0) * 32_767.0).round() as i16;
        writer.write_sample(whole).map_err(failed)?;
    }
    writer.finalize().map_err(failed)
}

fn decode(source: impl Read, path: &Path) -> Result<Samples, VoiceError> {
    let not_wav = || VoiceError::NotWav {
        path: path.to_owned(),
    };
    let mut reader = hound::WavReader::new(source).map_err(|_| not_wav())?;
    let spec = reader.spec();
    let channels = usize::from(spec.channels);
    if channels == 0 || !rate::RATES.contains(&spec.sample_rate) {
        return Err(not_wav());
    }
    // The header's length is only a claim, so it is checked against the bound and never used to reserve memory.
    let most = Samples::MOST_SECONDS as usize * spec.sample_rate as usize;
    if reader.duration() as usize > most {
        return Err(VoiceError::TooLong {
            most: Samples::MOST_SECONDS,
        });
    }
    let mut frame = Frame::new(channels, &spec, reader.duration())?;
    match spec.sample_format {
        hound::SampleFormat::Float => {
            for sample in reader.samples::<f32>() {
                frame.take(sample.map_err(|_| not_wav())?)?;
            }
        }
        hound::SampleFormat::Int => {
            let full = 2_f32.powi(i32::from(spec.bits_per_sample) - 1);
            for sample in reader.samples::<i32>() {
                frame.take(sample.map_err(|_| not_wav())? as f32 / full)?;
            }
        }
    }
    frame.finish()
}

/// Frames handed on at a time.
const BLOCK: usize = 4_096;

/// Gives the mean of each frame's channels to the change of rate, a block at a time, so that the file never stands
/// in memory twice.
struct Frame {
    channels: usize,
    filled: usize,
    sum: f32,
    block: Zeroizing<Vec<f32>>,
    change: Rate,
    samples: Samples,
}

impl Frame {
    fn new(channels: usize, spec: &hound::WavSpec, frames: u32) -> Result<Self, VoiceError> {
        // The room is only promised memory until sound really fills it, and the length was checked above.
        let samples = Samples::with_room(frames / spec.sample_rate + 2);
        let change = Rate::from(spec.sample_rate)?;
        let block = Zeroizing::new(Vec::with_capacity(BLOCK));
        Ok(Self {
            channels,
            filled: 0,
            sum: 0.0,
            block,
            change,
            samples,
        })
    }

    fn take(&mut self, sample: f32) -> Result<(), VoiceError> {
        self.sum += sample;
        self.filled += 1;
        if self.filled < self.channels {
            return Ok(());
        }
        self.block.push(self.sum / self.channels as f32);
        self.sum = 0.0;
        self.filled = 0;
        if self.block.len() == BLOCK {
            self.hand_on()
        } else {
            Ok(())
        }
    }

    fn hand_on(&mut self) -> Result<(), VoiceError> {
        let samples = &mut self.samples;
        let taken = self.change.take(&self.block, &mut |ready| {
            samples.push(ready);
        });
        self.block.clear();
        taken
    }

    fn finish(mut self) -> Result<Samples, VoiceError> {
        self.hand_on()?;
        let samples = &mut self.samples;
        self.change.finish(&mut |ready| {
            samples.push(ready);
        })?;
        Ok(self.samples)
    }
}
