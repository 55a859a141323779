//! The book of patterns: all of them, each with its regular expression, which is written out and compiled when the pattern is
//! first known to match. Most never are.

use std::sync::OnceLock;

use regex::Regex;

use crate::safety::expression::expression;
use crate::safety::patterns::Patterns;

/// All patterns, ready to be searched for.
#[derive(Debug)]
pub(super) struct Book {
    pub patterns: Patterns,
    // By the numbers of the patterns.
    compiled: Vec<OnceLock<Option<Regex>>>,
}

impl Book {
    /// The book of some patterns.
    pub(super) fn new(patterns: Patterns) -> Self {
        let compiled = patterns.rows.iter().map(|_| OnceLock::new()).collect();
        Self { patterns, compiled }
    }

    /// A pattern, compiled. Every row is compiled in a test, so that none is missing here.
    pub(super) fn regex(&self, pattern: u32) -> Option<&Regex> {
        self.compiled[pattern as usize]
            .get_or_init(|| Regex::new(&self.expression(pattern)).ok())
            .as_ref()
    }

    fn expression(&self, pattern: u32) -> String {
        expression(self.patterns.rows[pattern as usize].row, &self.patterns.parts)
    }

    /// The expressions that do not compile.
    pub(super) fn uncompiled(&self) -> Vec<String> {
        (0..)
            .zip(&self.patterns.rows)
            .filter(|(pattern, _)| self.regex(*pattern).is_none())
            .map(|(pattern, _)| self.expression(pattern))
            .collect()
    }
}
