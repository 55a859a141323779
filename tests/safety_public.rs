//! Holds the screen against public text that is no danger: first names, and the example sentences of `WordNet`.

// A test may fail by unwrapping in its own small functions too, and may print the figures it measures.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

use wayfold::safety::Level;
use wayfold::safety::screen;

fn names() -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let python =
        env::var_os("WAYFOLD_PYTHON").map_or_else(|| root.join("tests/.venv/bin/python"), PathBuf::from);
    assert!(
        python.exists(),
        "no Python for the references; run ./scripts/test"
    );
    let out = Command::new(python)
        .arg(root.join("tests/reference/safety_names.py"))
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout)
        .unwrap()
        .lines()
        .map(str::to_owned)
        .collect()
}

#[test]
fn first_names_are_no_sign() {
    let names = names();
    assert!(names.len() >= 1_500, "{} names", names.len());
    let mut wrong = Vec::new();
    for name in &names {
        let lower = name.to_lowercase();
        for text in [
            name.clone(),
            lower.clone(),
            format!("my sister {name}"),
            format!("my brother {lower}"),
            format!("being patient with {name}"),
            format!("{name}, {name} and Sol"),
        ] {
            if screen(&text).level() >= Level::Pause {
                wrong.push(text);
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

/// The quoted examples of `WordNet`, as the Debian package holds them.
pub(crate) fn examples() -> BTreeSet<String> {
    let mut out = BTreeSet::new();
    for part in ["adj", "adv", "noun", "verb"] {
        let bytes = fs::read(Path::new("/usr/share/wordnet").join(format!("data.{part}")))
            .expect("WordNet is not here; run ./scripts/test");
        for row in String::from_utf8_lossy(&bytes).lines() {
            let Some((_, gloss)) = row.split_once('|') else {
                continue;
            };
            let quoted = gloss.split('"').skip(1).step_by(2);
            out.extend(quoted.filter(|text| text.len() >= 3).map(str::to_owned));
        }
    }
    out
}

#[test]
fn one_public_sentence_in_a_thousand_at_most_interrupts() {
    let all = examples();
    assert!(all.len() > 40_000, "{} sentences", all.len());
    let wrong: Vec<&String> = all
        .iter()
        .filter(|text| screen(text).level() >= Level::Pause)
        .collect();
    println!("{} of {} public sentences interrupt", wrong.len(), all.len());
    assert!(
        wrong.len() * 1_000 <= all.len(),
        "{} of {}: {wrong:#?}",
        wrong.len(),
        all.len()
    );
}
