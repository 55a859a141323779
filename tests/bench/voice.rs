//! Measures the ear: hears each WAV file named on standard input, and answers with one JSON line for each.
//! `tests/bench/voice.py` runs this beside the reference engine, clip by clip in turn, and does the scoring.
//!
//! Arguments: `MODEL ACTIVITY BEAM THREADS`.

use std::io::Write;
use std::path::Path;
use std::time::Duration;

use wayfold::voice;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [model, activity, beam, threads] = arguments.as_slice() else {
        panic!("MODEL ACTIVITY BEAM THREADS");
    };
    let effort = voice::Effort {
        threads: threads.parse().expect("threads"),
        beam: beam.parse().expect("beam"),
        bound: Duration::from_mins(1),
    };
    let start = std::time::Instant::now();
    let mut ear =
        voice::Ear::load_with(Path::new(model), Path::new(activity), effort).expect("a sound model");
    let load = start.elapsed().as_secs_f64() * 1000.0;
    let hints = voice::Hints {
        language: Some("en".to_owned()),
        ..voice::Hints::default()
    };
    let mut out = std::io::stdout().lock();
    for file in std::io::stdin().lines().map_while(Result::ok) {
        let samples = voice::wav::read(Path::new(&file)).expect("a WAV file");
        let heard = ear.hear(&samples, &hints).expect("hearing");
        let took = heard.took.as_secs_f64() * 1000.0;
        let (text, seconds, peak) = (&*heard.text, heard.seconds, peak_kb());
        let line = serde_json::json!({
            "file": file, "text": text, "seconds": seconds, "took_ms": took, "load_ms": load, "peak_kb": peak,
        });
        writeln!(out, "{line}").expect("standard output");
        out.flush().expect("standard output");
    }
}

/// The most memory this process ever held, in kilobytes, where the system tells.
fn peak_kb() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))?
        .trim()
        .trim_end_matches(" kB")
        .parse()
        .ok()
}
