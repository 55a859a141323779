//! Several things that came at once where an entry is asked for: pasted lines, or a list said in one breath. After a
//! question each may become an entry of its own.

use std::collections::VecDeque;
use std::ops::ControlFlow;

use zeroize::Zeroizing;

use super::Heard;
use super::Sitting;
use crate::dialogue::Input;
use crate::dialogue::Wait;
use crate::shell::containing;
use crate::shell::phrases::counted;
use crate::shell::trouble::Trouble;

/// Things that wait for their turn.
pub(super) struct Several {
    /// What was asked for when they came. They fit nothing else.
    wait: Wait,
    /// All of it as it was heard, where it was spoken.
    heard: Option<Zeroizing<String>>,
    parts: VecDeque<Zeroizing<String>>,
}

impl Sitting<'_> {
    /// Shows several things that came at once, asks whether each is to be an entry of its own, and lets them wait for
    /// their turn if so. False where they are to stay one answer.
    pub(super) fn one_by_one(
        &mut self,
        heard: Option<Zeroizing<String>>,
        parts: Vec<Zeroizing<String>>,
    ) -> Result<ControlFlow<Heard, bool>, Trouble> {
        let terminal = &mut self.house.terminal;
        terminal.say(&counted("prompt.several", parts.len() as u64, &[]));
        for (place, part) in parts.iter().enumerate() {
            terminal.option(place + 1, part);
        }
        let answer = self.yes()?;
        if matches!(answer, ControlFlow::Continue(true)) {
            self.several = Some(Several {
                wait: self.stepped.prompt.wait.clone(),
                heard,
                parts: parts.into(),
            });
        }
        Ok(answer)
    }

    /// The next of several things, where what is asked for is what they came for. Where another entry is asked for by
    /// now, they have no place.
    pub(super) fn next_of_several(&mut self) -> Option<Input> {
        let wait = &self.stepped.prompt.wait;
        let several = self.several.as_mut()?;
        if several.wait != *wait {
            if matches!(wait, Wait::Entry { .. }) {
                self.drop_several();
            }
            return None;
        }
        let part = several.parts.pop_front()?;
        let heard = several.heard.as_ref().unwrap_or(&part);
        Some(Input::Answer(containing::screen_spoken(heard, &part)))
    }

    /// Says which of several things are left, if any are, and lets them go.
    pub(super) fn drop_several(&mut self) {
        let Some(several) = self.several.take().filter(|several| !several.parts.is_empty()) else {
            return;
        };
        let terminal = &mut self.house.terminal;
        terminal.gap();
        terminal.say(&counted("prompt.not-kept", several.parts.len() as u64, &[]));
        for part in &several.parts {
            terminal.say(&format!("- {}", part.as_str()));
        }
    }
}
