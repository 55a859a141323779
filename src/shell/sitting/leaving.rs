//! Ways out of a sitting and back in it: hiding, letting all of it go, one question back; and what is removed for good when
//! it stops.

use super::Heard;
use super::Sitting;
use super::Stopped;
use super::recalled;
use crate::dialogue::State;
use crate::map::What;
use crate::shell::House;
use crate::shell::keeping;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::trouble::Trouble;

/// Removes for good what the sitting let go. Where that fails, the next sitting tries again, and it is said, unless the
/// screen was hidden.
pub(super) fn tidy(house: &mut House, stopped: Stopped) {
    let tidied = house.kept.tidy();
    if stopped == Stopped::Hidden {
        return;
    }
    keeping::tell(&mut house.terminal, &house.kept.noticed());
    if let Err(trouble) = tidied {
        let words = filled("trouble.not-removed", &[("value", &trouble.words())]);
        house.terminal.say(&words);
    }
}

impl Sitting<'_> {
    /// Clears the screen at once; the sitting is kept or dropped as was chosen beforehand.
    pub(super) fn hide(&mut self) -> Heard {
        self.house.terminal.hide();
        if self.house.kept.map().setting("hide") == Some("drop") {
            // The screen says nothing more; where this fails, the next sitting tries again.
            let _ = self.let_go();
        }
        Heard::Stop(Stopped::Hidden)
    }

    /// Takes back all that came of this sitting, and ends it.
    pub(super) fn let_go(&mut self) -> Result<(), Trouble> {
        for (event, made) in self.house.places(self.id) {
            for event in made.into_iter().chain([event]) {
                self.house.kept.note(What::TakenBack { event });
            }
        }
        self.house.kept.note(What::SittingEnded { sitting: self.id });
        self.house.kept.keep()
    }

    /// Takes back the last answer with all it made, and stands at the prompt before. A safety message that is over is no
    /// place to come back to: one stands at the question that was there before it.
    pub(super) fn back(&mut self) -> Result<(), Trouble> {
        let mut places = self
            .house
            .kept
            .map()
            .sittings()
            .iter()
            .find(|one| one.id == self.id)
            .map(|one| one.places.clone())
            .unwrap_or_default();
        self.taken_up = true;
        let mut gone = Vec::new();
        let mut before = None;
        while let Some((event, _, made)) = places.pop().filter(|_| before.is_none()) {
            gone.extend(made.into_iter().chain([event]));
            let Some((_, saved, _)) = places.last() else { break };
            let Ok(state) = State::gone_back(self.library, saved, &self.stepped.state) else {
                break;
            };
            before = state;
        }
        let Some(state) = before else {
            self.house.terminal.say(&phrase("prompt.first"));
            return Ok(());
        };
        for event in gone {
            self.house.kept.note(What::TakenBack { event });
        }
        self.house.kept.keep()?;
        self.stepped = recalled(self.library, self.house, state);
        self.house.terminal.say(&phrase("prompt.back"));
        Ok(())
    }
}
