//! Measures how long pictures take: a map of 40 entries as PDF, beside a general document compiler that sets the same
//! words in the same run. Prints one line a measure; nothing here passes or fails.

#[path = "../picture_maps.rs"]
#[expect(dead_code, reason = "the tests use the rest")]
mod picture_maps;

use std::process::Command;
use std::time::Duration;
use std::time::Instant;

use wayfold::map::Field;
use wayfold::map::Map;
use wayfold::page;
use wayfold::page::SheetOptions;
use wayfold::picture;
use wayfold::picture::Fonts;
use wayfold::picture::terminal;
use wayfold::picture::terminal::Screen;

#[path = "../python.rs"]
mod python;

const TIMES: usize = 21;

fn main() -> Result<(), picture::PictureError> {
    let map = entries(40);
    let page = page::sheet(&map, &SheetOptions::default());
    let mut lines = Vec::new();
    let bytes = picture::pdf(&page, &Fonts::embedded())?.len();
    let pdf = median(|| drop(picture::pdf(&page, &Fonts::embedded())));
    lines.push(format!(
        "picture: PDF of 40 entries, {bytes} bytes: {:.1} ms",
        ms(pdf)
    ));
    let svg = median(|| drop(picture::svg(&page, &Fonts::embedded())));
    lines.push(format!("picture: SVG of 40 entries: {:.1} ms", ms(svg)));
    let png = median(|| drop(picture::png(&page, &Fonts::embedded(), 1.0)));
    lines.push(format!(
        "picture: PNG of 40 entries at scale 1: {:.1} ms",
        ms(png)
    ));
    for count in [100, 10_000] {
        let page = page::sheet(&entries(count), &SheetOptions::default());
        let screen = Screen {
            columns: 80,
            unicode: true,
            colour: true,
            plain: false,
        };
        let drawn = median(|| drop(terminal::draw(&page, &screen)));
        lines.push(format!(
            "picture: terminal of {count} entries at 80 columns: {:.1} ms",
            ms(drawn)
        ));
    }
    lines.push(
        peer(pdf).unwrap_or_else(|| "picture: no peer here; run ./scripts/test, which brings it".to_owned()),
    );
    if std::env::var_os("WAYFOLD_LONG").is_some() {
        let printed = browser(&picture::svg(&page, &Fonts::embedded()));
        lines.push(match printed {
            Some(time) => format!(
                "picture: the same SVG printed by a browser: {:.0} ms, ratio {:.3}",
                ms(time),
                pdf.as_secs_f64() / time.as_secs_f64()
            ),
            None => "picture: no browser here".to_owned(),
        });
    }
    show(&lines.join("\n"));
    Ok(())
}

/// Entries of a few words each, over all fields.
fn entries(count: usize) -> Map {
    let mut drawn = picture_maps::Drawn::default();
    for at in 0..count {
        drawn.entry(
            Field::ALL[at % 4],
            None,
            &format!("water the beans before work, day {at}"),
        );
    }
    drawn.map()
}

fn median(mut work: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..TIMES)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort();
    times[TIMES / 2]
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

/// The document compiler's time for the same words on the same machine, and the ratio.
fn peer(ours: Duration) -> Option<String> {
    let theirs: f64 = python::text::<&str>("bench/picture_peer.py", &[], &[])
        .trim()
        .parse()
        .ok()?;
    Some(format!(
        "picture: the same words by a document compiler: {theirs:.1} ms, ratio {:.2}",
        ms(ours) / theirs
    ))
}

/// How long a browser takes to print an SVG as PDF, start and all: the median of three.
fn browser(svg: &str) -> Option<Duration> {
    let folder = tempfile::tempdir().ok()?;
    let (from, to) = (folder.path().join("map.svg"), folder.path().join("map.pdf"));
    std::fs::write(&from, svg).ok()?;
    let mut times = Vec::new();
    for _ in 0..3 {
        let start = Instant::now();
        let done = Command::new("chromium")
            .args(["--headless", "--no-sandbox", "--disable-gpu"])
            .arg(format!("--print-to-pdf={}", to.display()))
            .arg(&from)
            .output()
            .ok()?;
        times.push(start.elapsed());
        if !(done.status.success() && to.exists()) {
            return None;
        }
    }
    times.sort();
    Some(times[1])
}

#[expect(clippy::print_stdout, reason = "a bench prints its measures")]
fn show(text: &str) {
    println!("{text}");
}
