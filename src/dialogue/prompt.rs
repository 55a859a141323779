//! What a state asks, with lines and lists filled from the map.

use std::collections::HashSet;

use crate::coach;
use crate::dialogue::Library;
use crate::dialogue::Offered;
use crate::dialogue::Output;
use crate::dialogue::Prompt;
use crate::dialogue::Said;
use crate::dialogue::State;
use crate::dialogue::Wait;
use crate::dialogue::fill::Line;
use crate::dialogue::fill::shown;
use crate::dialogue::guard::Counted;
use crate::dialogue::program::Node;
use crate::dialogue::program::Script;
use crate::dialogue::program::Waiting;
use crate::dialogue::state::Frame;
use crate::dialogue::state::Phase;
use crate::dialogue::state::Value;
use crate::dialogue::written::Source;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Map;
use crate::map::Mark;
use crate::map::Step;
use crate::map::StepId;

/// What a state says and asks: for a sitting that was taken up again or gone back in. It changes nothing.
#[must_use]
pub fn recall(library: &Library, map: &Map, state: &State) -> (Vec<Output>, Prompt) {
    let look = Look { library, map, state };
    // The numbers that a message brought stand on the screen before anything else, this time too.
    let mut outputs = Vec::from_iter(state.open_message());
    if let Some((frame, script, node)) = look.place()
        && matches!(frame.phase, Phase::Waiting)
    {
        let lines = if frame.visits(&node.name) > 1 {
            &node.again
        } else {
            &node.say
        };
        outputs.extend(
            lines
                .iter()
                .filter_map(|id| look.say(script, frame, id))
                .map(Output::Say),
        );
    }
    (outputs, look.prompt())
}

/// A state seen together with the scripts and the map.
#[derive(Clone, Copy)]
pub(in crate::dialogue) struct Look<'a> {
    pub(in crate::dialogue) library: &'a Library,
    pub(in crate::dialogue) map: &'a Map,
    pub(in crate::dialogue) state: &'a State,
}

/// One thing that can be picked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Pickable {
    Entry(EntryId),
    Step(StepId),
}

impl<'a> Look<'a> {
    /// The frame on top, its script and its node.
    pub(in crate::dialogue) fn place(&self) -> Option<(&'a Frame, &'a Script, &'a Node)> {
        let frame = self.state.top()?;
        let script = self.library.script(&frame.script)?;
        let node = script.program.node(&frame.node)?;
        Some((frame, script, node))
    }

    /// What is asked now.
    pub(in crate::dialogue) fn prompt(&self) -> Prompt {
        let Some((frame, script, node)) = self.place() else {
            return Prompt {
                line: None,
                wait: Wait::End,
            };
        };
        let common = |id: &str| {
            self.library
                .common()
                .get(id)
                .map(|line| self.said(frame, id, line, &[]))
        };
        match &frame.phase {
            Phase::Over => Prompt {
                line: None,
                wait: Wait::End,
            },
            Phase::Fresh | Phase::Called | Phase::Recording(_) => Prompt {
                line: None,
                wait: Wait::Recorded,
            },
            Phase::Waiting => Prompt {
                line: asked(frame, node).and_then(|id| self.say(script, frame, id)),
                wait: node
                    .wait
                    .as_ref()
                    .map_or(Wait::Recorded, |wait| self.wait(wait, script, frame)),
            },
            Phase::Doubt(words) => {
                let question = doubt_field(node).and_then(|field| coach::consider(field, words.as_str()));
                let line = question.as_ref().and_then(|question| {
                    let line = self.library.common().get(question.line)?;
                    Some(self.said(frame, question.line, line, &[("entry", words.as_str())]))
                });
                let options = self.doubt_options(frame, node, words.as_str());
                let options = options.into_iter().map(|(_, offered)| offered).collect();
                Prompt {
                    line: line.or_else(|| common("coach.any")),
                    wait: Wait::Choose { options },
                }
            }
            Phase::Rewording(words) => Prompt {
                line: common("reword.ask"),
                wait: Wait::Confirm { text: words.clone() },
            },
            Phase::Heard(words) => Prompt {
                line: common("heard.ask"),
                wait: Wait::Confirm { text: words.clone() },
            },
        }
    }

    fn wait(&self, wait: &Waiting, script: &Script, frame: &Frame) -> Wait {
        match wait {
            Waiting::Press => Wait::Press,
            Waiting::Words => Wait::Words,
            Waiting::Entry { field, kind } => Wait::Entry {
                field: *field,
                kind: *kind,
            },
            Waiting::Choose(choices) => Wait::Choose {
                options: choices
                    .iter()
                    .map(|choice| {
                        self.say(script, frame, &choice.say)
                            .map_or_else(String::new, |said| said.text)
                    })
                    .map(|text| offered(&text))
                    .collect(),
            },
            Waiting::Pick {
                from,
                many,
                new,
                words,
            } => Wait::Pick {
                options: self
                    .pickable(*from)
                    .iter()
                    .map(|(_, words)| label(words))
                    .collect(),
                many: *many,
                may_add: *new,
                may_say: words.is_some(),
            },
            Waiting::Number { from, to } => Wait::Number { from: *from, to: *to },
            Waiting::Deliberate { word } => Wait::Deliberate {
                word: self
                    .say(script, frame, word)
                    .map_or(String::new(), |said| said.text),
            },
        }
    }

    /// What can be picked from, oldest first, with its words.
    pub(in crate::dialogue) fn pickable(&self, from: Source) -> Vec<(Pickable, &'a str)> {
        let map: &'a Map = self.map;
        let entries = |field: Field| {
            map.field(field)
                .map(|entry| (Pickable::Entry(entry.id), entry.words.as_str()))
        };
        match from {
            Source::Field(field) => entries(field).collect(),
            Source::Moves => entries(Field::Away).chain(entries(Field::Toward)).collect(),
            Source::Steps => map.steps().iter().map(offered_step).collect(),
            Source::OpenSteps => open_steps(map).map(offered_step).collect(),
        }
    }

    /// What can be done about an entry that the coach asked about; keeping it comes first.
    pub(in crate::dialogue) fn doubt_options(
        &self,
        frame: &Frame,
        node: &Node,
        words: &str,
    ) -> Vec<(Remedy, Offered)> {
        let Some(field) = doubt_field(node) else {
            return Vec::new();
        };
        let question = coach::consider(field, words);
        let mut options = vec![(Remedy::Keep, "option.keep"), (Remedy::Reword, "option.reword")];
        if let Some(question) = question {
            let fits = question.fits.filter(|fits| *fits != field);
            if let Some(fits) = fits {
                options.push((Remedy::Move(fits), "option.move"));
            }
            // Whether an act goes toward or away is never decided for the person: it stays in the field of moves
            // that they chose, or goes to the one that the question names.
            let moves = [Some(field), fits]
                .into_iter()
                .flatten()
                .find(|one| is_move(*one));
            if let (Some(split), Some(act_in)) = (question.split, moves) {
                options.push((
                    Remedy::Split {
                        act: split.act,
                        act_in,
                        inner: split.inner,
                    },
                    "option.split",
                ));
            }
        }
        let offer = |(remedy, id): (Remedy, &str)| {
            let field = match &remedy {
                Remedy::Move(field) => self.field_name(frame, *field),
                _ => String::new(),
            };
            let line = self.library.common().get(id)?;
            let text = self.said(frame, id, line, &[("field", &field)]).text;
            Some((remedy, offered(&text)))
        };
        options.into_iter().filter_map(offer).collect()
    }

    fn field_name(&self, frame: &Frame, field: Field) -> String {
        let id = match field {
            Field::Matters => "field.matters",
            Field::Inner => "field.inner",
            Field::Away => "field.away",
            Field::Toward => "field.toward",
        };
        self.library
            .common()
            .get(id)
            .map_or(String::new(), |line| self.said(frame, id, line, &[]).text)
    }

    /// A line of a script, or one of the common ones, filled.
    pub(in crate::dialogue) fn say(&self, script: &Script, frame: &Frame, id: &str) -> Option<Said> {
        let line = script.lines.get(id).or_else(|| self.library.common().get(id))?;
        Some(self.said(frame, id, line, &[]))
    }

    fn said(&self, frame: &Frame, id: &str, line: &Line, extra: &[(&str, &str)]) -> Said {
        let slot = |name: &str| {
            let extra = extra
                .iter()
                .find(|(key, _)| *key == name)
                .map(|(_, words)| shown(words));
            extra.or_else(|| frame.slots.get(name).and_then(|value| self.told(value)))
        };
        Said {
            id: id.to_owned(),
            text: line.fill(slot, |what| self.count(what)),
        }
    }

    /// A slot's value in words, or `None` if nothing of it is on the map any more.
    fn told(&self, value: &Value) -> Option<String> {
        match value {
            Value::Words(words) => Some(shown(words.as_str())),
            Value::Number(number) => Some(number.to_string()),
            Value::Entries(ids) => {
                let words: Vec<_> = ids
                    .iter()
                    .filter_map(|id| self.map.entry(*id))
                    .map(|entry| shown(entry.words.as_str()))
                    .collect();
                (!words.is_empty()).then(|| words.join(", "))
            }
            Value::Step(id) => self
                .map
                .steps()
                .iter()
                .find(|step| step.id == *id)
                .map(|step| shown(step.act.as_str())),
            Value::Chosen(_) | Value::Flag => None,
        }
    }

    /// How many of something there are on the map.
    pub(in crate::dialogue) fn count(&self, what: Counted) -> usize {
        match what {
            Counted::Field(field) => self.map.field(field).count(),
            Counted::Entries => self
                .map
                .entries()
                .iter()
                .filter(|entry| entry.retired.is_none())
                .count(),
            Counted::Loops => self.map.loops().len(),
            Counted::Steps => self.map.steps().len(),
            Counted::OpenSteps => open_steps(self.map).count(),
            Counted::Moments => self.map.moments().len(),
        }
    }
}

fn offered_step(step: &Step) -> (Pickable, &str) {
    (Pickable::Step(step.id), step.act.as_str())
}

/// Steps that are still to be asked about: not marked, or "not yet", with no smaller one in their place.
fn open_steps(map: &Map) -> impl Iterator<Item = &Step> {
    let replaced: HashSet<StepId> = map.steps().iter().filter_map(|step| step.smaller_than).collect();
    let waits = |step: &&Step| step.mark.is_none_or(|(_, mark)| mark == Mark::NotYet);
    map.steps()
        .iter()
        .filter(waits)
        .filter(move |step| !replaced.contains(&step.id))
}

/// What a person can do about an entry that the coach asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Remedy {
    Keep,
    Reword,
    Move(Field),
    Split {
        act: String,
        act_in: Field,
        inner: String,
    },
}

/// Whether a field holds moves.
pub(in crate::dialogue) fn is_move(field: Field) -> bool {
    matches!(field, Field::Away | Field::Toward)
}

/// The question of a node: another one on later visits, where there is one.
fn asked<'n>(frame: &Frame, node: &'n Node) -> Option<&'n String> {
    let again = node.ask_again.as_ref().filter(|_| frame.visits(&node.name) > 1);
    again.or(node.ask.as_ref())
}

/// The field of a node that asks for an entry.
pub(in crate::dialogue) fn doubt_field(node: &Node) -> Option<Field> {
    match node.wait {
        Some(Waiting::Entry { field, .. }) => Some(field),
        _ => None,
    }
}

/// A choice's line is its label; before a bar it may have a word of its own to type.
fn offered(text: &str) -> Offered {
    match text.split_once('|') {
        Some((word, label)) => Offered {
            word: word.trim().to_owned(),
            label: label.trim().to_owned(),
        },
        None => Offered {
            word: text.trim().to_owned(),
            label: text.trim().to_owned(),
        },
    }
}

fn label(words: &str) -> Offered {
    Offered {
        word: String::new(),
        label: shown(words),
    }
}
