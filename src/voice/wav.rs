//! WAV files of any rate, depth and channel count to samples, and samples to a file when a person asked to keep
//! them. Nothing else in this room writes sound anywhere.

use std::fs::File;
use std::io::BufReader;
use std::io::Read;
use std::path::Path;

use super::Samples;
use super::VoiceError;
use super::rate;

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

/// Writes a 16-bit WAV file. Only for a person who asked to keep the recording; an older file is not replaced.
///
/// # Errors
/// `File` if the file exists already or cannot be written.
pub fn keep(samples: &Samples, path: &Path) -> Result<(), VoiceError> {
    let file = File::create_new(path).map_err(|error| VoiceError::file(path, &error))?;
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
    let mut mono = zeroize::Zeroizing::new(Vec::with_capacity((reader.duration() as usize).min(1 << 16)));
    let mut frame = Frame {
        channels,
        filled: 0,
        sum: 0.0,
    };
    match spec.sample_format {
        hound::SampleFormat::Float => {
            for sample in reader.samples::<f32>() {
                frame.take(sample.map_err(|_| not_wav())?, &mut mono);
            }
        }
        hound::SampleFormat::Int => {
            let full = 2_f32.powi(i32::from(spec.bits_per_sample) - 1);
            for sample in reader.samples::<i32>() {
                frame.take(sample.map_err(|_| not_wav())? as f32 / full, &mut mono);
            }
        }
    }
    rate::to_16k(std::mem::take(&mut *mono), spec.sample_rate)
}

/// Sums the channels of one frame and gives their mean.
struct Frame {
    channels: usize,
    filled: usize,
    sum: f32,
}

impl Frame {
    fn take(&mut self, sample: f32, mono: &mut zeroize::Zeroizing<Vec<f32>>) {
        self.sum += sample;
        self.filled += 1;
        if self.filled == self.channels {
            grow_wiping(mono);
            mono.push(self.sum / self.channels as f32);
            self.sum = 0.0;
            self.filled = 0;
        }
    }
}

/// Makes room for one more sample, wiping the place the samples move out of.
fn grow_wiping(mono: &mut zeroize::Zeroizing<Vec<f32>>) {
    if mono.len() == mono.capacity() {
        let mut wider = zeroize::Zeroizing::new(Vec::with_capacity((mono.capacity() * 2).max(1 << 12)));
        wider.extend_from_slice(mono);
        *mono = wider;
    }
}
