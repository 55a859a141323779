//! Measures reading the shipped scripts: all of them checked, what one sitting needs at start-up, and the plain reading
//! of the same files as TOML for comparison. The target is under 5 ms for all, in release.

use std::hint::black_box;
use std::io::Write;
use std::path::Path;
use std::time::Duration;
use std::time::Instant;

use wayfold::dialogue::Library;

const ROUNDS: usize = 101;

fn main() -> std::io::Result<()> {
    let files = texts()?;
    let bytes: usize = files.iter().map(String::len).sum();
    let started = Instant::now();
    let first = Library::shipped("en").map(|library| library.names().count());
    let first_took = started.elapsed();
    let all = measured(|| {
        black_box(Library::shipped("en").is_ok());
    });
    let at_hand = measured(|| {
        black_box(Library::at_hand("en").is_ok());
    });
    let one = measured(|| {
        let library = Library::at_hand("en").ok();
        // A sitting opens its own script; grounding and safety are read when they are first needed.
        black_box(library.and_then(|library| library.version("first-map")));
    });
    let plain = measured(|| {
        for text in &files {
            black_box(text.parse::<toml::Table>().is_ok());
        }
    });
    let mut out = std::io::stdout().lock();
    let ms = |took: Duration| took.as_secs_f64() * 1e3;
    writeln!(
        out,
        "dialogue: {} scripts, {} files, {bytes} bytes",
        first.unwrap_or(0),
        files.len()
    )?;
    writeln!(
        out,
        "dialogue: {:.2} ms all scripts, the first time",
        ms(first_took)
    )?;
    let both =
        |(fastest, median): (Duration, Duration)| format!("{:.2} ms ({:.2} median)", ms(fastest), ms(median));
    writeln!(
        out,
        "dialogue: {} all scripts, read and checked (fastest of {ROUNDS})",
        both(all)
    )?;
    writeln!(
        out,
        "dialogue: {} the same files as plain TOML; ratio {:.2}",
        both(plain),
        ms(all.0) / ms(plain.0)
    )?;
    writeln!(
        out,
        "dialogue: {} the lines all share; {} with the first sitting's script",
        both(at_hand),
        both(one)
    )
}

/// The files that the program reads: flows, their words, and the lines all share.
fn texts() -> std::io::Result<Vec<String>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue");
    let mut texts = Vec::new();
    for part in ["flow", "en"] {
        for file in std::fs::read_dir(folder.join(part))? {
            let path = file?.path();
            // The shell's own phrases are no part of a script.
            if path.file_name().is_none_or(|name| name != "shell.toml") {
                texts.push(std::fs::read_to_string(path)?);
            }
        }
    }
    Ok(texts)
}

/// The fastest and the median: on a busy machine only the fastest is the program's own.
fn measured(mut run: impl FnMut()) -> (Duration, Duration) {
    let mut took: Vec<Duration> = (0..ROUNDS)
        .map(|_| {
            let started = Instant::now();
            run();
            started.elapsed()
        })
        .collect();
    took.sort();
    (took[0], took[ROUNDS / 2])
}
