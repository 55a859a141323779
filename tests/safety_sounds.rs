//! Misspelt words are read as the words they sound like. Which words those are, and their codes, are held against the published
//! Double Metaphone by two libraries: the one the program uses, and Python's `Metaphone`.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::Path;

use rphonetic::DoubleMetaphone;
use wayfold::safety::Level;
use wayfold::safety::lesson;
use wayfold::safety::screen;

use crate::python;

const RIGHT: &str = include_str!("../src/safety/sounds/words.txt");
const MEANT: &str = include_str!("../src/safety/sounds/meant.tsv");

/// What the screen reads of some words, in its plain form.
fn read(text: &str) -> String {
    lesson(text).sentences.join(" ")
}

#[test]
fn a_misspelt_word_is_read_as_the_word_it_sounds_like() {
    for (written, meant) in [
        ("voyces in the nite", "voices in the night"),
        ("my unkle is realy tierd", "my uncle is really tired"),
        ("h3ars wisp3rs", "hears whispers"),
        ("savin and choppin", "saving and chopping"),
        ("agaaaain", "again"),
        ("l a x a t i v e s", "laxatives"),
        ("b.u.l.i.m.i.a", "bulimia"),
        ("sumthing in the kichen", "something in the kitchen"),
        ("chocking on petrel", "choking on petrol"),
        ("comign home on teh nxet trian", "coming home on the next train"),
        (
            "a b*llet or a tr_in, h#spital fo_d",
            "a bullet or a tr in hospital fo d",
        ),
    ] {
        assert_eq!(read(written), meant);
    }
}

#[test]
fn what_is_spelt_rightly_named_counted_or_nothing_like_a_word_stays() {
    for text in [
        "the hoarse heron and the tureen",
        "autism or oncology or triage in a hospice",
        "Then Odile and Tove at the ford of Ystrad",
        "then Noyez and Hayt rang",
        "at 7am on the 14th of may",
        "brzdk fnlx",
    ] {
        assert_eq!(read(text), text.to_lowercase());
    }
}

/// Texts in another script are read letter by letter as they look, and are nonsense so: no words are made of that. A word that is
/// masked by a letter or two is itself.
#[test]
fn another_script_sounds_like_nothing() {
    assert_eq!(read("το σπίτι μου είναι μικρό"), "to o iti mou eivai mikpo");
    assert_eq!(read("κιcнεη"), "kichen");
    assert_eq!(read("kichen"), "kitchen");
    assert_eq!(read("v\u{3bf}ices"), "voices");
}

/// Invented for this file; each is found when it is spelt rightly.
#[test]
fn danger_is_found_however_it_is_spelt() {
    for (right, wrong) in [
        (
            "someone whispers my name but nobody is there",
            "sumone wispers my naim but nobudy is ther",
        ),
        (
            "my husband punched me and I am scared of him",
            "my husbend punchd me and I am skared of him",
        ),
        (
            "I threw up my dinner on purpose again",
            "I throo up my diner on purpus agen",
        ),
        (
            "I stopped my tablets and my hands are shaking",
            "I stoped my tablits and my hands are shakeing",
        ),
        ("I want to be dead by Friday", "I wont 2 be d3ad by Fryday"),
    ] {
        assert!(screen(right).level() >= Level::Pause, "{right}");
        assert!(screen(wrong).level() >= Level::Pause, "{wrong}: {}", read(wrong));
    }
}

#[test]
fn a_list_of_words_is_sorted_and_every_word_that_may_be_meant_is_spelt_rightly() {
    let right: Vec<&str> = RIGHT.lines().collect();
    assert!(right.len() > 60_000, "{} words", right.len());
    assert!(right.windows(2).all(|two| two[0] < two[1]), "not sorted");
    let meant: BTreeSet<&str> = MEANT.lines().map(|row| row.split('\t').next().unwrap()).collect();
    assert!(meant.len() > 2_000 && meant.len() == MEANT.lines().count());
    let wrong: Vec<_> = meant
        .iter()
        .filter(|word| right.binary_search(word).is_err())
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}

/// The words of the list, each with its codes by the library that the program uses.
fn coded(words: &str) -> String {
    let library = DoubleMetaphone::new(Some(14));
    let mut out = String::new();
    for word in words.lines() {
        let codes = library.double_metaphone(word);
        let (first, second) = (codes.primary(), codes.alternate());
        let second = if second == first { "" } else { &second };
        writeln!(out, "{word}\t{first}\t{second}").unwrap();
    }
    out
}

/// The two libraries disagree on a few endings ("each", "numb").
#[test]
fn the_codes_are_those_of_another_library_but_for_a_few() {
    let words: String = MEANT
        .lines()
        .map(|row| row.split('\t').next().unwrap().to_owned() + "\n")
        .collect();
    let theirs = python::text("reference/safety_sounds.py", &["codes"], words.as_bytes());
    assert_eq!(theirs.lines().count(), MEANT.lines().count());
    let other: Vec<_> = MEANT
        .lines()
        .zip(theirs.lines())
        .filter(|(ours, theirs)| ours != theirs)
        .collect();
    assert!(other.len() * 100 <= MEANT.lines().count(), "{other:?}");
}

/// After the taught sentences or the pattern files have changed, the lists are made anew; what was made is left below `target/`, to be
/// copied over the old ones.
#[test]
fn the_lists_are_what_their_script_makes() {
    let made = |wanted| python::text("reference/safety_sounds.py", &[wanted], b"");
    let mut other = Vec::new();
    for (file, made, ours) in [
        ("words.txt", made("right"), RIGHT),
        ("meant.tsv", coded(&made("meant")), MEANT),
    ] {
        let left = Path::new(env!("CARGO_TARGET_TMPDIR")).join(file);
        fs::write(&left, &made).unwrap();
        if made != ours {
            other.push(left);
        }
    }
    assert!(other.is_empty(), "what was made differs, and is at {other:?}");
}
