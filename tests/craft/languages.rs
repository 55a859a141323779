//! A language that is none: every line longer and accented. It shows that all a script says comes from its words file,
//! and that the check against English finds what a translation loses.

use wayfold::dialogue::FaultKind;
use wayfold::dialogue::Input;
use wayfold::dialogue::Library;
use wayfold::dialogue::Output;
use wayfold::dialogue::Rehearsal;
use wayfold::dialogue::Wait;
use wayfold::dialogue::against;
use wayfold::safety;

use crate::dialogue::player::library;

const NAMES: [&str; 5] = ["first-map", "group", "pair", "plainer", "short"];

fn read(folder: &str, name: &str) -> String {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue");
    std::fs::read_to_string(root.join(folder).join(format!("{name}.toml"))).unwrap()
}

/// One line in the language that is none: accents on its vowels and a tail, placeholders and the bar left as they are.
fn changed(line: &str) -> String {
    let mut depth = 0;
    let mut out = String::new();
    for c in line.chars() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        out.push(match (c, depth) {
            ('a', 0) => 'á',
            ('e', 0) => 'ë',
            ('o', 0) => 'ø',
            ('u', 0) => 'ü',
            (c, _) => c,
        });
    }
    out + " ßŧħ"
}

fn translated(words: &str) -> String {
    let table: toml::Table = words.parse().unwrap();
    let lines = table["lines"].as_table().unwrap();
    let lines: toml::Table = lines
        .iter()
        .map(|(name, line)| (name.clone(), changed(line.as_str().unwrap()).into()))
        .collect();
    let mut whole = toml::Table::new();
    whole.insert("lines".to_owned(), lines.into());
    whole.to_string()
}

#[test]
fn a_whole_translation_has_no_fault_against_english() {
    for name in ["common", "coach", "ground", "safety"].into_iter().chain(NAMES) {
        let english = Library::english(name).unwrap();
        let theirs = translated(english);
        let faults = against(("other.toml", &theirs), ("en.toml", english));
        assert!(faults.is_empty(), "{name}: {faults:#?}");
    }
}

#[test]
fn all_that_a_script_says_comes_from_its_words() {
    for name in NAMES {
        let flow = read("flow", name).replacen(&format!("name = \"{name}\""), "name = \"other\"", 1);
        let words = translated(&read("en", name));
        let opened = library().with_words(("other.toml", &flow), Some(("xx.toml", &words)));
        let (library, script) = opened.unwrap_or_else(|faults| panic!("{name}: {faults:#?}"));
        let (mut rehearsal, mut outputs) = Rehearsal::begin(&library, &script).unwrap();
        let mut said = 0;
        for turn in 0.. {
            assert!(turn < 300, "{name} does not end");
            let in_ground = rehearsal.node().is_none();
            let lines = outputs.iter().filter_map(|output| match output {
                Output::Say(said) => Some(&said.text),
                _ => None,
            });
            let prompt = rehearsal.prompt().clone();
            for text in lines
                .chain(prompt.line.as_ref().map(|line| &line.text))
                .filter(|_| !in_ground)
            {
                said += 1;
                assert!(
                    text.contains("ßŧħ"),
                    "{name} says {text:?}, which no words file has"
                );
            }
            if let Wait::Choose { options } = &prompt.wait {
                for option in options.iter().filter(|_| !in_ground) {
                    assert!(option.label.contains("ßŧħ"), "{name} offers {:?}", option.label);
                }
            }
            let answer = match &prompt.wait {
                Wait::End => break,
                Wait::Entry { .. } if turn % 2 == 0 => "mend the gate",
                Wait::Words => "a small thing",
                Wait::Choose { .. } | Wait::Pick { .. } => "1",
                Wait::Number { .. } => "8",
                _ => "",
            };
            let answer = Input::Answer(safety::screen(answer));
            outputs = rehearsal
                .give(answer)
                .or_else(|_| rehearsal.give(Input::Skip))
                .unwrap();
        }
        assert!(said > 12, "{name} said only {said} lines");
    }
}

#[test]
fn what_a_translation_loses_is_found_at_its_line() {
    let english = Library::english("plainer").unwrap();
    let whole = translated(english);
    let kinds = |text: &str| -> Vec<(usize, FaultKind)> {
        against(("other.toml", text), ("en.toml", english))
            .into_iter()
            .map(|fault| (fault.line, fault.what))
            .collect()
    };
    let line_of = |text: &str, name: &str| {
        text.lines()
            .position(|line| {
                line.starts_with(&format!("{name} = ")) || line.starts_with(&format!("\"{name}\" = "))
            })
            .unwrap()
            + 1
    };
    let name = || "pulls.ask".to_owned();

    let lost = whole.replace("{away}", "");
    assert_eq!(
        kinds(&lost),
        [(
            line_of(&lost, "pulls.ask"),
            FaultKind::LostPlaceholder {
                line: name(),
                part: "away".to_owned()
            }
        )]
    );
    let stray = whole.replace("{away}", "{away} {aawy}");
    assert_eq!(
        kinds(&stray),
        [(
            line_of(&stray, "pulls.ask"),
            FaultKind::StrayPlaceholder {
                line: name(),
                part: "aawy".to_owned()
            }
        )]
    );
    let missing: String = whole
        .lines()
        .filter(|line| !line.contains("pulls.ask"))
        .map(|line| format!("{line}\n"))
        .collect();
    assert_eq!(
        kinds(&missing)
            .into_iter()
            .map(|(_, what)| what)
            .collect::<Vec<_>>(),
        [FaultKind::NotTranslated { line: name() }]
    );
    let over = format!("{whole}\nnobody = \"Says this.\"\n");
    assert_eq!(
        kinds(&over),
        [(
            line_of(&over, "nobody"),
            FaultKind::UnusedLine {
                line: "nobody".to_owned()
            }
        )]
    );
    let words = Library::english("pair").unwrap();
    let bare = translated(words).replace(" | ", " ");
    let found = against(("other.toml", &bare), ("en.toml", words));
    assert_eq!(
        found
            .iter()
            .filter(|fault| matches!(fault.what, FaultKind::LostWord { .. }))
            .count(),
        2
    );
}

/// The lines of a words file, each form of a number in the forms of another language.
fn in_forms(words: &str, forms: &[&str]) -> String {
    let table: toml::Table = translated(words).parse().unwrap();
    let mut lines = toml::Table::new();
    for (name, line) in table["lines"].as_table().unwrap() {
        match name.split_once('[') {
            None => {
                lines.insert(name.clone(), line.clone());
            }
            Some((stem, "other]")) => {
                for form in forms {
                    lines.insert(format!("{stem}[{form}]"), line.clone());
                }
            }
            Some(_) => {}
        }
    }
    toml::Table::from_iter([("lines".to_owned(), lines.into())]).to_string()
}

#[test]
fn a_translation_has_the_forms_of_its_own_language() {
    let english = wayfold::language::PAGE_WORDS;
    let kinds = |file: &str, text: &str| -> Vec<FaultKind> {
        let faults = against((file, text), ("page.toml", english));
        faults.into_iter().map(|fault| fault.what).collect()
    };
    // Forms by the Unicode CLDR, from memory: Polish whole numbers have three, Japanese ones have one.
    for (file, forms) in [
        ("pl/page.toml", &["one", "few", "many"][..]),
        ("ja/page.toml", &["other"]),
        ("en/page.toml", &["one", "other"]),
    ] {
        assert_eq!(kinds(file, &in_forms(english, forms)), [], "{file}");
    }
    let polish = in_forms(english, &["one", "few", "many"]);
    let line = |line: &str| line.to_owned();
    let without: String = polish
        .lines()
        .filter(|line| !line.contains("page.moments[few]"))
        .map(|line| format!("{line}\n"))
        .collect();
    assert_eq!(
        kinds("pl/page.toml", &without),
        [FaultKind::NotTranslated {
            line: line("page.moments[few]")
        }]
    );
    let over = format!("{polish}\n\"page.moments[two]\" = \"{{count}} x.\"\n");
    assert_eq!(
        kinds("pl/page.toml", &over),
        [FaultKind::UnusedLine {
            line: line("page.moments[two]")
        }]
    );
    // One form may say the number as a word; a blank that is not the number is missed in every form.
    let said = polish.replace("{count}", "x");
    assert_eq!(kinds("pl/page.toml", &said), []);
    let lost = polish.replacen("{words}, {count}", "{count}", 1);
    assert_ne!(lost, polish);
    assert!(matches!(
        kinds("pl/page.toml", &lost)[..],
        [FaultKind::LostPlaceholder { .. }]
    ));
}
