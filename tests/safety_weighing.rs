//! Holds the weighing of words to what it is for: danger that no pattern names, everyday words left alone, denials that
//! hold, and a table that anyone can read and make anew.

// A test may fail by unwrapping in its own small functions too, and may print the figures it measures.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::path::Path;
use std::path::PathBuf;

use proptest::prelude::*;
use wayfold::safety::About;
use wayfold::safety::Level;
use wayfold::safety::Screened;
use wayfold::safety::Topic;
use wayfold::safety::groups;
use wayfold::safety::lesson;
use wayfold::safety::screen;

use crate::python;

const NAME: &str = "weighed-words";

/// Invented for this file, and in no set that the table was made from.
const DANGERS: [&str; 4] = [
    "no one would even notice if I stopped being alive",
    "I've made up my mind, Sunday is my last",
    "fingers down my throat, and I'm so faint",
    "she has nothing left to stay alive for",
];

const EVERYDAY: [&str; 10] = [
    "The bridge was open again and we walked the hour round it.",
    "Sunday is my last shift before the holidays.",
    "My heart stopped when the phone rang, and then I laughed.",
    "She swallowed her pride and came to the allotment.",
    "I was sick of the meal by the third day.",
    "My brother is limp with laughing and the kids are worse.",
    "I could live on toast and plums all summer.",
    "The last of the tablets went back to the chemist.",
    "I want to be alive to the small things.",
    "The dentist wants my mouth open and I want my lunch.",
];

fn weighed(seen: &Screened) -> Level {
    let by_weight = seen.findings().iter().filter(|finding| finding.group == NAME);
    by_weight
        .map(|finding| finding.level)
        .max()
        .unwrap_or(Level::None)
}

#[test]
fn weight_finds_what_no_pattern_names() {
    let missed: Vec<_> = DANGERS
        .iter()
        .filter(|text| screen(text).level() < Level::Pause)
        .collect();
    assert!(missed.is_empty(), "{missed:#?}");
    let by_weight_only = DANGERS
        .iter()
        .filter(|text| lesson(text).level < Level::Pause && weighed(&screen(text)) >= Level::Pause);
    assert!(
        by_weight_only.count() > 0,
        "patterns name all of these; invent others"
    );
}

/// What is written in haste falls into sentences of a few words, none of which says enough. They are weighed together at
/// every place of a text, long ones too, which are added up a thousand words at a time.
#[test]
fn short_sentences_say_together_what_none_says_alone() {
    for told in [
        "Pills. The lot. An hour ago.",
        "Tub empty. All of it inside me. Going cold.",
    ] {
        let mut alone = told.split_inclusive('.');
        assert!(
            alone.all(|sentence| screen(sentence).level() < Level::Pause),
            "{told}"
        );
        for before in [0, 1, 50, 110, 111, 112, 113, 114, 115, 230] {
            let filler = "The beans are up and Odile painted the door. ";
            let text = format!("{}{told} {}", filler.repeat(before), filler.repeat(3));
            assert!(screen(&text).level() >= Level::Pause, "{told} after {before}");
        }
    }
}

/// A sum of words is no reading: one in ten, invented to sound like danger, may pass for it.
#[test]
fn everyday_words_weigh_little() {
    let wrong: Vec<_> = EVERYDAY
        .iter()
        .filter(|text| weighed(&screen(text)) > Level::None)
        .collect();
    assert!(wrong.len() <= 1, "{wrong:#?}");
}

#[test]
fn forms_of_context_hold_for_weight_too() {
    let mut seen = 0;
    for group in groups().into_iter().filter(|group| !group.spoken) {
        let most = match group.effect {
            "clear" => Level::None,
            "quieten" => Level::Quiet,
            "soften" => Level::Pause,
            _ => continue,
        };
        for text in &group.finds {
            seen += 1;
            assert!(weighed(&screen(text)) <= most, "{}: {text:?}", group.name);
        }
    }
    assert!(seen > 25, "only {seen} examples");
}

#[test]
fn a_finding_by_weight_has_a_topic_and_a_place() {
    let text = "The beans are up. no one would even notice if I stopped being alive";
    let seen = screen(text);
    let finding = seen
        .findings()
        .iter()
        .find(|finding| finding.group == NAME)
        .unwrap();
    assert_eq!(finding.topic, Topic::Suicide);
    assert_eq!(
        &text[finding.range.clone()],
        "no one would even notice if I stopped being alive"
    );
}

/// Denied, mourned, long past or only spoken of, in words that no form of context lists. Invented for this file.
const SETTLED: [&str; 3] = [
    "I was suicidal in my army days, and I've kept bees for twenty years since.",
    "As a trainee I had to ask a stranger if he was suicidal and my hands shook.",
    "At the depot they taught us what to do when a passenger seems suicidal.",
];

#[test]
fn what_is_settled_keeps_a_pause() {
    for text in SETTLED {
        assert_eq!(
            lesson(text).level,
            Level::Stop,
            "{text}: no pattern stops; invent another"
        );
        assert_eq!(screen(text).level(), Level::Pause, "{text}");
    }
}

/// An emergency wants far more weight than a stop: who died, or was saved, long ago needs no ambulance.
#[test]
fn an_emergency_is_settled_only_where_next_to_nothing_else_is_meant() {
    for text in [
        "My cousin overdosed in Leith and we still keep her bike in the hall.",
        "My brother overdosed the winter I moved to Leith, and we still set out his chair.",
        "He overdosed in that house and his mother still keeps his room.",
    ] {
        assert_eq!(
            lesson(text).level,
            Level::Emergency,
            "{text}: no pattern sees an emergency; invent another"
        );
        assert_eq!(screen(text).level(), Level::Pause, "{text}");
    }
    for text in [
        "I overdosed.",
        "My aunt overdosed.",
        "I overdosed years ago, and tonight I did it again.",
        "My brother overdosed and we are still waiting for the ambulance.",
        "He overdosed an hour ago and his mother still won't call anyone.",
    ] {
        assert_eq!(screen(text).level(), Level::Emergency, "{text}");
    }
}

#[test]
fn what_is_settled_takes_nothing_from_the_sentences_beside_it() {
    for danger in [
        "I want to kill myself.",
        "Suicide is my plan for Friday.",
        "She is suicidal and I am scared for her.",
    ] {
        assert_eq!(screen(danger).level(), Level::Stop, "{danger}");
        for settled in SETTLED {
            for text in [format!("{settled} {danger}"), format!("{danger} {settled}")] {
                assert!(screen(&text).level() >= Level::Stop, "{text}");
            }
        }
    }
}

/// What follows must not stop by itself, or nothing is seen of what it takes back.
#[test]
fn what_is_settled_and_taken_back_is_not() {
    let (settled, back) = ("I was suicidal in my army days.", "It has come back.");
    assert_eq!(screen(settled).level(), Level::Pause);
    assert_eq!(screen(back).level(), Level::None);
    assert_eq!(screen(&format!("{settled} {back}")).level(), Level::Stop);
    // What is settled beside it stays so.
    let seen = screen(&format!("{} {settled} {back}", SETTLED[2]));
    let levels: Vec<Level> = seen.findings().iter().map(|finding| finding.level).collect();
    assert_eq!(levels, [Level::Pause, Level::Stop]);
}

/// The rows of the table below its heading.
fn table() -> Vec<Vec<&'static str>> {
    include_str!("../src/safety/patterns/weights.tsv")
        .lines()
        .skip(1)
        .map(|row| row.split('\t').collect())
        .collect()
}

#[test]
fn the_table_can_be_read_row_by_row() {
    let rows = table();
    assert!(rows.len() > 1_000 && rows.len() < 110_000, "{} rows", rows.len());
    assert!(
        rows.windows(2).all(|two| two[0][0] < two[1][0]),
        "not sorted, or twice the same"
    );
    for row in rows {
        assert_eq!(row.len(), 6, "{row:?}");
        let weights: Vec<i32> = row[1..5].iter().map(|weight| weight.parse().unwrap()).collect();
        assert!(weights.iter().all(|weight| weight.abs() < 1_000), "{row:?}");
        let words = row[0].split(' ').filter(|word| *word != "_").count();
        assert!((1..=3).contains(&words), "{row:?}");
        if !row[5].is_empty() {
            let topic: Result<Topic, _> = serde_json::from_value(serde_json::json!(row[5]));
            assert!(topic.is_ok(), "{row:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn everyday_words_around_never_lower_a_level(
        danger in prop::sample::select(DANGERS.to_vec()),
        everyday in prop::sample::select(EVERYDAY.to_vec()),
        joint in prop::sample::select(vec![". ", ", ", ", and ", " but ", "\n", "; "]),
        first in any::<bool>(),
    ) {
        let everyday = everyday.trim_end_matches('.');
        let text = if first { format!("{everyday}{joint}{danger}") } else { format!("{danger}{joint}{everyday}") };
        prop_assert!(screen(&text).level() >= screen(danger).level(), "{text}");
    }
}

/// A level's rank as the script reads it.
fn rank(level: Level) -> u8 {
    [
        Level::None,
        Level::Quiet,
        Level::Pause,
        Level::Stop,
        Level::Emergency,
    ]
    .into_iter()
    .zip(0..)
    .find(|(known, _)| *known == level)
    .map_or(0, |(_, rank)| rank)
}

/// One text for the script, in the columns that it names; level, whom it is about and topic come first in `told`.
fn row(source: &str, told: [&str; 3], text: &str, out: &mut String) {
    let [level, about, topic] = told;
    let read = lesson(text);
    if read.runs.is_empty() {
        return;
    }
    let level: Level = serde_json::from_value(serde_json::json!(level)).unwrap();
    let (by_subjects, around) = match read.about {
        Some((About::Me, around)) => ("self", around),
        Some((About::Other, around)) => ("other", around),
        None => ("-", String::new()),
    };
    let cells = [
        source,
        &rank(level).to_string(),
        &rank(read.level).to_string(),
        topic,
        about,
        by_subjects,
        &around,
        &read.runs.join("|"),
        &read.sentences.join("|"),
        &read.stops.join("|"),
    ];
    out.push_str(&cells.join("\t"));
    out.push('\n');
}

/// Entries of the entry check's sets that are no everyday ones: what is wrong with them there is not what counts here.
const HARD_ENTRIES: [&str; 5] = [
    "weighed myself five times",
    "worked out till i threw up",
    "ate until i felt sick",
    "feel like hitting him",
    "they're laughing at me",
];

/// Everything that the table is made from: the taught sets, the older fresh sets, the entry check's sets, the demo
/// person's answers, and public everyday text.
fn taught() -> String {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/safety");
    let mut out = String::new();
    let files = |folder: &Path| -> BTreeSet<PathBuf> {
        let all = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path());
        all.filter(|path| path.extension().is_some_and(|end| end == "tsv"))
            .collect()
    };
    for path in files(&data.join("taught")) {
        let name = path.file_stem().unwrap().to_str().unwrap().replace("set-", "");
        for line in fs::read_to_string(&path).unwrap().lines().skip(1) {
            let cells: Vec<&str> = line.splitn(4, '\t').collect();
            row(&name, [cells[0], cells[1], cells[2]], cells[3], &mut out);
        }
    }
    for path in files(&data) {
        if path.file_stem().unwrap().to_str().unwrap().starts_with("fresh-") {
            for line in fs::read_to_string(&path).unwrap().lines().skip(1) {
                let cells: Vec<&str> = line.splitn(3, '\t').collect();
                row("fresh", [cells[0], cells[1], "-"], cells[2], &mut out);
            }
        }
    }
    for path in files(&data.with_file_name("coach")) {
        for line in fs::read_to_string(&path).unwrap().lines().skip(1) {
            let entry = line.split('\t').nth(1).unwrap();
            if !HARD_ENTRIES.contains(&entry) && lesson(entry).level < Level::Pause {
                row("entries", ["none", "-", "-"], entry, &mut out);
            }
        }
    }
    for answer in include_str!("../demo-data/first-map.answers").lines() {
        row("entries", ["none", "-", "-"], answer, &mut out);
    }
    for text in crate::safety_public::examples() {
        row("public", ["none", "-", "-"], &text.replace('\n', " "), &mut out);
    }
    for text in crate::safety_public::everyday_idioms() {
        row("public", ["none", "-", "-"], &text, &mut out);
    }
    out
}

fn script(arguments: &[&str]) -> String {
    python::text("reference/safety_weights.py", arguments, taught().as_bytes())
}

/// Only in the long run, since it takes minutes. The table made is left below `target/`, to be copied over the old one
/// after the sentences, the spelling or the kinds of words have changed.
#[test]
fn the_table_is_what_its_script_makes() {
    if env::var_os("WAYFOLD_LONG").is_none() {
        return;
    }
    let made = script(&[]);
    let left = Path::new(env!("CARGO_TARGET_TMPDIR")).join("weights.tsv");
    fs::write(&left, &made).unwrap();
    let made: BTreeSet<&str> = made.lines().collect();
    let ours: BTreeSet<&str> = include_str!("../src/safety/patterns/weights.tsv")
        .lines()
        .collect();
    // Another processor may round the last digit of a few weights otherwise.
    let other = made.symmetric_difference(&ours).count();
    assert!(
        other * 50 <= ours.len(),
        "{other} of {} rows differ; the table made is at {}",
        ours.len(),
        left.display()
    );
}

/// Only in the long run. Authors are left out in turn; what is counted is what the weighing adds on words of authors it
/// was not taught by.
#[test]
fn weight_finds_danger_in_the_words_of_authors_it_was_not_taught_by() {
    if env::var_os("WAYFOLD_LONG").is_none() {
        return;
    }
    let shares = script(&["--left-out", "1.4", "0.3", "0.9", "1.6"]);
    println!("{shares}");
    let (mut found, mut wrong, mut public) = ([0, 0], [0, 0], [0, 0]);
    let (mut settled, mut danger) = ([0, 0], [0, 0]);
    for line in shares.lines().skip(1) {
        let cells: Vec<&str> = line.split('\t').collect();
        let count = |at: usize| cells[at].parse::<usize>().unwrap();
        for (name, sums) in [("quiet", &mut settled), ("emergency+stop", &mut danger)] {
            if cells[1] == name {
                sums[0] += count(6);
                sums[1] += count(8);
            }
        }
        let (all, added) = (count(2), count(5) - count(3));
        let sums = match (cells[0], cells[1]) {
            ("public", _) => &mut public,
            ("a" | "b" | "c" | "d", "none") => &mut wrong,
            (_, "emergency+stop") => &mut found,
            _ => continue,
        };
        sums[0] += all - count(3);
        sums[1] += added;
    }
    // Of the dangers that patterns miss, at least every other one. The other two bounds follow what was measured
    // (everyday rows 6 of 674, public text 215 of 88,484): they hold it there and judge nothing.
    assert!(found[1] * 2 >= found[0], "{found:?}");
    assert!(wrong[1] * 50 <= wrong[0], "{wrong:?}");
    assert!(public[1] * 2_000 <= public[0] * 5, "{public:?}");
    // Of what is settled and patterns stop at, a third at least pauses; of danger hardly any.
    println!("settled: {settled:?} of quiet rows, {danger:?} of dangerous ones");
    assert!(settled[1] * 3 >= settled[0], "{settled:?}");
    assert!(danger[1] * 300 <= danger[0], "{danger:?}");
}

/// Only in the long run. Authors are left out in turn; whom their words are about is read better with the weight than
/// by the subjects alone.
#[test]
fn weight_helps_to_tell_whom_words_are_about() {
    if env::var_os("WAYFOLD_LONG").is_none() {
        return;
    }
    let shares = script(&["--whose-left-out", "-0.1"]);
    println!("{shares}");
    for about in ["other", "self"] {
        let mut sums = [0, 0, 0];
        for line in shares.lines().skip(1) {
            let cells: Vec<&str> = line.split('\t').collect();
            if cells[1] == about {
                for (sum, cell) in sums.iter_mut().zip(&cells[2..]) {
                    *sum += cell.parse::<usize>().unwrap();
                }
            }
        }
        println!("{about}: {sums:?}");
        assert!(sums[2] > sums[1], "{about}: {sums:?}");
    }
}
