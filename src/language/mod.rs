//! The languages that the program speaks, and what it says outside its dialogues.
//!
//! All fixed words are in files, one folder a language, and so are the forms that they take beside a number. Which
//! language is spoken is settled once, before anything is said, and never changes while the program runs.

mod plain;
mod plural;
mod pseudo;
mod words;

use std::sync::OnceLock;

pub use plain::Row;
pub use plain::plain_rows;
pub use plural::category;
pub use plural::forms;
pub use pseudo::pseudo;
pub use pseudo::pseudo_file;
pub use words::PAGE_WORDS;
pub use words::SHELL_WORDS;
pub use words::counted;
pub use words::filled;
pub use words::line;

/// A language that the program can speak.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Language {
    /// English.
    English,
    /// No language at all, for those who look for words that cannot be translated: see [`pseudo()`]. It is offered to
    /// nobody.
    Pseudo,
}

impl Language {
    /// Its tag (BCP 47). That of the pseudo-language is from the range for local use.
    #[must_use]
    pub fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Pseudo => "qaa",
        }
    }
}

static CHOSEN: OnceLock<Language> = OnceLock::new();

/// Chooses the language, once: what is chosen later changes nothing.
pub fn choose(language: Language) {
    // A second choice would let one screen speak two languages.
    let _ = CHOSEN.set(language);
}

/// The language that was chosen, or else English.
#[must_use]
pub fn spoken() -> Language {
    CHOSEN.get().copied().unwrap_or(Language::English)
}
