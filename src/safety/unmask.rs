//! Undoes what a person or a filter did to a word: digits and stars for letters, letters set apart or repeated,
//! slips of the keyboard, joined words, and the other words people use to slip past filters.

mod joining;

use crate::safety::plain::Plain;
use crate::safety::plain::Token;
use crate::safety::sounds::Sounds;
use crate::safety::spellings::Spellings;

/// The letters that must be left of a starred word that is not one of the guarded.
const FEWEST_LETTERS: usize = 5;

/// Knows how words of danger are hidden.
#[derive(Debug)]
pub(super) struct Speller {
    spellings: Spellings,
    sounds: Sounds,
}

impl Speller {
    /// A speller that knows some spellings.
    pub(super) fn new(spellings: Spellings) -> Self {
        let sounds = Sounds::new();
        Self { spellings, sounds }
    }

    /// Adds a word as read to the plain form, undone where it hides one.
    pub(super) fn write(&self, word: &str, odd: bool, token: Token, plain: &mut Plain) {
        if odd {
            self.write_odd(word, token, plain);
            return;
        }
        if self.spellings.as_is.contains(word) {
            plain.push(word, token);
            return;
        }
        if self.write_phrase(word, token, plain) {
            return;
        }
        if let Some(fix) = self.spellings.fix(word) {
            push_all(fix, token, plain);
        } else if let Some(short) = self.without_repeats(word) {
            push_all(&short, token, plain);
        } else if let Some(row) = self.apart(word) {
            push_all(&row, token, plain);
        } else {
            // A capital letter inside a sentence begins a name; what stands in another script sounds like nothing here.
            let name = token.capital && !plain.text.is_empty() && !plain.text.ends_with('\n');
            let meant = if name || token.foreign {
                None
            } else {
                self.sounds.meant(word)
            };
            plain.push(meant.unwrap_or(word), token);
        }
    }

    /// Writes what a phrase says in place of its words, when a word is the last of one.
    fn write_phrase(&self, word: &str, token: Token, plain: &mut Plain) -> bool {
        let Some(phrases) = self.spellings.phrases.get(word) else {
            return false;
        };
        let Some(phrase) = phrases
            .iter()
            .find(|phrase| plain.text.ends_with(phrase.before.as_str()))
        else {
            return false;
        };
        let first = plain.tokens[plain.tokens.len() - phrase.words];
        plain.text.truncate(plain.text.len() - phrase.before.len());
        plain.tokens.truncate(plain.tokens.len() - phrase.words);
        push_all(
            &phrase.says,
            Token {
                end: token.end,
                ..first
            },
            plain,
        );
        true
    }

    /// What a word says that loses its sense when its apostrophe is dropped.
    pub(super) fn before_apostrophe(&self, word: &str) -> Option<&str> {
        self.spellings.before_apostrophe.get(word).map(String::as_str)
    }

    fn write_odd(&self, word: &str, token: Token, plain: &mut Plain) {
        let mark = |c: char| !c.is_ascii_alphanumeric();
        if self.write_phrase(word, token, plain) {
            return;
        }
        if let Some(fix) = self.spellings.fix(word) {
            push_all(fix, token, plain);
        } else if word.bytes().all(|b| b.is_ascii_digit()) {
            plain.push(word, token);
        } else if let Some(found) = self.unmasked(word, token.foreign) {
            push_all(&found, token, plain);
        } else {
            for part in word.split(mark).filter(|part| !part.is_empty()) {
                if part != word && !part.bytes().any(|b| b.is_ascii_digit()) {
                    self.write(part, false, token, plain);
                } else if let Some(found) = self.unmasked(part, token.foreign) {
                    push_all(&found, token, plain);
                } else {
                    plain.push(part, token);
                }
            }
        }
    }

    /// The word behind digits, signs and stars, if there is one.
    fn unmasked(&self, word: &str, foreign: bool) -> Option<String> {
        let letters = word.bytes().filter(u8::is_ascii_alphabetic).count();
        if letters == 0 || word.bytes().all(|b| b.is_ascii_alphabetic()) {
            return None;
        }
        let starred = word.contains(['*', '#', '_', '%']);
        if starred && letters < 2 {
            return None;
        }
        let bytes = word.as_bytes();
        if starred {
            let fits = |with: &&String| with.len() >= 3 && fits(bytes, with.as_bytes());
            return self
                .spellings
                .guarded
                .iter()
                .find(|with| with.len() == word.len() && fits(with))
                .or_else(|| self.spellings.guarded.iter().find(fits))
                .map(String::as_str)
                .or_else(|| self.starred(word, letters))
                .map(str::to_owned);
        }
        let plain: Vec<String> = ['i', 'l']
            .iter()
            .map(|one| word.chars().map(|c| unleet(c, *one)).collect())
            .collect();
        plain
            .iter()
            .find(|plain| self.spellings.known.contains(plain))
            .cloned()
            .or_else(|| {
                plain.iter().find_map(|plain| {
                    self.spellings
                        .fix(plain)
                        .cloned()
                        .or_else(|| self.without_repeats(plain))
                        .or_else(|| self.apart(plain))
                })
            })
            .or_else(|| self.whole(word, &plain).filter(|_| !foreign))
    }

    /// The word that matters here and fits a starred one, if so many letters are left that it can be told from others.
    fn starred(&self, word: &str, letters: usize) -> Option<&'static str> {
        let fitting = |with: &str| fits(word.as_bytes(), with.as_bytes());
        (letters >= FEWEST_LETTERS).then(|| self.sounds.starred(word, fitting))?
    }

    /// The word that one of the readings of a masked word is, or sounds like. What begins with a number is most often counted or
    /// measured ("7am", "14th"), so it must be longer, with one digit there, and spelt rightly.
    fn whole(&self, word: &str, readings: &[String]) -> Option<String> {
        let digits = word.bytes().take_while(u8::is_ascii_digit).count();
        if digits > 1 || word.len() < 3 + digits {
            return None;
        }
        let right = readings.iter().find(|reading| self.sounds.is_right(reading));
        right.cloned().or_else(|| {
            let mut meant = readings.iter().filter_map(|reading| self.sounds.meant(reading));
            meant.next().filter(|_| digits == 0).map(str::to_owned)
        })
    }

    /// The word without letters held down, if that makes a known word.
    fn without_repeats(&self, word: &str) -> Option<String> {
        if !word.as_bytes().windows(3).any(|w| w[0] == w[1] && w[1] == w[2]) {
            return None;
        }
        let squeezed = |most: usize| {
            let mut out = String::new();
            let mut run = 0;
            for c in word.chars() {
                run = if out.ends_with(c) { run + 1 } else { 1 };
                if run <= most {
                    out.push(c);
                }
            }
            out
        };
        let (one, two) = (squeezed(1), squeezed(2));
        let find = |form: &String| {
            self.spellings
                .known
                .contains(form)
                .then(|| form.clone())
                .or_else(|| self.spellings.fix(form).cloned())
                .or_else(|| self.sounds.is_right(form).then(|| form.clone()))
        };
        find(&two)
            .or_else(|| find(&one))
            .or_else(|| self.apart(&two))
            .or_else(|| self.apart(&one))
    }

    /// Words written without spaces, taken apart, if they hold a word of danger and every part is known.
    fn apart(&self, word: &str) -> Option<String> {
        if word.len() < 8 || word.len() > 60 || !holds_mark(word.as_bytes()) {
            return None;
        }
        self.segment(word)
    }

    fn segment(&self, word: &str) -> Option<String> {
        // The fewest words that spell it; `best[i]` is how the first i letters are spelt.
        let mut best: Vec<Option<(usize, usize)>> = vec![None; word.len() + 1];
        best[0] = Some((0, 0));
        for end in 1..=word.len() {
            for start in end.saturating_sub(14)..end {
                if let Some((count, _)) = best[start]
                    && self.spellings.known.contains(&word[start..end])
                    && best[end].is_none_or(|(old, _)| count + 1 < old)
                {
                    best[end] = Some((count + 1, start));
                }
            }
        }
        let mut parts = Vec::new();
        let mut end = word.len();
        while end > 0 {
            let (_, start) = best[end]?;
            parts.push(&word[start..end]);
            end = start;
        }
        parts.reverse();
        Some(parts.join(" "))
    }
}

/// Whether a word holds one of the words that are looked for in words written without spaces.
fn holds_mark(word: &[u8]) -> bool {
    (0..word.len()).any(|at| {
        let rest = &word[at..];
        match word[at] {
            b'm' => rest.starts_with(b"myself") || rest.starts_with(b"mylife"),
            b't' => rest.starts_with(b"todie"),
            b's' => rest.starts_with(b"suicid"),
            b'i' => rest.starts_with(b"itall"),
            b'k' => rest.starts_with(b"kill"),
            b'd' => rest.starts_with(b"dead"),
            b'a' => rest.starts_with(b"alive"),
            _ => false,
        }
    })
}

fn push_all(row: &str, token: Token, plain: &mut Plain) {
    for word in row.split(' ') {
        plain.push(word, token);
    }
}

/// Whether a masked word fits a plain one; a star stands for one to three letters.
fn fits(masked: &[u8], plain: &[u8]) -> bool {
    match (masked.first(), plain.first()) {
        (None, None) => true,
        (Some(b'*' | b'#' | b'_' | b'%'), Some(_)) => {
            (1..=plain.len().min(3)).any(|taken| fits(&masked[1..], &plain[taken..]))
        }
        (Some(m), Some(p)) => {
            (m == p || unleet(*m as char, 'i') as u8 == *p || unleet(*m as char, 'l') as u8 == *p)
                && fits(&masked[1..], &plain[1..])
        }
        _ => false,
    }
}

fn unleet(c: char, one: char) -> char {
    match c {
        '0' => 'o',
        '1' | '!' | '|' => one,
        '3' => 'e',
        '4' | '@' => 'a',
        '5' | '$' => 's',
        '6' | '9' => 'g',
        '7' | '+' => 't',
        '8' => 'b',
        other => other,
    }
}
