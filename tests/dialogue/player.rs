//! A sitting in a test: the dialogue, a map that takes in what is recorded, and identities that count up.

use std::sync::OnceLock;

use jiff::Timestamp;
use uuid::Uuid;

use wayfold::dialogue;
use wayfold::dialogue::Input;
use wayfold::dialogue::Library;
use wayfold::dialogue::Output;
use wayfold::dialogue::Prompt;
use wayfold::dialogue::State;
use wayfold::dialogue::Wait;
use wayfold::dialogue::WrongInput;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Map;
use wayfold::safety;
use wayfold::safety::Screened;
use wayfold::safety::screen_spoken;

/// One sitting under way.
#[derive(Clone)]
pub(crate) struct Player<'l> {
    pub(crate) library: &'l Library,
    pub(crate) map: Map,
    pub(crate) state: State,
    pub(crate) prompt: Prompt,
    /// Everything that came out so far.
    pub(crate) outputs: Vec<Output>,
    pub(crate) next: u128,
}

/// Words in which danger of a given urgency was found: a sentence of that kind as it was heard, corrected to the words
/// that the test wants to keep.
pub(crate) fn danger(words: &str, level: &str, about: &str) -> Screened {
    danger_of(words, level, about, "suicide")
}

/// The same, about a topic.
pub(crate) fn danger_of(words: &str, level: &str, about: &str, topic: &str) -> Screened {
    let heard = match (level, about, topic) {
        ("quiet", "self", "suicide") => "I feel so hopeless",
        ("pause", "self", "suicide") => "I wish I had never been born",
        ("pause", "other", "suicide") => "my brother says he wants to be dead",
        ("stop", "self", "suicide") => "I keep thinking about killing myself",
        ("stop", "other", "suicide") => "my sister wants to kill herself",
        ("emergency", "self", "suicide") => "the noose is round my neck",
        ("pause", "self", "abuse") => "my husband hits me when he drinks",
        ("pause", "self", "eating") => "I make myself sick after dinner",
        ("pause", "self", "withdrawal") => "two days without vodka and I am shaking",
        _ => panic!("no sentence for {level} {about} {topic}"),
    };
    let seen = screen_spoken(heard, words);
    let found = &seen.findings()[0];
    let kind = |value: serde_json::Value| value.as_str().unwrap_or_default().to_owned();
    assert_eq!(
        [
            kind(serde_json::json!(seen.level())),
            kind(serde_json::json!(seen.about())),
            kind(serde_json::json!(found.topic)),
        ],
        [level, about, topic],
        "{heard:?}"
    );
    seen
}

/// The shipped library; a fault in it fails every test that needs it, with the fault.
pub(crate) fn library() -> &'static Library {
    static SHIPPED: OnceLock<Library> = OnceLock::new();
    SHIPPED.get_or_init(|| {
        Library::shipped("en").unwrap_or_else(|faults| panic!("faults in the shipped scripts: {faults:#?}"))
    })
}

impl<'l> Player<'l> {
    /// Opens a script on an empty map and goes to its first prompt.
    pub(crate) fn begin(library: &'l Library, script: &str) -> Self {
        Self::begin_on(library, script, Map::default(), 1)
    }

    /// The same on a map, whose identities are below `next`.
    pub(crate) fn begin_on(library: &'l Library, script: &str, map: Map, next: u128) -> Self {
        let state = State::begin(library, script).expect("the script is there");
        let prompt = Prompt {
            line: None,
            wait: Wait::Recorded,
        };
        let mut player = Self {
            library,
            map,
            state,
            prompt,
            outputs: Vec::new(),
            next,
        };
        player.give(Input::Begin).expect("a fresh sitting begins");
        player
    }

    /// Answers with a line.
    pub(crate) fn says(&mut self, line: &str) -> &mut Self {
        let asked = self.prompt.clone();
        self.give(Input::Answer(safety::screen(line)))
            .unwrap_or_else(|wrong| panic!("{line:?} does not answer {asked:?}: {wrong:?}"));
        self
    }

    /// Gives any input, and records what it leads to.
    pub(crate) fn give(&mut self, input: Input) -> Result<(), WrongInput> {
        let mut input = input;
        loop {
            let mut next = self.next;
            let mut ids = || {
                next += 1;
                Uuid::from_u128(next)
            };
            let stepped = dialogue::step(self.library, &self.map, &self.state, input, &mut ids)?;
            for output in &stepped.outputs {
                if let Output::Record(what) = output {
                    next += 1;
                    let id = EventId(Uuid::from_u128(next));
                    self.map.apply(&Event {
                        id,
                        at: Timestamp::UNIX_EPOCH,
                        what: what.clone(),
                    });
                }
            }
            self.next = next;
            self.outputs.extend(stepped.outputs);
            self.state = stepped.state;
            self.prompt = stepped.prompt;
            if self.prompt.wait != Wait::Recorded {
                return Ok(());
            }
            input = Input::Recorded;
        }
    }

    /// Goes on with blank lines until this question is open.
    pub(crate) fn goes_to(&mut self, question: &str) -> &mut Self {
        for _ in 0..200 {
            if self.asked() == question {
                return self;
            }
            self.says("");
        }
        panic!("{question} never came")
    }

    /// Everything that was said so far.
    pub(crate) fn said(&self) -> Vec<&str> {
        self.outputs
            .iter()
            .filter_map(|output| match output {
                Output::Say(said) => Some(said.text.as_str()),
                _ => None,
            })
            .collect()
    }

    /// The name of the question that is open.
    pub(crate) fn asked(&self) -> &str {
        self.prompt.line.as_ref().map_or("", |line| &line.id)
    }
}
