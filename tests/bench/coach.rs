//! Measures the entry check: microseconds an entry over the invented sets, the longest entry, and the first
//! call, which holds whatever start-up there is.

use std::hint::black_box;
use std::io::Write;
use std::time::Instant;

use wayfold::coach::consider;
use wayfold::map::Field;

const ROUNDS: usize = 20;

fn main() -> std::io::Result<()> {
    let started = Instant::now();
    black_box(consider(Field::Toward, black_box("rang my sister")));
    let first = started.elapsed();

    let sets = [
        include_str!("../data/coach/first-misplaced.tsv"),
        include_str!("../data/coach/first-fine.tsv"),
        include_str!("../data/coach/second-misplaced.tsv"),
        include_str!("../data/coach/second-fine.tsv"),
        include_str!("../data/coach/third-misplaced.tsv"),
        include_str!("../data/coach/third-fine.tsv"),
        include_str!("../data/coach/fourth-misplaced.tsv"),
        include_str!("../data/coach/fourth-fine.tsv"),
    ];
    let entries: Vec<(Field, &str)> = sets
        .iter()
        .flat_map(|set| set.lines().skip(1))
        .filter_map(|line| {
            let mut cells = line.split('\t');
            let field = match cells.next()? {
                "matters" => Field::Matters,
                "inner" => Field::Inner,
                "away" => Field::Away,
                _ => Field::Toward,
            };
            Some((field, cells.next()?))
        })
        .collect();
    let mut slowest = std::time::Duration::ZERO;
    let mut slowest_entry = "";
    let started = Instant::now();
    for _ in 0..ROUNDS {
        for &(field, text) in &entries {
            black_box(consider(field, black_box(text)));
        }
    }
    let mean = started.elapsed() / u32::try_from(ROUNDS * entries.len()).unwrap_or(u32::MAX);
    for &(field, text) in &entries {
        let started = Instant::now();
        black_box(consider(field, black_box(text)));
        if started.elapsed() > slowest {
            slowest = started.elapsed();
            slowest_entry = text;
        }
    }
    let long = "zworg flimble and then i went to the kitcehn becuase ".repeat(20_000);
    let started = Instant::now();
    black_box(consider(Field::Away, black_box(&long)));
    let megabyte = started.elapsed();

    let mut out = std::io::stdout().lock();
    writeln!(out, "coach: first call {:.1} us", first.as_secs_f64() * 1e6)?;
    writeln!(
        out,
        "coach: {:.2} us an entry (mean of {} entries, {ROUNDS} rounds)",
        mean.as_secs_f64() * 1e6,
        entries.len()
    )?;
    writeln!(
        out,
        "coach: {:.1} us the slowest entry ({} letters)",
        slowest.as_secs_f64() * 1e6,
        slowest_entry.len()
    )?;
    writeln!(
        out,
        "coach: {:.1} us an entry of {} bytes",
        megabyte.as_secs_f64() * 1e6,
        long.len()
    )
}
