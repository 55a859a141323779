//! The way of a text through the stages: normalise, clauses, patterns, context, level, and the weighing of words.

use std::ops::Range;
use std::sync::OnceLock;

use crate::safety::About;
use crate::safety::Finding;
use crate::safety::answers::Answers;
use crate::safety::book::Book;
use crate::safety::both::both;
use crate::safety::clauses;
use crate::safety::context;
use crate::safety::context::Match;
use crate::safety::glossary::Glossary;
use crate::safety::groups::Effect;
use crate::safety::groups::Group;
use crate::safety::groups::Whose;
use crate::safety::normalise;
use crate::safety::own;
use crate::safety::patterns::Patterns;
use crate::safety::people::People;
use crate::safety::plain::Plain;
use crate::safety::settled;
use crate::safety::sight::Sight;
use crate::safety::spellings::Spellings;
use crate::safety::unmask::Speller;
use crate::safety::weighed;
use crate::safety::weighing::Weighing;
use crate::safety::whose;

/// What `ahead/` wrote down when the program was built: the patterns that are looked for sentence by sentence, and all else.
pub(super) const OF_SENTENCES: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/sentences.bin"));
pub(super) const REST: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/rest.bin"));

/// The speller, the books, the people and the weights, taken up at the first screening.
#[derive(Debug)]
pub(super) struct Screen {
    pub speller: Speller,
    pub book: Book,
    // What is looked for in sentences read together.
    pub answers: Book,
    pub people: People,
    pub weighing: Weighing,
}

impl Screen {
    /// Takes up all of it, one half beside the other.
    fn new() -> Result<Self, postcard::Error> {
        let (sentences, rest) = both(
            || postcard::from_bytes::<Patterns>(OF_SENTENCES),
            || postcard::from_bytes::<(Patterns, Spellings, People, Weighing)>(REST),
        );
        let (answers, spellings, people, weighing) = rest?;
        Ok(Self {
            speller: Speller::new(spellings),
            book: Book::new(sentences?),
            answers: Book::new(answers),
            people,
            weighing,
        })
    }

    /// The shipped screen, or why it cannot be taken up.
    pub(super) fn shipped() -> Result<&'static Self, &'static postcard::Error> {
        static SCREEN: OnceLock<Result<Screen, postcard::Error>> = OnceLock::new();
        SCREEN.get_or_init(Self::new).as_ref()
    }

    /// Everything found in a text, in its order.
    pub(super) fn findings(&self, text: &str, spoken: bool) -> Vec<Finding> {
        let plain = normalise::plain(text, &self.speller);
        let glossary = self.glossary(&plain);
        let answers = self.answers(text, &plain, &glossary);
        let (mut found, forms) = self.found(&plain, &glossary, spoken, &answers, &mut 0);
        settled::settle(self, &plain, &glossary, &answers, &mut found);
        let mut findings: Vec<Finding> = found.iter().map(|one| self.finding(&plain, one)).collect();
        findings.extend(weighed::findings(
            self, &plain, &glossary, &found, &forms, &answers, &mut 0,
        ));
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

    /// How much is done for a text: the bytes in which patterns are looked for, pattern by pattern, the matches that are
    /// weighed against each other and beside words, and the bytes in which the subjects of findings are looked for.
    pub(super) fn effort(&self, text: &str) -> usize {
        let plain = normalise::plain(text, &self.speller);
        let mut work = plain.text.len();
        let glossary = self.glossary(&plain);
        let answers = self.answers(text, &plain, &glossary);
        let (found, forms) = self.found(&plain, &glossary, false, &answers, &mut work);
        weighed::findings(self, &plain, &glossary, &found, &forms, &answers, &mut work);
        let around = |one: &Match| clauses::around(&plain.text, one.range.start).len();
        work + answers.work() + found.iter().map(around).sum::<usize>()
    }

    fn glossary(&self, plain: &Plain) -> Glossary {
        Glossary::new(
            plain,
            (&self.book.patterns, &self.answers.patterns),
            &self.weighing,
        )
    }

    fn answers<'a>(&'a self, text: &'a str, plain: &'a Plain, glossary: &'a Glossary) -> Answers<'a> {
        Answers::new(
            &self.answers,
            self.book.patterns.groups.len(),
            &self.people,
            text,
            plain,
            glossary,
        )
    }

    /// What the patterns find in a text before any weighing.
    pub(super) fn by_patterns(&self, text: &str, plain: &Plain) -> Vec<Match> {
        let glossary = self.glossary(plain);
        let answers = self.answers(text, plain, &glossary);
        self.found(plain, &glossary, false, &answers, &mut 0).0
    }

    /// What the patterns find by themselves, as context leaves it, with signs put together; and the forms of context within
    /// sentences beside it. Both in the order in which they begin.
    fn found(
        &self,
        plain: &Plain,
        glossary: &Glossary,
        spoken: bool,
        answers: &Answers,
        work: &mut usize,
    ) -> (Vec<Match>, Vec<Match>) {
        let mut read: Vec<(Range<usize>, Vec<Match>)> = Vec::new();
        let mut sight = Sight::new(&self.book.patterns);
        let mut wanted = Vec::new();
        for sentence in &plain.sentences {
            let mut last = sentence.words.start;
            for stretch in clauses::stretches(&plain.text, &sentence.place) {
                let words = if stretch == sentence.place {
                    Some(sentence.words.clone())
                } else {
                    plain.whole_words(last, &stretch)
                };
                match words {
                    Some(words) => {
                        last = words.start;
                        let words = words.map(|word| glossary.numbers(word));
                        sight.wanted_of(words, spoken, &mut wanted);
                    }
                    None => sight.wanted(&plain.text[stretch.clone()], spoken, &mut wanted),
                }
                if !wanted.is_empty() {
                    let matches = self.try_patterns(&wanted, plain, &stretch);
                    *work += stretch.len() * wanted.len() + matches.len() * matches.len();
                    read.push((stretch, matches));
                }
            }
        }
        let mut out = (answers.found(), Vec::new());
        let any_found = !out.0.is_empty();
        for (at, (stretch, matches)) in read.iter().enumerate() {
            // What other sentences say matters only for what they can lower.
            let answers = if any_found || can_count(&read, at) {
                answers.within(stretch)
            } else {
                Vec::new()
            };
            *work += matches.len() * answers.len();
            out.0.extend(context::weigh(matches, &answers));
        }
        let forms = read.into_iter().flat_map(|(_, matches)| matches);
        out.1.extend(forms.filter(|one| one.effect.is_form()));
        context::join(&self.book.patterns, &mut out.0);
        context::raise(&mut out.0);
        out.0.sort_by_key(|one| one.range.start);
        out.1.sort_by_key(|one| one.range.start);
        out
    }

    fn try_patterns(&self, wanted: &[u32], plain: &Plain, stretch: &Range<usize>) -> Vec<Match> {
        let mut matches = Vec::new();
        for id in wanted {
            let pattern = &self.book.patterns.rows[*id as usize];
            let group = &self.book.patterns.groups[pattern.group];
            let Some(regex) = self.book.regex(*id) else {
                continue;
            };
            matches.extend(regex.find_iter(&plain.text[stretch.clone()]).map(|found| Match {
                group: pattern.group,
                effect: group.effect,
                topic: group.topic,
                level: group.level,
                doubtful: (group.doubtful || group.effect == Effect::Sign) && !context::plain(found.as_str()),
                told: group.told,
                own: own::own(
                    &self.people,
                    &plain.text[stretch.clone()],
                    &found.range(),
                    group.topic,
                ),
                range: stretch.start + found.start()..stretch.start + found.end(),
            }));
        }
        matches
    }

    pub(super) fn group(&self, place: usize) -> &Group {
        let in_book = self.book.patterns.groups.get(place);
        in_book.unwrap_or_else(|| &self.answers.patterns.groups[place - self.book.patterns.groups.len()])
    }

    fn finding(&self, plain: &Plain, one: &Match) -> Finding {
        let group = self.group(one.group);
        let first = plain.tokens[plain.token_at(one.range.start + 1)];
        let last = plain.tokens[plain.token_at(one.range.end - 1)];
        let about = match group.about {
            Whose::Me => About::Me,
            Whose::Other => About::Other,
            Whose::Read => whose::about(self, plain, &one.range, one.topic),
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

/// Whether anything in one of some stretches can become a finding: a sign alone cannot.
fn can_count(read: &[(Range<usize>, Vec<Match>)], at: usize) -> bool {
    let (stretch, matches) = &read[at];
    let lowered = |one: &&Match| one.effect.is_lowered();
    let before = read[..at].iter().rev();
    let neighbours = || {
        let before = before
            .clone()
            .take_while(|(other, _)| context::near(stretch, other));
        let after = read[at..]
            .iter()
            .take_while(|(other, _)| context::near(stretch, other));
        before
            .chain(after)
            .flat_map(|(_, matches)| matches)
            .filter(lowered)
    };
    matches.iter().filter(lowered).any(|one| {
        one.effect != Effect::Sign
            || neighbours().any(|other| {
                (other.group, &other.range) != (one.group, &one.range)
                    && context::near(&one.range, &other.range)
            })
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;

    /// The regular expressions are the reference: on every example of every group, and on long rows of examples run
    /// together, a pattern is wanted exactly where its expression matches.
    #[test]
    fn a_pattern_is_tried_exactly_where_its_expression_matches() {
        let screen = Screen::shipped().unwrap();
        let groups = crate::safety::groups();
        let examples: Vec<&str> = groups
            .iter()
            .flat_map(|group| group.finds.iter().chain(&group.ignore))
            .map(String::as_str)
            .collect();
        let long = examples.chunks(15).map(|some| some.join(" "));
        let mut stretches: Vec<String> = Vec::new();
        for text in examples.iter().map(|text| (*text).to_owned()).chain(long) {
            let plain = normalise::plain(&text, &screen.speller).text.replace('\n', "");
            stretches.extend(
                clauses::stretches(&plain, &(0..plain.len()))
                    .into_iter()
                    .map(|range| plain[range].to_owned()),
            );
        }
        let mut sight = Sight::new(&screen.book.patterns);
        let mut wanted = Vec::new();
        let mut matched = 0;
        for stretch in &stretches {
            sight.wanted(stretch, true, &mut wanted);
            for (id, _) in (0..).zip(&screen.book.patterns.rows) {
                let regex = screen.book.regex(id).unwrap();
                assert_eq!(
                    wanted.contains(&id),
                    regex.is_match(stretch),
                    "{:?} on {stretch:?}",
                    regex.as_str()
                );
            }
            matched += wanted.len();
        }
        assert!(matched > examples.len(), "only {matched} matches were compared");
    }
}
