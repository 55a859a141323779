//! Measures the screen: how fast ordinary prose goes through, how long a long entry takes at worst, what one bare
//! pass of a regex set over the same text takes, how long the first screening takes, and whether time grows linearly.
#![allow(clippy::print_stdout, clippy::similar_names)]

use std::hint::black_box;
use std::time::Duration;
use std::time::Instant;

use regex::RegexSet;
use wayfold::safety::directory;
use wayfold::safety::screen;

const SENTENCES: [&str; 12] = [
    "The ferry was late again, so we ate our bread on the quay and watched the gulls.",
    "Odile has painted the workshop door a blue that nobody can agree about.",
    "I meant to ring the plumber on Thursday but the day ran away from me.",
    "My shoulders go tight whenever the landlord's name comes up on the screen.",
    "We planted beans along the south wall and the snails have found half of them.",
    "There is a thought that says I always leave things too late.",
    "On Sundays the choir meets in the old school, and I carry the chairs.",
    "He asked for the report twice, and twice I said it was nearly done.",
    "What matters to me here is being the kind of uncle who turns up.",
    "The kettle boiled dry while I was reading the letter from the council.",
    "She laughed, and for a moment the whole kitchen felt warmer.",
    "I want to finish the bench before the rain, even if the legs are uneven.",
];

fn prose(bytes: usize) -> String {
    let row = SENTENCES.join(" ");
    let mut text = format!("{row} ").repeat(bytes / row.len() + 1);
    text.truncate(bytes);
    text
}

/// The fastest of five runs: what is slower is the machine's own business.
fn fastest(work: impl Fn()) -> Duration {
    (0..5).map(|_| took(&work)).min().unwrap_or_default()
}

fn took(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

fn main() {
    let lookup = took(|| {
        black_box(directory::help(Some("AT"), &[]));
    });
    let first = took(|| {
        black_box(screen("a quiet first line"));
    });
    println!("crisis lookup {:.2} ms", lookup.as_secs_f64() * 1e3);
    println!(
        "first screening, with everything taken up {:.2} ms",
        first.as_secs_f64() * 1e3
    );
    let text = prose(4_000_000);
    let full = fastest(|| {
        black_box(screen(&text));
    });
    println!(
        "ordinary prose {:.1} MB/s",
        text.len() as f64 / full.as_secs_f64() / 1e6
    );
    let set = RegexSet::new([
        r"(?i)kill(ing)? myself",
        r"(?i)suicid",
        r"(?i)want to die",
        r"(?i)end my life",
        r"(?i)overdose",
        r"(?i)hurt(ing)? myself",
    ])
    .expect("the set compiles");
    let bare = fastest(|| {
        for line in text.split(". ") {
            black_box(set.matches(line));
        }
    });
    println!(
        "one bare pass of six rows {:.1} MB/s",
        text.len() as f64 / bare.as_secs_f64() / 1e6
    );
    let entry = prose(900) + " and I keep thinking of ending it all and I wish I were dead";
    let mut times: Vec<Duration> = (0..2_000)
        .map(|_| {
            took(|| {
                black_box(screen(&entry));
            })
        })
        .collect();
    times.sort_unstable();
    println!(
        "1,000-character entry with danger in it p50 {:.3} ms p99 {:.3} ms",
        times[1_000].as_secs_f64() * 1e3,
        times[1_980].as_secs_f64() * 1e3
    );
    for size in [1_000_000, 10_000_000] {
        let text = prose(size);
        let time = fastest(|| {
            black_box(screen(&text));
        });
        println!("{size} bytes {:.1} ms", time.as_secs_f64() * 1e3);
    }
    if let Ok(path) = std::env::var("WAYFOLD_PROSE") {
        let text = std::fs::read_to_string(path).expect("the prose is there");
        let time = took(|| {
            black_box(screen(&text));
        });
        println!(
            "given prose {:.1} MB/s",
            text.len() as f64 / time.as_secs_f64() / 1e6
        );
    }
}
