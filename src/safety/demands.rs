//! The words that a pattern cannot do without, so that it is passed over before it is walked wherever one of its
//! demands is not met.

use std::collections::HashMap;
use std::collections::HashSet;

use crate::safety::lexicon::Lexicon;
use crate::safety::parts::Choice;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;

/// A list of words of which at least one must be in a text for a part to match.
#[derive(Clone, Copy, Debug)]
struct Demand {
    list: u32,
    // How often one of its words is met in everyday text, in no unit.
    common: u32,
}

/// Finds what patterns demand.
#[derive(Debug)]
pub(super) struct Demands {
    // How often a word is met, by its number.
    common: Vec<u32>,
    // A choice that many patterns share is looked at once, which keeps the start short.
    classes: HashMap<u32, Option<Demand>>,
}

impl Demands {
    /// Knows words that are common, and others that are commonest of all. Which they are changes how long a text takes
    /// and never what is found in it.
    pub(super) fn new(common: &str, commonest: &str, lexicon: &Lexicon) -> Self {
        let common: HashSet<&str> = common.split_whitespace().collect();
        let commonest: HashSet<&str> = commonest.split_whitespace().collect();
        let met = |word: &str| match word.trim_end_matches('*') {
            word if commonest.contains(word) => 200,
            word if common.contains(word) => 20,
            word if word.len() < 4 => 2,
            _ => 1,
        };
        Self {
            common: lexicon.all().map(met).collect(),
            classes: HashMap::new(),
        }
    }

    /// The lists that a row demands a word of, the rarest first. Empty when every part may be left out.
    pub(super) fn of(&mut self, row: Span, parts: &mut Parts) -> Vec<u32> {
        let mut demands = Vec::new();
        for part in parts.row(row).to_vec() {
            demands.extend(self.part(part, parts));
        }
        demands.sort_by_key(|demand| demand.common);
        demands.into_iter().map(|demand| demand.list).collect()
    }

    fn part(&mut self, part: Part, parts: &mut Parts) -> Option<Demand> {
        match part {
            Part::Words(list) => self.list(list, parts),
            Part::Choice(choice) => match choice.class {
                Some(class) => {
                    if let Some(known) = self.classes.get(&class) {
                        return *known;
                    }
                    let demand = self.choice(choice, parts);
                    self.classes.insert(class, demand);
                    demand
                }
                None => self.choice(choice, parts),
            },
            Part::Gap(_) | Part::Maybe(_) | Part::Start | Part::End => None,
        }
    }

    /// A word of every row's rarest list: whichever row matches, one of them is there.
    fn choice(&mut self, choice: Choice, parts: &mut Parts) -> Option<Demand> {
        let mut words = Vec::new();
        for row in parts.rows(choice).to_vec() {
            let mut rarest: Option<Demand> = None;
            for part in parts.row(row).to_vec() {
                let demand = self.part(part, parts);
                rarest = rarest
                    .into_iter()
                    .chain(demand)
                    .min_by_key(|demand| demand.common);
            }
            words.extend_from_slice(parts.list(rarest?.list));
        }
        words.sort_unstable();
        words.dedup();
        let list = parts.add_list(&words);
        self.list(list, parts)
    }

    fn list(&self, list: u32, parts: &Parts) -> Option<Demand> {
        let words = parts.list(list);
        let common = words.iter().map(|word| self.common[*word as usize]).sum();
        // A list without words is none that a word can be demanded of.
        (!words.is_empty()).then_some(Demand { list, common })
    }
}
