//! Holds the screen to sentences that are put together: every act with every way of saying that it is wanted, every
//! blow with every circumstance, and every mask. A manner of speaking in the patterns that is too wide shows here.

// A test may fail by unwrapping in its own small functions too.
#![allow(clippy::unwrap_used)]

use wayfold::safety::About;
use wayfold::safety::Finding;
use wayfold::safety::Level;
use wayfold::safety::Topic;
use wayfold::safety::screen;

/// The sentences of all pairs that stay below a level.
fn below(level: Level, frames: &[&str], parts: &[&str]) -> Vec<String> {
    frames
        .iter()
        .flat_map(|frame| parts.iter().map(|part| frame.replace("{}", part)))
        .filter(|text| screen(text).level() < level)
        .collect()
}

const NONE: Vec<String> = Vec::new();

#[test]
fn an_act_named_with_any_wish_stops() {
    let frames = [
        "I want to {}",
        "I am going to {} tonight",
        "I have decided to {}",
        "thinking about how I would {}",
        "I might as well {}",
        "I should just {}",
        "I can't promise I won't {}",
        "I feel like I need to {}",
        "if nothing changes I will {}",
        "I want to {} because of work",
        "I want to {} with all this going on",
        "at work I want to {}",
        "I want to {} on Friday",
        "I want to {} but my kids need me",
        "I want to {}, the exam went badly",
        "after the meeting I want to {}",
    ];
    let acts = [
        "kill myself",
        "end my life",
        "hang myself",
        "end it all",
        "take my own life",
        "overdose",
        "shoot myself",
        "drown myself",
        "jump off a bridge",
        "slit my wrists",
        "jump in front of a train",
    ];
    assert_eq!(below(Level::Stop, &frames, &acts), NONE);
}

#[test]
fn a_wish_to_be_dead_pauses_in_any_setting() {
    let frames = [
        "I want to {}",
        "I wish I could {}",
        "sometimes I want to {} at work",
        "I want to {} because the exam went badly",
        "I would rather {} than go on",
        "after the meeting I want to {}",
        "I want to {} with all of this",
    ];
    let wishes = [
        "die",
        "be dead",
        "stop existing",
        "not be alive",
        "disappear forever",
    ];
    assert_eq!(below(Level::Pause, &frames, &wishes), NONE);
}

#[test]
fn harm_meant_to_a_person_stops_whoever_it_is() {
    let mut frames = Vec::new();
    for harm in ["kill", "stab", "shoot", "strangle", "hurt", "poison", "attack"] {
        for wish in ["I want to", "I'm going to", "I keep thinking about how to"] {
            frames.push(format!("{wish} {harm} {{}}"));
        }
    }
    let frames: Vec<&str> = frames.iter().map(String::as_str).collect();
    let people = [
        "him",
        "my boss",
        "that man",
        "our dad",
        "the neighbour",
        "this woman",
        "that teacher",
        "everyone at work",
        "my baby",
        "someone",
    ];
    assert_eq!(below(Level::Stop, &frames, &people), NONE);
}

#[test]
fn a_blow_pauses_in_any_circumstance_and_is_about_the_person_who_is_hit() {
    let mut frames = Vec::new();
    for who in ["he", "my husband", "my dad", "she", "my ex"] {
        for blow in [
            "hit", "punched", "slapped", "kicked", "pushed", "choked", "dragged",
        ] {
            frames.push(format!("{who} {blow} {{}}"));
        }
    }
    let frames: Vec<&str> = frames.iter().map(String::as_str).collect();
    let circumstances = [
        "me",
        "me again",
        "me last night",
        "me into the wall",
        "me down the stairs",
        "me against the door",
        "me in front of the kids",
        "me when he was drunk",
        "me because dinner was cold",
    ];
    assert_eq!(below(Level::Pause, &frames, &circumstances), NONE);
    for frame in frames {
        for part in circumstances {
            let text = frame.replace("{}", part);
            assert_eq!(screen(&text).about(), Some(About::Me), "{text}");
        }
    }
}

#[test]
fn a_sign_beside_danger_of_another_kind_is_no_sign_of_suicide() {
    let seen = screen("the urge to burn my arm is back, I will do it tonight");
    assert!(seen.level() >= Level::Pause);
    let suicide = |finding: &Finding| finding.topic == Topic::Suicide;
    assert!(!seen.findings().iter().any(suicide), "{:?}", seen.findings());
}

#[test]
fn a_person_who_is_named_is_whom_it_is_about() {
    for text in [
        "he is hitting my gran right now",
        "the voices tell my nephew to burn it",
        // The "myself" of an abbreviation is nobody's own word.
        "my brother wants to kms",
    ] {
        assert_eq!(screen(text).about(), Some(About::Other), "{text}");
    }
}

#[test]
fn who_is_said_to_act_is_whom_it_is_about_however_the_words_weigh() {
    for who in [
        "she",
        "my cousin",
        "our neighbour",
        "I think he",
        "I'm afraid my dad",
    ] {
        for act in [
            "will take all the pills tonight",
            "wants to kms",
            "is going to overdose",
            "keeps trying to hang herself",
        ] {
            let text = format!("{who} {act}");
            assert_eq!(screen(&text).about(), Some(About::Other), "{text}");
        }
    }
    for text in [
        "she'll take all the pills tonight",
        "found my aunt with her wrists cut",
        "I cut him down just in time",
    ] {
        assert_eq!(screen(text).about(), Some(About::Other), "{text}");
    }
    for text in [
        "he wants me to take all the pills",
        "my wife is going to find me when I overdose",
        "my sister says I'm going to overdose",
        "Mum will visit and suicidal thoughts are back",
        "dad would get his weekends back if I was gone",
    ] {
        assert_eq!(screen(text).about(), Some(About::Me), "{text}");
    }
}

#[test]
fn a_baby_is_that_of_another_where_only_the_word_before_it_says_so() {
    for (owner, about) in [
        ("his", About::Other),
        ("her", About::Other),
        ("my", About::Me),
        ("our", About::Me),
    ] {
        let seen = screen(&format!("picturing throwing {owner} newborn at the wall"));
        assert_eq!(
            (seen.level(), seen.about()),
            (Level::Pause, Some(about)),
            "{owner}"
        );
    }
}

/// A sentence with a change made to one word of danger.
fn masked(change: impl Fn(&str) -> String) -> Vec<String> {
    let sentences = [
        ("I want to {} myself", "kill"),
        ("I feel {} all day", "suicidal"),
        ("I took an {}", "overdose"),
        ("I keep cutting {}", "myself"),
    ];
    sentences
        .iter()
        .map(|(frame, word)| (frame.replace("{}", word), frame.replace("{}", &change(word))))
        .filter(|(plain, hidden)| screen(hidden).level() < screen(plain).level())
        .map(|(_, hidden)| hidden)
        .collect()
}

#[test]
fn digits_and_signs_for_letters_hide_nothing() {
    for row in [
        [('i', '1'), ('e', '3')],
        [('i', '!'), ('o', '0')],
        [('s', '5'), ('l', '1')],
        [('s', '$'), ('a', '@')],
    ] {
        let leet = |word: &str| {
            row.iter().fold(word.to_owned(), |word, (from, to)| {
                word.replacen(*from, &to.to_string(), 1)
            })
        };
        assert_eq!(masked(leet), NONE, "{row:?}");
    }
}

#[test]
fn a_star_for_a_vowel_hides_nothing() {
    assert_eq!(
        masked(|word| {
            let at = word[1..].find(['a', 'e', 'i', 'o', 'u']).unwrap() + 1;
            format!("{}*{}", &word[..at], &word[at + 1..])
        }),
        NONE
    );
}

#[test]
fn letters_set_apart_hide_nothing() {
    for between in [" ", ".", "-", "  "] {
        let apart = |word: &str| word.chars().map(String::from).collect::<Vec<_>>().join(between);
        assert_eq!(masked(apart), NONE, "{between:?}");
    }
}

#[test]
fn names_case_and_filler_words_change_nothing() {
    let people = ["Ana", "Jonas", "Odile", "Mum", "my cousin"];
    for person in people {
        let text = format!("{person} wants to kill herself");
        assert_eq!(screen(&text).level(), Level::Stop, "{text}");
        assert_eq!(screen(&text).about(), Some(About::Other), "{text}");
    }
    for filler in ["really", "honestly", "just", "kind of", "actually", "so"] {
        for text in [
            format!("I {filler} want to die"),
            format!("{filler} I want to kill myself"),
            format!("I {filler} can't stop thinking about ending my life"),
        ] {
            assert!(screen(&text).level() >= Level::Pause, "{text}");
        }
    }
}
