//! The voice room: what needs no model and no sound device here, the rest in the files beside it.
//!
//! Tests that hear or convert need the speech models. `./scripts/test` fetches them; where they could not be had it
//! says so by `WAYFOLD_NO_MODELS`, and only then do those tests have nothing to do.

use std::path::PathBuf;

/// The folder of the speech models: the one named in `WAYFOLD_MODELS`, else `models` beside the source. `None` only
/// where the program was built without speech or the set-up could not bring any.
#[expect(clippy::print_stderr, reason = "a test that had nothing to hear says so")]
pub(crate) fn models() -> Option<PathBuf> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("models");
    let folder = std::env::var_os("WAYFOLD_MODELS").map_or_else(beside, PathBuf::from);
    if folder.join("ggml-base-q8_0.bin").is_file() {
        return Some(folder);
    }
    let without = std::env::var_os("WAYFOLD_NO_MODELS").is_some() || !wayfold::voice::built();
    assert!(
        without,
        "no speech models in {}: run ./scripts/test",
        folder.display()
    );
    eprintln!("There are no speech models here, so this test had nothing to hear.");
    None
}

pub(crate) fn data(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("tests/data/voice")
        .join(name)
}

/// Runs a reference script in the pinned environment and gives what it wrote.
pub(crate) fn reference(script: &str, arguments: &[&str], input: &str) -> String {
    crate::python::text(&format!("reference/{script}"), arguments, input.as_bytes())
}

/// Ten sounds in which nobody speaks, three seconds each, made anew from fixed numbers.
pub(crate) fn noises() -> Vec<(&'static str, Vec<f32>)> {
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut random = move || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 40) as f32 / (1 << 23) as f32 - 1.0
    };
    let time = |at: usize| at as f32 / 16_000.0;
    let tone = |at: usize, hertz: f32| (time(at) * hertz * std::f32::consts::TAU).sin();
    let mut make = |sound: &mut dyn FnMut(usize, f32) -> f32| -> Vec<f32> {
        (0..48_000).map(|at| sound(at, random())).collect()
    };
    let (mut brown, mut smooth) = (0.0_f32, 0.0_f32);
    vec![
        ("silence", make(&mut |_, _| 0.0)),
        ("faint white", make(&mut |_, noise| noise * 0.003)),
        ("white", make(&mut |_, noise| noise * 0.03)),
        ("loud white", make(&mut |_, noise| noise * 0.3)),
        (
            "mains hum",
            make(&mut |at, _| tone(at, 50.0) * 0.1 + tone(at, 100.0) * 0.03),
        ),
        (
            "hum with hiss",
            make(&mut |at, noise| tone(at, 60.0) * 0.1 + noise * 0.01),
        ),
        (
            "rumble",
            make(&mut |_, noise| {
                brown = brown * 0.995 + noise * 0.02;
                brown
            }),
        ),
        (
            "fan",
            make(&mut |at, noise| {
                smooth = smooth * 0.9 + noise * 0.1;
                smooth * (0.2 + 0.02 * tone(at, 23.0))
            }),
        ),
        (
            "key clicks",
            make(&mut |at, noise| {
                if at % 4_100 < 120 {
                    noise * 0.5
                } else {
                    noise * 0.001
                }
            }),
        ),
        (
            "beep",
            make(&mut |at, _| {
                if at % 16_000 < 8_000 {
                    tone(at, 880.0) * 0.2
                } else {
                    0.0
                }
            }),
        ),
    ]
}
