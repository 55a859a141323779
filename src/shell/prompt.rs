//! A prompt on the screen: the question, what can be chosen, and a hint of what fits.

use crate::dialogue::Prompt;
use crate::dialogue::Wait;
use crate::dialogue::WrongInput;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;

/// Shows a prompt, up to where the person types, or speaks.
pub(crate) fn show(terminal: &mut Terminal, prompt: &Prompt, by_voice: bool) {
    terminal.gap();
    if let Some(line) = &prompt.line {
        terminal.stress(&line.text);
    }
    match &prompt.wait {
        Wait::Choose { options } => {
            for (place, option) in options.iter().enumerate() {
                terminal.option(place + 1, &option.label);
            }
        }
        Wait::Pick {
            options,
            many,
            may_add,
            may_say,
        } => {
            for (place, option) in options.iter().enumerate() {
                terminal.option(place + 1, &option.label);
            }
            let hint = if *many {
                "prompt.pick-many"
            } else {
                "prompt.pick-one"
            };
            let mut hints = vec![phrase(hint)];
            if may_add.is_some() {
                hints.push(phrase("prompt.pick-or-new"));
            } else if *may_say {
                hints.push(phrase("prompt.pick-or-say"));
            }
            if !options.is_empty() {
                terminal.hint(&hints.join(" "));
            }
        }
        Wait::Number { from, to } => {
            terminal.hint(&filled(
                "prompt.number",
                &[("from", &from.to_string()), ("to", &to.to_string())],
            ));
        }
        Wait::Confirm { text } => {
            // Who types finds it in the line that can be edited.
            if by_voice || !terminal.is_interactive() {
                terminal.say(text.as_str());
            }
            let hint = if by_voice {
                "voice.confirm"
            } else {
                "prompt.confirm"
            };
            terminal.hint(&phrase(hint));
        }
        // The question says by itself what to do where there is one.
        Wait::Deliberate { word } if prompt.line.is_none() => {
            terminal.hint(&filled("prompt.deliberate", &[("word", word)]));
        }
        Wait::Press if by_voice => terminal.hint(&phrase("voice.press")),
        Wait::Press if prompt.line.is_none() => terminal.hint(&phrase("prompt.press")),
        Wait::Entry { .. } if by_voice => terminal.hint(&phrase("voice.entry")),
        Wait::Deliberate { .. }
        | Wait::Press
        | Wait::Words
        | Wait::Entry { .. }
        | Wait::Recorded
        | Wait::End => {}
    }
}

/// What to say when an answer does not fit the prompt. Nothing is lost; the same prompt stands.
pub(crate) fn wrong(wrong: &WrongInput, wait: &Wait) -> String {
    match wrong {
        WrongInput::Choice { .. } => phrase("prompt.expects-choice"),
        WrongInput::Pick { .. } => match wait {
            // There is no list to pick from yet.
            Wait::Pick { options, .. } if options.is_empty() => phrase("prompt.expects-own-words"),
            _ => phrase("prompt.expects-pick"),
        },
        WrongInput::Number { from, to } => filled(
            "prompt.expects-number",
            &[("from", &from.to_string()), ("to", &to.to_string())],
        ),
        WrongInput::Deliberate => match wait {
            Wait::Deliberate { word } => filled("prompt.expects-word", &[("word", word)]),
            _ => phrase("prompt.expects-choice"),
        },
        WrongInput::TooLong { most } => filled("prompt.too-long", &[("most", &most.to_string())]),
        WrongInput::NotWords => phrase("voice.only-entries"),
        WrongInput::AlreadyOpen => phrase("prompt.already-open"),
        WrongInput::NotRecorded | WrongInput::Ended => phrase("prompt.ended"),
    }
}
