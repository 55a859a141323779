//! Every script that can be opened, with its words in one language.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::OnceLock;

use crate::dialogue::check;
use crate::dialogue::check::Look;
use crate::dialogue::fault::Fault;
use crate::dialogue::program::Lines;
use crate::dialogue::program::Script;
use crate::language::Language;
use crate::language::pseudo_file;

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

const SHIPPED: &[Shipped] = &shipped![
    "first-map",
    "ground",
    "group",
    "loop",
    "mark",
    "moment",
    "notice",
    "one-line",
    "pair",
    "plainer",
    "practice",
    "review",
    "room",
    "safety",
    "short",
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

/// Every script that can be opened. Most sittings need three or four of them, so each is read when it is first used.
#[derive(Clone, Debug)]
pub struct Library {
    scripts: BTreeMap<String, Shelf>,
    common: Lines,
    /// Whether the words that come with the program are told in the pseudo-language.
    pseudo: bool,
}

/// One script's place: filled when the script is first used. It stays empty for a script with faults.
type Shelf = OnceLock<Option<Arc<Script>>>;

/// A words file in the language that is asked for.
fn told(english: &'static str, pseudo: bool) -> Cow<'static, str> {
    let told = pseudo.then(|| pseudo_file(english)).flatten();
    told.map_or(Cow::Borrowed(english), Cow::Owned)
}

impl Library {
    /// The scripts that come with the program, in a language that it has (`en`), all of them read and checked now.
    ///
    /// # Errors
    /// Every fault in them. The tests hold that there is none.
    pub fn shipped(language: &str) -> Result<Self, Vec<Fault>> {
        let library = Self::of_common(language, Look::Whole)?;
        let mut faults = Vec::new();
        let mut scripts = BTreeMap::new();
        for one in SHIPPED {
            match library.read(one, Look::Whole) {
                Ok(script) => {
                    let shelf = library.scripts.get(one.name);
                    let script = shelf.and_then(|shelf| shelf.get_or_init(|| Some(Arc::new(script))).clone());
                    scripts.extend(script.map(|script| (one.name.to_owned(), script)));
                }
                Err(found) => faults.extend(found),
            }
        }
        faults.extend(check::calls(&scripts));
        if faults.is_empty() {
            Ok(library)
        } else {
            Err(faults)
        }
    }

    /// The same scripts, each put together when it is first used. Only what would leave one with a piece missing is
    /// looked for, since the tests look at them whole; a script with such a fault is then not there.
    ///
    /// # Errors
    /// Pieces that are missing in the lines that all scripts share.
    pub fn at_hand(language: &str) -> Result<Self, Vec<Fault>> {
        Self::of_common(language, Look::Pieces)
    }

    fn of_common(language: &str, look: Look) -> Result<Self, Vec<Fault>> {
        let pseudo = language == Language::Pseudo.tag();
        let common = COMMON.map(|(file, text)| (file, told(text, pseudo)));
        let common = check::common(
            &common.each_ref().map(|(file, text)| (*file, text.as_ref())),
            look,
        )?;
        let scripts = SHIPPED
            .iter()
            .map(|one| (one.name.to_owned(), Shelf::new()))
            .collect();
        Ok(Self {
            scripts,
            common,
            pseudo,
        })
    }

    /// The library with one more script, from a file of someone's own that holds its flow and its `[lines]`. It
    /// cannot replace a script that is there. Gives the script's name too.
    ///
    /// # Errors
    /// Every fault in the file.
    pub fn with(&self, file: &str, text: &str) -> Result<(Self, String), Vec<Fault>> {
        self.with_words((file, text), None)
    }

    /// The same, from a flow and its words in a file of their own, each as name and text.
    ///
    /// # Errors
    /// Every fault in the files.
    pub fn with_words(
        &self,
        flow: (&str, &str),
        words: Option<(&str, &str)>,
    ) -> Result<(Self, String), Vec<Fault>> {
        let names: Vec<_> = self.names().collect();
        let script = check::script(&check::Files { flow, words }, &self.common, &names, Look::Whole)?;
        let name = script.program.name.clone();
        if self.scripts.contains_key(&name) {
            return Err(vec![check::name_taken(flow.0, flow.1, name)]);
        }
        let mut library = self.clone();
        library
            .scripts
            .insert(name.clone(), Shelf::from(Some(Arc::new(script))));
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
        let (name, slot) = self.scripts.get_key_value(name)?;
        let read = || {
            let one = SHIPPED.iter().find(|one| one.name == name)?;
            self.read(one, Look::Pieces).ok().map(Arc::new)
        };
        slot.get_or_init(read).as_deref()
    }

    fn read(&self, one: &Shipped, look: Look) -> Result<Script, Vec<Fault>> {
        let names: Vec<_> = SHIPPED.iter().map(|one| one.name).collect();
        let (flow, words) = (format!("flow/{}.toml", one.name), format!("en/{}.toml", one.name));
        let files = check::Files {
            flow: (&flow, one.flow),
            words: Some((&words, &told(one.english, self.pseudo))),
        };
        check::script(&files, &self.common, &names, look)
    }

    /// The English words of a shipped script, or of the lines that all share (`common`, `coach`), as they are written.
    #[must_use]
    pub fn english(name: &str) -> Option<&'static str> {
        let script = SHIPPED.iter().find(|one| one.name == name).map(|one| one.english);
        let shared = || COMMON.iter().find(|(file, _)| *file == format!("en/{name}.toml"));
        script.or_else(|| shared().map(|(_, text)| *text))
    }

    pub(in crate::dialogue) fn common(&self) -> &Lines {
        &self.common
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_script_at_hand_is_the_one_that_was_looked_at_whole() {
        let whole = Library::shipped("en").expect("scripts without faults");
        let at_hand = Library::at_hand("en").expect("common lines");
        assert_eq!(at_hand.common, whole.common);
        for name in whole.names() {
            assert_eq!(at_hand.script(name), whole.script(name), "{name}");
        }
    }
}
