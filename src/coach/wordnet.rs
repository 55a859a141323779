//! The reduced WordNet that the check reads: which classes a word has, and how often it was met.
//!
//! The table stays in the bytes of the program. Words stand in blocks of sixteen, each word stored as what
//! differs from the one before it; a search halves the blocks and then reads one. So nothing is built at
//! start and nothing is kept.
//!
//! Layout, little endian: `WAYWORD1`; six `u32`: words, exceptions, records, bytes of words, bytes of
//! exceptions, bytes of records; the starts (three bytes each) of word blocks, exception blocks and records;
//! then the three bodies. Source: WordNet 3.0, Princeton University, reduced by
//! `tests/reference/coach_reduce.py`; licence in `wordnet/LICENSE`.

static TABLE: &[u8] = include_bytes!("wordnet/table.bin");

const WORDS: usize = number(8);
const EXCEPTIONS: usize = number(12);
const RECORDS: usize = number(16);
const WORD_BYTES: usize = number(20);
const EXCEPTION_BYTES: usize = number(24);
const WORD_STARTS: usize = 32;
const EXCEPTION_STARTS: usize = WORD_STARTS + 3 * WORDS.div_ceil(BLOCK);
const RECORD_STARTS: usize = EXCEPTION_STARTS + 3 * EXCEPTIONS.div_ceil(BLOCK);
const WORD_BODY: usize = RECORD_STARTS + 3 * RECORDS;
const EXCEPTION_BODY: usize = WORD_BODY + WORD_BYTES;
const RECORD_BODY: usize = EXCEPTION_BODY + EXCEPTION_BYTES;
const BLOCK: usize = 16;

/// The longest word in the table is well below this; longer ones are not looked for.
const LONGEST: usize = 40;

/// A part of speech.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A noun.
    Noun,
    /// A verb.
    Verb,
    /// An adjective.
    Adjective,
    /// An adverb.
    Adverb,
}

/// WordNet's lexicographer file number of a class, 0 to 44 (lexnames(5WN)). Those that the rules name:
pub(super) mod class {
    pub(in crate::coach) const ACT: u8 = 4;
    pub(in crate::coach) const ANIMAL: u8 = 5;
    pub(in crate::coach) const ARTIFACT: u8 = 6;
    pub(in crate::coach) const ATTRIBUTE: u8 = 7;
    pub(in crate::coach) const BODY: u8 = 8;
    pub(in crate::coach) const THOUGHT: u8 = 9;
    pub(in crate::coach) const TALK: u8 = 10;
    pub(in crate::coach) const EVENT: u8 = 11;
    pub(in crate::coach) const FEELING: u8 = 12;
    pub(in crate::coach) const FOOD: u8 = 13;
    pub(in crate::coach) const GROUP: u8 = 14;
    pub(in crate::coach) const PLACE: u8 = 15;
    pub(in crate::coach) const MOTIVE: u8 = 16;
    pub(in crate::coach) const OBJECT: u8 = 17;
    pub(in crate::coach) const PERSON: u8 = 18;
    pub(in crate::coach) const POSSESSION: u8 = 21;
    pub(in crate::coach) const RELATION: u8 = 24;
    pub(in crate::coach) const STATE: u8 = 26;
    pub(in crate::coach) const TIME: u8 = 28;
    pub(in crate::coach) const V_BODY: u8 = 29;
    pub(in crate::coach) const V_CHANGE: u8 = 30;
    pub(in crate::coach) const V_COGNITION: u8 = 31;
    pub(in crate::coach) const V_COMMUNICATION: u8 = 32;
    pub(in crate::coach) const V_COMPETITION: u8 = 33;
    pub(in crate::coach) const V_CONSUMPTION: u8 = 34;
    pub(in crate::coach) const V_CONTACT: u8 = 35;
    pub(in crate::coach) const V_CREATION: u8 = 36;
    pub(in crate::coach) const V_EMOTION: u8 = 37;
    pub(in crate::coach) const V_MOTION: u8 = 38;
    pub(in crate::coach) const V_POSSESSION: u8 = 40;
    pub(in crate::coach) const V_SOCIAL: u8 = 41;
    pub(in crate::coach) const V_STATIVE: u8 = 42;
    pub(in crate::coach) const V_WEATHER: u8 = 43;
}

/// What WordNet's pointers say of a word; set when at least half of the weight of its senses carries it.
pub(super) mod mark {
    /// A noun below "trait" or "good".
    pub(in crate::coach) const TRAIT: u16 = 1;
    /// A noun below "feeling" or "psychological state".
    pub(in crate::coach) const MIND: u16 = 1 << 1;
    /// A noun below "illness" or "injury".
    pub(in crate::coach) const ILL: u16 = 1 << 2;
    /// A noun below "symptom", "pain", "sensation".
    pub(in crate::coach) const SENSED: u16 = 1 << 3;
    /// A noun below "weather" or "season".
    pub(in crate::coach) const WEATHER: u16 = 1 << 4;
    /// A person noun that scorns: "loser", "coward".
    pub(in crate::coach) const SCORNED: u16 = 1 << 5;
    /// A person noun of kin, friends or work.
    pub(in crate::coach) const KIN: u16 = 1 << 6;
    /// A verb that has the frame "Something ----s somebody": it stirs another rather than oneself.
    pub(in crate::coach) const STIRS: u16 = 1 << 7;
    /// An adjective that belongs to a noun below "trait".
    pub(in crate::coach) const ADJ_TRAIT: u16 = 1 << 8;
    /// An adjective that belongs to a feeling.
    pub(in crate::coach) const ADJ_FELT: u16 = 1 << 9;
    /// An adjective that belongs to a state of the body.
    pub(in crate::coach) const ADJ_BODY: u16 = 1 << 10;
}

/// One part of speech of a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Senses {
    /// How often it was met in WordNet's tagged texts: the bit length of the count, 0 to 15.
    pub often: u8,
    /// How much of the weight of its senses the first class carries, in sevenths, 0 to 7.
    pub share: u8,
    /// The lexicographer file number that carries most weight; 0 for adjectives and adverbs.
    pub first: u8,
    /// The next one, or the same where the first carries nearly all.
    pub second: u8,
}

/// What the table knows of a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    parts: [Option<Senses>; 4],
    marks: u16,
}

impl Word {
    /// The senses that the word has as this part of speech.
    #[must_use]
    pub fn part(&self, part: Part) -> Option<Senses> {
        self.parts[part as usize]
    }

    pub(super) fn marked(&self, mark: u16) -> bool {
        self.marks & mark != 0
    }
}

/// Looks a word up as it is written: lower case, two words joined with `_`.
#[must_use]
pub fn look_up(word: &str) -> Option<Word> {
    let at = find(word.as_bytes(), WORD_STARTS, WORD_BODY, WORDS, |at| at + 2)?;
    let record = usize::from(TABLE[at]) | usize::from(TABLE[at + 1]) << 8;
    let mut at = RECORD_BODY + start(RECORD_STARTS, record);
    let kinds = TABLE[at];
    let marks = u16::from(TABLE[at + 1]) | u16::from(TABLE[at + 2]) << 8;
    at += 3;
    let mut parts = [None; 4];
    for (part, slot) in parts.iter_mut().enumerate() {
        if kinds >> part & 1 == 0 {
            continue;
        }
        let (often, share) = (TABLE[at] >> 4, TABLE[at] & 15);
        at += 1;
        let (mut first, mut second) = (0, 0);
        if part < 2 {
            (first, second) = (TABLE[at], TABLE[at + 1]);
            at += 2;
        }
        *slot = Some(Senses {
            often,
            share,
            first,
            second,
        });
    }
    Some(Word { parts, marks })
}

/// The base forms that WordNet's exception list gives for an inflected form.
pub(super) fn exceptions(form: &str, part: Part) -> Vec<String> {
    let mut key = Vec::with_capacity(form.len() + 1);
    key.push(b"nvar"[part as usize]);
    key.extend_from_slice(form.as_bytes());
    let Some(mut at) = find(&key, EXCEPTION_STARTS, EXCEPTION_BODY, EXCEPTIONS, past_exception) else {
        return Vec::new();
    };
    let mut bases = Vec::new();
    let count = TABLE[at];
    at += 1;
    for _ in 0..count {
        let (same, more) = (usize::from(TABLE[at]), usize::from(TABLE[at + 1]));
        let mut base = form.get(..same).unwrap_or_default().to_owned();
        base.push_str(std::str::from_utf8(&TABLE[at + 2..at + 2 + more]).unwrap_or_default());
        bases.push(base);
        at += 2 + more;
    }
    bases
}

fn past_exception(mut at: usize) -> usize {
    let count = TABLE[at];
    at += 1;
    for _ in 0..count {
        at += 2 + usize::from(TABLE[at + 1]);
    }
    at
}

/// Finds a key in a front-coded body and returns where its value stands.
fn find(key: &[u8], starts: usize, body: usize, count: usize, past: fn(usize) -> usize) -> Option<usize> {
    if key.is_empty() || key.len() > LONGEST {
        return None;
    }
    let (mut low, mut high) = (0, count.div_ceil(BLOCK));
    while low < high {
        let middle = usize::midpoint(low, high);
        let at = body + start(starts, middle);
        let length = usize::from(TABLE[at + 1]);
        if &TABLE[at + 2..at + 2 + length] <= key {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    let block = low.checked_sub(1)?;
    let mut at = body + start(starts, block);
    // How much of the key agrees with the word before; front coding lets most words be told apart by that
    // alone.
    let mut agrees = 0;
    for _ in 0..BLOCK.min(count - block * BLOCK) {
        let (same, more) = (usize::from(TABLE[at]), usize::from(TABLE[at + 1]));
        let rest = &TABLE[at + 2..at + 2 + more];
        at += 2 + more;
        if same < agrees {
            return None;
        }
        if same == agrees {
            let ours = &key[agrees..];
            let common = ours.iter().zip(rest).take_while(|(a, b)| a == b).count();
            agrees += common;
            if common == more && agrees == key.len() {
                return Some(at);
            }
        }
        at = past(at);
    }
    None
}

fn start(starts: usize, block: usize) -> usize {
    let at = starts + 3 * block;
    usize::from(TABLE[at]) | usize::from(TABLE[at + 1]) << 8 | usize::from(TABLE[at + 2]) << 16
}

const fn number(at: usize) -> usize {
    let table: &[u8] = include_bytes!("wordnet/table.bin");
    table[at] as usize | (table[at + 1] as usize) << 8 | (table[at + 2] as usize) << 16
}
