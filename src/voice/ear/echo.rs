//! Names and commands that are told to the ear may sharpen what it hears, and must not make it up. Of a short or unclear
//! word it was seen to give back a whole name, or a command, that was only told to it. So what holds one of them is
//! heard once more with nothing told, and counts only if the two are somewhat alike.

use crate::voice::command::alike;
use crate::voice::command::plain;

/// The least likeness, of 1, between what was heard with names told and without. Eight uncommon names, each said alone by
/// a machine, had at least 0.37.
const LEAST: f32 = 0.3;

/// Whether one of the things that were told is in what was heard. Numbers do not count: as figures they are like nothing.
pub(super) fn told_in(heard: &str, names: &[String]) -> bool {
    let heard = plain(heard);
    names.iter().any(|name| {
        let name = plain(name);
        let figure = name.iter().all(|word| word.parse::<u32>().is_ok());
        !figure && heard.windows(name.len()).any(|part| part == name)
    })
}

/// Whether several of the choices stand in what was heard, as when the list that was told is only said over again.
pub(super) fn recited(heard: &str, choices: &[String]) -> bool {
    let found = choices
        .iter()
        .filter(|choice| told_in(heard, std::slice::from_ref(choice)));
    found.count() > 1
}

/// Whether what was heard with names told has too little in common with what was heard without.
pub(super) fn made_up(told: &str, untold: &str) -> bool {
    alike(&plain(told).concat(), &plain(untold).concat()) < LEAST
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_found_whole_and_in_any_case() {
        let names = [
            "my brother Jonas".to_owned(),
            "Ngozi".to_owned(),
            "...".to_owned(),
        ];
        assert!(told_in("My brother Jonas..", &names));
        assert!(told_in("I wrote to ngozi.", &names));
        assert!(!told_in("My brother.", &names));
        assert!(!told_in("", &names));
        assert!(!told_in("Number 3.", &["3".to_owned()]));
    }

    #[test]
    fn a_list_that_is_said_over_again_is_known() {
        let choices = ["1", "2", "I am done", "skip it"].map(str::to_owned);
        assert!(recited("1, 2, I am done, skip it, go back.", &choices));
        assert!(!recited("I am done.", &choices));
        assert!(!recited("1 and 2.", &choices));
    }

    /// Pairs as they were heard, of words spoken by a machine.
    #[test]
    fn a_sharpened_name_counts_and_a_made_up_one_does_not() {
        for (told, untold) in [
            ("Thandiwe.", "Tanbeu."),
            ("Joaquin", "Joe Quinn"),
            ("Brynhild", "Rim tilt"),
            ("Ngozi", "and go zi"),
            ("Aunt Vera,", "and Vera."),
            ("The choir.", "The Clire."),
        ] {
            assert!(!made_up(told, untold), "{told}");
        }
        assert!(made_up("My brother Jonas..", "I'm done."));
        assert!(made_up("My brother Jonas..", ""));
        assert!(made_up("I am done,", "Urge to cancel."));
    }
}
