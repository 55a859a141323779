//! The words by which a text is searched for patterns, before any pattern is looked at.

use std::collections::BTreeSet;
use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

use crate::safety::notation::Choice;
use crate::safety::notation::Part;

/// The rarest required words of a row, with their weight; `None` when every part is optional.
type Rarest = Option<(usize, Rc<Vec<String>>)>;

/// Finds the words by which a text is searched for patterns. A choice that many patterns share is looked at once,
/// which keeps the start short.
#[derive(Debug, Default)]
pub(super) struct Needles {
    // Shared choices live as long as the patterns that hold them, so that their place names them.
    choices: HashMap<*const Choice, Rarest>,
}

impl Needles {
    /// Words of which at least one must be in a text for the pattern to match: the row of the rarest required part.
    /// Empty when every part is optional.
    pub(super) fn of(&mut self, parts: &[Part], common: &dyn Fn(&str) -> bool) -> Rc<Vec<String>> {
        self.rarest(parts, common)
            .map(|(_, words)| words)
            .unwrap_or_default()
    }

    fn rarest(&mut self, parts: &[Part], common: &dyn Fn(&str) -> bool) -> Rarest {
        let mut out: Rarest = None;
        for part in parts {
            let found = match part {
                Part::Words(words) => {
                    words
                        .iter()
                        .map(|word| weight(&word.written, common))
                        .min()
                        .map(|weight| {
                            let written = words.iter().map(|word| word.written.clone());
                            (weight, Rc::new(written.collect()))
                        })
                }
                Part::Choice(choice) => self.choice(choice, common),
                Part::Gap(_) | Part::Maybe(_) | Part::Start | Part::End => None,
            };
            if let Some((weight, words)) = found
                && out.as_ref().is_none_or(|(most, fewest)| {
                    (weight, usize::MAX - words.len()) >= (*most, usize::MAX - fewest.len())
                })
            {
                out = Some((weight, words));
            }
        }
        out
    }

    fn choice(&mut self, choice: &Arc<Choice>, common: &dyn Fn(&str) -> bool) -> Rarest {
        let place = Arc::as_ptr(choice);
        if let Some(known) = self.choices.get(&place) {
            return known.clone();
        }
        let mut weight = usize::MAX;
        let mut all = BTreeSet::new();
        let mut found = true;
        for row in &choice.rows {
            let Some((row_weight, words)) = self.rarest(row, common) else {
                found = false;
                break;
            };
            weight = weight.min(row_weight);
            all.extend(words.iter().cloned());
        }
        let rarest = found.then(|| (weight, Rc::new(all.into_iter().collect())));
        self.choices.insert(place, rarest.clone());
        rarest
    }
}

fn weight(word: &str, common: &dyn Fn(&str) -> bool) -> usize {
    if common(word.trim_end_matches('*')) {
        0
    } else {
        1 + word.len().min(4)
    }
}
