//! Holds the screen to what must be true of every text: masks hide nothing, additions never lower a level, places
//! fall on character boundaries, and no text brings it down.

// A test may fail by unwrapping in its own small functions too, and may print the figures it measures.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use proptest::prelude::*;
use wayfold::safety::About;
use wayfold::safety::Level;
use wayfold::safety::Watch;
use wayfold::safety::effort;
use wayfold::safety::groups;
use wayfold::safety::report;
use wayfold::safety::screen;
use wayfold::safety::screen_spoken;

/// Every example that a typed group must find at pause or higher.
fn dangers() -> Vec<String> {
    groups()
        .into_iter()
        .filter(|group| !group.spoken && (group.effect == "find" || group.effect == "uphold"))
        .flat_map(|group| group.finds)
        .filter(|text| screen(text).level() >= Level::Pause)
        .collect()
}

fn check(name: &str, change: impl Fn(&str) -> String) {
    let all = dangers();
    assert!(all.len() > 60, "only {} examples", all.len());
    let lost: Vec<String> = all
        .iter()
        .filter(|text| screen(&change(text)).level() < screen(text).level())
        .map(|text| format!("{text:?} as {:?}", change(text)))
        .collect();
    assert!(
        lost.is_empty(),
        "{name} hides {}:\n{}",
        lost.len(),
        lost.join("\n")
    );
}

#[test]
fn capitals_hide_nothing() {
    check("capitals", str::to_uppercase);
}

#[test]
fn curly_and_missing_apostrophes_hide_nothing() {
    check("curly apostrophes", |text| text.replace('\'', "\u{2019}"));
    check("missing apostrophes", |text| text.replace('\'', ""));
}

#[test]
fn invisible_characters_hide_nothing() {
    check("zero-width spaces", |text| {
        text.chars().flat_map(|c| [c, '\u{200b}']).collect()
    });
    check("soft hyphens", |text| {
        text.chars().flat_map(|c| [c, '\u{ad}']).collect()
    });
}

#[test]
fn full_width_and_mathematical_letters_hide_nothing() {
    let shift = |base: u32| {
        move |c: char| match c {
            'a'..='z' => char::from_u32(base + c as u32 - 'a' as u32).unwrap(),
            other => other,
        }
    };
    check("full width", |text| {
        text.to_lowercase().chars().map(shift(0xff41)).collect()
    });
    check("mathematical bold", |text| {
        text.to_lowercase().chars().map(shift(0x1d41a)).collect()
    });
}

#[test]
fn accents_hide_nothing() {
    check("accents", |text| {
        text.chars()
            .flat_map(|c| {
                if "aeiou".contains(c) {
                    vec![c, '\u{301}']
                } else {
                    vec![c]
                }
            })
            .collect()
    });
}

#[test]
fn look_alikes_hide_nothing() {
    let cyrillic = |c: char| match c {
        'a' => 'а',
        'e' => 'е',
        'o' => 'о',
        'i' => 'і',
        'c' => 'с',
        'p' => 'р',
        'k' => 'к',
        other => other,
    };
    check("Cyrillic look-alikes", |text| {
        text.chars().map(cyrillic).collect()
    });
}

#[test]
fn doubled_spaces_and_filler_punctuation_hide_nothing() {
    check("wide spaces", |text| text.replace(' ', "   "));
    check("commas", |text| text.replace(' ', ", "));
    check("tabs", |text| text.replace(' ', "\t"));
}

#[test]
fn benign_sentences_around_never_lower_a_level() {
    for benign in [
        "The beans are up.",
        "We had soup and rain.",
        "Odile painted the door.",
        "It is Thursday.",
    ] {
        check("a sentence before", |text| format!("{benign} {text}"));
        check("a sentence after", |text| format!("{text}. {benign}"));
        check("a line after", |text| format!("{text}\n{benign}"));
    }
}

#[test]
fn the_work_grows_with_the_length_of_the_text_and_no_faster() {
    let dense = "I want to die and he hits me and I hear voices in the wall and I cut my arm again ";
    for text in [
        // A sentence that never ends, sentences that end, everyday prose, one long word, letters set apart.
        dense.to_owned(),
        format!("{}. ", dense.trim()),
        "The beans are up and Odile painted the door. ".to_owned(),
        "killmyself".to_owned(),
        "k i l l m y s e l f ".to_owned(),
        "k*ll m*self s*icide ".to_owned(),
        // Forms of context and weighed words all along.
        "I would never kill myself. She used to cut herself years ago, nobody would miss me, it hurts to live. ".to_owned(),
    ] {
        let of = |bytes: usize| effort(&text.repeat(bytes / text.len()));
        let (small, large) = (of(20_000), of(200_000));
        assert!(small > 0, "{text}");
        // Ten times the text, ten times the work, with a tenth for the ends.
        assert!(large <= small * 11, "{text:?}: {small} steps, then {large}");
        assert!(large >= small * 9, "{text:?}: {small} steps, then {large}");
    }
}

#[test]
fn the_third_quiet_entry_is_a_pause() {
    let quiet = screen("I feel worthless");
    let mut watch = Watch::new();
    let levels: Vec<Level> = (0..4).map(|_| watch.level(&quiet)).collect();
    assert_eq!(levels, [Level::Quiet, Level::Quiet, Level::Pause, Level::Quiet]);
    assert_eq!(watch.level(&screen("the beans are up")), Level::None);
}

#[test]
fn what_was_heard_counts_even_when_the_correction_hides_it() {
    let seen = screen_spoken(
        "I keep thinking about killing myself",
        "I keep thinking about the garden",
    );
    assert_eq!(seen.level(), Level::Stop);
    assert_eq!(seen.words().as_str(), "I keep thinking about the garden");
    assert_eq!(
        screen_spoken("I was cooking myself last night", "I was cooking last night").level(),
        Level::Stop
    );
    assert_eq!(screen("I was cooking myself some soup").level(), Level::None);
}

#[test]
fn a_report_has_the_agreed_shape() {
    let seen = serde_json::to_value(report(3, "my sister wants to kill herself")).unwrap();
    assert_eq!(seen["line"], 3);
    assert_eq!(seen["level"], "stop");
    assert_eq!(seen["about"], "other");
    assert_eq!(seen["topics"][0], "suicide");
    assert!(seen["findings"][0]["end"].as_u64() > seen["findings"][0]["start"].as_u64());
    assert_eq!(
        serde_json::to_value(report(1, "the beans are up")).unwrap()["about"],
        "-"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn any_text_is_screened_and_places_fall_on_boundaries(text in "\\PC{0,80}") {
        for finding in screen(&text).findings() {
            prop_assert!(text.get(finding.range.clone()).is_some_and(|found| !found.is_empty()));
        }
    }

    #[test]
    fn danger_in_any_text_is_placed_on_boundaries(before in "[\\PC\n]{0,30}", after in "[\\PC\n]{0,30}") {
        let text = format!("{before}\nI want to k\u{301}ill myself. {after}");
        let seen = screen(&text);
        prop_assert!(seen.level() >= Level::Stop);
        for finding in seen.findings() {
            prop_assert!(text.get(finding.range.clone()).is_some_and(|found| !found.is_empty()));
        }
    }
}

#[test]
fn danger_after_a_word_without_end_is_found_at_any_distance() {
    for letters in [1_100, 1_300, 1_700, 2_400, 2_401] {
        for words in 0..130 {
            let text = format!("{}{} I want to die", "x".repeat(letters), " a".repeat(words));
            assert!(
                screen(&text).level() >= Level::Pause,
                "{words} words after {letters} letters"
            );
        }
        let text = format!("{}. I want to die", "x".repeat(letters));
        assert!(screen(&text).level() >= Level::Pause, "after {letters} letters");
    }
}

#[test]
fn danger_about_oneself_that_was_heard_is_not_hidden_by_a_correction_about_another() {
    let seen = screen_spoken("I want to kill myself", "he wants to kill himself");
    assert!(seen.findings().iter().any(|finding| finding.about == About::Me));
}
