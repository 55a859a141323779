//! Spoken commands and choices. What was heard is matched against what the prompt accepts, with a margin: a clear
//! match counts, a near one is asked about, and anything else is an entry like any other.

use super::numbers::number;

/// A command that may be spoken at a prompt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Word {
    /// One prompt back.
    Back,
    /// On without an answer.
    Skip,
    /// Stop here and go on another day.
    Pause,
    /// What can be said here.
    Help,
    /// The lines for a crisis.
    Crisis,
    /// A short exercise to come back to the senses.
    Ground,
    /// Keep the words as they were heard.
    Keep,
    /// Say it again.
    Again,
    /// Nothing more to add here.
    Done,
}

impl Word {
    /// Every command.
    pub const ALL: [Self; 9] = [
        Self::Back,
        Self::Skip,
        Self::Pause,
        Self::Help,
        Self::Crisis,
        Self::Ground,
        Self::Keep,
        Self::Again,
        Self::Done,
    ];

    /// The ways to say it. The first is its name.
    fn ways(self) -> &'static [&'static str] {
        match self {
            Self::Back => &["back", "go back", "back please", "one back", "go back one"],
            Self::Skip => &["skip", "skip it", "skip this", "skip this one", "skip that"],
            Self::Pause => &["pause", "pause here", "take a pause", "pause please"],
            Self::Help => &["help", "help please", "show help", "help me here"],
            Self::Crisis => &[
                "crisis",
                "show crisis",
                "crisis help",
                "crisis lines",
                "i am in crisis",
            ],
            Self::Ground => &["ground", "ground me", "grounding", "the grounding exercise"],
            Self::Keep => &[
                "keep",
                "keep it",
                "keep that",
                "keep this",
                "yes",
                "yes keep it",
                "that is right",
                "correct",
                "keep them",
            ],
            Self::Again => &[
                "again",
                "say it again",
                "once again",
                "let me say it again",
                "say that again",
            ],
            Self::Done => &[
                "done",
                "i am done",
                "all done",
                "that is all",
                "done here",
                "nothing more",
            ],
        }
    }
}

/// What a prompt accepts beside free words.
#[derive(Clone, Copy, Debug, Default)]
pub struct Accepted<'a> {
    /// The commands.
    pub words: &'a [Word],
    /// The choices as they are shown, in order; chosen by number or by their words.
    pub choices: &'a [&'a str],
}

/// One thing that may have been meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meant {
    /// A command.
    Word(Word),
    /// A choice, counted from 0.
    Choice(usize),
}

/// What was meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Spoken {
    /// Clearly this.
    Sure(Meant),
    /// Perhaps one of these, likeliest first: to be asked.
    Ask(Vec<Meant>),
    /// Nothing that the prompt accepts: an entry, or noise.
    None,
}

/// From this likeness on, of 1, a match is clear.
const SURE: f32 = 0.85;

/// From this likeness on a match is worth asking about.
const NEAR: f32 = 0.62;

/// How much likelier the best must be than the next, else it is asked.
const MARGIN: f32 = 0.15;

/// Words that are said on the way to what is meant.
const FILLERS: &[&str] = &[
    "um", "uh", "er", "erm", "hm", "well", "okay", "ok", "so", "please", "oh",
];

/// Matches what was heard against what is accepted.
#[must_use]
pub fn spoken(text: &str, accepted: Accepted<'_>) -> Spoken {
    let said = plain(text);
    if said.is_empty() {
        return Spoken::None;
    }
    let mut scores: Vec<(f32, Meant)> = Vec::new();
    for word in accepted.words {
        let best = word
            .ways()
            .iter()
            .map(|way| likeness(&said, &plain(way)))
            .fold(0.0, f32::max);
        scores.push((best, Meant::Word(*word)));
    }
    let number = number(&said).filter(|number| (1..=accepted.choices.len()).contains(number));
    for (at, choice) in accepted.choices.iter().enumerate() {
        let by_words = choice_likeness(&said, &plain(choice));
        let by_number = if number == Some(at + 1) { 1.0 } else { 0.0 };
        scores.push((by_words.max(by_number), Meant::Choice(at)));
    }
    // A stable sort: among equals the prompt's own order holds.
    scores.sort_by(|a, b| b.0.total_cmp(&a.0));
    let near: Vec<_> = scores.iter().filter(|(score, _)| *score >= NEAR).collect();
    match near.as_slice() {
        [] => Spoken::None,
        [(score, meant)] if *score >= SURE => Spoken::Sure(*meant),
        [(first, meant), (second, _), ..] if *first >= SURE && first - second >= MARGIN => {
            Spoken::Sure(*meant)
        }
        _ => Spoken::Ask(near.iter().take(3).map(|(_, meant)| *meant).collect()),
    }
}

/// Words in lower case, without signs, fillers and a leading slash.
pub(super) fn plain(text: &str) -> Vec<String> {
    let lower = text.to_lowercase().replace(['\'', '’'], "");
    let words = lower
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty() && !FILLERS.contains(word));
    words
        .flat_map(|word| if word == "im" { vec!["i", "am"] } else { vec![word] })
        .map(str::to_owned)
        .collect()
}

/// A choice is often named by a part of its words: "the garden" for "Working in the garden". All words that were
/// said must then be in it, and more than small ones.
fn choice_likeness(said: &[String], choice: &[String]) -> f32 {
    let whole = likeness(said, choice);
    let telling = said.iter().filter(|word| word.chars().count() > 3).count();
    let inside = said
        .iter()
        .all(|word| choice.iter().any(|other| alike(word, other) >= SURE));
    if telling > 0 && inside {
        whole.max(0.9)
    } else {
        whole
    }
}

/// How alike two phrases are, from 0 to 1: letters that must change, over the longer length. Spaces do not count,
/// since "skip it" may come as "skipit".
fn likeness(a: &[String], b: &[String]) -> f32 {
    alike(&a.concat(), &b.concat())
}

pub(super) fn alike(a: &str, b: &str) -> f32 {
    let a: Vec<char> = a.chars().take(200).collect();
    let b: Vec<char> = b.chars().take(200).collect();
    let longest = a.len().max(b.len());
    if longest == 0 {
        1.0
    } else {
        1.0 - changes(&a, &b) as f32 / longest as f32
    }
}

/// The fewest letters to add, drop or change (Levenshtein's distance).
fn changes(a: &[char], b: &[char]) -> usize {
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, left) in a.iter().enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, right) in b.iter().enumerate() {
            let change = corner + usize::from(left != right);
            corner = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(corner + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::voice::numbers::spoken_number;
    use crate::voice::numbers::spoken_numbers;
    use proptest::prelude::*;

    fn meant(text: &str, choices: &[&str]) -> Spoken {
        spoken(
            text,
            Accepted {
                words: &Word::ALL,
                choices,
            },
        )
    }

    #[test]
    fn every_way_of_every_command_is_sure() {
        for word in Word::ALL {
            for way in word.ways() {
                assert_eq!(meant(way, &[]), Spoken::Sure(Meant::Word(word)), "{way}");
                let loud = format!(" Um, {}!", way.to_uppercase());
                assert_eq!(meant(&loud, &[]), Spoken::Sure(Meant::Word(word)), "{loud}");
            }
        }
    }

    #[test]
    fn a_word_that_only_ends_as_i_am_does_is_left_whole() {
        assert_eq!(plain("Rim tilt, I'm done."), ["rim", "tilt", "i", "am", "done"]);
    }

    #[test]
    fn an_entry_that_holds_a_command_is_an_entry() {
        for entry in [
            "going back to evening classes",
            "helping my neighbour with her shopping",
            "I keep the blinds down all day",
            "I skip breakfast and hurry out",
            "pausing before I answer my brother",
            "standing on my own ground at work",
            "I have done what I could for them",
            "my sister",
        ] {
            assert_eq!(meant(entry, &[]), Spoken::None, "{entry}");
        }
    }

    #[test]
    fn a_near_match_is_asked_and_only_what_is_accepted_counts() {
        assert_eq!(meant("skit", &[]), Spoken::Ask(vec![Meant::Word(Word::Skip)]));
        assert_eq!(
            spoken(
                "skip",
                Accepted {
                    words: &[Word::Back],
                    choices: &[]
                }
            ),
            Spoken::None
        );
        assert_eq!(meant("", &[]), Spoken::None);
        assert_eq!(meant("um, okay.", &[]), Spoken::None);
    }

    #[test]
    fn choices_go_by_number_and_by_words() {
        let choices = ["Working in the garden", "Calling my aunt", "Neither of these"];
        let sure = |at| Spoken::Sure(Meant::Choice(at));
        for (said, at) in [
            ("Two.", 1),
            ("number three", 2),
            ("And number one.", 0),
            ("the first one", 0),
            ("1", 0),
            ("to", 1),
            ("the garden", 0),
            ("calling my aunt", 1),
            ("Neither.", 2),
            ("Calling my ant", 1),
        ] {
            assert_eq!(meant(said, &choices), sure(at), "{said}");
        }
        assert_eq!(meant("seven", &choices), Spoken::None);
        let twins = ["A walk by the river", "A walk by the harbour"];
        assert_eq!(
            meant("a walk by the", &twins),
            Spoken::Ask(vec![Meant::Choice(0), Meant::Choice(1)])
        );
    }

    #[test]
    fn numbers_are_read_alone_on_a_scale_and_in_a_row() {
        for (said, number) in [
            ("Seven.", Some(7)),
            ("zero", Some(0)),
            ("About an eight", None),
            ("about a seven", Some(7)),
            ("Seven out of ten.", Some(7)),
            ("one", Some(1)),
            ("10", Some(10)),
            ("eleven", None),
            ("my sister", None),
            ("", None),
        ] {
            assert_eq!(spoken_number(said, 0, 10), number, "{said}");
        }
        for (said, numbers) in [
            ("Two and five.", Some(vec![2, 5])),
            ("2, 3, 5, 6.", Some(vec![2, 3, 5, 6])),
            ("numbers one, three and four", Some(vec![1, 3, 4])),
            ("two, two", Some(vec![2])),
            ("the second one", Some(vec![2])),
            ("the first one and the third one", Some(vec![1, 3])),
            ("one", Some(vec![1])),
            ("two and one", Some(vec![2, 1])),
            ("nine", None),
            ("2356", None),
            ("two brothers", None),
            ("", None),
        ] {
            assert_eq!(spoken_numbers(said, 8), numbers, "{said}");
        }
    }

    proptest! {
        #[test]
        fn whatever_is_said_only_accepted_things_come_back(text in "\\PC{0,40}", keep in 0_usize..9) {
            let accepted = Accepted { words: &Word::ALL[..keep], choices: &["one way", "another way"] };
            let known = |meant: &Meant| match meant {
                Meant::Word(word) => accepted.words.contains(word),
                Meant::Choice(at) => *at < 2,
            };
            match spoken(&text, accepted) {
                Spoken::Sure(meant) => prop_assert!(known(&meant)),
                Spoken::Ask(list) => prop_assert!(!list.is_empty() && list.iter().all(known)),
                Spoken::None => {}
            }
        }

        #[test]
        fn the_distance_is_a_distance(a in "[abc]{0,8}", b in "[abc]{0,8}", c in "[abc]{0,8}") {
            let d = |x: &str, y: &str| {
                changes(&x.chars().collect::<Vec<_>>(), &y.chars().collect::<Vec<_>>())
            };
            prop_assert_eq!(d(&a, &b), d(&b, &a));
            prop_assert_eq!(d(&a, &b) == 0, a == b);
            prop_assert!(d(&a, &c) <= d(&a, &b) + d(&b, &c));
        }
    }
}
