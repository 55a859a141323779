//! Any rate to 16 kHz, one channel. Blocks go through as they come, so that a long recording
//! never stands in memory at its own rate.

use zeroize::Zeroize;

use super::Samples;
use super::VoiceError;

/// The lowest and highest rates that are taken, in samples a second: what sound cards and WAV files really use.
pub(super) const RATES: std::ops::RangeInclusive<u32> = 4_000..=384_000;

/// Brings blocks of one channel at some rate to [`Samples::RATE`].
pub(super) struct Rate {
    pending: Vec<f32>,
    #[cfg(feature = "voice")]
    change: Option<rubato::Fft<f32>>,
    #[cfg(feature = "voice")]
    skip: usize,
    #[cfg(feature = "voice")]
    taken: u64,
    #[cfg(feature = "voice")]
    given: u64,
    #[cfg(feature = "voice")]
    hertz: u32,
}

impl Rate {
    /// From `rate` samples a second.
    #[cfg(feature = "voice")]
    pub(super) fn from(rate: u32) -> Result<Self, VoiceError> {
        use rubato::Resampler;
        if !RATES.contains(&rate) {
            return Err(VoiceError::MicrophoneFormat);
        }
        let change = if rate == Samples::RATE {
            None
        } else {
            let sizes = rubato::FixedSync::Both;
            let made = rubato::Fft::<f32>::new(rate as usize, Samples::RATE as usize, 1024, 1, sizes);
            Some(made.map_err(|_| VoiceError::MicrophoneFormat)?)
        };
        let skip = change.as_ref().map_or(0, Resampler::output_delay);
        Ok(Self {
            pending: Vec::new(),
            change,
            skip,
            taken: 0,
            given: 0,
            hertz: rate,
        })
    }

    /// Without the speech library only sound that needs no change passes.
    #[cfg(not(feature = "voice"))]
    pub(super) fn from(rate: u32) -> Result<Self, VoiceError> {
        if rate == Samples::RATE {
            Ok(Self { pending: Vec::new() })
        } else {
            Err(VoiceError::NotBuilt)
        }
    }

    /// Takes a block, and gives what is ready to `out`.
    pub(super) fn take(&mut self, block: &[f32], out: &mut impl FnMut(&[f32])) -> Result<(), VoiceError> {
        if block.iter().any(|sample| !sample.is_finite()) {
            return Err(VoiceError::NotFinite);
        }
        self.change(block, out)
    }

    /// Gives what the filter still holds, by feeding it silence.
    #[cfg(feature = "voice")]
    pub(super) fn finish(&mut self, out: &mut impl FnMut(&[f32])) -> Result<(), VoiceError> {
        use rubato::Resampler;
        let Some(change) = &self.change else { return Ok(()) };
        let tail = change.input_frames_next() * 2 + change.output_delay();
        let due = self.taken * u64::from(Samples::RATE) / u64::from(self.hertz);
        let mut left = usize::try_from(due.saturating_sub(self.given)).unwrap_or(0);
        self.change(&vec![0.0; tail], &mut |block| {
            let keep = block.len().min(left);
            left -= keep;
            out(&block[..keep]);
        })
    }

    /// Nothing is held without the speech library.
    #[cfg(not(feature = "voice"))]
    #[expect(
        clippy::unnecessary_wraps,
        clippy::unused_self,
        reason = "the same face as with the library"
    )]
    pub(super) fn finish(&mut self, _out: &mut impl FnMut(&[f32])) -> Result<(), VoiceError> {
        Ok(())
    }

    #[cfg(feature = "voice")]
    fn change(&mut self, block: &[f32], out: &mut impl FnMut(&[f32])) -> Result<(), VoiceError> {
        use rubato::Resampler;
        use rubato::audioadapter_buffers::direct::InterleavedSlice;
        let Some(change) = &mut self.change else {
            out(block);
            return Ok(());
        };
        self.taken += block.len() as u64;
        self.pending.extend_from_slice(block);
        let step = change.input_frames_next();
        let mut done = 0;
        while self.pending.len() - done >= step {
            let part = InterleavedSlice::new(&self.pending[done..done + step], 1, step)
                .map_err(|_| VoiceError::Engine)?;
            let mut made = change
                .process(&part, None)
                .map_err(|_| VoiceError::Engine)?
                .take_data();
            let drop = self.skip.min(made.len());
            self.skip -= drop;
            self.given += (made.len() - drop) as u64;
            out(&made[drop..]);
            made.zeroize();
            done += step;
        }
        let left = self.pending.len() - done;
        self.pending.copy_within(done.., 0);
        self.pending[left..].zeroize();
        self.pending.truncate(left);
        Ok(())
    }

    #[cfg(not(feature = "voice"))]
    #[expect(
        clippy::unnecessary_wraps,
        clippy::unused_self,
        reason = "the same face as with the library"
    )]
    fn change(&mut self, block: &[f32], out: &mut impl FnMut(&[f32])) -> Result<(), VoiceError> {
        out(block);
        Ok(())
    }
}

impl Drop for Rate {
    fn drop(&mut self) {
        self.pending.zeroize();
    }
}
