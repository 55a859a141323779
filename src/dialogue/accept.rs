//! Answers: safety first, then the answer is read by what is asked.

use crate::coach;
use crate::dialogue::Output;
use crate::dialogue::Wait;
use crate::dialogue::WrongInput;
use crate::dialogue::library::SAFETY;
use crate::dialogue::program::Target;
use crate::dialogue::program::Waiting;
use crate::dialogue::prompt::Pickable;
use crate::dialogue::prompt::Remedy;
use crate::dialogue::prompt::doubt_field;
use crate::dialogue::state::Frame;
use crate::dialogue::state::KEEPABLE;
use crate::dialogue::state::Pending;
use crate::dialogue::state::Phase;
use crate::dialogue::state::Value;
use crate::dialogue::step::Run;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Link;
use crate::safety;
use crate::safety::About;
use crate::safety::Level;
use crate::safety::Screened;
use crate::safety::Words;

mod said;

/// The most bytes that one answer may have.
const MOST_BYTES: usize = 16 * 1024;

impl Run<'_> {
    /// Takes an answer, typed or heard. Danger in it comes before anything else, whatever is asked.
    pub(in crate::dialogue) fn answer(&mut self, screened: Screened, heard: bool) -> Result<(), WrongInput> {
        let found = screened.level();
        for finding in screened
            .findings()
            .iter()
            .filter(|finding| finding.level >= Level::Quiet)
        {
            if !self.state.watch.topics.contains(&finding.topic) {
                self.state.watch.topics.push(finding.topic);
            }
        }
        let level = if self.met(found, heard) {
            Level::None
        } else {
            self.state.watch.quiet.level(&screened)
        };
        if level >= Level::Pause {
            self.interrupt(level, screened, heard);
            return Ok(());
        }
        let quiet = level == Level::Quiet;
        if quiet {
            self.say("safety.quiet");
        }
        let wants_words = self.wants_words();
        match self.take(screened.into_words(), heard) {
            // The quiet line must reach the person even when the words do not fit the question.
            Err(_) if quiet => Ok(()),
            Err(_) if heard && !wants_words => Err(WrongInput::NotWords),
            taken => taken,
        }
    }

    /// Whether a finding of this urgency was already answered for the words that are being asked about; notes it.
    ///
    /// Words that were said again are new words, whatever stood there before.
    fn met(&mut self, found: Level, heard: bool) -> bool {
        let Some(top) = self.top() else { return false };
        let about_them = !heard && matches!(top.phase, Phase::Rewording(_) | Phase::Heard(_));
        let before = top.met.filter(|_| about_them);
        top.met = before.max(Some(found));
        before.is_some_and(|before| found <= before)
    }

    /// Leaves the question out.
    pub(in crate::dialogue) fn skip(&mut self) {
        let Some((program, place)) = self.here() else {
            return;
        };
        match self.state.top().map(|top| top.phase.clone()) {
            Some(Phase::Doubt(words) | Phase::Rewording(words)) => self.keep_entry(words),
            Some(Phase::Heard(_)) => self.phase(Phase::Waiting),
            _ => self.run(program.nodes[place].skip),
        }
    }

    /// Reads words by what is asked.
    pub(in crate::dialogue) fn take(&mut self, words: Words, heard: bool) -> Result<(), WrongInput> {
        if words.as_str().len() > MOST_BYTES {
            return Err(WrongInput::TooLong { most: MOST_BYTES });
        }
        let blank = said::is_blank(words.as_str());
        match self.state.top().map(|top| top.phase.clone()) {
            // Said again: the new words stand in place of the old, and are confirmed like them.
            Some(Phase::Heard(_) | Phase::Rewording(_)) if heard && !blank => {
                self.phase(Phase::Heard(words));
                Ok(())
            }
            Some(Phase::Heard(_)) => {
                self.phase(Phase::Waiting);
                if blank { Ok(()) } else { self.take_at_node(words) }
            }
            Some(Phase::Doubt(about)) => self.take_remedy(about, words.as_str()),
            Some(Phase::Rewording(before)) => {
                let unchanged = said::is_done(self.library, words.as_str());
                self.keep_entry(if unchanged { before } else { words });
                Ok(())
            }
            _ if heard && self.wants_words() && !blank => {
                self.phase(Phase::Heard(words));
                Ok(())
            }
            _ => self.take_at_node(words),
        }
    }

    /// Opens the safety script on top, with the words waiting; inside it, only shows the message again.
    fn interrupt(&mut self, level: Level, screened: Screened, heard: bool) {
        let mut topics: Vec<_> = screened.findings().iter().map(|finding| finding.topic).collect();
        topics.sort_unstable();
        topics.dedup();
        let about = screened.about().unwrap_or(About::Me);
        self.state.watch.interrupted = true;
        let keepable = self.wants_words() && screened.words().as_str().len() <= MOST_BYTES;
        self.outputs.push(Output::SafetyMessage { level, topics, about });
        if self.in_safety() {
            return;
        }
        let Some(mut frame) = Frame::at_start(self.library, SAFETY) else {
            return;
        };
        frame.tell_of(level, about);
        if keepable {
            frame.slots.insert(KEEPABLE.to_owned(), Value::Flag);
        }
        frame.pending = Some(Pending {
            words: screened.into_words(),
            heard,
            keep: false,
        });
        self.state.frames.push(frame);
        self.enter_here();
    }

    /// Whether what is asked can be answered with words of the person's own.
    fn wants_words(&self) -> bool {
        match self.look().prompt().wait {
            Wait::Words | Wait::Entry { .. } | Wait::Confirm { .. } => true,
            Wait::Pick { may_add, may_say, .. } => may_add.is_some() || may_say,
            _ => false,
        }
    }

    fn take_at_node(&mut self, words: Words) -> Result<(), WrongInput> {
        let Some((program, place)) = self.here() else {
            return Err(WrongInput::Ended);
        };
        let node = &program.nodes[place];
        let text = words.as_str();
        let done = said::is_done(self.library, text);
        let into = node.into.as_deref();
        match &node.wait {
            None => return Err(WrongInput::NotRecorded),
            Some(Waiting::Press) => self.answered(Target::Onward),
            Some(Waiting::Deliberate { .. }) => match self.look().prompt().wait {
                Wait::Deliberate { word } if said::same(text, &word) => self.answered(Target::Onward),
                _ => return Err(WrongInput::Deliberate),
            },
            Some(Waiting::Choose(choices)) => {
                if said::is_blank(text) {
                    self.run(node.skip);
                    return Ok(());
                }
                let Wait::Choose { options } = self.look().prompt().wait else {
                    return Err(WrongInput::Choice { count: choices.len() });
                };
                let chosen =
                    said::choice(text, &options).ok_or(WrongInput::Choice { count: options.len() })?;
                let choice = &choices[chosen];
                if let (Some(into), Some(set)) = (into, &choice.set) {
                    self.put(into, Value::Chosen(set.clone()));
                }
                self.answered(choice.go.map_or(Target::Onward, Target::Node));
            }
            _ if done => self.run(node.done),
            Some(Waiting::Words) => {
                if let Some(into) = into {
                    self.put(into, Value::Words(words));
                }
                self.answered(Target::Onward);
            }
            Some(Waiting::Entry { field, .. }) => {
                let silent = self.state.watch.interrupted || self.map.setting("entry-check") == Some("off");
                if !silent && coach::consider(*field, text).is_some() {
                    self.phase(Phase::Doubt(words));
                } else {
                    self.keep_entry(words);
                }
            }
            Some(Waiting::Number { from, to }) => {
                let number = said::number(self.library, text)
                    .filter(|number| (from..=to).contains(&number))
                    .ok_or(WrongInput::Number { from: *from, to: *to })?;
                if let Some(into) = into {
                    self.put(into, Value::Number(number));
                }
                self.answered(Target::Onward);
            }
            Some(Waiting::Pick {
                from,
                many,
                new,
                words: other,
            }) => {
                let options = self.look().pickable(*from);
                let labels: Vec<_> = options.iter().map(|(_, words)| *words).collect();
                let value = match said::picked(text, &labels, *many) {
                    said::Picked::Numbers(places) => {
                        picked_value(&places.iter().map(|place| options[*place].0).collect::<Vec<_>>())
                    }
                    said::Picked::Words if new.is_some() => None,
                    said::Picked::Words if other.is_some() => {
                        if let Some(other) = other {
                            self.put(other, Value::Words(words));
                        }
                        self.answered(Target::Onward);
                        return Ok(());
                    }
                    _ => {
                        return Err(WrongInput::Pick {
                            count: options.len(),
                            many: *many,
                        });
                    }
                };
                let value = match (value, new) {
                    (None, Some(field)) => Some(Value::Entries(vec![self.add(
                        *field,
                        coach::kind_of(*field, text),
                        words,
                    )])),
                    (value, _) => value,
                };
                if let (Some(into), Some(value)) = (into, value) {
                    self.put(into, value);
                }
                self.answered(Target::Onward);
            }
        }
        Ok(())
    }

    fn take_remedy(&mut self, about: Words, text: &str) -> Result<(), WrongInput> {
        let remedies = {
            let look = self.look();
            look.place().map_or_else(Vec::new, |(frame, _, node)| {
                look.doubt_options(frame, node, about.as_str())
            })
        };
        let options: Vec<_> = remedies.iter().map(|(_, offered)| offered.clone()).collect();
        let chosen = if said::is_blank(text) {
            Some(0)
        } else {
            said::choice(text, &options)
        };
        let chosen = chosen.and_then(|chosen| remedies.into_iter().nth(chosen));
        match chosen.ok_or(WrongInput::Choice { count: options.len() })?.0 {
            Remedy::Keep => self.keep_entry(about),
            Remedy::Reword => self.phase(Phase::Rewording(about)),
            Remedy::Move(field) => {
                self.add(field, coach::kind_of(field, about.as_str()), about);
                self.ask_again();
            }
            Remedy::Split { act, act_in, inner } => {
                let act = safety::screen(&act).into_words();
                let inner = safety::screen(&inner).into_words();
                let kind = coach::kind_of(Field::Inner, inner.as_str());
                let inner = self.add(Field::Inner, kind, inner);
                let act = self.add(act_in, None, act);
                if act_in == Field::Away {
                    self.record(crate::map::What::Linked {
                        from: inner,
                        to: act,
                        link: Link::Pulls,
                    });
                }
                let asked = self
                    .here()
                    .and_then(|(program, place)| doubt_field(&program.nodes[place]));
                match asked {
                    Some(Field::Inner) => self.entry_kept(inner),
                    Some(field) if field == act_in => self.entry_kept(act),
                    _ => self.ask_again(),
                }
            }
        }
        Ok(())
    }

    /// The entry goes onto the map as it is.
    fn keep_entry(&mut self, words: Words) {
        let Some((program, place)) = self.here() else {
            return;
        };
        let Some(Waiting::Entry { field, kind }) = &program.nodes[place].wait else {
            // The script changed under a question of the coach: the words have no place to go to any more.
            return self.phase(Phase::Waiting);
        };
        let kind = kind.or_else(|| coach::kind_of(*field, words.as_str()));
        let entry = self.add(*field, kind, words);
        self.entry_kept(entry);
    }

    fn entry_kept(&mut self, entry: EntryId) {
        let Some((program, place)) = self.here() else {
            return;
        };
        if let Some(into) = program.nodes[place].into.as_deref() {
            self.put(into, Value::Entries(vec![entry]));
        }
        self.answered(Target::Onward);
    }

    /// The entry went elsewhere, so the same question is open still.
    fn ask_again(&mut self) {
        let Some((_, place)) = self.here() else { return };
        self.record_or_run(Target::Node(place));
    }
}

fn picked_value(picked: &[Pickable]) -> Option<Value> {
    if let [Pickable::Step(step)] = picked {
        return Some(Value::Step(*step));
    }
    let entries: Vec<_> = picked
        .iter()
        .filter_map(|one| match one {
            Pickable::Entry(entry) => Some(*entry),
            Pickable::Step(_) => None,
        })
        .collect();
    (!entries.is_empty()).then_some(Value::Entries(entries))
}
