//! The head of a short phrase: who does it, what is done or what it is, and whether it is denied, owed or wished.
//!
//! No grammar of English is attempted. People write in a few shapes: verb first ("rang my sister"), "I" and a verb, a noun
//! phrase, "being" and an adjective, "to" and a verb, a passive, or somebody else and a verb. Common practice, no source.

use super::lists;
use super::lists::among;
use super::tokens::Form;
use super::tokens::Token;
use super::wordnet::class;
use super::wordnet::mark;

/// Who the clause is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Subject {
    /// Not said; the writer is meant.
    Unsaid,
    /// The writer.
    Me,
    /// "He", "she", "they".
    Them,
    /// "People", "nobody", "everyone".
    Anyone,
    /// A noun phrase; its head stands here.
    Named(usize),
}

/// What the clause is built around.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    /// A verb, standing here.
    Act(usize),
    /// A form of "be", and what follows it.
    Being(Option<usize>),
    /// A noun phrase with its head here.
    Thing(usize),
    /// An adjective by itself.
    Such(usize),
    /// Nothing that could be read.
    Nothing,
}

/// One clause, read.
#[derive(Clone, Debug)]
pub(super) struct Clause<'a> {
    /// The words of the clause.
    pub(super) words: &'a [Token],
    pub(super) subject: Subject,
    pub(super) shape: Shape,
    /// Where the reading stopped: the verb, the form of "be" or the start of the noun phrase.
    pub(super) from: usize,
    /// "Not", "never", "don't" before the head.
    pub(super) negated: bool,
    /// "Should", "must", "have to" in the present.
    pub(super) owed: bool,
    /// "Will", "would", "can".
    pub(super) modal: bool,
    /// "Want to", "try to".
    pub(super) wished: bool,
    /// A past or finished form, so that it was done.
    pub(super) done: bool,
    /// A finite present form with a subject: "I shout", "he never replies".
    pub(super) finite: bool,
    /// The word that joins it to the clause before.
    pub(super) joined_by: Option<&'a str>,
}

impl Clause<'_> {
    pub(super) fn word(&self, at: usize) -> Option<&Token> {
        self.words.get(at)
    }

    pub(super) fn text(&self, at: usize) -> &str {
        self.words.get(at).map_or("", |word| word.text.as_str())
    }

    /// Whether a word of this list stands at or after a place.
    pub(super) fn has_after(&self, at: usize, list: &[&str]) -> bool {
        self.words.iter().skip(at).any(|word| word.among(list))
    }

    pub(super) fn has(&self, word: &str) -> bool {
        self.words.iter().any(|w| w.is(word))
    }

    /// Whether the writer is who acts.
    pub(super) fn mine(&self) -> bool {
        matches!(self.subject, Subject::Unsaid | Subject::Me)
    }

    /// The verb, where it is built around one.
    pub(super) fn verb(&self) -> Option<(usize, &str)> {
        match self.shape {
            Shape::Act(at) => Some((at, self.words[at].base())),
            _ => None,
        }
    }
}

/// Reads an entry as clauses.
pub(super) fn clauses(words: &[Token]) -> Vec<Clause<'_>> {
    let mut found: Vec<Clause<'_>> = Vec::new();
    let mut start = 0;
    let mut joined_by = None;
    for at in 0..words.len() {
        let joins = words[at].among(lists::JOIN) && !keeps_together(words, at);
        if joins {
            push(&mut found, &words[start..at], joined_by);
            joined_by = Some(words[at].text.as_str());
            start = at + 1;
        } else if words[at].pause {
            push(&mut found, &words[start..=at], joined_by);
            joined_by = None;
            start = at + 1;
        }
    }
    push(&mut found, &words[start..], joined_by);
    found
}

fn push<'a>(found: &mut Vec<Clause<'a>>, words: &'a [Token], joined_by: Option<&'a str>) {
    if words.is_empty() {
        return;
    }
    let mut clause = clause(words);
    clause.joined_by = joined_by;
    if let Some(before) = found.last()
        && joined_by == Some("and")
        && matches!(before.shape, Shape::Thing(_) | Shape::Nothing)
        && (before.has("me") || before.has("i") || clause.has("i"))
    {
        // "Me and my sister baked", "my brother and I walked": the writer is one of them.
        clause.subject = Subject::Me;
    }
    found.push(clause);
}

/// Words that look like a joint and are none: "so tired", "as good", "after work", "like that".
fn keeps_together(words: &[Token], at: usize) -> bool {
    let next = words.get(at + 1);
    match words[at].text.as_str() {
        "so" => next.is_none_or(|w| {
            !(w.among(lists::FIRST) || w.among(lists::THEM) || w.among(lists::OWN) || w.is("that"))
        }),
        "as" | "before" | "after" | "until" | "till" => {
            next.is_none_or(|w| w.is("myself") || !(w.among(lists::FIRST) || w.among(lists::THEM)))
        }
        "instead" => next.is_some_and(|w| w.is("of")),
        "since" | "while" | "whilst" | "when" | "if" | "though" | "although" | "because" => false,
        "which" | "who" => at == 0,
        "or" | "but" | "and" | "then" => at == 0,
        _ => false,
    }
}

/// Reads one clause.
pub(super) fn clause(words: &[Token]) -> Clause<'_> {
    let mut read = Clause {
        words,
        subject: Subject::Unsaid,
        shape: Shape::Nothing,
        from: 0,
        negated: false,
        owed: false,
        modal: false,
        wished: false,
        done: false,
        finite: false,
        joined_by: None,
    };
    let at = before_head(&mut read, 0);
    head(&mut read, at);
    read
}

/// Walks over what stands before the head, and notes what it says.
fn before_head(read: &mut Clause<'_>, mut at: usize) -> usize {
    while let Some(word) = read.words.get(at) {
        let next = read.words.get(at + 1);
        let text = word.text.as_str();
        if matches!(text, "i'm" | "we're") {
            read.subject = Subject::Me;
            break;
        }
        if word.among(lists::FIRST) || text == "me" && at == 0 && next.is_some_and(|w| w.verb.is_some()) {
            read.subject = Subject::Me;
            read.finite = true;
            read.done |= matches!(text, "i've" | "we've");
            read.modal |= matches!(text, "i'll" | "we'll" | "i'd");
        } else if matches!(
            text,
            "has" | "have" | "had" | "got" | "need" | "needs" | "supposed" | "ought" | "having" | "needing"
        ) && next.is_some_and(|w| w.is("to"))
        {
            read.done |= text == "had";
            read.owed |= text != "had" && text != "got";
            at += 1;
        } else if matches!(text, "that" | "for")
            && next.is_some_and(|w| w.among(lists::ANYONE) || w.among(lists::THEM) || w.is("my"))
        {
            // "That my son finds work", "for people to listen".
        } else if matches!(text, "less" | "fewer" | "no") && next.is_some_and(|w| w.form() == Some(Form::Ing))
        {
            read.negated = true;
        } else if word.among(lists::DUTY) {
            read.owed = true;
            read.negated |= text.ends_with("n't");
        } else if word.among(lists::NOT) {
            read.negated = true;
            read.done |= matches!(text, "didn't" | "wasn't");
        } else if word.among(lists::MODAL) {
            read.modal = true;
        } else if matches!(text, "do" | "did" | "does")
            && next.is_some_and(|w| w.is("not") || w.among(lists::FIRST))
        {
            read.done |= text == "did";
        } else if text == "no" && next.is_some_and(|w| w.is("longer") || w.is("more")) {
            read.negated = true;
            at += 1;
        } else if matches!(text, "have" | "has" | "had" | "having")
            && next.is_some_and(|w| w.form() == Some(Form::Past) || w.is("been") || w.among(lists::NOT))
        {
            read.done = true;
        } else if matches!(text, "going" | "able")
            && next.is_some_and(|w| w.is("to"))
            && read.words.get(at + 2).is_some_and(|w| {
                w.among(lists::BE)
                    || w.verb
                        .as_ref()
                        .is_some_and(|v| w.noun.as_ref().is_none_or(|n| v.senses.often >= n.senses.often))
            })
        {
            read.modal = true;
            at += 1;
        } else if is_wish(word)
            && next.is_some_and(|w| w.is("to") || w.is("and"))
            && read
                .words
                .get(at + 2)
                .is_some_and(|w| w.verb.is_some() || w.among(lists::BE) || w.among(lists::NOT))
        {
            read.wished = true;
            read.done |= word.form() == Some(Form::Past);
            at += 1;
        } else if is_wish(word)
            && next.is_some_and(|w| w.is("not"))
            && read.words.get(at + 2).is_some_and(|w| w.is("to"))
        {
            read.wished = true;
            read.negated = true;
            at += 2;
        } else if matches!(word.base(), "start" | "begin" | "keep" | "continue")
            && next.is_some_and(|w| w.form() == Some(Form::Ing) || w.is("being"))
        {
            read.done |= word.form() == Some(Form::Past);
        } else if word.among(lists::LEADS) && !(text == "more" && next.is_some_and(|w| w.verb.is_none()))
            || word.adverb.is_some() && word.verb.is_none() && word.noun.is_none() && word.adjective.is_none()
        {
            if next.is_none() {
                break;
            }
        } else {
            break;
        }
        at += 1;
    }
    at
}

fn is_wish(word: &Token) -> bool {
    matches!(word.text.as_str(), "wanna")
        || matches!(
            word.base(),
            "want"
                | "try"
                | "hope"
                | "aim"
                | "learn"
                | "manage"
                | "wish"
                | "plan"
                | "start"
                | "begin"
                | "continue"
                | "tend"
                | "attempt"
                | "intend"
                | "decide"
                | "choose"
                | "refuse"
                | "like"
        )
}

fn head(read: &mut Clause<'_>, at: usize) {
    read.from = at;
    let Some(word) = read.words.get(at) else { return };
    if word.among(lists::BE) {
        be(read, at);
    } else if word.among(lists::THEM) || word.among(lists::ANYONE) {
        let subject = if word.among(lists::THEM) {
            Subject::Them
        } else {
            Subject::Anyone
        };
        somebody(read, at + 1, subject);
    } else if read.subject != Subject::Unsaid && word.verb.is_some() || starts_verb(read.words, at) {
        act(read, at);
    } else {
        phrase(read, at);
    }
}

/// A form of "be" and its complement.
fn be(read: &mut Clause<'_>, at: usize) {
    read.done |= matches!(read.words[at].text.as_str(), "was" | "were" | "been");
    read.finite |= !matches!(read.words[at].text.as_str(), "be" | "being");
    let mut next = at + 1;
    while let Some(word) = read.words.get(next) {
        if matches!(word.text.as_str(), "there" | "here") {
            break;
        }
        if word.among(lists::NOT) {
            read.negated = true;
        } else if word.among(lists::BE)
            || matches!(
                word.text.as_str(),
                "more"
                    | "less"
                    | "so"
                    | "too"
                    | "very"
                    | "as"
                    | "quite"
                    | "all"
                    | "such"
                    | "bit"
                    | "much"
                    | "way"
            )
            || word.is("a")
                && read.words.get(next + 1).is_some_and(|w| {
                    matches!(w.text.as_str(), "bit" | "little" | "more")
                        && read
                            .words
                            .get(next + 2)
                            .is_some_and(|w| w.adjective.is_some() && w.noun.is_none())
                })
            || word.adverb.is_some()
                && word.verb.is_none()
                && word.noun.is_none()
                && word.adjective.is_none()
                && read.words.get(next + 1).is_some()
            || word.among(lists::LEADS) && !word.is("to")
        {
        } else {
            break;
        }
        next += 1;
    }
    let Some(word) = read
        .words
        .get(next)
        .filter(|w| !matches!(w.text.as_str(), "there" | "here" | "myself"))
    else {
        read.shape = Shape::Being(None);
        return;
    };
    if matches!(word.text.as_str(), "going" | "about") && read.words.get(next + 1).is_some_and(|w| w.is("to"))
    {
        read.modal = true;
        let at = before_head(read, next + 2);
        head(read, at);
    } else if matches!(word.text.as_str(), "supposed" | "meant")
        && read.words.get(next + 1).is_some_and(|w| w.is("to"))
    {
        read.owed = true;
        let at = before_head(read, next + 2);
        head(read, at);
    } else if word.text == "trying" && read.words.get(next + 1).is_some_and(|w| w.is("to")) {
        let at = before_head(read, next);
        head(read, at);
    } else if !read.words[at].is("being")
        && word.form() == Some(Form::Ing)
        && word
            .adjective
            .is_none_or(|often| often < word.verb.as_ref().map_or(0, |v| v.senses.often))
        && !word.among(lists::GOOD_TRAITS)
    {
        read.from = next;
        act(read, next);
        read.finite = false;
    } else if word.among(lists::OWN) {
        read.shape = Shape::Being(Some(noun_phrase(read.words, next).map_or(next, |(head, _)| head)));
    } else if word.adjective.is_none() && word.noun.is_some() {
        read.shape = Shape::Being(Some(noun_phrase(read.words, next).map_or(next, |(head, _)| head)));
    } else {
        // "good friend" without its article is a noun phrase all the same.
        let with_noun = read.words.get(next + 1).filter(|w| {
            w.noun.as_ref().is_some_and(|n| n.senses.first == class::PERSON) && word.adjective.is_some()
        });
        read.shape = Shape::Being(Some(if with_noun.is_some() { next + 1 } else { next }));
    }
}

/// Somebody or something else, and perhaps what they do.
fn somebody(read: &mut Clause<'_>, mut at: usize, subject: Subject) {
    read.subject = subject;
    let first = at;
    at = before_other(read, at);
    let Some(word) = read.words.get(at) else {
        read.shape = if at > first {
            Shape::Being(None)
        } else {
            Shape::Thing(first - 1)
        };
        if at == first {
            read.subject = Subject::Unsaid;
        }
        return;
    };
    if at == first
        && (word.is("to") || word.is("like") || word.among(lists::PREP) || word.among(lists::FIRST))
    {
        // "People to like me", "people I love", "others in need".
        read.subject = Subject::Unsaid;
        read.shape = Shape::Thing(first - 1);
        return;
    }
    read.finite = true;
    if word.among(lists::BE) {
        be(read, at);
    } else if word.verb.is_some() {
        read.finite = word.form() != Some(Form::Ing);
        act(read, at);
    } else {
        read.shape = Shape::Being(Some(at));
    }
    read.subject = subject;
}

fn before_other(read: &mut Clause<'_>, mut at: usize) -> usize {
    while let Some(word) = read.words.get(at) {
        if word.among(lists::NOT) {
            read.negated = true;
        } else if word.among(lists::DUTY) {
            read.owed = true;
        } else if word.among(lists::MODAL) || word.among(lists::LEADS) && !word.is("to") {
            read.modal |= word.among(lists::MODAL);
        } else if matches!(word.text.as_str(), "keep" | "keeps" | "kept")
            && read
                .words
                .get(at + 1)
                .is_some_and(|w| w.form() == Some(Form::Ing))
        {
        } else if word.adverb.is_some()
            && word.verb.is_none()
            && word.noun.is_none()
            && word.adjective.is_none()
        {
        } else {
            break;
        }
        at += 1;
    }
    at
}

fn act(read: &mut Clause<'_>, at: usize) {
    read.from = at;
    read.shape = Shape::Act(at);
    if read.words[at].form() == Some(Form::Past)
        || read.words[at].among(lists::PAST_ALIKE) && read.subject == Subject::Me
    {
        read.done = true;
    }
}

/// Verbs that look more like nouns, but not at the head of an entry.
const VERBS_FIRST: &[&str] = &[
    "abstain", "cut", "dream", "fixate", "hoover", "limit", "panic", "refrain", "skip", "stress", "vent",
];

/// Whether a verb begins here rather than a noun phrase.
pub(super) fn starts_verb(words: &[Token], at: usize) -> bool {
    let word = &words[at];
    let Some(verb) = &word.verb else { return false };
    let noun = word.noun.as_ref().map_or(0, |n| n.senses.often + 1);
    let adjective = word.adjective.unwrap_or(0);
    let next = words.get(at + 1);
    let opens = next.is_some_and(|w| {
        w.among(lists::OWN)
            || w.among(lists::SELF)
            || matches!(
                w.text.as_str(),
                "him" | "her" | "them" | "it" | "me" | "us" | "you" | "up" | "off" | "down" | "out" | "away"
            )
            || among(lists::ROLES, &w.text)
            || words.len() == at + 2 && matches!(w.text.as_str(), "more" | "less" | "better" | "harder")
    });
    match verb.form {
        Form::Ing => {
            // "racing heart", "sinking feeling": a noun of the body or of the mind makes it an attribute.
            let describes = next.is_some_and(|w| {
                w.noun.as_ref().is_some_and(|n| {
                    n.mostly(class::BODY)
                        || n.mostly(class::FEELING)
                        || n.mostly(class::THOUGHT)
                        || n.marked(mark::SENSED)
                })
            });
            !describes
                && !matches!(
                    word.text.as_str(),
                    "evening"
                        | "morning"
                        | "nothing"
                        | "something"
                        | "everything"
                        | "anything"
                        | "wedding"
                        | "building"
                        | "being"
                )
                && !(word.text == "feelings")
        }
        Form::Past => {
            let felt = word.marks & (mark::ADJ_FELT | mark::ADJ_BODY) != 0
                || word.among(lists::FELT)
                || word.among(lists::AIM_FELT)
                || word.among(lists::BODY_WORDS);
            // "hurt my back" acts, "scared of him" and "stressed" describe.
            opens
                || !(felt && adjective > 0 || word.among(lists::FELT))
                    && (adjective <= verb.senses.often || next.is_some_and(|w| w.noun.is_none()))
        }
        Form::Third => word.noun.is_none() || opens && noun <= verb.senses.often + 1,
        Form::Bare => {
            if word.noun.is_none() && word.adjective.is_none()
                || next.is_some() && among(VERBS_FIRST, &verb.lemma) && next.is_some_and(|w| w.noun.is_none())
            {
                return true;
            }
            if opens {
                return true;
            }
            if word.among(lists::FELT) || word.among(lists::AIM_FELT) {
                return false;
            }
            verb.senses.often >= noun.max(adjective)
                || next.is_some_and(|w| w.among(lists::PREP) || w.is("to"))
                    && verb.senses.often + 1 >= noun.max(adjective)
        }
    }
}

/// A noun phrase, alone or as the subject of what follows.
fn phrase(read: &mut Clause<'_>, at: usize) {
    let Some((head, end)) = noun_phrase(read.words, at) else {
        let word = &read.words[at];
        read.shape = if word.adjective.is_some() || word.verb.is_some() {
            Shape::Such(at)
        } else if read.words.len() > at + 1 {
            // An unknown first word may be a name: "sam never replies".
            let next = &read.words[at + 1];
            let tells = next.among(lists::NOT)
                || next.among(lists::MODAL)
                || next.form() == Some(Form::Third)
                || next.is("always")
                || next.among(lists::BE);
            if tells {
                somebody(read, at + 1, Subject::Named(at));
                return;
            }
            Shape::Thing(at)
        } else {
            Shape::Thing(at)
        };
        return;
    };
    if let Some(word) = read.words.get(end) {
        let plain = word.verb.is_some()
            && !word.among(lists::PREP)
            && (word.form() == Some(Form::Third)
                || word.form() == Some(Form::Ing) && end > head
                || word.form() == Some(Form::Past)
                || word.form() == Some(Form::Bare)
                    && read.words.get(end + 1).is_none_or(|w| {
                        w.among(lists::OWN)
                            || matches!(
                                w.text.as_str(),
                                "me" | "him" | "us" | "it" | "to" | "at" | "up" | "you"
                            )
                    }));
        if plain
            || word.among(lists::BE)
            || word.among(lists::NOT)
            || word.among(lists::MODAL)
            || word.among(lists::DUTY)
            || (word.is("always")
                || matches!(word.text.as_str(), "keeps" | "keep" | "kept")
                || word.adverb.is_some() && word.noun.is_none())
                && read
                    .words
                    .get(end + 1)
                    .is_some_and(|w| w.verb.is_some() || w.among(lists::BE))
        {
            somebody(read, end, Subject::Named(head));
            return;
        }
    }
    read.shape = Shape::Thing(head);
}

/// The head of the noun phrase that starts here, and where the phrase ends.
pub(super) fn noun_phrase(words: &[Token], start: usize) -> Option<(usize, usize)> {
    let mut at = start;
    let mut head = None;
    while let Some(word) = words.get(at) {
        if word.is("in")
            && words
                .get(at + 1)
                .is_some_and(|w| matches!(w.text.as_str(), "law" | "laws"))
        {
            // "Mother in law": the head stays with the person.
            at += 2;
            continue;
        }
        if word.among(lists::PREP)
            || word.among(lists::BE)
            || word.among(lists::NOT)
            || word.among(lists::MODAL)
            || word.among(lists::DUTY)
            || word.among(lists::FIRST)
            || word.is("to")
            || word.is("and")
        {
            break;
        }
        if word.among(lists::OWN) {
            if head.is_some() {
                break;
            }
        } else if let Some(noun) = &word.noun {
            let verb = word.verb.as_ref().map_or(0, |v| v.senses.often + 1);
            let finite =
                matches!(word.form(), Some(Form::Third | Form::Past)) && verb > noun.senses.often + 1;
            let follows = words.get(at + 1).is_some_and(|w| {
                matches!(
                    w.text.as_str(),
                    "me" | "my" | "him" | "us" | "at" | "up" | "to" | "off"
                )
            });
            let ing = word.form() == Some(Form::Ing) && head.is_some();
            let tells = word.form() == Some(Form::Bare)
                && head.is_some_and(|at| is_person(&words[at]))
                && words.get(at + 1).is_some_and(|w| w.among(lists::OWN));
            let acts = head.is_some()
                && word.verb.is_some()
                && (tells || finite || follows && verb + 1 >= noun.senses.often || ing);
            if acts {
                break;
            }
            head = Some(at);
        } else if word.verb.is_some() && head.is_some()
            || word.adverb.is_some() && word.adjective.is_none() && head.is_some()
        {
            break;
        } else if word.verb.is_none() && word.adjective.is_none() && word.adverb.is_none() {
            // An unknown word: a name, or one that WordNet lacks.
            head = Some(at);
        }
        at += 1;
    }
    head.map(|head| (head, at))
}

/// Whether a noun means a person or several.
pub(super) fn is_person(word: &Token) -> bool {
    matches!(word.text.as_str(), "people" | "others" | "everyone" | "everybody")
        || among(lists::ROLES, &word.text)
        || among(lists::ROLES, word.singular())
        || word
            .noun
            .as_ref()
            .is_some_and(|noun| noun.mostly(class::PERSON) && !word.among(lists::MIND))
}
