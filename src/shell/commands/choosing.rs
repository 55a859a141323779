//! What to put in a file for someone else, chosen piece by piece. A choice starts empty; the questions that follow
//! depend on what was chosen so far, and one can go back to any of them.

use std::collections::VecDeque;

use crate::map::EntryId;
use crate::map::Field;
use crate::map::Map;
use crate::map::StepId;
use crate::map::TraceId;
use crate::map::Traced;
use crate::page::Chosen;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;

/// What the file will be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A PDF.
    Pdf,
    /// Markdown.
    Markdown,
    /// A PDF sealed with a passphrase.
    Sealed,
}

/// A choice so far, and the questions that are still open.
#[derive(Clone)]
pub(crate) struct Choosing {
    /// What of the map is in it.
    pub(crate) chosen: Chosen,
    /// Whether the date stands at the top.
    pub(crate) date: bool,
    /// What the file will be, once that is chosen.
    pub(crate) kind: Option<Kind>,
    open: VecDeque<Question>,
}

/// One question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Question {
    /// For whom: what matters and toward only, or piece by piece.
    Whom,
    /// Which fields to choose from.
    Fields,
    /// Which entries of a field.
    Entries(Field),
    /// Which of the loops whose two ends are chosen.
    Loops,
    /// Which steps.
    Steps,
    /// Which dates.
    Dates,
    /// How people are named.
    Names,
    /// Which kind of file.
    Kind,
    /// A look at all of it, and a yes.
    Confirm,
}

/// What an answer came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Took {
    /// It was taken; the next question stands.
    Next,
    /// It does not fit; the same question stands.
    Unfit,
    /// It was a no to the whole.
    Refused,
    /// It was a yes to the whole.
    Agreed,
}

impl Choosing {
    /// An empty choice with its first question. The kind is not asked about where the command line names it.
    pub(crate) fn new(kind: Option<Kind>) -> Self {
        Self {
            chosen: Chosen::default(),
            date: false,
            kind,
            open: VecDeque::from([Question::Whom]),
        }
    }

    /// Whether nothing of the map is in it.
    pub(crate) fn is_empty(&self) -> bool {
        self.chosen.entries.is_empty() && self.chosen.steps.is_empty()
    }

    /// The question that stands now. Questions with nothing to choose from are passed over.
    pub(crate) fn question(&mut self, map: &Map) -> Question {
        loop {
            let question = self.open.front().copied().unwrap_or(Question::Confirm);
            let passed = match question {
                Question::Loops => self.loops(map).next().is_none(),
                Question::Entries(field) => map.field(field).next().is_none(),
                Question::Steps => map.steps().is_empty(),
                Question::Names => !map
                    .entries()
                    .iter()
                    .any(|entry| entry.kind == Some(crate::map::Kind::Person)),
                Question::Kind => self.kind.is_some(),
                _ => false,
            };
            if !passed {
                return question;
            }
            self.open.pop_front();
        }
    }

    /// The loops that could be in it: both ends of them are.
    pub(crate) fn loops<'m>(&self, map: &'m Map) -> impl Iterator<Item = &'m Traced> {
        let entries = &self.chosen.entries;
        map.loops()
            .iter()
            .filter(move |one| entries.contains(&one.hook) && entries.contains(&one.away))
    }

    /// Takes an answer to the question that stands.
    pub(crate) fn take(&mut self, map: &Map, line: &str) -> Took {
        let question = self.question(map);
        let taken = match question {
            Question::Whom => self.take_whom(line),
            Question::Fields => picked(line, Field::ALL.len()).map(|places| self.take_fields(&places)),
            // What shows up is the most private: nobody puts in all of it with one word.
            Question::Entries(Field::Inner) if line.eq_ignore_ascii_case("all") => None,
            Question::Entries(field) => {
                let ids: Vec<EntryId> = map.field(field).map(|entry| entry.id).collect();
                picked(line, ids.len())
                    .map(|places| self.chosen.entries.extend(places.iter().map(|place| ids[*place])))
            }
            Question::Loops => {
                let ids: Vec<TraceId> = self.loops(map).map(|one| one.id).collect();
                picked(line, ids.len())
                    .map(|places| self.chosen.loops.extend(places.iter().map(|place| ids[*place])))
            }
            Question::Steps => {
                let ids: Vec<StepId> = map.steps().iter().map(|step| step.id).collect();
                picked(line, ids.len())
                    .map(|places| self.chosen.steps.extend(places.iter().map(|place| ids[*place])))
            }
            Question::Dates => place(line, 3, Some(0)).map(|place| {
                self.date = place > 0;
                self.chosen.dates = place > 1;
            }),
            Question::Names => place(line, 2, Some(0)).map(|place| self.chosen.initials = place > 0),
            Question::Kind => place(line, KINDS.len(), None).map(|place| self.kind = Some(KINDS[place].0)),
            Question::Confirm => {
                return match agreed(line) {
                    Some(true) => Took::Agreed,
                    Some(false) => Took::Refused,
                    None => Took::Unfit,
                };
            }
        };
        if taken.is_none() {
            return Took::Unfit;
        }
        self.open.retain(|one| *one != question);
        Took::Next
    }

    fn take_whom(&mut self, line: &str) -> Option<()> {
        let open: &[Question] = match place(line, 2, None)? {
            0 => &[
                Question::Entries(Field::Matters),
                Question::Entries(Field::Toward),
            ],
            _ => &[Question::Fields, Question::Loops, Question::Steps],
        };
        self.open.extend(open);
        self.open.extend([
            Question::Dates,
            Question::Names,
            Question::Kind,
            Question::Confirm,
        ]);
        Some(())
    }

    fn take_fields(&mut self, places: &[usize]) {
        self.open.retain(|question| *question != Question::Fields);
        for place in places.iter().rev() {
            self.open.push_front(Question::Entries(Field::ALL[*place]));
        }
    }
}

const KINDS: [(Kind, &str); 3] = [
    (Kind::Pdf, "share.kind.pdf"),
    (Kind::Markdown, "share.kind.markdown"),
    (Kind::Sealed, "share.kind.sealed"),
];

/// Shows a question, up to where the person types: all of them are lists with numbers, and Enter alone puts nothing in. The
/// last one is shown by whoever knows the page.
pub(crate) fn show(
    terminal: &mut Terminal,
    map: &Map,
    choosing: &Choosing,
    question: Question,
    date: jiff::civil::Date,
) {
    terminal.gap();
    match question {
        Question::Whom => choice(
            terminal,
            "share.whom",
            ["share.whom.partner", "share.whom.pieces"].map(phrase),
            unfit(question),
        ),
        Question::Fields => {
            let fields = Field::ALL.map(|field| {
                let count = map.field(field).count().to_string();
                filled("share.field", &[("name", &field_name(field)), ("count", &count)])
            });
            choice(terminal, "share.fields", fields, unfit(question));
        }
        Question::Entries(field) => {
            terminal.stress(&filled("share.entries", &[("name", &field_name(field))]));
            if field == Field::Inner {
                terminal.say(&phrase("share.inner.why"));
            }
            list(
                terminal,
                map.field(field).map(|entry| entry.words.as_str().to_owned()),
                unfit(question),
            );
        }
        Question::Loops => {
            terminal.stress(&phrase("share.loops"));
            let loops = choosing.loops(map).map(|one| loop_words(map, one));
            list(terminal, loops, unfit(question));
        }
        Question::Steps => {
            terminal.stress(&phrase("share.steps"));
            let steps = map.steps().iter().map(|step| match &step.when {
                Some(when) => filled(
                    "share.step",
                    &[("when", when.as_str()), ("act", step.act.as_str())],
                ),
                None => step.act.as_str().to_owned(),
            });
            list(terminal, steps, unfit(question));
        }
        Question::Dates => {
            let day = filled("share.dates.top", &[("date", &date.to_string())]);
            let options = [phrase("share.dates.none"), day, phrase("share.dates.all")];
            choice(terminal, "share.dates", options, unfit(question));
        }
        Question::Names => {
            terminal.stress(&phrase("share.names"));
            terminal.say(&phrase("share.names.limits"));
            let options = ["share.names.whole", "share.names.short"].map(phrase);
            list(terminal, options.into_iter(), unfit(question));
        }
        Question::Kind => choice(
            terminal,
            "share.kind",
            KINDS.map(|(_, name)| phrase(name)),
            unfit(question),
        ),
        Question::Confirm => choice(
            terminal,
            "share.confirm",
            ["share.confirm.no", "share.confirm.yes"].map(phrase),
            unfit(question),
        ),
    }
}

/// What fits at a question: said below it, and again for an answer that does not.
pub(crate) fn unfit(question: Question) -> &'static str {
    match question {
        Question::Whom | Question::Kind => "prompt.pick-one",
        Question::Entries(Field::Inner) => "share.pick-inner",
        Question::Fields | Question::Entries(_) | Question::Loops | Question::Steps => "share.pick",
        Question::Dates | Question::Names | Question::Confirm => "share.pick-one",
    }
}

fn choice<const N: usize>(terminal: &mut Terminal, question: &str, options: [String; N], hint: &str) {
    terminal.stress(&phrase(question));
    list(terminal, options.into_iter(), hint);
}

fn list(terminal: &mut Terminal, options: impl Iterator<Item = String>, hint: &str) {
    for (place, option) in options.enumerate() {
        terminal.option_in_brief(place + 1, &option);
    }
    terminal.hint(&phrase(hint));
}

fn field_name(field: Field) -> String {
    phrase(match field {
        Field::Matters => "share.field.matters",
        Field::Inner => "share.field.inner",
        Field::Away => "share.field.away",
        Field::Toward => "share.field.toward",
    })
}

/// A loop by its two ends. What else it brings along stands below before a yes.
fn loop_words(map: &Map, one: &Traced) -> String {
    let words = |id| {
        map.entry(id)
            .map(|entry| entry.words.as_str())
            .unwrap_or_default()
    };
    filled(
        "share.loop",
        &[("hook", words(one.hook)), ("away", words(one.away))],
    )
}

/// The last answer, by its number or its word; Enter is no.
fn agreed(line: &str) -> Option<bool> {
    match line.to_lowercase().as_str() {
        "2" | "y" | "yes" => Some(true),
        "" | "1" | "n" | "no" => Some(false),
        _ => None,
    }
}

/// One place of a list, counted from 0.
fn place(line: &str, of: usize, on_enter: Option<usize>) -> Option<usize> {
    if line.is_empty() {
        return on_enter;
    }
    line.parse::<usize>()
        .ok()
        .and_then(|number| number.checked_sub(1))
        .filter(|place| *place < of)
}

/// Places of a list, counted from 0: numbers, "all", or none.
fn picked(line: &str, of: usize) -> Option<Vec<usize>> {
    match line.to_lowercase().as_str() {
        "all" => Some((0..of).collect()),
        "none" => Some(Vec::new()),
        line => {
            let numbers = line.split([' ', ',', ';']).filter(|number| !number.is_empty());
            let mut places = numbers
                .map(|number| place(number, of, None))
                .collect::<Option<Vec<_>>>()?;
            places.sort_unstable();
            places.dedup();
            Some(places)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn picks_are_numbers_all_or_none() {
        assert_eq!(picked("", 3), Some(vec![]));
        assert_eq!(picked("none", 3), Some(vec![]));
        assert_eq!(picked("ALL", 3), Some(vec![0, 1, 2]));
        assert_eq!(picked("3, 1 3", 3), Some(vec![0, 2]));
        for unfit in ["4", "0", "-1", "1 2 x", "yes", "99999999999999999999999"] {
            assert_eq!(picked(unfit, 3), None, "{unfit}");
        }
    }

    #[test]
    fn only_a_clear_yes_is_a_yes() {
        for yes in ["2", "Yes", "y"] {
            assert_eq!(agreed(yes), Some(true));
        }
        for no in ["", "1", "n", "NO"] {
            assert_eq!(agreed(no), Some(false));
        }
        for unclear in ["3", "1 2", "all", "yep", "sure", "yes?"] {
            assert_eq!(agreed(unclear), None);
        }
    }
}
