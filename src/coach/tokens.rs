//! An entry as words: lower case, short forms spelled one way, small typing slips mended, each word with what
//! WordNet knows of it as a noun, a verb, an adjective and an adverb.

use std::ops::Range;

use super::lemma::lemma;
use super::lists;
use super::wordnet;
use super::wordnet::Part;
use super::wordnet::Senses;
use super::wordnet::mark;

/// How many words of an entry are read. A longer one is judged by its beginning.
const MOST_WORDS: usize = 48;
/// The longest piece between spaces that is taken for a word, in bytes.
const LONGEST: usize = 32;
/// How many unknown words of an entry are tried as typing slips; each costs a few hundred look-ups.
const MOST_SLIPS: usize = 2;

/// The form in which a verb stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    /// "walk".
    Bare,
    /// "walks".
    Third,
    /// "walked", "rung".
    Past,
    /// "walking".
    Ing,
}

/// A word read as a verb.
#[derive(Clone, Debug)]
pub(super) struct Verb {
    pub(super) lemma: String,
    pub(super) form: Form,
    pub(super) senses: Senses,
    pub(super) stirs: bool,
}

/// A word read as a noun.
#[derive(Clone, Debug)]
pub(super) struct Noun {
    pub(super) lemma: String,
    pub(super) senses: Senses,
    pub(super) marks: u16,
}

impl Noun {
    /// Whether most senses stand in this class.
    pub(super) fn mostly(&self, class: u8) -> bool {
        self.senses.first == class && self.senses.share >= 4
    }

    pub(super) fn marked(&self, mark: u16) -> bool {
        self.marks & mark != 0
    }
}

/// One word of an entry.
#[derive(Clone, Debug)]
pub(super) struct Token {
    /// The word, lower case, short forms spelled one way.
    pub(super) text: String,
    /// Where it stands in the entry as it was typed.
    pub(super) place: Range<usize>,
    pub(super) verb: Option<Verb>,
    pub(super) noun: Option<Noun>,
    /// How often it was met as an adjective.
    pub(super) adjective: Option<u8>,
    /// How often it was met as an adverb.
    pub(super) adverb: Option<u8>,
    /// The marks of the adjective.
    pub(super) marks: u16,
    /// Whether a comma, a stop or the like stands behind it.
    pub(super) pause: bool,
}

impl Token {
    pub(super) fn is(&self, word: &str) -> bool {
        self.text == word
    }

    pub(super) fn among(&self, list: &[&str]) -> bool {
        lists::among(list, &self.text)
    }

    pub(super) fn base(&self) -> &str {
        self.verb.as_ref().map_or(&self.text, |verb| &verb.lemma)
    }

    pub(super) fn singular(&self) -> &str {
        self.noun.as_ref().map_or(&self.text, |noun| &noun.lemma)
    }

    pub(super) fn form(&self) -> Option<Form> {
        self.verb.as_ref().map(|verb| verb.form)
    }

    fn known(&self) -> bool {
        lists::named(&self.text)
            || self.verb.is_some()
            || self.noun.is_some()
            || self.adjective.is_some()
            || self.adverb.is_some()
    }
}

/// Reads an entry. Bounded: at most 48 words are looked at, whatever its length.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut found: Vec<Token> = Vec::new();
    let mut slips = 0;
    let mut at = 0;
    // The byte bound keeps a megabyte of blanks or signs from being walked for nothing.
    let mut end = text.len().min(MOST_WORDS * LONGEST);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let text = &text[..end];
    while at < text.len() && found.len() < MOST_WORDS {
        let rest = &text[at..];
        let piece_end = rest.find(is_gap).unwrap_or(rest.len());
        let piece = &rest[..piece_end];
        if piece.is_empty() {
            let gap = rest.chars().next().map_or(1, char::len_utf8);
            if rest.starts_with([',', '.', ';', ':', '!', '?', '\n', '…', '–', '—'])
                && let Some(last) = found.last_mut()
            {
                last.pause = true;
            }
            at += gap;
            continue;
        }
        if piece.len() <= LONGEST {
            let word = spelled(piece);
            if !word.is_empty() {
                let mut token = token(word, at..at + piece_end);
                if !token.known() && slips < MOST_SLIPS && !lists::closed(&token.text) {
                    slips += 1;
                    if let Some(meant) = mended(&token.text) {
                        token = self::token(meant, at..at + piece_end);
                    }
                }
                match found.last_mut() {
                    // "Self esteem" is written apart as often as not.
                    Some(last) if last.is("self") && !last.pause && !lists::closed(&token.text) => {
                        let place = last.place.start..token.place.end;
                        *last = self::token(format!("self-{}", token.text), place);
                    }
                    _ => found.push(token),
                }
            }
        }
        at += piece_end;
    }
    found
}

fn is_gap(c: char) -> bool {
    !(c.is_alphanumeric() || matches!(c, '\'' | '’' | '‘' | '-' | '‑'))
}

fn spelled(piece: &str) -> String {
    let mut word = String::with_capacity(piece.len());
    for c in piece.chars() {
        match c {
            '’' | '‘' => word.push('\''),
            '‑' => word.push('-'),
            _ if c.is_ascii() => word.push(c.to_ascii_lowercase()),
            _ => word.extend(c.to_lowercase()),
        }
    }
    let word = word.trim_matches(['\'', '-']);
    lists::short_form(word).unwrap_or(word).to_owned()
}

/// A word with what WordNet knows of it.
pub(super) fn token(text: String, place: Range<usize>) -> Token {
    let mut token = Token {
        text,
        place,
        verb: None,
        noun: None,
        adjective: None,
        adverb: None,
        marks: 0,
        pause: false,
    };
    if lists::closed(&token.text) || token.text.bytes().any(|b| b.is_ascii_digit()) {
        return token;
    }
    let text = token.text.as_str();
    token.verb = lemma(text, Part::Verb).and_then(|base| {
        let known = wordnet::look_up(&base)?;
        let form = if base == text {
            Form::Bare
        } else if text.ends_with("ing") {
            Form::Ing
        } else if text.ends_with('s') {
            Form::Third
        } else {
            Form::Past
        };
        let stirs = known.marked(mark::STIRS);
        Some(Verb {
            lemma: base,
            form,
            senses: known.part(Part::Verb)?,
            stirs,
        })
    });
    if token.verb.is_none() {
        token.verb = new_verb(text);
    }
    // "More" is also a name in WordNet; here it never is.
    let degree = matches!(text, "more" | "most" | "less");
    token.noun = lemma(text, Part::Noun).filter(|_| !degree).and_then(|base| {
        let known = wordnet::look_up(&base)?;
        let senses = known.part(Part::Noun)?;
        let marks = [
            mark::TRAIT,
            mark::MIND,
            mark::ILL,
            mark::SENSED,
            mark::WEATHER,
            mark::SCORNED,
            mark::KIN,
        ]
        .into_iter()
        .filter(|&mark| known.marked(mark))
        .sum();
        Some(Noun {
            lemma: base,
            senses,
            marks,
        })
    });
    if let Some(base) = lemma(text, Part::Adjective)
        && let Some(known) = wordnet::look_up(&base)
    {
        token.adjective = known.part(Part::Adjective).map(|senses| senses.often);
        token.marks = [mark::ADJ_TRAIT, mark::ADJ_FELT, mark::ADJ_BODY]
            .into_iter()
            .filter(|&mark| known.marked(mark))
            .sum();
    }
    token.adverb = wordnet::look_up(text)
        .and_then(|known| known.part(Part::Adverb))
        .map(|senses| senses.often);
    token
}

/// A verb that is younger than WordNet, or written in a way that it lacks.
fn new_verb(text: &str) -> Option<Verb> {
    let found = |stem: &str| {
        lists::NEW_VERBS
            .binary_search_by(|(verb, _)| (*verb).cmp(stem))
            .ok()
    };
    let cut = |ending: &str, more: &str| {
        text.strip_suffix(ending)
            .and_then(|stem| found(&format!("{stem}{more}")))
    };
    let (at, form) = if let Some(at) = found(text) {
        (at, Form::Bare)
    } else if let Some(at) = cut("ing", "").or_else(|| cut("ing", "e")) {
        (at, Form::Ing)
    } else if let Some(at) = cut("ed", "").or_else(|| cut("ed", "e")) {
        (at, Form::Past)
    } else if let Some(at) = cut("s", "").or_else(|| cut("es", "")) {
        (at, Form::Third)
    } else {
        return None;
    };
    let (lemma, class) = lists::NEW_VERBS[at];
    let senses = Senses {
        often: 1,
        share: 7,
        first: class,
        second: class,
    };
    Some(Verb {
        lemma: lemma.to_owned(),
        form,
        senses,
        stirs: false,
    })
}

/// A word that one slip of the finger would turn into this one: two letters swapped, one too many, one
/// missing, one wrong. Only words that are common enough are taken, so that names are left alone.
fn mended(word: &str) -> Option<String> {
    const SHORTEST: usize = 6;
    if word.len() < SHORTEST || word.len() > 16 || !word.bytes().all(|b| b.is_ascii_lowercase()) {
        return None;
    }
    let good = |candidate: &str| {
        lists::among(lists::OFTEN_MISTYPED, candidate)
            || [Part::Verb, Part::Noun, Part::Adjective].into_iter().any(|part| {
                lemma(candidate, part)
                    .and_then(|base| wordnet::look_up(&base))
                    .and_then(|known| known.part(part))
                    .is_some_and(|senses| senses.often >= 3)
            })
    };
    let bytes = word.as_bytes();
    let mut edited = Vec::with_capacity(word.len() + 1);
    for at in 1..bytes.len() {
        // Swapped, then one too many.
        if at + 1 < bytes.len() {
            edited.clear();
            edited.extend_from_slice(bytes);
            edited.swap(at, at + 1);
            if let Some(found) = String::from_utf8(edited.clone()).ok().filter(|w| good(w)) {
                return Some(found);
            }
        }
        edited.clear();
        edited.extend_from_slice(&bytes[..at]);
        edited.extend_from_slice(&bytes[at + 1..]);
        if let Some(found) = String::from_utf8(edited.clone()).ok().filter(|w| good(w)) {
            return Some(found);
        }
    }
    // One missing: only a doubled letter or a vowel, which are what people drop.
    for at in 1..=bytes.len() {
        for letter in [bytes[at - 1], b'e', b'i', b'a', b'o', b'u', b'r', b'n'] {
            edited.clear();
            edited.extend_from_slice(&bytes[..at]);
            edited.push(letter);
            edited.extend_from_slice(&bytes[at..]);
            if let Some(found) = String::from_utf8(edited.clone()).ok().filter(|w| good(w)) {
                return Some(found);
            }
        }
    }
    None
}
