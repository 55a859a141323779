//! What goes into a step and what comes out of it: the whole conversation between the dialogue and whoever shows it.

use crate::dialogue::State;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Kind;
use crate::map::What;
use crate::safety::About;
use crate::safety::Level;
use crate::safety::Screened;
use crate::safety::Topic;
use crate::safety::Words;

/// What a person, or the shell for them, does at a prompt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Input {
    /// Opens a new dialogue. At any other time it changes nothing and asks the same prompt again.
    Begin,
    /// One line as typed, or a text as edited. The dialogue reads it by what it waits for: a blank line or "done"
    /// moves on, a number or the start of a choice's word picks, anything else is words.
    Answer(Screened),
    /// Words as heard by the speech model, not yet confirmed. Danger in them counts at once; otherwise they come
    /// back as [`Wait::Confirm`].
    Heard(Screened),
    /// Leaves the question out. Every prompt accepts it.
    Skip,
    /// Opens grounding on top of whatever is asked; it comes back to the same prompt.
    Ground,
    /// Everything that was to be recorded is on the map now.
    Recorded,
}

/// One thing to show, record or do, in order.
#[derive(Clone, Debug, PartialEq)]
pub enum Output {
    /// A line to say.
    Say(Said),
    /// A fact to record. The step then ends with [`Wait::Recorded`].
    Record(What),
    /// A part of the program to show here.
    Show(Show),
    /// Danger was found in the words: show the numbers for the person's region before anything else.
    SafetyMessage {
        /// Which message.
        level: Level,
        /// What the findings are about, each once.
        topics: Vec<Topic>,
        /// Whether to word it for the person or for a helper.
        about: About,
    },
    /// The person asked to stop for now, and everything is kept: save the state at the next prompt that is not
    /// [`Wait::Recorded`], and close.
    Pause,
    /// The dialogue came to its end.
    Ended,
}

/// A line with its name in the words file and its text, filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The line's name.
    pub id: String,
    /// The text, with the person's words filled in. Control characters are already made visible.
    pub text: String,
}

/// A part of the program that a script can show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Show {
    /// The map.
    Map,
    /// The loops on the map.
    Loops,
    /// The small steps.
    Steps,
    /// The numbers for the person's region.
    Numbers,
    /// How to hide the screen.
    Hiding,
    /// The loop on the map that fits this inner entry; nothing when there is none.
    Fitting(Option<EntryId>),
    /// Steps that the person said helped, for this thing that matters, or all of them.
    Helped(Option<EntryId>),
    /// What came, went and changed on the map since this sitting began.
    Changes,
}

/// A state, what led to it, and what is asked now.
#[derive(Clone, Debug, PartialEq)]
pub struct Stepped {
    /// The new state.
    pub state: State,
    /// What to say, record and show, in order.
    pub outputs: Vec<Output>,
    /// What is asked now.
    pub prompt: Prompt,
}

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prompt {
    /// The question, where there is one.
    pub line: Option<Said>,
    /// What would answer it.
    pub wait: Wait,
}

/// What the dialogue waits for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wait {
    /// Anything at all goes on.
    Press,
    /// A few words. Blank leaves them out.
    Words,
    /// One entry for a field. Blank or "done" moves on.
    Entry {
        /// The field.
        field: Field,
        /// The kind, where the question asks for one.
        kind: Option<Kind>,
    },
    /// One of several choices, by number, by word or by the start of it. Blank leaves the question out.
    Choose {
        /// The choices, in order.
        options: Vec<Offered>,
    },
    /// Things on the map, by number or by their words. Blank leaves the question out.
    Pick {
        /// What can be picked; the number to type is the place in this list, from 1.
        options: Vec<Offered>,
        /// Whether several may be picked.
        many: bool,
        /// Whether other words become a new entry of this field.
        may_add: Option<Field>,
        /// Whether other words are taken as they are, and put into no field.
        may_say: bool,
    },
    /// A whole number. Blank leaves the question out.
    Number {
        /// The smallest.
        from: u8,
        /// The largest.
        to: u8,
    },
    /// A text to keep, edit or empty; the answer is the text as edited. Blank or skip lets the edit go, and so does "done"
    /// where an entry is put in other words.
    Confirm {
        /// The text as it stands.
        text: Words,
    },
    /// This word, typed in full, goes on after a safety message; skip goes on too, a bare Enter does not.
    Deliberate {
        /// The word.
        word: String,
    },
    /// Nothing from the person: put the recorded facts on the map, then step with [`Input::Recorded`].
    Recorded,
    /// Nothing more: the dialogue has ended.
    End,
}

/// One thing to choose or pick.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offered {
    /// The word that chooses it; empty for things on the map, which are picked by number or by their label.
    pub word: String,
    /// What to show. Control characters are already made visible.
    pub label: String,
}

/// An input that does not answer the prompt. Nothing is lost: the state before still stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WrongInput {
    /// One of so many choices was expected.
    Choice {
        /// How many there are.
        count: usize,
    },
    /// A number of the list was expected.
    Pick {
        /// How many there are.
        count: usize,
        /// Whether several may be given.
        many: bool,
    },
    /// A whole number in a range was expected.
    Number {
        /// The smallest.
        from: u8,
        /// The largest.
        to: u8,
    },
    /// The word of [`Wait::Deliberate`] was expected, in full.
    Deliberate,
    /// The dialogue waits for facts to be recorded, not for a person.
    NotRecorded,
    /// The dialogue has ended.
    Ended,
    /// Spoken words cannot answer this prompt.
    NotWords,
    /// The words are too long for one entry.
    TooLong {
        /// The most bytes one answer may have.
        most: usize,
    },
    /// Grounding is already open.
    AlreadyOpen,
}
