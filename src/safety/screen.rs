//! The way of a text through the stages: normalise, clauses, patterns, context, level.

use std::ops::Range;
use std::sync::OnceLock;

use crate::safety::About;
use crate::safety::Finding;
use crate::safety::clauses;
use crate::safety::context;
use crate::safety::context::Match;
use crate::safety::normalise;
use crate::safety::normalise::Plain;
use crate::safety::patterns::Book;
use crate::safety::patterns::BookFault;
use crate::safety::patterns::Whose;
use crate::safety::subject;
use crate::safety::unmask::Speller;

/// The speller and the book, built at the first screening.
#[derive(Debug)]
pub(super) struct Screen {
    pub speller: Speller,
    pub book: Book,
}

impl Screen {
    fn new() -> Result<Self, BookFault> {
        let speller = Speller::new().map_err(|e| BookFault::File(e.to_string()))?;
        Ok(Self {
            speller,
            book: Book::new()?,
        })
    }

    /// The shipped screen, or the fault in its files.
    pub(super) fn shipped() -> Result<&'static Self, &'static BookFault> {
        static SCREEN: OnceLock<Result<Screen, BookFault>> = OnceLock::new();
        SCREEN.get_or_init(Self::new).as_ref()
    }

    /// Everything found in a text, in its order.
    pub(super) fn findings(&self, text: &str, spoken: bool) -> Vec<Finding> {
        let plain = normalise::plain(text, &self.speller);
        let mut found = self.matches(&plain, spoken);
        context::join(&self.book, &mut found);
        context::raise(&mut found);
        let mut findings: Vec<Finding> = found.iter().map(|one| self.finding(&plain, one)).collect();
        findings.sort_by(|a, b| {
            (a.range.start, b.range.end, &a.group, b.level).cmp(&(
                b.range.start,
                a.range.end,
                &b.group,
                a.level,
            ))
        });
        findings.dedup_by(|b, a| a.group == b.group && a.range == b.range);
        findings
    }

    fn matches(&self, plain: &Plain, spoken: bool) -> Vec<Match> {
        let mut out = Vec::new();
        let mut sentence = 0..0;
        let mut wanted: Vec<u32> = Vec::new();
        for (at, patterns) in self.book.hits(&plain.text) {
            if at >= sentence.end {
                self.try_sentence(plain, &sentence, &mut wanted, spoken, &mut out);
                sentence = clauses::sentence(&plain.text, at);
            }
            wanted.extend_from_slice(patterns);
        }
        self.try_sentence(plain, &sentence, &mut wanted, spoken, &mut out);
        out
    }

    fn try_sentence(
        &self,
        plain: &Plain,
        sentence: &Range<usize>,
        wanted: &mut Vec<u32>,
        spoken: bool,
        out: &mut Vec<Match>,
    ) {
        if wanted.is_empty() {
            return;
        }
        wanted.sort_unstable();
        wanted.dedup();
        for stretch in clauses::stretches(&plain.text, sentence) {
            let mut matches = Vec::new();
            for id in wanted.iter() {
                let pattern = &self.book.patterns[*id as usize];
                let group = &self.book.groups[pattern.group];
                if group.spoken && !spoken {
                    continue;
                }
                let Some(regex) = pattern.regex() else { continue };
                matches.extend(regex.find_iter(&plain.text[stretch.clone()]).map(|found| Match {
                    group: pattern.group,
                    effect: group.effect,
                    topic: group.topic,
                    level: group.level,
                    range: stretch.start + found.start()..stretch.start + found.end(),
                }));
            }
            out.extend(context::weigh(&matches));
        }
        wanted.clear();
    }

    fn finding(&self, plain: &Plain, one: &Match) -> Finding {
        let group = &self.book.groups[one.group];
        let first = plain.tokens[plain.token_at(one.range.start + 1)];
        let last = plain.tokens[plain.token_at(one.range.end - 1)];
        let about = match group.about {
            Whose::Me => About::Me,
            Whose::Other => About::Other,
            Whose::Read => subject::about(
                plain,
                &one.range,
                &clauses::sentence(&plain.text, one.range.start),
                one.topic,
            ),
        };
        let about = if one.level == crate::safety::Level::Quiet {
            About::Me
        } else {
            about
        };
        Finding {
            group: group.name.clone(),
            level: one.level,
            topic: one.topic,
            about,
            range: first.start..last.end,
        }
    }
}
