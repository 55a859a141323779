//! What was heard at a prompt: a command, a choice, a number, or words of the person's own. Only a clear match counts
//! as a command or choice; a near one is asked about, and everything else is words, shown to be confirmed.

use std::ops::ControlFlow;

use zeroize::Zeroizing;

use super::Heard;
use super::Sitting;
use super::reading::Reading;
use super::reading::labels;
use super::reading::read;
use super::reading::sure;
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
use crate::shell::speaking::Fitting;
use crate::shell::terminal::Line;
use crate::shell::trouble::Trouble;
use crate::voice;
use crate::voice::command;
use crate::voice::command::Accepted;
use crate::voice::command::Meant;
use crate::voice::command::Spoken;
use crate::voice::command::Word;
use crate::voice::split_entries;

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
        mut screened: Screened,
    ) -> Result<Heard, Trouble> {
        match &self.stepped.prompt.wait {
            Wait::Entry { .. } => {
                let parts: Vec<_> = split_entries(said).into_iter().map(Zeroizing::new).collect();
                if parts.len() > 1 {
                    match self.one_by_one(Some(said.clone()), parts)? {
                        ControlFlow::Break(instead) => return Ok(instead),
                        ControlFlow::Continue(true) => return Ok(Heard::Again),
                        ControlFlow::Continue(false) => {}
                    }
                } else if let [entry] = parts.as_slice() {
                    // An entry is a phrase, and has no full stop of its own.
                    screened = containing::screen_spoken(said, entry);
                }
            }
            // Nor has an answer of one sentence: it may become a part of another.
            Wait::Words if said.matches(['.', '?', '!']).count() == 1 && said.ends_with('.') => {
                let answer = Zeroizing::new(said.trim_end_matches('.').to_owned());
                screened = containing::screen_spoken(said, &answer);
            }
            Wait::Words
            | Wait::Confirm { .. }
            | Wait::Pick { may_add: Some(_), .. }
            | Wait::Pick { may_say: true, .. } => {}
            // The prompt asks for something else, and its own answer says what would fit.
            _ => {
                self.tell(said);
                return Ok(Heard::Input(Input::Answer(screened)));
            }
        }
        let doubtful: Vec<_> = heard
            .doubtful
            .iter()
            .filter_map(|range| Some(heard.text.get(range.clone())?.trim_end_matches('.')))
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
        let answer = match self.short_answer("", names.clone())? {
            ControlFlow::Break(instead) => return Ok(ControlFlow::Break(instead)),
            ControlFlow::Continue(answer) => answer.unwrap_or_default(),
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

    /// Yes or no, typed or spoken; Enter is a yes, and to leave is a no.
    pub(super) fn yes(&mut self) -> Result<ControlFlow<Heard, bool>, Trouble> {
        let hint = if self.house.manner.voice {
            "voice.say-yes"
        } else {
            "prompt.several-ask"
        };
        Ok(self
            .short_answer(&phrase(hint), vec!["yes".to_owned(), "no".to_owned()])?
            .map_continue(|answer| {
                answer.is_some_and(|answer| !answer.trim().to_lowercase().starts_with('n'))
            }))
    }

    /// A short answer to a question of the program's own: spoken where the sitting is, typed elsewhere; nothing where the
    /// person leaves it. Danger, commands and hiding count here as at any prompt, and break off the question.
    fn short_answer(
        &mut self,
        hint: &str,
        choices: Vec<String>,
    ) -> Result<ControlFlow<Heard, Option<Zeroizing<String>>>, Trouble> {
        let fitting = Fitting::Only(choices);
        loop {
            if !hint.is_empty() {
                self.house.terminal.hint(hint);
            }
            let line = match speaking::line(self.house, &fitting) {
                Line::Typed(line) => line,
                Line::Closed => return Ok(ControlFlow::Continue(None)),
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
            return Ok(ControlFlow::Continue(Some(line)));
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
