//! Brings text to one plain form, so that spelling hides nothing: lower-case ASCII words with one space before each,
//! a line break after each sentence, and for every word the place in the original that it stands for.
//!
//! Ordinary ASCII words take a short path. Everything else (full-width and mathematical letters, look-alikes from
//! other scripts, invisible characters, digits and signs in the place of letters, letters set apart) is undone here
//! or in [`super::unmask`].

use std::ops::Range;

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;
use unicode_security::confusable_detection::skeleton;

use crate::safety::plain::Plain;
use crate::safety::plain::Token;
use crate::safety::unmask::Speller;

/// How many letters a word has with the space before it, at least as a rule: so room is made for all words at once.
const LETTERS: usize = 5;

/// What a character is to the reader below.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// A digit or sign that can stand for a letter inside a word.
    Mask,
    Apostrophe,
    Stop,
    Break,
    Space,
}

fn kind(c: char) -> Kind {
    match c {
        '0'..='9' | '*' | '@' | '$' | '#' | '_' | '|' | '+' | '%' => Kind::Mask,
        '\'' | '\u{2019}' | '\u{2018}' | '`' | '\u{b4}' | '\u{2bc}' => Kind::Apostrophe,
        '.' | '!' | '?' | '\n' | '\u{2026}' | '\u{3002}' | '\u{ff61}' => Kind::Stop,
        ',' | ';' | ':' | '(' | ')' | '"' | '\u{201c}' | '\u{201d}' | '[' | ']' | '/' | '-' | '\u{2013}'
        | '\u{2014}' => Kind::Break,
        _ => Kind::Space,
    }
}

/// Brings a text to its plain form.
pub(super) fn plain(text: &str, speller: &Speller) -> Plain {
    let mut reader = Reader {
        speller,
        plain: Plain {
            text: String::with_capacity(text.len() + text.len() / 16 + 8),
            tokens: Vec::with_capacity(text.len() / LETTERS + 1),
            sentences: Vec::new(),
        },
        word: String::with_capacity(32),
        start: 0,
        end: 0,
        odd: false,
        glued: false,
        parted: false,
        capital: false,
        foreign: false,
    };
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        let byte = bytes[at];
        let letters = bytes[at..].iter().take_while(|b| b.is_ascii_alphabetic()).count();
        if letters > 0 {
            reader.letters(&text[at..at + letters], at);
            at += letters;
            continue;
        }
        if byte.is_ascii() {
            reader.ascii(byte, at..at + 1, &text[at + 1..]);
            at += 1;
            continue;
        }
        let c = text[at..].chars().next().unwrap_or(' ');
        let end = at + c.len_utf8();
        match from_full_width(c) {
            Some(byte) => reader.ascii(byte, at..end, &text[end..]),
            None => reader.other(c, at),
        }
        at = end;
    }
    reader.finish_word();
    reader.plain.end_sentence();
    let mut plain = speller.join(text, reader.plain);
    plain.find_sentences();
    plain
}

#[allow(
    clippy::struct_excessive_bools,
    reason = "each says one thing about the word being read"
)]
struct Reader<'a> {
    speller: &'a Speller,
    plain: Plain,
    word: String,
    start: usize,
    end: usize,
    odd: bool,
    glued: bool,
    parted: bool,
    capital: bool,
    foreign: bool,
}

impl Reader<'_> {
    /// A character of ASCII, with where it stands in the original, and what comes after it.
    fn ascii(&mut self, byte: u8, at: Range<usize>, rest: &str) {
        if byte.is_ascii_alphabetic() {
            let capital = byte.is_ascii_uppercase();
            self.letter(byte.to_ascii_lowercase() as char, at.start, at.end, capital);
            return;
        }
        let before_word = || {
            let next = rest.chars().find(|c| !invisible(*c));
            next.is_some_and(|c| match from_full_width(c) {
                Some(byte) => byte.is_ascii_alphanumeric(),
                None => c.is_ascii_alphanumeric() || !c.is_ascii(),
            })
        };
        match kind(byte as char) {
            Kind::Mask => {
                // A star at the very end can still stand for a letter ("suicid*"); other signs there are only signs.
                self.odd = true;
                self.letter(byte as char, at.start, at.end, false);
            }
            Kind::Apostrophe => {
                if let Some(whole) = self.speller.before_apostrophe(&self.word) {
                    self.word = whole.to_owned();
                }
            }
            Kind::Stop => {
                let inside = byte != b'\n' && before_word();
                if inside && byte == b'!' && !self.word.is_empty() {
                    self.odd = true;
                    self.letter('!', at.start, at.end, false);
                } else {
                    self.finish_word();
                    self.glued = inside;
                    if !inside {
                        self.plain.end_sentence();
                    }
                }
            }
            Kind::Break => {
                self.finish_word();
                self.glued = byte == b'-' && before_word();
                self.parted |= !self.glued && byte != b'/' && byte != b'"';
            }
            Kind::Space => {
                self.finish_word();
                self.glued = false;
            }
        }
    }

    /// A character beyond ASCII, by way of NFKC, then of the letter it looks like.
    fn other(&mut self, c: char, at: usize) {
        let end = at + c.len_utf8();
        match kind(c) {
            Kind::Apostrophe => {
                if let Some(whole) = self.speller.before_apostrophe(&self.word) {
                    self.word = whole.to_owned();
                }
                return;
            }
            Kind::Stop => {
                self.finish_word();
                self.plain.end_sentence();
                return;
            }
            Kind::Break => {
                self.finish_word();
                self.parted |= matches!(c, '\u{2013}' | '\u{2014}');
                return;
            }
            _ => {}
        }
        if invisible(c) {
            self.end = if self.word.is_empty() { self.end } else { end };
            return;
        }
        let mut any = false;
        for folded in std::iter::once(c).nfkd().flat_map(char::to_lowercase) {
            if is_combining_mark(folded) {
                any = true;
                continue;
            }
            if let Some(letter) = looks_like(folded) {
                self.odd |= !letter.is_ascii_alphabetic();
                self.foreign |= !folded.is_ascii();
                self.letter(letter, at, end, c.is_uppercase());
                any = true;
            }
        }
        if !any {
            self.finish_word();
        } else if !self.word.is_empty() {
            self.end = end;
        }
    }

    /// Letters of ASCII in a row, with where they begin in the original.
    fn letters(&mut self, letters: &str, start: usize) {
        if self.word.is_empty() {
            self.start = start;
            self.capital = letters.starts_with(|first: char| first.is_ascii_uppercase());
        }
        let before = self.word.len();
        self.word.push_str(letters);
        self.word[before..].make_ascii_lowercase();
        self.end = start + letters.len();
    }

    fn letter(&mut self, letter: char, start: usize, end: usize, capital: bool) {
        if self.word.is_empty() {
            self.start = start;
            self.capital = capital;
        }
        self.word.push(letter);
        self.end = end;
    }

    fn finish_word(&mut self) {
        if self.word.is_empty() {
            return;
        }
        let token = Token {
            at: 0,
            start: self.start,
            end: self.end,
            glued: self.glued,
            parted: self.parted,
            capital: self.capital,
            foreign: self.foreign,
        };
        self.speller.write(&self.word, self.odd, token, &mut self.plain);
        self.glued = false;
        self.parted = false;
        self.word.clear();
        self.odd = false;
        self.foreign = false;
    }
}

/// The character of ASCII that another one is wide of (Unicode block "Halfwidth and Fullwidth Forms").
fn from_full_width(c: char) -> Option<u8> {
    let wide = u32::from(c).checked_sub(0xff01)?;
    u8::try_from(wide)
        .ok()
        .filter(|wide| *wide <= b'~' - b'!')
        .map(|wide| wide + b'!')
}

fn invisible(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{180b}'..='\u{180f}'
        | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}')
}

/// The ASCII letter that a character looks like, by UTS #39, with a few lower-case look-alikes that it leaves apart.
fn looks_like(c: char) -> Option<char> {
    if c.is_ascii_alphanumeric() {
        return Some(c);
    }
    if c.is_ascii() {
        return (kind(c) == Kind::Mask).then_some(c);
    }
    let own = match c {
        'к' | 'κ' | 'ĸ' => 'k',
        'т' | 'τ' => 't',
        'м' | 'μ' => 'm',
        'н' | 'һ' => 'h',
        'в' | 'β' => 'b',
        'ι' | 'ı' | 'ӏ' | 'і' => 'i',
        'ł' => 'l',
        'đ' => 'd',
        'ε' | 'є' | 'ё' => 'e',
        'υ' | 'ц' => 'u',
        'п' | 'η' | 'и' => 'n',
        'я' => 'r',
        'ω' | 'ш' | 'щ' => 'w',
        'σ' | 'ø' => 'o',
        'α' => 'a',
        'ν' => 'v',
        'ß' => 's',
        _ => {
            return skeleton(c.encode_utf8(&mut [0; 4]))
                .next()
                .filter(char::is_ascii_alphanumeric)
                .map(|c| c.to_ascii_lowercase());
        }
    };
    Some(own)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn speller() -> &'static Speller {
        &crate::safety::shipped().speller
    }

    fn plain_of(text: &str) -> String {
        plain(text, speller()).text
    }

    /// By look alone, as a person may take one for the other; no source.
    #[test]
    fn letters_of_other_scripts_are_read_as_the_letters_they_look_like() {
        let written = "have we told him about five more drinks";
        for (letter, signs) in [
            ('a', "α"),
            ('b', "вβ"),
            ('d', "đ"),
            ('e', "εєё"),
            ('h', "нһ"),
            ('i', "ιıӏі"),
            ('k', "кκĸ"),
            ('l', "ł"),
            ('m', "мμ"),
            ('n', "пηи"),
            ('o', "σø"),
            ('r', "я"),
            ('s', "ß"),
            ('t', "тτ"),
            ('u', "υц"),
            ('v', "ν"),
            ('w', "ωшщ"),
        ] {
            for sign in signs.chars() {
                let masked = written.replace(letter, &sign.to_string());
                assert!(!masked.contains(letter));
                assert_eq!(plain_of(&masked), plain_of(written), "{masked}");
            }
        }
    }

    #[test]
    fn signs_of_full_width_are_read_as_the_narrow_ones() {
        let widened = |sign: char| match sign {
            '!'..='~' => char::from_u32(u32::from(sign) + 0xfee0).expect("a wide sign"),
            other => other,
        };
        let narrow = "We can't go, can we? Su!cide (e-mail: c@t) no.w; k*ll it! 4 o'clock/5.";
        let wide: String = narrow.chars().map(widened).collect();
        assert!(!wide.contains(|sign| matches!(sign, '!'..='~')));
        assert_eq!(plain_of(&wide), plain_of(narrow));
        assert_eq!(plain_of("su\u{ff01}cide"), plain_of("suicide"));
    }

    #[test]
    fn a_word_cut_by_a_hyphen_is_one_word_in_one_place() {
        let speller = speller();
        let read = plain("worth-less", speller);
        let [token] = read.tokens[..] else {
            panic!("{read:?}")
        };
        assert_eq!((read.word(0), token.start, token.end), ("worthless", 0, 10));
    }

    #[test]
    fn a_sentence_ends_at_stops_beyond_ascii_too() {
        let expected = " it rains\n we stay in\n";
        for stop in [".", "\n", "\u{2026}", "\u{3002}", "\u{ff61}"] {
            assert_eq!(
                plain_of(&format!("It rains{stop} We stay in")),
                expected,
                "{stop:?}"
            );
        }
    }
}
