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
    let all = median(|| {
        black_box(Library::shipped("en").is_ok());
    });
    let at_hand = median(|| {
        black_box(Library::at_hand("en").is_ok());
    });
    let one = median(|| {
        let library = Library::at_hand("en").ok();
        // A sitting opens its own script; grounding and safety are read when they are first needed.
        black_box(library.and_then(|library| library.version("first-map")));
    });
    let plain = median(|| {
        for text in &files {
            black_box(text.parse::<toml::Table>().is_ok());
        }
    });
    let mut out = std::io::stdout().lock();
    let ms = |took: Duration| took.as_secs_f64() * 1e3;
    writeln!(out, "dialogue: {} scripts, {} files, {bytes} bytes", first.unwrap_or(0), files.len())?;
    writeln!(out, "dialogue: {:.2} ms all scripts, the first time", ms(first_took))?;
    writeln!(out, "dialogue: {:.2} ms all scripts, read and checked (median of {ROUNDS})", ms(all))?;
    writeln!(out, "dialogue: {:.2} ms the same files as plain TOML; ratio {:.2}", ms(plain), ms(all) / ms(plain))?;
    writeln!(out, "dialogue: {:.2} ms the lines all share; {:.2} ms with the first sitting's script", ms(at_hand), ms(one))
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

fn median(mut run: impl FnMut()) -> Duration {
    let mut took: Vec<Duration> = (0..ROUNDS)
        .map(|_| {
            let started = Instant::now();
            run();
            started.elapsed()
        })
        .collect();
    took.sort();
    took[ROUNDS / 2]
}
