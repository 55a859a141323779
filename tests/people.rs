//! The person's own people, who come first where who to call is shown; and danger at the list of what a person may need.

use crate::program::Person;

/// Someone at the second prompt of their first sitting.
fn begun() -> Person {
    let person = Person::new();
    person.says(&["begin"], "NZ\n\n");
    person
}

#[test]
fn own_people_come_first_until_they_are_taken_off() {
    let person = begun();
    let said = person.says(
        &["begin"],
        "/people\n/people Olga 021 555 019\n/people the night porter, knock twice\n/crisis\n",
    );
    assert!(said.contains("You can put your own people first"), "{said}");
    let page = &said[said.rfind("If you or someone may be in danger").unwrap()..];
    let at = |words: &str| {
        page.find(words)
            .unwrap_or_else(|| panic!("no {words:?} in {page}"))
    };
    assert!(at("Olga: 021 555 019") < at("the night porter: knock twice"));
    assert!(at("the night porter: knock twice") < at("call: 111"));
    // Days later, in the safety message itself.
    let said = person.says(&["begin"], "I want to kill myself\n");
    assert!(said.contains("Olga: 021 555 019"), "{said}");
    let said = person.says(&["stuck"], "/people drop 1\n/people drop 7\n/people\n");
    assert!(said.contains("Olga is off the list."), "{said}");
    let list = &said[said.rfind("Your own people").unwrap()..];
    assert!(
        list.contains("1  the night porter: knock twice") && !list.contains("Olga:"),
        "{list}"
    );
}

#[test]
fn the_list_is_short_and_what_is_no_person_is_told() {
    let person = begun();
    let lines: String = (1..=9)
        .map(|number| format!("/people friend 02{number} 555 01{number}\n"))
        .collect();
    let said = person.says(&["begin"], &(lines + "/people Olga\n/people drop Olga\n"));
    assert!(said.contains("The list holds 8 people at most"), "{said}");
    assert_eq!(said.matches("now comes first").count(), 8, "{said}");
    assert_eq!(
        said.matches("You can put your own people first").count(),
        2,
        "{said}"
    );
}

#[test]
fn what_a_terminal_would_obey_is_shown_in_a_name_and_not_obeyed() {
    let person = begun();
    let said = person.says(
        &["begin"],
        "/people \u{1b}[2JOlga\u{7} 021 555 019\n/people\n/crisis\n",
    );
    assert_eq!(
        said.matches("Olga").count(),
        3 + said.matches("/people Olga").count(),
        "{said}"
    );
    assert!(!said.contains(['\u{1b}', '\u{7}']), "{said:?}");
}

#[test]
fn own_people_are_listed_added_and_taken_off_outside_a_sitting() {
    let person = begun();
    let said = person.says(&["people"], "");
    assert_eq!(
        said,
        "You can put your own people first. Type: wayfold people --add\n"
    );
    let said = person.says(&["people", "--add"], "Olga\nOlga 021 555 019\n");
    assert!(
        said.contains("A name and then a number fit here.")
            && said.contains("Olga: 021 555 019 now comes first"),
        "{said}"
    );
    person.says(&["begin"], "/people the night porter, knock twice\n");
    let said = person.says(&["people"], "");
    assert!(
        said.contains("1  Olga: 021 555 019\n  2  the night porter: knock twice\n")
            && said.contains("wayfold people --drop 1"),
        "{said}"
    );
    assert!(
        person
            .says(&["people", "--drop", "1"], "")
            .contains("Olga is off the list.")
    );
    let none = person.run(&["--no-passphrase", "people", "--drop", "2"], "");
    assert_eq!(none.status.code(), Some(1));
    let said = String::from_utf8(none.stdout).unwrap();
    assert!(
        said.contains("Nothing was changed.") && said.contains("1  the night porter"),
        "{said}"
    );
    // Enter alone adds nobody, and danger is no name.
    person.says(&["people", "--add"], "\n");
    let left = person.run(
        &["--no-passphrase", "people", "--add"],
        "I want to kill myself, tonight\nexit\nOlga 021 555 019\n",
    );
    assert_eq!(left.status.code(), Some(130));
    let said = String::from_utf8(left.stdout).unwrap();
    assert!(
        said.contains("111") && !said.contains("now comes first"),
        "{said}"
    );
}

/// They are sealed with the map; who to call is there for everybody.
#[test]
fn own_people_need_what_opens_the_map_and_crisis_does_not() {
    let person = begun();
    person.says(&["people", "--add"], "Olga 021 555 019\n");
    let word = person.folder().join("word");
    std::fs::write(&word, "the low gate\n").unwrap();
    let word = word.to_str().unwrap();
    let locked = person.run(&["store", "passphrase", "--new-passphrase-file", word], "");
    assert!(locked.status.success(), "{locked:?}");
    let refused = person.run(&["people"], "");
    assert_eq!(refused.status.code(), Some(2));
    assert!(!String::from_utf8(refused.stdout).unwrap().contains("Olga"));
    let opened = person.run(&["people", "--passphrase-file", word], "");
    assert!(
        String::from_utf8(opened.stdout)
            .unwrap()
            .contains("Olga: 021 555 019")
    );
    let page = person.run(&["crisis"], "");
    assert!(page.status.success());
    assert!(String::from_utf8(page.stdout).unwrap().contains("call: 111"));
    let nobody = Person::new();
    let none = nobody.run(&["--no-passphrase", "people"], "");
    assert_eq!(none.status.code(), Some(1));
    assert!(!nobody.store().exists());
}

#[test]
fn danger_behind_the_command_is_danger() {
    let person = begun();
    let said = person.says(&["begin"], "/people I want to kill myself, tonight\n");
    assert!(
        said.contains("111") && !said.contains("now comes first"),
        "{said}"
    );
}

#[test]
fn danger_at_the_list_of_needs_shows_who_to_call() {
    let person = Person::new();
    let answers = std::fs::read_to_string(format!(
        "{}/demo-data/first-map.answers",
        env!("CARGO_MANIFEST_DIR")
    ))
    .unwrap();
    person.says(&["begin"], &answers);
    let said = person.says(&[], "the weather is nice\nI want to kill myself\n/ground\n");
    let (before, after) = said.split_once("If you or someone may be in danger").unwrap();
    assert!(
        before.contains("What do you need?") && after.contains("call: 111"),
        "{said}"
    );
}
