//! Holds the screen to the examples that each group of patterns carries, and to itself under masks and additions.

use wayfold::safety::Level;
use wayfold::safety::groups;
use wayfold::safety::screen;
use wayfold::safety::screen_spoken;

#[test]
fn every_group_finds_what_it_says_it_finds() {
    let mut missed = Vec::new();
    for group in groups() {
        for text in &group.finds {
            let seen = if group.spoken { screen_spoken(text, "") } else { screen(text) };
            // A form of context has no level of its own; what it must do is seen in the level that is left.
            let right = match group.effect {
                "find" | "uphold" => seen.level() >= group.level,
                "raise" => true,
                "soften" => seen.level() == Level::Pause || seen.level() == Level::Quiet,
                "quieten" => seen.level() == Level::Quiet,
                _ => seen.level() == Level::None,
            };
            if !right {
                missed.push(format!("{}: {text:?} is {:?} {:?}", group.name, seen.level(), seen.findings()));
            }
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn every_pattern_compiles() {
    assert_eq!(wayfold::safety::uncompiled(), Vec::<String>::new());
}

#[test]
#[ignore = "dev"]
fn open() {
    for line in std::fs::read_to_string(std::env::var("SET").unwrap()).unwrap().lines() {
        let mut parts = line.splitn(3, '\t');
        let (level, about, text) = (parts.next().unwrap(), parts.next().unwrap(), parts.next().unwrap());
        let seen = screen(text);
        println!("{level}\t{about}\t{}\t{:?}\t{text}\t{:?}", format!("{:?}", seen.level()).to_lowercase(), seen.findings().iter().filter(|f| f.level == seen.level()).map(|f| format!("{:?}", f.about)).next(), seen.findings().iter().map(|f|(&f.group,f.level,&text[f.range.clone()])).collect::<Vec<_>>());
    }
}
