//! Joins what was written apart: letters with spaces between them, and words that a hyphen or point breaks.

use super::Speller;
use super::push_all;
use super::unleet;
use crate::safety::plain::Plain;
use crate::safety::plain::Token;

impl Speller {
    /// Joins letters set apart ("d i e") and words broken by a hyphen or point ("su-icide").
    pub(in crate::safety) fn join(&self, text: &str, plain: Plain) -> Plain {
        // The letter as it was written, for one that says a word by itself ("b", "u").
        let letter = |token: &Token| {
            if let [one] = &text.as_bytes()[token.start..token.end] {
                return Some(char::from(one.to_ascii_lowercase()));
            }
            let rest = &plain.text.as_bytes()[token.at..];
            let alone = rest.get(1).is_none_or(|b| !b.is_ascii_alphanumeric());
            rest.first().filter(|_| alone).map(|one| char::from(*one))
        };
        let single = |token: &Token| letter(token).is_some();
        let spaced = plain.tokens.windows(3).any(|w| w.iter().all(single));
        let broken = plain
            .tokens
            .windows(2)
            .any(|w| w[1].glued && !single(&w[0]) && self.known_join(&plain, &w[0]).is_some());
        if !spaced && !broken {
            return plain;
        }
        let mut out = Plain {
            text: String::with_capacity(plain.text.len()),
            ..Plain::default()
        };
        let mut index = 0;
        while index < plain.tokens.len() {
            let first = plain.tokens[index];
            if index > 0 && plain.text.as_bytes()[plain.tokens[index].at - 2] == b'\n' {
                out.text.push('\n');
            }
            let run = plain.tokens[index..]
                .iter()
                .take(200)
                .take_while(|token| single(token))
                .count();
            if run >= 3 {
                let last = plain.tokens[index + run - 1];
                let letters = plain.tokens[index..index + run].iter().filter_map(letter);
                let joined: String = letters.map(|c| unleet(c, 'i')).collect();
                let matters = joined.len() > 3 && self.sounds.matters(&joined);
                let row = if matters || self.spellings.known.contains(&joined) {
                    Some(joined)
                } else {
                    self.segment(&joined)
                        .filter(|row| row.split(' ').any(|w| w.len() > 2))
                };
                if let Some(row) = row {
                    push_all(
                        &row,
                        Token {
                            end: last.end,
                            ..first
                        },
                        &mut out,
                    );
                    index += run;
                    continue;
                }
            }
            if let Some(next) = plain.tokens.get(index + 1)
                && next.glued
                && let Some(whole) = self.known_join(&plain, &first)
            {
                push_all(
                    &whole,
                    Token {
                        end: next.end,
                        ..first
                    },
                    &mut out,
                );
                index += 2;
                continue;
            }
            out.push(plain.word(index), first);
            index += 1;
        }
        out.text.push('\n');
        out
    }

    fn known_join(&self, plain: &Plain, first: &Token) -> Option<String> {
        let text = &plain.text[first.at..];
        let mut words = text.split([' ', '\n']);
        let whole = format!("{}{}", words.next()?, words.next()?);
        (whole.len() > 3 && self.spellings.guarded.contains(&whole)).then_some(whole)
    }
}
