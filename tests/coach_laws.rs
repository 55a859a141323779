//! What must hold for any entry: it never panics, its work is bounded, it never takes a side, and every line
//! that can be asked is in the words file and keeps to the house's way of speaking.

use std::collections::BTreeMap;
use std::collections::BTreeSet;

use proptest::prelude::*;
use wayfold::coach::Doubt;
use wayfold::coach::Verdict;
use wayfold::coach::consider;
use wayfold::coach::kind_of;
use wayfold::coach::pieces;
use wayfold::coach::unhooked;
use wayfold::map::Field;
use wayfold::map::Kind;

use crate::coach_sets::every_entry;

fn visit(text: &str) {
    for field in Field::ALL {
        if let Some(question) = consider(field, text) {
            assert!((0.0..=1.0).contains(&question.sure), "{text}");
            assert!(question.line.starts_with("coach."), "{text}");
            assert_ne!(question.fits, Some(field), "{text}");
        }
        let _ = kind_of(field, text);
    }
    let _ = unhooked(text);
    let _ = pieces(text);
}

/// Toward or away is the writer's to judge: whatever the words, both sides meet the same question, and a move
/// is never sent to the other side.
fn takes_no_side(text: &str) {
    let toward = consider(Field::Toward, text);
    let away = consider(Field::Away, text);
    assert_eq!(
        toward.as_ref().map(|q| (q.doubt, q.line, &q.split)),
        away.as_ref().map(|q| (q.doubt, q.line, &q.split)),
        "{text}"
    );
    for question in [&toward, &away].into_iter().flatten() {
        assert!(
            !matches!(question.fits, Some(Field::Toward | Field::Away)),
            "{text}"
        );
    }
    assert_ne!(away.and_then(|q| q.fits), Some(Field::Matters), "{text}");
}

proptest! {
    #[test]
    fn any_text_is_considered(text in any::<String>()) {
        visit(&text);
        takes_no_side(&text);
    }

    #[test]
    fn any_words_are_considered(words in prop::collection::vec(prop::sample::select(WORDS), 0..14)) {
        let text = words.join(" ");
        visit(&text);
        takes_no_side(&text);
    }
}

/// Words on which the rules turn, to be thrown together in any order.
const WORDS: &[&str] = &[
    "i", "i'm", "to", "be", "being", "not", "never", "don't", "stop", "stopped", "less", "more", "feel",
    "felt", "get", "my", "the", "a", "boss", "mum", "people", "he", "should", "have", "because", "so",
    "that", "when", "and", "then", "in", "law", "self", "kind", "happy", "anxious", "worry", "rang",
    "shouting", "walk", "make", "want", "him", "listen", "no", "money", "lack", "of", "myself", "together",
    "by", "instead", "good", "friend", "like", "loved", "go", "went", "home", "thinking", "head", "every",
    "sunday", "out", "up", "me",
];

#[test]
fn no_entry_of_the_sets_is_given_a_side() {
    for (_, text) in every_entry() {
        takes_no_side(&text);
        visit(&text);
    }
}

/// Linear and bounded: a megabyte is judged by its first words, so that what follows them changes nothing.
#[test]
fn a_megabyte_is_judged_by_its_beginning() {
    for unit in [
        "dreading the test ",
        "a",
        " ",
        "é’-",
        "\u{1F600}",
        "'",
        "and ",
        "self ",
        "\n",
        "in law ",
    ] {
        let long = unit.repeat(1_000_000 / unit.len());
        visit(&long);
        let longer = long.clone() + &long;
        for field in Field::ALL {
            assert_eq!(consider(field, &long), consider(field, &longer), "{unit:?}");
        }
    }
}

fn lines() -> BTreeMap<String, String> {
    #[derive(serde::Deserialize)]
    struct Words {
        lines: BTreeMap<String, String>,
    }
    let words: Words =
        toml::from_str(include_str!("../scripts/dialogue/en/coach.toml")).expect("the words file reads");
    words.lines
}

#[test]
fn every_question_is_in_the_words_file_and_every_line_is_asked() {
    let lines = lines();
    let asked: BTreeSet<&str> = every_entry()
        .iter()
        .flat_map(|(_, text)| Field::ALL.map(|field| consider(field, text)))
        .flatten()
        .map(|question| question.line)
        .collect();
    let written: BTreeSet<&str> = lines.keys().map(String::as_str).collect();
    assert_eq!(asked, written);
}

#[test]
fn every_question_is_short_kind_and_a_question() {
    for (id, line) in lines() {
        assert!(line.split_whitespace().count() <= 25, "{id}: {line}");
        assert!(line.ends_with('?'), "{id}: {line}");
        assert!(!line.contains('!'), "{id}: {line}");
        let lower = line.to_lowercase();
        let words: Vec<&str> = lower.split(|c: char| !c.is_alphabetic() && c != '\'').collect();
        for banned in [
            "just",
            "wrong",
            "must",
            "toward",
            "away",
            "failed",
            "disorder",
            "great",
            "well done",
        ] {
            assert!(!words.contains(&banned), "{id}: {banned}");
        }
        assert!(
            reading_grade(&line) <= 6.0,
            "{id}: grade {:.1}: {line}",
            reading_grade(&line)
        );
    }
}

/// Flesch-Kincaid grade: 0.39 words a sentence + 11.8 syllables a word - 15.59 (Kincaid et al. 1975, from
/// memory).
fn reading_grade(text: &str) -> f64 {
    let sentences = text.split(['.', '?']).filter(|s| !s.trim().is_empty()).count();
    let words: Vec<&str> = text.split_whitespace().collect();
    let syllables: usize = words.iter().map(|word| syllables(word)).sum();
    0.39 * words.len() as f64 / sentences as f64 + 11.8 * syllables as f64 / words.len() as f64 - 15.59
}

fn syllables(word: &str) -> usize {
    let letters: Vec<char> = word
        .to_lowercase()
        .chars()
        .filter(|c| c.is_alphabetic())
        .collect();
    let vowel = |c: char| "aeiouy".contains(c);
    let groups = letters
        .iter()
        .enumerate()
        .filter(|&(at, &c)| vowel(c) && (at == 0 || !vowel(letters[at - 1])))
        .count();
    let silent = letters.len() > 2 && letters.ends_with(&['e']) && !letters.ends_with(&['l', 'e']);
    (groups - usize::from(silent && groups > 1)).max(1)
}

#[test]
fn a_joined_cause_comes_apart() {
    let check = |text: &str, act: &str, inner: &str| {
        let split = pieces(text).unwrap_or_else(|| panic!("{text}"));
        assert_eq!((split.act.as_str(), split.inner.as_str()), (act, inner), "{text}");
    };
    check(
        "I skip choir because I feel clumsy",
        "I skip choir",
        "I feel clumsy",
    );
    check(
        "I bake at midnight so I don't feel lonely",
        "I bake at midnight",
        "I feel lonely",
    );
    check(
        "Walk home the long way when I feel low",
        "Walk home the long way",
        "I feel low",
    );
    check(
        "sold the boat since i was scared",
        "sold the boat",
        "i was scared",
    );
    check("I tidy so that I won't feel ashamed", "I tidy", "I feel ashamed");
    for whole in [
        "took a coat because it rained",
        "left at nine so I could catch the train",
        "rang Ana when the shop shut",
        "because",
        "so",
    ] {
        assert_eq!(pieces(whole), None, "{whole}");
    }
    let question = consider(Field::Away, "I skip choir because I feel clumsy").expect("a question");
    assert_eq!(
        (question.doubt, question.fits),
        (Doubt::Camera, Some(Field::Inner))
    );
    assert!(question.split.is_some());
}

#[test]
fn a_thought_is_unhooked_in_the_persons_own_words() {
    let check = |text: &str, expected: Option<&str>| {
        assert_eq!(
            unhooked(text).as_deref(),
            expected
                .map(|tail| format!("I'm having the thought that {tail}"))
                .as_deref(),
            "{text}"
        );
    };
    check("i can't sing this", Some("I can't sing this"));
    check("I'm a fraud.", Some("I'm a fraud"));
    check("im too slow for this job", Some("I'm too slow for this job"));
    check("Nobody wants me here", Some("nobody wants me here"));
    check(
        "They will laugh at my accent",
        Some("they will laugh at my accent"),
    );
    check("I think that my sister hates me", Some("my sister hates me"));
    check(
        "i feel like everyone is better than me",
        Some("everyone is better than me"),
    );
    check("You're a coward", Some("I'm a coward"));
    check("you are so lazy", Some("I am so lazy"));
    check("My coach hates me", Some("my coach hates me"));
    check("It's all my fault", Some("it's all my fault"));
    check("No-one rings me back", Some("no-one rings me back"));
    // Short forms and other spellings are read one way, and said back as they were written.
    check("Mom is ashamed of me", Some("mom is ashamed of me"));
    check(
        "You've spoiled it for everyone",
        Some("I've spoiled it for everyone"),
    );
    check("you'd be better off alone", Some("I'd be better off alone"));
    check("you aren't good enough", Some("I am not good enough"));
    check("you weren't there", Some("I wasn't there"));
    check(
        "you are lazy and everyone hates you",
        Some("I am lazy and everyone hates me"),
    );
    check(
        "you are a fraud and you know it",
        Some("I am a fraud and I know it"),
    );
    check(
        "you're slow, and they pity you",
        Some("I'm slow, and they pity me"),
    );
    check(
        "you will fail because you never try",
        Some("I will fail because I never try"),
    );
    for badly in [
        "tight jaw",
        "what if I fall?",
        "why me",
        "I'm having the thought that I'm slow",
        "urge to bolt",
        "numb",
        "",
        "  ",
        "shame",
        "run away",
        "Stop. Now.",
        "he said you lied",
        "you are a fraud, everyone knows you lied",
        "the fault is yours",
    ] {
        check(badly, None);
    }
}

#[test]
fn the_kind_is_proposed() {
    let check = |field, kind, texts: &[&str]| {
        for text in texts {
            assert_eq!(kind_of(field, text), Some(kind), "{text}");
        }
    };
    check(
        Field::Inner,
        Kind::Thought,
        &[
            "nobody wants me here",
            "i can't sing this",
            "I'm a bad father",
            "they will find out",
            "I feel that I am in the way",
            "what if it rains",
        ],
    );
    check(
        Field::Inner,
        Kind::Feeling,
        &[
            "anxious",
            "guilt about my brother",
            "shame",
            "numb",
            "i feel sad",
            "so angry with her",
        ],
    );
    check(
        Field::Inner,
        Kind::Body,
        &[
            "tight jaw",
            "headache",
            "sweaty palms",
            "heart racing",
            "shaky legs",
        ],
    );
    check(
        Field::Inner,
        Kind::Urge,
        &[
            "urge to bolt",
            "want to hide",
            "craving a cigarette",
            "wanting to shout",
        ],
    );
    check(
        Field::Inner,
        Kind::Memory,
        &[
            "memory of the fire",
            "flashbacks of the ward",
            "the row when i was nine",
        ],
    );
    check(
        Field::Matters,
        Kind::Person,
        &["my niece", "our dog", "my late uncle", "the team"],
    );
    check(
        Field::Matters,
        Kind::Quality,
        &["being honest", "kindness", "patience", "to be fair"],
    );
    check(
        Field::Matters,
        Kind::Activity,
        &["singing", "growing beans", "playing the cello"],
    );
    for field in [Field::Away, Field::Toward] {
        assert_eq!(kind_of(field, "rang my sister"), None);
    }
}

#[test]
fn a_verdict_is_one_line_of_json() {
    let verdict = |field, text| serde_json::to_string(&Verdict::on(3, field, text)).expect("it writes");
    assert_eq!(
        verdict(Field::Toward, "rang my sister"),
        r#"{"line":3,"verdict":"ok","sure":0.0}"#
    );
    let asked: serde_json::Value =
        serde_json::from_str(&verdict(Field::Inner, "being fair")).expect("it reads");
    assert_eq!(asked["verdict"], "question");
    assert_eq!(asked["kind"], "quality");
    assert_eq!(asked["fits"], "matters");
    assert!(asked["sure"].as_f64().is_some_and(|sure| sure > 0.5));
}
