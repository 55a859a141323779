//! How what was heard at a prompt is read: as a command, a choice, a number, or words of the person's own; and what is
//! told to the ear as fitting.

use crate::dialogue::Wait;
use crate::shell::speaking::Fitting;
use crate::voice::command;
use crate::voice::command::Accepted;
use crate::voice::command::Meant;
use crate::voice::command::Spoken;
use crate::voice::command::Word;
use crate::voice::numbers;

/// What can be said at any prompt.
const ANYWHERE: [Word; 6] = [
    Word::Back,
    Word::Skip,
    Word::Pause,
    Word::Help,
    Word::Crisis,
    Word::Ground,
];

/// How what was heard is read.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Reading {
    /// A command.
    Command(Word),
    /// An answer as it would be typed.
    Answer(String),
    /// Perhaps one of these.
    Near(Vec<Meant>),
    /// Words of the person's own.
    Words,
}

/// The choices of a prompt, as they are shown.
pub(super) fn labels(wait: &Wait) -> Vec<String> {
    match wait {
        Wait::Choose { options } | Wait::Pick { options, .. } => {
            options.iter().map(|one| one.label.clone()).collect()
        }
        _ => Vec::new(),
    }
}

pub(super) fn sure(meant: Meant) -> Reading {
    match meant {
        Meant::Word(word) => Reading::Command(word),
        Meant::Choice(at) => Reading::Answer((at + 1).to_string()),
    }
}

/// Reads what was heard by what the prompt accepts.
pub(super) fn read(wait: &Wait, said: &str) -> Reading {
    let mut words = ANYWHERE.to_vec();
    match wait {
        Wait::Confirm { .. } => words.extend([Word::Keep, Word::Again]),
        Wait::Entry { .. } | Wait::Words | Wait::Pick { .. } => words.push(Word::Done),
        _ => {}
    }
    let (options, mut short) = (labels(wait), Vec::new());
    match wait {
        Wait::Number { from, to } => {
            let number = numbers::spoken_number(said, usize::from(*from), usize::from(*to));
            if let Some(number) = number {
                return Reading::Answer(number.to_string());
            }
        }
        Wait::Pick {
            options: places,
            many: true,
            ..
        } => {
            if let Some(numbers) = numbers::spoken_numbers(said, places.len()) {
                let numbers: Vec<_> = numbers.iter().map(ToString::to_string).collect();
                return Reading::Answer(numbers.join(" "));
            }
        }
        Wait::Choose { options: choices } => short = choices.iter().map(|one| one.word.as_str()).collect(),
        // The word goes on only when it is said in full, and is given as it would be typed.
        Wait::Deliberate { word }
            if said
                .trim_matches(|c: char| !c.is_alphanumeric())
                .eq_ignore_ascii_case(word) =>
        {
            return Reading::Answer(word.clone());
        }
        _ => {}
    }
    let by_word = command::spoken(
        said,
        Accepted {
            words: &[],
            choices: &short,
        },
    );
    if let Spoken::Sure(meant @ Meant::Choice(_)) = by_word {
        return sure(meant);
    }
    let choices: Vec<&str> = options.iter().map(String::as_str).collect();
    match command::spoken(
        said,
        Accepted {
            words: &words,
            choices: &choices,
        },
    ) {
        Spoken::Sure(meant) => sure(meant),
        Spoken::Ask(meant) => Reading::Near(meant),
        Spoken::None => Reading::Words,
    }
}

/// What is told to the ear as fitting here: all choices and numbers, and of the commands those that were misheard most.
/// Where words stand to be confirmed nothing is told, so that no keeping is heard where nobody said so.
pub(super) fn fitting(wait: &Wait) -> Fitting {
    let numbers = |from: usize, to: usize| (from..=to).map(|number| number.to_string());
    let mut fit: Vec<String> = match wait {
        Wait::Choose { options } => {
            let words = options
                .iter()
                .flat_map(|one| [one.word.clone(), one.label.clone()]);
            words.chain(numbers(1, options.len())).collect()
        }
        Wait::Pick { options, .. } => numbers(1, options.len()).collect(),
        Wait::Number { from, to } => numbers(usize::from(*from), usize::from(*to)).collect(),
        // The word by which one goes on after a safety message is never made likelier than it is.
        Wait::Deliberate { .. } => return Fitting::Only(Vec::new()),
        Wait::Entry { .. } | Wait::Words => Vec::new(),
        _ => return Fitting::Words(Vec::new()),
    };
    fit.retain(|one| !one.is_empty());
    let words = if matches!(wait, Wait::Pick { .. } | Wait::Entry { .. }) {
        ["I am done", "skip it", "go back"].as_slice()
    } else {
        ["skip it", "go back"].as_slice()
    };
    fit.extend(words.iter().map(|word| (*word).to_owned()));
    let own = match wait {
        Wait::Pick { may_add, may_say, .. } => may_add.is_some() || *may_say,
        _ => matches!(wait, Wait::Entry { .. } | Wait::Words),
    };
    if own {
        Fitting::Words(fit)
    } else {
        Fitting::Only(fit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dialogue::Offered;
    use crate::map::Field;
    use crate::safety::Level;

    fn offered(list: &[(&str, &str)]) -> Vec<Offered> {
        list.iter()
            .map(|(word, label)| Offered {
                word: (*word).to_owned(),
                label: (*label).to_owned(),
            })
            .collect()
    }

    fn answer(text: &str) -> Reading {
        Reading::Answer(text.to_owned())
    }

    #[test]
    fn choices_numbers_and_lists_are_answers() {
        let choose = Wait::Choose {
            options: offered(&[("yes", "Yes, I would"), ("not sure", "I am not sure yet")]),
        };
        assert_eq!(read(&choose, "Yes."), answer("1"));
        assert_eq!(read(&choose, "Not sure."), answer("2"));
        assert_eq!(read(&choose, "Two."), answer("2"));
        assert_eq!(read(&choose, "Skip it."), Reading::Command(Word::Skip));
        assert_eq!(read(&choose, "The weather is nice."), Reading::Words);
        let options = offered(&[("", "my brother"), ("", "the choir"), ("", "being patient")]);
        let pick = Wait::Pick {
            options,
            many: true,
            may_add: None,
            may_say: false,
        };
        assert_eq!(read(&pick, "One and three."), answer("1 3"));
        assert_eq!(read(&pick, "The choir."), answer("2"));
        assert_eq!(
            read(&Wait::Number { from: 0, to: 10 }, "Seven out of ten."),
            answer("7")
        );
        assert_eq!(read(&Wait::Number { from: 0, to: 10 }, "Twelve."), Reading::Words);
    }

    #[test]
    fn what_only_some_prompts_accept_is_words_elsewhere() {
        let entry = Wait::Entry {
            field: Field::Matters,
            kind: None,
        };
        assert_eq!(read(&entry, "Done."), Reading::Command(Word::Done));
        assert_eq!(read(&entry, "Keep it."), Reading::Words);
        assert_eq!(read(&entry, "My sister."), Reading::Words);
        let ready = Wait::Deliberate {
            word: "ready".to_owned(),
        };
        assert_eq!(read(&ready, "Ready."), answer("ready"));
        assert_eq!(read(&ready, "One."), Reading::Words);
    }

    #[test]
    fn the_word_that_goes_on_is_not_told_to_the_ear() {
        let word = "ready".to_owned();
        assert_eq!(fitting(&Wait::Deliberate { word }), Fitting::Only(Vec::new()));
    }

    #[test]
    fn no_command_is_taken_for_danger() {
        for said in [
            "Back.", "Skip.", "Pause.", "Help.", "Ground.", "Keep it.", "Again.", "Done.", "Yes.", "No.",
        ] {
            assert!(
                crate::safety::screen_spoken(said, said).level() < Level::Pause,
                "{said}"
            );
        }
    }
}
