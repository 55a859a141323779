//! WAV files of every rate, depth and channel count, and files that are none.

use proptest::prelude::*;
use wayfold::voice::Samples;
use wayfold::voice::VoiceError;
use wayfold::voice::wav;

use crate::voice::data;

fn write(path: &std::path::Path, rate: u32, channels: u16, bits: u16, hertz: f32) {
    let float = bits == 32 && channels == 1;
    let sample_format = if float {
        hound::SampleFormat::Float
    } else {
        hound::SampleFormat::Int
    };
    let spec = hound::WavSpec {
        channels,
        sample_rate: rate,
        bits_per_sample: bits,
        sample_format,
    };
    let mut writer = hound::WavWriter::create(path, spec).unwrap();
    for at in 0..rate {
        let value = (at as f32 / rate as f32 * hertz * std::f32::consts::TAU).sin() * 0.5;
        for _ in 0..channels {
            if float {
                writer.write_sample(value).unwrap();
            } else {
                let full = f64::from(1_u32 << (bits - 2)) * 2.0 - 1.0;
                #[expect(clippy::cast_possible_truncation)]
                writer.write_sample((f64::from(value) * full) as i32).unwrap();
            }
        }
    }
    writer.finalize().unwrap();
}

/// The share of a tone's power in a sound's, by one step of a Fourier transform.
fn share(samples: &[f32], hertz: f32) -> f32 {
    let turn = |at: usize| at as f32 / 16_000.0 * hertz * std::f32::consts::TAU;
    let (mut real, mut imaginary, mut all) = (0.0, 0.0, 0.0);
    for (at, sample) in samples.iter().enumerate() {
        real += sample * turn(at).cos();
        imaginary += sample * turn(at).sin();
        all += sample * sample;
    }
    2.0 * (real * real + imaginary * imaginary) / (all * samples.len() as f32)
}

#[test]
fn every_rate_depth_and_channel_count_gives_the_same_tone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tone.wav");
    let rates: &[u32] = if wayfold::voice::built() {
        &[8_000, 11_025, 16_000, 22_050, 44_100, 48_000, 96_000]
    } else {
        &[16_000]
    };
    for rate in rates {
        for (channels, bits) in [(1, 16), (2, 16), (1, 8), (6, 24), (1, 32), (2, 32)] {
            write(&path, *rate, channels, bits, 440.0);
            let samples = wav::read(&path).unwrap();
            let what = format!("{rate} Hz, {channels} channels, {bits} bits");
            assert!(
                (samples.seconds() - 1.0).abs() < 0.001,
                "{what}: {} s",
                samples.seconds()
            );
            assert!(share(samples.as_slice(), 440.0) > 0.99, "{what}");
            let loudest = samples
                .as_slice()
                .iter()
                .fold(0.0_f32, |most, sample| most.max(sample.abs()));
            assert!((loudest - 0.5).abs() < 0.06, "{what}: {loudest}");
        }
    }
}

#[cfg(not(feature = "voice"))]
#[test]
fn another_rate_needs_the_speech_library() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tone.wav");
    write(&path, 44_100, 1, 16, 440.0);
    assert_eq!(wav::read(&path).unwrap_err(), VoiceError::NotBuilt);
}

#[test]
fn a_kept_recording_comes_back_and_never_replaces_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kept.wav");
    let samples = wav::read(&data("lv_0930.wav")).unwrap();
    wav::keep(&samples, &path).unwrap();
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = std::fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600, "only the person's account may read it");
    }
    let again = wav::read(&path).unwrap();
    assert_eq!(samples.as_slice().len(), again.as_slice().len());
    let apart = samples
        .as_slice()
        .iter()
        .zip(again.as_slice())
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f32::max);
    assert!(apart < 1.0 / 16_000.0, "{apart}");
    let second = wav::keep(&samples, &path).unwrap_err();
    assert_eq!(
        second,
        VoiceError::File {
            path,
            kind: std::io::ErrorKind::AlreadyExists
        }
    );
}

#[test]
fn sound_is_never_shown() {
    assert_eq!(format!("{:?}", Samples::new(vec![0.25; 8_000])), "Samples(0.5 s)");
}

#[test]
fn what_is_no_wav_file_is_told_so() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("cut.wav");
    let whole = std::fs::read(data("lv_0930.wav")).unwrap();
    for cut in [0, 3, 11, 20, 43, 1_001] {
        std::fs::write(&path, &whole[..cut]).unwrap();
        assert_eq!(
            wav::read(&path).unwrap_err(),
            VoiceError::NotWav { path: path.clone() },
            "{cut} bytes"
        );
    }
    // A header that claims an hour and holds nothing.
    let mut claims = whole[..44].to_vec();
    claims[40..44].copy_from_slice(&115_200_000_u32.to_le_bytes());
    std::fs::write(&path, claims).unwrap();
    assert_eq!(
        wav::read(&path).unwrap_err(),
        VoiceError::TooLong {
            most: Samples::MOST_SECONDS
        }
    );
    let missing = folder.path().join("missing.wav");
    let error = wav::read(&missing).unwrap_err();
    assert_eq!(
        error,
        VoiceError::File {
            path: missing,
            kind: std::io::ErrorKind::NotFound
        }
    );
}

#[test]
fn a_sample_that_is_no_number_is_an_error() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("nan.wav");
    let sample_format = hound::SampleFormat::Float;
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: 16_000,
        bits_per_sample: 32,
        sample_format,
    };
    let mut writer = hound::WavWriter::create(&path, spec).unwrap();
    writer.write_sample(f32::NAN).unwrap();
    writer.finalize().unwrap();
    assert_eq!(wav::read(&path).unwrap_err(), VoiceError::NotFinite);
}

proptest! {
    #[test]
    fn a_damaged_file_is_an_error_or_sound_and_never_a_panic(
        at in 0_usize..80, value: u8, length in 40_usize..3_000
    ) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("damaged.wav");
        let mut bytes = std::fs::read(data("lv_0930.wav")).unwrap();
        bytes.truncate(length);
        if let Some(byte) = bytes.get_mut(at) {
            *byte = value;
        }
        std::fs::write(&path, bytes).unwrap();
        if let Ok(samples) = wav::read(&path) {
            prop_assert!(samples.as_slice().iter().all(|sample| sample.is_finite()));
        }
    }
}
