//! The filters that turn a spectrum into what a speech model sees: triangles on the mel scale in Slaney's form,
//! each with the same area. Computed rather than carried along; a test compares them with the published file.

use super::layout::BINS;

/// The highest frequency, in hertz: half the rate of the samples.
const TOP: f64 = 8_000.0;

/// Below this frequency the scale is linear, above it logarithmic (Slaney).
const BEND: f64 = 1_000.0;

/// Hertz a mel below the bend.
const STEP: f64 = 200.0 / 3.0;

/// `mels` rows of [`BINS`] weights.
pub(super) fn filters(mels: u32) -> Vec<f32> {
    let edges: Vec<f64> = (0..mels + 2)
        .map(|at| hertz(mel(TOP) * f64::from(at) / f64::from(mels + 1)))
        .collect();
    let bins: Vec<f64> = (0..BINS)
        .map(|bin| TOP * f64::from(bin) / f64::from(BINS - 1))
        .collect();
    let mut out = Vec::with_capacity(bins.len() * mels as usize);
    for edge in edges.windows(3) {
        let (low, middle, high) = (edge[0], edge[1], edge[2]);
        for bin in &bins {
            let rising = (bin - low) / (middle - low);
            let falling = (high - bin) / (high - middle);
            let weight = rising.min(falling).max(0.0) * 2.0 / (high - low);
            // The file holds f32.
            #[expect(clippy::cast_possible_truncation, reason = "the format's own precision")]
            out.push(weight as f32);
        }
    }
    out
}

fn mel(hertz: f64) -> f64 {
    if hertz < BEND {
        hertz / STEP
    } else {
        BEND / STEP + (hertz / BEND).ln() * 27.0 / 6.4_f64.ln()
    }
}

fn hertz(mel: f64) -> f64 {
    let bend = BEND / STEP;
    if mel < bend {
        mel * STEP
    } else {
        BEND * ((mel - bend) * 6.4_f64.ln() / 27.0).exp()
    }
}
