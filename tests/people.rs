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
