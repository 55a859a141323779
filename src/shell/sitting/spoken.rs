//! What was heard at a prompt: a command, a choice, a number, or words of the person's own. Only a clear match counts
//! as a command or choice; a near one is asked about, and everything else is words, shown to be confirmed.

use std::ops::ControlFlow;

use zeroize::Zeroizing;

use super::Heard;
use super::Sitting;
use crate::dialogue::Input;
use crate::dialogue::Wait;
use crate::safety::Level;
use crate::safety::Screened;
use crate::shell::containing;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::slash;
use crate::shell::slash::Slash;
use crate::shell::speaking;
use crate::shell::speaking::Said;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;
use crate::voice;
use crate::voice::command;
use crate::voice::command::Accepted;
use crate::voice::command::Meant;
use crate::voice::command::Spoken;
use crate::voice::command::Word;
use crate::voice::numbers;
use crate::voice::split_entries;

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
enum Reading {
    /// A command.
    Command(Word),
    /// An answer as it would be typed.
    Answer(String),
    /// Perhaps one of these.
    Near(Vec<Meant>),
    /// Words of the person's own.
    Words,
}

impl Sitting<'_> {
    /// Takes what was heard. Danger comes before any command; several entries in one breath are offered one by one.
    pub(super) fn heard(&mut self, heard: &voice::Heard) -> Result<Heard, Trouble> {
        let said = Zeroizing::new(heard.text.trim().to_owned());
        let screened = containing::screen_spoken(&said, &said);
        if screened.level() >= Level::Pause {
            return Ok(Heard::Input(Input::Heard(screened)));
        }
        let mut reading = read(&self.stepped.prompt.wait, &said);
        if let Reading::Near(meant) = reading {
            match self.which(&meant)? {
                ControlFlow::Break(instead) => return Ok(instead),
                ControlFlow::Continue(meant) => reading = meant,
            }
        }
        match reading {
            Reading::Command(word) => {
                self.tell(&said);
                self.command_word(word)
            }
            Reading::Answer(answer) => {
                self.tell(&said);
                Ok(Heard::Input(Input::Answer(containing::screen_spoken(
                    &said, &answer,
                ))))
            }
            Reading::Near(_) => Ok(Heard::Again),
            Reading::Words => self.words(heard, &said, screened),
        }
    }

    fn tell(&mut self, said: &str) {
        self.house
            .terminal
            .hint(&filled("voice.heard", &[("words", said)]));
    }

    fn words(
        &mut self,
        heard: &voice::Heard,
        said: &Zeroizing<String>,
        screened: Screened,
    ) -> Result<Heard, Trouble> {
        match &self.stepped.prompt.wait {
            Wait::Entry { .. } => {
                let parts: Vec<_> = split_entries(said).into_iter().map(Zeroizing::new).collect();
                if parts.len() > 1 {
                    match self.one_by_one(&parts)? {
                        ControlFlow::Break(instead) => return Ok(instead),
                        ControlFlow::Continue(true) => {
                            self.queue
                                .extend(parts.into_iter().map(|part| (Some(said.clone()), part)));
                            return Ok(Heard::Again);
                        }
                        ControlFlow::Continue(false) => {}
                    }
                }
            }
            Wait::Words | Wait::Confirm { .. } | Wait::Pick { may_add: Some(_), .. } => {}
            // The prompt asks for something else, and its own answer says what would fit.
            _ => {
                self.tell(said);
                return Ok(Heard::Input(Input::Answer(screened)));
            }
        }
        let doubtful: Vec<_> = heard
            .doubtful
            .iter()
            .filter_map(|range| heard.text.get(range.clone()))
            .collect();
        if !doubtful.is_empty() && !self.house.terminal.mark(&doubtful) {
            self.house
                .terminal
                .hint(&filled("voice.doubtful", &[("words", &doubtful.join(", "))]));
        }
        Ok(Heard::Input(Input::Heard(screened)))
    }

    /// Asks which of a few things was meant. None of them: then they were words.
    fn which(&mut self, meant: &[Meant]) -> Result<ControlFlow<Heard, Reading>, Trouble> {
        let choices = labels(&self.stepped.prompt.wait);
        let name = |meant: &Meant| match meant {
            Meant::Word(word) => phrase(name_of(*word)),
            Meant::Choice(at) => choices.get(*at).cloned().unwrap_or_default(),
        };
        let mut names: Vec<String> = meant.iter().map(name).collect();
        names.push(phrase("voice.meant-none"));
        self.house.terminal.say(&phrase("voice.meant"));
        for (place, name) in names.iter().enumerate() {
            self.house.terminal.option(place + 1, name);
        }
        let answer = match self.short_answer("")? {
            ControlFlow::Break(instead) => return Ok(ControlFlow::Break(instead)),
            ControlFlow::Continue(answer) => answer,
        };
        let choices: Vec<&str> = names.iter().map(String::as_str).collect();
        let accepted = Accepted {
            words: &[],
            choices: &choices,
        };
        Ok(ControlFlow::Continue(match command::spoken(&answer, accepted) {
            Spoken::Sure(Meant::Choice(at)) => meant.get(at).map_or(Reading::Words, |meant| sure(*meant)),
            _ => Reading::Near(Vec::new()),
        }))
    }

    /// Yes or no, typed or spoken; Enter is a yes.
    pub(super) fn yes(&mut self) -> Result<ControlFlow<Heard, bool>, Trouble> {
        let hint = if self.house.manner.voice {
            "voice.say-yes"
        } else {
            "prompt.several-ask"
        };
        Ok(self
            .short_answer(&phrase(hint))?
            .map_continue(|answer| !answer.trim().to_lowercase().starts_with('n')))
    }

    /// A short answer to a question of the program's own: spoken where the sitting is, typed elsewhere. Danger, commands
    /// and hiding count here as at any prompt, and break off the question.
    fn short_answer(&mut self, hint: &str) -> Result<ControlFlow<Heard, Zeroizing<String>>, Trouble> {
        loop {
            if !hint.is_empty() {
                self.house.terminal.hint(hint);
            }
            let said = if self.house.manner.voice {
                speaking::hear(self.house, None)
            } else {
                Said::Nothing
            };
            let line = match said {
                Said::Words(heard) => Line::Typed(heard.text),
                Said::Types(begun) => self.house.terminal.ask(&begun),
                Said::Nothing => self.house.terminal.ask(""),
                Said::Hide => Line::Hide,
            };
            let line = match line {
                Line::Typed(line) => line,
                Line::Closed => Zeroizing::new("no".to_owned()),
                Line::Hide => return Ok(ControlFlow::Break(self.hide())),
            };
            if let Some(command) = slash::read(&line) {
                match self.obey(&command)? {
                    // It was obeyed, and the question stands.
                    Heard::Again => continue,
                    instead => return Ok(ControlFlow::Break(instead)),
                }
            }
            let screened = containing::screen(line.trim());
            if screened.level() >= Level::Pause {
                return Ok(ControlFlow::Break(Heard::Input(Input::Answer(screened))));
            }
            return Ok(ControlFlow::Continue(line));
        }
    }

    fn command_word(&mut self, word: Word) -> Result<Heard, Trouble> {
        match word {
            Word::Back => self.obey(&Slash::Back),
            Word::Skip => self.obey(&Slash::Skip),
            Word::Pause => self.obey(&Slash::Pause),
            Word::Help => self.obey(&Slash::Help),
            Word::Crisis => self.obey(&Slash::Crisis),
            Word::Ground => self.obey(&Slash::Ground),
            Word::Done => Ok(Heard::Input(Input::Answer(containing::screen("")))),
            Word::Keep => match &self.stepped.prompt.wait {
                Wait::Confirm { text } => Ok(Heard::Input(Input::Answer(containing::screen_spoken(
                    text.as_str(),
                    text.as_str(),
                )))),
                _ => Ok(Heard::Again),
            },
            Word::Again => {
                self.house.terminal.say(&phrase("voice.say-again"));
                Ok(Heard::Again)
            }
        }
    }
}

/// The phrase for a spoken command.
fn name_of(word: Word) -> &'static str {
    match word {
        Word::Back => "voice.word-back",
        Word::Skip => "voice.word-skip",
        Word::Pause => "voice.word-pause",
        Word::Help => "voice.word-help",
        Word::Crisis => "voice.word-crisis",
        Word::Ground => "voice.word-ground",
        Word::Keep => "voice.word-keep",
        Word::Again => "voice.word-again",
        Word::Done => "voice.word-done",
    }
}

/// The choices of a prompt, as they are shown.
fn labels(wait: &Wait) -> Vec<String> {
    match wait {
        Wait::Choose { options } | Wait::Pick { options, .. } => {
            options.iter().map(|one| one.label.clone()).collect()
        }
        Wait::Deliberate { word } => vec![word.clone()],
        _ => Vec::new(),
    }
}

fn sure(meant: Meant) -> Reading {
    match meant {
        Meant::Word(word) => Reading::Command(word),
        Meant::Choice(at) => Reading::Answer((at + 1).to_string()),
    }
}

/// Reads what was heard by what the prompt accepts.
fn read(wait: &Wait, said: &str) -> Reading {
    let mut words = ANYWHERE.to_vec();
    match wait {
        Wait::Confirm { .. } => words.extend([Word::Keep, Word::Again]),
        Wait::Entry { .. } | Wait::Words | Wait::Pick { .. } => words.push(Word::Done),
        _ => {}
    }
    let (mut options, mut short) = (labels(wait), Vec::new());
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
        Wait::Deliberate { word } => {
            options.clear();
            if said
                .trim_matches(|c: char| !c.is_alphanumeric())
                .eq_ignore_ascii_case(word)
            {
                return Reading::Answer(word.clone());
            }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dialogue::Offered;
    use crate::map::Field;

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
