//! Tells speech from everything else, and cuts long speech where a person paused.

use std::ops::Range;
use std::path::Path;

use super::Samples;
use super::VoiceError;
use super::model;

/// The sound counts as speech from this probability on. On ten noise clips the highest was 0.148, on 85 clips of
/// speech 1.000.
#[cfg(feature = "voice")]
const SPEECH: f32 = 0.5;

/// The library copies what it looks at, so it looks at one minute at a time, in samples.
#[cfg(feature = "voice")]
const WINDOW: usize = 60 * Samples::RATE as usize;

/// Spans that are closer than this are one, in samples: the model itself joins them inside a window.
#[cfg(feature = "voice")]
const EDGE: usize = Samples::RATE as usize / 5;

/// The longest utterance handed over at once, in samples. The speech model could look at 30 s, but its memory grows
/// with what it looks at.
const LONGEST: usize = 12 * Samples::RATE as usize;

/// A silence inside an utterance is kept up to this length, in samples; more of it only costs time.
const KEPT_SILENCE: usize = Samples::RATE as usize * 6 / 10;

/// The small model that tells where somebody speaks.
pub struct Activity {
    #[cfg(feature = "voice")]
    context: whisper_rs::WhisperVadContext,
}

impl std::fmt::Debug for Activity {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Activity")
    }
}

impl Activity {
    /// Loads the model; its checksum must be the published one.
    ///
    /// # Errors
    /// `File`, `BadModel`, `Engine`, or `NotBuilt` without the feature `voice`.
    #[cfg(feature = "voice")]
    pub fn load(path: &Path) -> Result<Self, VoiceError> {
        model::check_activity(path)?;
        whisper_rs::install_logging_hooks();
        let name = path
            .to_str()
            .ok_or_else(|| VoiceError::model(path, super::ModelFault::UnknownKind))?;
        let mut settings = whisper_rs::WhisperVadContextParams::new();
        settings.set_n_threads(1);
        let context = whisper_rs::WhisperVadContext::new(name, settings).map_err(|_| VoiceError::Engine)?;
        Ok(Self { context })
    }

    /// Loads nothing: there is no speech library.
    ///
    /// # Errors
    /// `NotBuilt`, always, once the file has been looked at.
    #[cfg(not(feature = "voice"))]
    pub fn load(path: &Path) -> Result<Self, VoiceError> {
        model::check_activity(path)?;
        Err(VoiceError::NotBuilt)
    }

    /// Where somebody speaks, in samples, in order and apart; empty when nobody does.
    ///
    /// # Errors
    /// `Engine` if the speech library fails.
    #[cfg(feature = "voice")]
    pub fn spans(&mut self, sound: &[f32]) -> Result<Vec<Range<usize>>, VoiceError> {
        let mut spans: Vec<Range<usize>> = Vec::new();
        for (at, window) in sound.chunks(WINDOW).enumerate() {
            for span in self.window(window)? {
                let span = span.start + at * WINDOW..span.end + at * WINDOW;
                match spans.last_mut() {
                    // A word that lies over the edge of two windows is one span.
                    Some(last) if span.start.saturating_sub(last.end) < EDGE => last.end = span.end,
                    _ => spans.push(span),
                }
            }
        }
        Ok(spans)
    }

    #[cfg(feature = "voice")]
    fn window(&mut self, sound: &[f32]) -> Result<Vec<Range<usize>>, VoiceError> {
        // Under a tenth of a second there is no word, and the library asks for at least one block.
        if sound.len() < Samples::RATE as usize / 10 {
            return Ok(Vec::new());
        }
        let mut settings = whisper_rs::WhisperVadParams::new();
        settings.set_threshold(SPEECH);
        settings.set_min_speech_duration(120);
        settings.set_min_silence_duration(200);
        settings.set_speech_pad(0);
        let found = self
            .context
            .segments_from_samples(settings, sound)
            .map_err(|_| VoiceError::Engine)?;
        // Times come in hundredths of a second. They are never negative, and never past the end once cut to it.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped to the sound's length"
        )]
        let at = |time: f32| ((time.max(0.0) * Samples::RATE as f32 / 100.0) as usize).min(sound.len());
        Ok(found
            .map(|span| at(span.start)..at(span.end))
            .filter(|span| !span.is_empty())
            .collect())
    }

    /// Nothing is heard without the speech library.
    ///
    /// # Errors
    /// `NotBuilt`, always.
    #[cfg(not(feature = "voice"))]
    pub fn spans(&mut self, _sound: &[f32]) -> Result<Vec<Range<usize>>, VoiceError> {
        Err(VoiceError::NotBuilt)
    }
}

/// Groups spans of speech into utterances: as few as the longest length allows, cut at the longest pauses. Each
/// range of an utterance is a stretch of the recording to keep; what lies between them is silence beyond
/// [`KEPT_SILENCE`].
pub(super) fn utterances(spans: &[Range<usize>], end: usize) -> Vec<Vec<Range<usize>>> {
    let mut out = Vec::new();
    gather(&split_long(spans), end, &mut out);
    out
}

/// A span longer than an utterance may be has no pause to cut at, so it is cut where it must be.
fn split_long(spans: &[Range<usize>]) -> Vec<Range<usize>> {
    let whole = spans.iter().filter(|span| !span.is_empty());
    whole
        .flat_map(|span| {
            span.clone()
                .step_by(LONGEST)
                .map(|at| at..span.end.min(at + LONGEST))
        })
        .collect()
}

fn gather(spans: &[Range<usize>], end: usize, out: &mut Vec<Vec<Range<usize>>>) {
    if spans.is_empty() {
        return;
    }
    let kept = stretches(spans, end);
    if spans.len() == 1 || kept.iter().map(ExactSizeIterator::len).sum::<usize>() <= LONGEST + KEPT_SILENCE {
        out.push(kept);
        return;
    }
    let gap = |at: &usize| spans[*at].start - spans[at - 1].end;
    let cut = (1..spans.len()).max_by_key(gap).unwrap_or(1);
    gather(&spans[..cut], end, out);
    gather(&spans[cut..], end, out);
}

/// Spans with half the kept silence on either side, joined where they touch.
fn stretches(spans: &[Range<usize>], end: usize) -> Vec<Range<usize>> {
    let side = KEPT_SILENCE / 2;
    let mut kept: Vec<Range<usize>> = Vec::new();
    for span in spans {
        let wide = span.start.saturating_sub(side)..(span.end + side).min(end);
        match kept.last_mut() {
            Some(last) if wide.start <= last.end => last.end = last.end.max(wide.end),
            _ => kept.push(wide),
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SECOND: usize = Samples::RATE as usize;

    #[test]
    fn a_thinking_pause_does_not_cut_a_sentence() {
        let spans = [SECOND..3 * SECOND, 9 * SECOND..12 * SECOND];
        let found = utterances(&spans, 14 * SECOND);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].len(), 2);
    }

    #[test]
    fn long_speech_is_cut_at_its_longest_pause() {
        let spans = [0..5 * SECOND, 6 * SECOND..10 * SECOND, 25 * SECOND..35 * SECOND];
        let found = utterances(&spans, 35 * SECOND);
        assert_eq!(found.len(), 2);
        assert!(found[0].iter().all(|range| range.end < 25 * SECOND));
    }

    #[test]
    fn speech_without_any_pause_is_cut_and_none_of_it_is_lost() {
        let end = 31 * SECOND;
        let found = utterances(std::slice::from_ref(&(0..end)), end);
        assert_eq!(found.len(), 3);
        let mut at = 0;
        for kept in found.iter().flatten() {
            assert!(kept.start <= at && kept.len() <= 13 * SECOND, "{kept:?}");
            at = kept.end;
        }
        assert_eq!(at, end);
    }

    proptest! {
        #[test]
        fn every_spoken_sample_is_in_exactly_one_short_enough_utterance(
            lengths in proptest::collection::vec((1_usize..190_000, 9_700_usize..200_000), 0..30)
        ) {
            let mut spans = Vec::new();
            let mut at = 0;
            for (speech, silence) in lengths {
                spans.push(at + silence..at + silence + speech);
                at += silence + speech;
            }
            let found = utterances(&spans, at);
            for span in &spans {
                let within = found.iter().flatten().filter(|kept| kept.start <= span.start && span.end <= kept.end);
                prop_assert_eq!(within.count(), 1);
            }
            for utterance in &found {
                let length: usize = utterance.iter().map(ExactSizeIterator::len).sum();
                prop_assert!(length <= 13 * SECOND);
            }
        }
    }
}
