//! Nothing that a person wrote is lost on the way to any picture, and nothing that was not chosen gets into one.

use proptest::prelude::*;
use unicode_width::UnicodeWidthStr;
use uuid::Uuid;
use wayfold::map::Field;
use wayfold::map::Kind;
use wayfold::map::StepId;
use wayfold::map::What;
use wayfold::page;
use wayfold::page::Chosen;
use wayfold::page::Ink;
use wayfold::page::SheetOptions;
use wayfold::picture;
use wayfold::picture::Fonts;
use wayfold::picture::terminal;
use wayfold::picture::terminal::Screen;
use wayfold::picture::terminal::shown;

use crate::picture_files::sheet;
use crate::picture_maps;
use crate::picture_maps::Drawn;

/// Text as people and attackers write it: words, any Unicode, control characters, long runs without a space.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z]{1,9}( [a-z]{1,9}){0,9}",
        "\\PC{1,40}",
        any::<String>(),
        "[ab]{60,200}",
        proptest::sample::select(picture_maps::SCRIPTS.to_vec()).prop_map(str::to_owned),
    ]
}

/// The signs of a text, without spaces, and without the marks that a renderer may add or drop at the ends of lines.
fn signs(text: &str) -> String {
    text.chars()
        .filter(|sign| !sign.is_whitespace() && *sign != '\u{200f}')
        .collect()
}

/// The words of an SVG's list entries, references resolved, in the order of the document.
fn svg_words(svg: &str) -> String {
    let tree = roxmltree::Document::parse(svg).expect("well-formed");
    let entries = tree
        .descendants()
        .filter(|node| node.attribute("role") == Some("listitem"));
    let texts = entries.flat_map(|entry| entry.descendants().filter(|node| node.has_tag_name("text")));
    let all: String = texts
        .flat_map(|node| node.descendants().filter(roxmltree::Node::is_text))
        .filter_map(|node| node.text())
        .collect();
    signs(&all)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn every_word_of_every_entry_is_in_every_form(entries in prop::collection::vec((0_usize..4, text()), 1..12)) {
        let mut drawn = Drawn::default();
        for (field, text) in &entries {
            drawn.entry(Field::ALL[*field], None, text);
        }
        let page = sheet(&drawn.map());
        let plain = signs(&picture::plain(&page));
        let svg = svg_words(&picture::svg(&page, &Fonts::embedded()));
        let screen = Screen { columns: 40, unicode: true, colour: false, plain: true };
        let list = signs(&terminal::draw(&page, &screen));
        picture::pdf(&page, &Fonts::embedded()).expect("a PDF of any words");
        for (_, text) in &entries {
            let words = signs(&shown(text));
            prop_assert!(plain.contains(&words), "plain lost an entry");
            prop_assert!(list.contains(&words), "the list lost an entry");
            prop_assert!(svg.contains(&words), "the SVG lost an entry: {words:?}");
        }
    }

    #[test]
    fn no_sign_reaches_a_screen_raw(text in any::<String>(), columns in 20_usize..220, plain: bool) {
        let mut drawn = Drawn::default();
        drawn.entry(Field::Inner, None, &text);
        let screen = Screen { columns, unicode: true, colour: false, plain };
        let drawn = terminal::draw(&sheet(&drawn.map()), &screen);
        for line in drawn.lines() {
            prop_assert!(!line.chars().any(char::is_control));
            prop_assert!(line.width() <= columns);
        }
    }

    #[test]
    fn a_share_holds_what_was_chosen_and_nothing_else(picks in prop::collection::vec(any::<bool>(), 15)) {
        let map = picture_maps::gardener();
        let entries = map.entries().iter().zip(&picks);
        let mut chosen = Chosen { loops: Chosen::everything(&map).loops, ..Chosen::default() };
        chosen.entries.extend(entries.filter(|(_, pick)| **pick).map(|(entry, _)| entry.id));
        let page = page::sheet(&map, &SheetOptions { chosen: Some(chosen), ..SheetOptions::default() });
        let texts = [picture::plain(&page), picture::markdown(&page).replace('\\', "")];
        for (entry, pick) in map.entries().iter().zip(&picks) {
            for text in &texts {
                prop_assert_eq!(text.contains(entry.words.as_str()), *pick, "{}", entry.words.as_str());
            }
        }
    }
}

#[test]
fn one_very_long_entry_is_kept_whole() {
    let text = (0..40_000)
        .map(|at| format!("word{at}"))
        .collect::<Vec<_>>()
        .join(" ");
    let mut drawn = Drawn::default();
    drawn.entry(Field::Away, None, &text);
    let svg = svg_words(&picture::svg(&sheet(&drawn.map()), &Fonts::embedded()));
    assert!(svg.contains(&signs(&text)), "words were lost between sides");
}

#[test]
fn names_become_initials_wherever_they_stand() {
    let mut drawn = Drawn::default();
    drawn.entry(Field::Matters, Some(Kind::Person), "my daughter Ines Moreau");
    drawn.entry(Field::Toward, None, "ring Ines and Moreau's shop");
    let map = drawn.map();
    let chosen = Chosen {
        initials: true,
        ..Chosen::everything(&map)
    };
    let plain = picture::plain(&page::sheet(
        &map,
        &SheetOptions {
            chosen: Some(chosen),
            ..SheetOptions::default()
        },
    ));
    assert!(plain.contains("my daughter I. M."), "{plain}");
    assert!(!plain.contains("Ines") && !plain.contains("Moreau"), "{plain}");
}

#[test]
fn words_about_a_person_are_no_names() {
    for (written, shown) in [
        ("Aunt Vera, who taught me to row", "Aunt V., who taught me to row"),
        ("the choir", "the choir"),
        ("Everyone at work", "Everyone at work"),
        ("my friend ana from Leeds", "my friend a. from L."),
        ("ana and luis", "a. and l."),
        ("Ana and luis", "A. and l."),
        ("my brother Jonas", "my brother J."),
        ("李明", "李."),
    ] {
        let mut drawn = Drawn::default();
        drawn.entry(Field::Matters, Some(Kind::Person), written);
        let map = drawn.map();
        let chosen = Chosen {
            initials: true,
            ..Chosen::everything(&map)
        };
        let options = SheetOptions {
            chosen: Some(chosen),
            ..SheetOptions::default()
        };
        let plain = picture::plain(&page::sheet(&map, &options));
        assert!(plain.contains(&format!("- {shown}\n")), "{written}: {plain}");
    }
}

#[test]
fn a_step_reads_as_one_sentence() {
    for (when, said) in [
        ("the post comes", "If the post comes, then open one letter"),
        ("when the post comes", "When the post comes, then open one letter"),
        ("at six", "At six, then open one letter"),
        (
            "Tomorrow after lunch",
            "Tomorrow after lunch, then open one letter",
        ),
    ] {
        let mut drawn = Drawn::default();
        drawn.happens(What::StepAdded {
            step: StepId(Uuid::from_u128(1)),
            when: Some(picture_maps::words(when)),
            act: picture_maps::words("open one letter"),
            serves: Vec::new(),
            confidence: None,
            smaller_than: None,
        });
        let plain = picture::plain(&sheet(&drawn.map()));
        assert!(plain.contains(&format!("- {said}\n")), "{plain}");
    }
}

#[test]
fn the_brighter_side_has_no_inner_words() {
    let map = picture_maps::gardener();
    let chosen = Some(Chosen::brighter_side(&map));
    let plain = picture::plain(&page::sheet(
        &map,
        &SheetOptions {
            chosen,
            ..SheetOptions::default()
        },
    ));
    for entry in map.entries() {
        let wanted = matches!(entry.field, Field::Matters | Field::Toward);
        assert_eq!(
            plain.contains(entry.words.as_str()),
            wanted,
            "{}",
            entry.words.as_str()
        );
    }
}

#[test]
fn a_field_from_which_nothing_was_chosen_is_not_named() {
    let map = picture_maps::gardener();
    let page = |chosen: Option<Chosen>| {
        let options = SheetOptions {
            chosen,
            ..SheetOptions::default()
        };
        page::sheet(&map, &options)
    };
    let screen = Screen {
        columns: 80,
        unicode: true,
        colour: false,
        plain: true,
    };
    let brighter = page(Some(Chosen::brighter_side(&map)));
    let drawn = [
        picture::plain(&brighter),
        picture::markdown(&brighter),
        picture::svg(&brighter, &Fonts::embedded()),
        terminal::draw(&brighter, &screen),
    ];
    for text in &drawn {
        for there in ["What matters", "Toward moves", "belong together"] {
            assert!(text.contains(there), "{there}: {text}");
        }
        for not_there in ["What shows up", "Away moves", "nothing yet"] {
            assert!(!text.contains(not_there), "{not_there}: {text}");
        }
    }
    // On the person's own sheet an empty field stands there to be seen.
    let own = page::sheet(&picture_maps::three(), &SheetOptions::default());
    assert!(terminal::draw(&own, &screen).contains("Away moves\n - nothing yet\n"));
    let all = page(Some(Chosen::everything(&map)));
    assert!(matches!(all.parts[0], page::Part::Fields(_)));
}

/// Relative luminance as WCAG 2.2 defines it.
fn luminance([red, green, blue]: [u8; 3]) -> f64 {
    let linear = |value: u8| {
        let value = f64::from(value) / 255.0;
        if value <= 0.04045 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)
}

/// Contrast ratio as WCAG 2.2 defines it.
fn contrast(one: [u8; 3], two: [u8; 3]) -> f64 {
    let (one, two) = (luminance(one), luminance(two));
    (one.max(two) + 0.05) / (one.min(two) + 0.05)
}

#[test]
fn every_ink_reads_on_every_ground() {
    // Published: black on white is 21:1 (WCAG 2.2), #767676 on white is the lightest grey that passes 4.5:1 and
    // #777777 the first that does not (4.54 and 4.48; W3C's techniques, from memory).
    assert!((contrast([0; 3], [255; 3]) - 21.0).abs() < 1e-9);
    assert!((contrast([0x76; 3], [255; 3]) - 4.54).abs() < 0.005);
    assert!((contrast([0x77; 3], [255; 3]) - 4.48).abs() < 0.005);
    for front in Ink::FRONT {
        for ground in Ink::GROUND {
            let ratio = contrast(front.rgb(), ground.rgb());
            assert!(ratio >= 4.5, "{front:?} on {ground:?} is {ratio:.2}");
        }
    }
    // The two hues themselves, as Okabe and Ito published them.
    assert_eq!(Ink::Toward.rgb(), [0x00, 0x72, 0xb2]);
    assert_eq!(Ink::Away.rgb(), [0xe6, 0x9f, 0x00]);
}

#[test]
fn fixed_words_are_short_and_plain() {
    let source = wayfold::language::PAGE_WORDS;
    let said = regex::Regex::new("\"([^\"]+)\" = \"([^\"]+)\"").unwrap();
    let mut read = 0;
    for found in said.captures_iter(source) {
        // A list of words is no sentence.
        if found[1].starts_with("words.") {
            continue;
        }
        for sentence in found[2].split(['.', '?']) {
            assert!(sentence.split_whitespace().count() <= 25, "{sentence}");
        }
        let words = found[2].to_lowercase();
        assert!(!words.contains('!'), "{words}");
        for banned in [
            "just",
            "should",
            "must",
            "great",
            "well done",
            "simply",
            "fail",
            "disorder",
        ] {
            assert!(
                !words
                    .split(|c: char| !c.is_alphabetic())
                    .any(|word| word == banned),
                "{words}"
            );
        }
        read += 1;
    }
    assert!(read > 60, "only {read} were read");
}
