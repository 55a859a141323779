//! The words that a pattern cannot do without, so that it is passed over before it is walked wherever one of its
//! demands is not met.

use std::collections::HashMap;
use std::collections::HashSet;

use crate::safety::parts::Choice;
use crate::safety::parts::Part;
use crate::safety::parts::Parts;
use crate::safety::parts::Span;

/// A list of words of which at least one must be in a text for a part to match, with the weight of the least telling.
#[derive(Clone, Copy, Debug)]
struct Demand {
    weight: usize,
    list: u32,
}

/// Finds what patterns demand.
#[derive(Debug)]
pub(super) struct Demands<'a> {
    common: HashSet<&'a str>,
    // A choice that many patterns share is looked at once, which keeps the start short.
    classes: HashMap<u32, Option<Demand>>,
}

impl<'a> Demands<'a> {
    /// Knows the words that are too common to tell much.
    pub(super) fn new(common: &'a str) -> Self {
        Self {
            common: common.split_whitespace().collect(),
            classes: HashMap::new(),
        }
    }

    /// The lists that a row demands a word of, the most telling first. Empty when every part may be left out.
    pub(super) fn of(&mut self, row: Span, parts: &mut Parts) -> Vec<u32> {
        let mut demands = self.all(row, parts);
        demands.sort_by_key(|demand| {
            let tells = std::cmp::Reverse(demand.weight);
            (tells, parts.list(demand.list).len())
        });
        demands.into_iter().map(|demand| demand.list).collect()
    }

    fn all(&mut self, row: Span, parts: &mut Parts) -> Vec<Demand> {
        let mut out = Vec::new();
        for part in parts.row(row).to_vec() {
            out.extend(match part {
                Part::Words(list) => self.weigh(list, parts),
                Part::Choice(choice) => self.choice(choice, parts),
                Part::Gap(_) | Part::Maybe(_) | Part::Start | Part::End => None,
            });
        }
        out
    }

    /// A word of every row's most telling list: whichever row matches, one of them is there.
    fn choice(&mut self, choice: Choice, parts: &mut Parts) -> Option<Demand> {
        if let Some(known) = choice.class.and_then(|class| self.classes.get(&class)) {
            return *known;
        }
        let mut words = Vec::new();
        let mut every = true;
        for row in parts.rows(choice).to_vec() {
            match self.of(row, parts).first() {
                Some(list) => words.extend_from_slice(parts.list(*list)),
                None => every = false,
            }
        }
        words.sort_unstable();
        words.dedup();
        let demand = every
            .then(|| parts.add_list(&words))
            .and_then(|list| self.weigh(list, parts));
        if let Some(class) = choice.class {
            self.classes.insert(class, demand);
        }
        demand
    }

    /// How telling a list is; none demands a word of an empty list.
    fn weigh(&self, list: u32, parts: &Parts) -> Option<Demand> {
        let words = parts.list(list).iter().map(|word| parts.lexicon.written(*word));
        let weight = words.map(|word| self.weight(word)).min()?;
        Some(Demand { weight, list })
    }

    fn weight(&self, word: &str) -> usize {
        let word = word.trim_end_matches('*');
        if self.common.contains(word) {
            0
        } else {
            1 + word.len().min(4)
        }
    }
}
