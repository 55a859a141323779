//! Measures the ear: hears every WAV file it is given with every model it is given, and writes one JSON line for each.
//! `tests/bench/voice.py` runs this beside the reference engine, in turn, and does the scoring.
//!
//! Arguments: `MODEL ACTIVITY BEAM THREADS ROUNDS FILE...`.

use std::io::Write;
use std::path::Path;
use std::time::Duration;

use wayfold::voice;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [model, activity, beam, threads, rounds, files @ ..] = arguments.as_slice() else {
        panic!("MODEL ACTIVITY BEAM THREADS ROUNDS FILE...");
    };
    let effort = voice::Effort {
        threads: threads.parse().expect("threads"),
        beam: beam.parse().expect("beam"),
        bound: Duration::from_mins(1),
    };
    let rounds: usize = rounds.parse().expect("rounds");
    let start = std::time::Instant::now();
    let mut ear =
        voice::Ear::load_with(Path::new(model), Path::new(activity), effort).expect("a sound model");
    let load = start.elapsed().as_secs_f64() * 1000.0;
    let hints = voice::Hints {
        language: Some("en".to_owned()),
        names: Vec::new(),
    };
    let mut out = std::io::stdout().lock();
    for file in files {
        let samples = voice::wav::read(Path::new(file)).expect("a WAV file");
        let mut took = Vec::new();
        let mut text = String::new();
        for _ in 0..rounds {
            let heard = ear.hear(&samples, &hints).expect("hearing");
            took.push(heard.took.as_secs_f64() * 1000.0);
            text = heard.text.to_string();
        }
        let line = serde_json::json!({
            "file": file, "text": text, "seconds": samples.seconds(), "took_ms": took, "load_ms": load,
        });
        writeln!(out, "{line}").expect("standard output");
    }
}
