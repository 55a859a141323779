//! Every script that can be opened, checked, with its words in one language.

use std::collections::BTreeMap;

use crate::dialogue::check;
use crate::dialogue::fault::Fault;
use crate::dialogue::program::Lines;
use crate::dialogue::program::Script;

/// The script that a safety message opens. It is always there.
pub(in crate::dialogue) const SAFETY: &str = "safety";

/// The script that grounding opens.
pub(in crate::dialogue) const GROUND: &str = "ground";

/// One script that comes with the program: its name, its flow and its English words.
struct Shipped {
    name: &'static str,
    flow: &'static str,
    english: &'static str,
}

macro_rules! shipped {
    ($($name:literal),+ $(,)?) => {
        [$(Shipped {
            name: $name,
            flow: include_str!(concat!("../../scripts/dialogue/flow/", $name, ".toml")),
            english: include_str!(concat!("../../scripts/dialogue/en/", $name, ".toml")),
        }),+]
    };
}

const SHIPPED: [Shipped; 14] = shipped![
    "first-map",
    "ground",
    "loop",
    "mark",
    "moment",
    "notice",
    "one-line",
    "practice",
    "review",
    "room",
    "safety",
    "step",
    "stuck",
    "unhook",
];

/// The lines that every script and the engine itself can say.
const COMMON: [(&str, &str); 2] = [
    (
        "en/common.toml",
        include_str!("../../scripts/dialogue/en/common.toml"),
    ),
    (
        "en/coach.toml",
        include_str!("../../scripts/dialogue/en/coach.toml"),
    ),
];

/// Every script that can be opened.
#[derive(Clone, Debug)]
pub struct Library {
    scripts: BTreeMap<String, Script>,
    common: Lines,
}

impl Library {
    /// The scripts that come with the program, in a language that it has (`en`).
    ///
    /// # Errors
    /// Every fault in them. The tests hold that there is none.
    pub fn shipped(_language: &str) -> Result<Self, Vec<Fault>> {
        let common = check::common(&COMMON)?;
        let mut library = Self {
            scripts: BTreeMap::new(),
            common,
        };
        let mut faults = Vec::new();
        let names: Vec<_> = SHIPPED.iter().map(|one| one.name).collect();
        for one in &SHIPPED {
            let (flow, words) = (format!("flow/{}.toml", one.name), format!("en/{}.toml", one.name));
            let files = check::Files {
                flow: (&flow, one.flow),
                words: Some((&words, one.english)),
            };
            match check::script(&files, &library.common, &names) {
                Ok(script) => {
                    library.scripts.insert(script.program.name.clone(), script);
                }
                Err(found) => faults.extend(found),
            }
        }
        faults.extend(check::calls(&library.scripts));
        if faults.is_empty() {
            Ok(library)
        } else {
            Err(faults)
        }
    }

    /// The library with one more script, from a file of someone's own that holds its flow and its `[lines]`. It
    /// cannot replace a script that is there. Gives the script's name too.
    ///
    /// # Errors
    /// Every fault in the file.
    pub fn with(&self, file: &str, text: &str) -> Result<(Self, String), Vec<Fault>> {
        let names: Vec<_> = self.names().collect();
        let files = check::Files {
            flow: (file, text),
            words: None,
        };
        let script = check::script(&files, &self.common, &names)?;
        let name = script.program.name.clone();
        if self.scripts.contains_key(&name) {
            return Err(vec![check::name_taken(file, text, name)]);
        }
        let mut library = self.clone();
        library.scripts.insert(name.clone(), script);
        Ok((library, name))
    }

    /// The names of all scripts, in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.scripts.keys().map(String::as_str)
    }

    /// The version of a script, when there is such a script.
    #[must_use]
    pub fn version(&self, script: &str) -> Option<u32> {
        self.script(script).map(|script| script.program.version)
    }

    pub(in crate::dialogue) fn script(&self, name: &str) -> Option<&Script> {
        self.scripts.get(name)
    }

    pub(in crate::dialogue) fn common(&self) -> &Lines {
        &self.common
    }
}
