//! Wayfold is a private, offline companion for the terminal: it walks a person through making their own four-field
//! map, keeps the map, and is there when they feel stuck.
//!
//! The modules stand in the order in which a person's words pass through them. A later module may know an earlier
//! one, never the other way round.
//!
//! The whole way in small: a script is checked, an answer is screened, and the entry is on the map.
//!
//! ```
//! use wayfold::dialogue::Input;
//! use wayfold::dialogue::Library;
//! use wayfold::dialogue::Rehearsal;
//! use wayfold::map::Field;
//! use wayfold::safety;
//!
//! let script = r#"
//!     name = "tea"
//!     version = 1
//!     start = "what"
//!     [[node]]
//!     name = "what"
//!     ask = "what.ask"
//!     entry = { field = "toward", most = 1 }
//!     go = "end"
//!     done = "end"
//!     [[node]]
//!     name = "end"
//!     end = true
//!     [lines]
//!     "what.ask" = "What might a camera see you do?"
//! "#;
//! let shipped = Library::at_hand("en").expect("scripts without faults");
//! let (library, name) = shipped.with("tea.toml", script).expect("a script without faults");
//! let (mut sitting, _) = Rehearsal::begin(&library, &name).expect("a script of that name");
//! let answer = safety::screen("pour tea for my neighbour");
//! sitting.give(Input::Answer(answer)).expect("it fits the prompt");
//! let entry = sitting.map().field(Field::Toward).next().expect("one entry");
//! assert_eq!(entry.words.as_str(), "pour tea for my neighbour");
//! ```

// Turns a microphone or a WAV file into text, and reads prompts aloud.
pub mod voice;

// Looks for signs of danger in words; the only maker of [`safety::Words`], so nothing unscreened goes further.
pub mod safety;

// The languages that the program speaks, and its fixed words in them.
pub mod language;

// What the person has said so far: events, and the map, moments and steps folded from them.
pub mod map;

// The entry check: one kind question when an entry seems to sit in the wrong field.
pub mod coach;

// From a written script to a checked program, and the pure step from one prompt to the next.
pub mod dialogue;

// Keeps events: sealed, checked, never lost.
pub mod store;

// What can be computed from the map and the moments: loops, workability, what changed.
pub mod insight;

// The map and its insights as neutral pages: headings, lists, figures, positions.
pub mod page;

// Pages as terminal text, SVG, PDF, PNG, Markdown and JSON.
pub mod picture;

// The program as a person meets it: arguments, the sitting, the terminal, the wording of errors.
pub mod shell;
