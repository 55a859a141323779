//! Measures what is computed from the map: a look back over 100,000 moments beside pandas and statsmodels giving the
//! same figures in the same run, loops on the largest graph that is looked at, and folding 10,000 and 100,000 events,
//! from memory and from a locked store. Prints one figure a line: name, value, unit. Where two are compared, the ratio.
//!
//! Times are of the processor, where the system tells them, since others at work on the machine spoil any other.

#![allow(clippy::print_stdout, reason = "the figures are its output")]

use std::env;
use std::fs;
use std::hint::black_box;
use std::path::Path;
use std::time::Duration;
use std::time::Instant;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::json;
use uuid::Uuid;
use wayfold::insight;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::History;
use wayfold::map::Link;
use wayfold::map::Map;
use wayfold::map::Moment;
use wayfold::map::MomentId;
use wayfold::map::StepId;
use wayfold::map::TraceId;
use wayfold::map::Way;
use wayfold::map::What;
use wayfold::safety;
use wayfold::safety::Words;
use wayfold::store::Store;
use wayfold::store::Unlock;

#[path = "../python.rs"]
mod python;

const MOMENTS: u64 = 100_000;
const ZONE: &str = "Pacific/Auckland";

fn main() {
    let place = env::temp_dir().join(format!("wayfold-bench-insight-{}", std::process::id()));
    fs::create_dir_all(&place).expect("a place");
    // Folding comes first: what was given back by others would serve a short history better than a long one.
    folding();
    looking_back(&place);
    finding_loops();
    opening(&place);
    fs::remove_dir_all(&place).expect("removed");
}

/// Numbers that look thrown, and are the same in every run.
struct Thrown(u64);

impl Thrown {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % end
    }

    /// One of these.
    fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        let place = self.below(all.len() as u64);
        all[usize::try_from(place).expect("a place in a list")]
    }
}

/// An identity like those of the program: sorted by its number, the rest of it mixed.
fn identity(number: u64) -> Uuid {
    let mixed = (number + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    Uuid::from_u128(
        0x0190_0000_0000_7000_8000_0000_0000_0000 | (u128::from(number) << 80) | u128::from(mixed >> 2),
    )
}

fn entry(number: u64) -> EntryId {
    EntryId(identity(number))
}

fn words(text: &str) -> Words {
    safety::screen(text).into_words()
}

fn event(number: u64, what: What) -> Event {
    // From January 2015 on, one every 53 minutes: ten years for 100,000 of them.
    let at = Timestamp::from_second(1_420_070_400 + i64::try_from(number).expect("few") * 3_180)
        .expect("in range");
    Event {
        id: EventId(identity(number)),
        at,
        what,
    }
}

/// One or two of forty hooks, one of fifty moves, sometimes one of fifteen things that matter.
fn moment(number: u64, thrown: &mut Thrown) -> What {
    let first = thrown.below(40);
    let mut showed_up = vec![entry(first)];
    if thrown.below(2) == 0 {
        showed_up.push(entry((first + 1 + thrown.below(39)) % 40));
    }
    let serves = if thrown.below(3) == 0 {
        vec![entry(200 + thrown.below(15))]
    } else {
        Vec::new()
    };
    let way = thrown.one_of(&[Way::Toward, Way::Away, Way::Away, Way::Both, Way::NotSure]);
    let did = vec![entry(100 + thrown.below(50))];
    What::MomentNoted {
        moment: MomentId(identity(number)),
        showed_up,
        did,
        way,
        serves,
        words: None,
    }
}

fn looking_back(place: &Path) {
    let mut thrown = Thrown(1);
    let events: Vec<Event> = (0..MOMENTS)
        .map(|number| event(number, moment(number, &mut thrown)))
        .collect();
    let map = Map::fold(&events);
    assert_eq!(map.moments().len() as u64, MOMENTS);
    let (since, until) = (events[10_000].at, events[events.len() - 1].at);
    let zone = TimeZone::get(ZONE).expect("a zone");
    let asked = insight::Asked {
        since: Some(since),
        until,
        zone,
    };
    let ours = mean(200, || insight::look_back(&map, &asked));

    let figures = insight::look_back(&map, &asked);
    let file = place.join("moments.json");
    let lists = |of: fn(&Moment) -> &[EntryId]| {
        let pairs = map.moments().iter().enumerate();
        let (moments, entries): (Vec<_>, Vec<_>) = pairs
            .flat_map(|(number, moment)| of(moment).iter().map(move |entry| (number, *entry)))
            .unzip();
        json!({"moment": moments, "entry": entries})
    };
    let question = json!({
        "since": since, "until": until, "zone": ZONE, "figures": figures, "rounds": 20,
        "moments": {
            "at": map.moments().iter().map(|moment| moment.at).collect::<Vec<_>>(),
            "way": map.moments().iter().map(|moment| moment.way).collect::<Vec<_>>(),
        },
        "hooks": lists(|moment| &moment.showed_up),
        "moves": lists(|moment| &moment.did),
        "served": lists(|moment| &moment.serves),
    });
    fs::write(&file, question.to_string()).expect("written");
    let peer = peer(&file);
    say("look back over 100,000 moments, ours, mean", ours, "ms");
    say(
        "look back over 100,000 moments, pandas and statsmodels, mean",
        peer,
        "ms",
    );
    say("look back, ours faster by", peer / ours, "times");
}

/// Six inner entries and six away moves, each joined to all of the other field in both ways; this is the largest knot
/// that is looked at whole. With `traces`, each of these ways was followed, too, with relief and cost.
fn finding_loops() {
    for (name, traces) in [("every join", false), ("every join and every traced loop", true)] {
        let mut whats = Vec::new();
        for number in 0..12 {
            let (entry, field) = (entry(number), if number < 6 { Field::Inner } else { Field::Away });
            whats.push(What::EntryAdded {
                entry,
                field,
                kind: None,
                words: words("a thought or a move"),
            });
        }
        let mut trace = 0;
        for inner in (0..6).map(entry) {
            for away in (6..12).map(entry) {
                whats.push(What::Linked {
                    from: inner,
                    to: away,
                    link: Link::Pulls,
                });
                whats.push(What::Linked {
                    from: away,
                    to: inner,
                    link: Link::CostsLater,
                });
                for back_to in (0..6).map(entry).filter(|_| traces) {
                    trace += 1;
                    whats.push(What::LoopTraced {
                        trace: TraceId(identity(trace)),
                        hook: inner,
                        away,
                        relief: Some(words("quiet")),
                        cost: Some(words("late")),
                        back_to: Some(back_to),
                        matters: None,
                    });
                }
            }
        }
        let mut thrown = Thrown(2);
        for number in 1_000..3_000 {
            whats.push(moment(number, &mut thrown));
        }
        let events: Vec<Event> = (0..)
            .zip(whats)
            .map(|(number, what)| event(number, what))
            .collect();
        let map = Map::fold(&events);
        let found = insight::loops(&map);
        say(
            &format!("loops on the largest graph, {name}, found"),
            found.len() as f64,
            "loops",
        );
        say(
            &format!("loops on the largest graph, {name}, mean"),
            mean(10, || insight::loops(&map)),
            "ms",
        );
        say(
            &format!("the same, and each of them told in full, {name}, mean"),
            mean(10, || {
                insight::loops(&map)
                    .iter()
                    .map(|one| one.nodes.len())
                    .sum::<usize>()
            }),
            "ms",
        );
    }
}

/// A bit of everything that people do, in about the measure in which they do it.
fn a_life(events: u64) -> Vec<Event> {
    let mut thrown = Thrown(3);
    let mut whats = Vec::new();
    for number in 0..events {
        let one = entry(thrown.below(number + 1));
        let what = match thrown.below(20) {
            0..=2 => {
                let field = thrown.one_of(&Field::ALL);
                What::EntryAdded {
                    entry: entry(number),
                    field,
                    kind: None,
                    words: words("walked the long way home"),
                }
            }
            3 => What::EntryReworded {
                entry: one,
                words: words("walked home by the canal"),
            },
            4 => What::EntryRetired { entry: one },
            5 => What::EntryRestored { entry: one },
            6 => What::Linked {
                from: one,
                to: entry(thrown.below(50)),
                link: Link::Pulls,
            },
            7 => What::Unlinked {
                from: one,
                to: entry(thrown.below(50)),
                link: Link::Pulls,
            },
            8 => What::WorkabilityRated {
                entry: one,
                now: 7,
                later: 2,
            },
            9 => What::TakenBack {
                event: EventId(identity(thrown.below(number + 1))),
            },
            10 => What::StepAdded {
                step: StepId(identity(number)),
                when: None,
                act: words("open the letter"),
                serves: vec![one],
                confidence: Some(6),
                smaller_than: None,
            },
            _ => moment(number, &mut thrown),
        };
        whats.push(what);
    }
    (0..)
        .zip(whats)
        .map(|(number, what)| event(number, what))
        .collect()
}

fn folding() {
    let (few, many) = (a_life(10_000), a_life(100_000));
    let (small, large) = (mean(200, || Map::fold(&few)), mean(20, || Map::fold(&many)));
    say("folding 10,000 events, mean", small, "ms");
    say("folding 100,000 events, mean", large, "ms");
    say(
        "folding, 100,000 to 10,000 events (10 is linear)",
        large / small,
        "times",
    );
}

fn opening(place: &Path) {
    let (few, many) = (a_life(10_000), a_life(100_000));
    let (small, large) = (
        unlocking(&place.join("few"), &few),
        unlocking(&place.join("many"), &many),
    );
    say("opening and folding a store of 10,000 events, mean", small, "ms");
    say("opening and folding a store of 100,000 events, mean", large, "ms");
    say(
        "opening and folding, 100,000 to 10,000 events (10 is linear)",
        large / small,
        "times",
    );
}

fn unlocking(place: &Path, events: &[Event]) -> f64 {
    let mut store = Store::create(place, &Unlock::KeyFile).expect("made");
    for some in events.chunks(1_000) {
        store.append(some).expect("kept");
    }
    drop(store);
    // One at a time, since a store can be open only once.
    let rounds = 10;
    let one = || {
        mean(1, || {
            let (_store, opened) = Store::open(place, &Unlock::KeyFile).expect("opened");
            let history = History::new(opened.events);
            assert_eq!(history.len(), events.len());
            history
        })
    };
    (0..rounds).map(|_| one()).sum::<f64>() / f64::from(rounds)
}

/// The mean time of so many rounds, in milliseconds; what is kept is dropped when the clock has stopped.
fn mean<T>(rounds: u32, mut make: impl FnMut() -> T) -> f64 {
    let mut kept = Vec::with_capacity(rounds as usize);
    let (start, processor) = (Instant::now(), processor_time());
    for _ in 0..rounds {
        kept.push(black_box(make()));
    }
    let spent = match (processor, processor_time()) {
        (Some(before), Some(after)) => after.saturating_sub(before),
        _ => start.elapsed(),
    };
    spent.as_secs_f64() * 1_000.0 / f64::from(rounds)
}

/// How long this thread has had the processor, to within a few milliseconds. Linux alone tells it in a file.
fn processor_time() -> Option<Duration> {
    let told = fs::read_to_string("/proc/self/schedstat").ok()?;
    let nanoseconds = told.split_whitespace().next()?.parse().ok()?;
    Some(Duration::from_nanos(nanoseconds))
}

/// Runs the Python side, which checks that its figures are ours and prints its mean processor time in
/// milliseconds.
fn peer(file: &Path) -> f64 {
    python::text("bench/insight_peer.py", &[file], &[])
        .trim()
        .parse()
        .expect("a figure")
}

fn say(name: &str, value: f64, unit: &str) {
    println!("{name}: {value:.3} {unit}");
}
