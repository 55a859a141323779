//! A language that is none, made from English: every word longer, with accents, in letters that run from right to left.
//!
//! Whoever looks at the program in it sees at once what is wrong: words in Latin letters are in no words file and
//! cannot be translated, and a sentence without its closing bracket was cut. Right to left comes from the letters
//! themselves (Hebrew ones, strongly right-to-left by the Unicode bidirectional algorithm) and not from marks, since
//! marks that turn the direction of text are refused in words files and left out of all that is shown. So the text stays
//! in the order in which it is read, and whatever draws it, a terminal or our own page, turns it round.

use std::iter::Peekable;
use std::str::Chars;

/// What a person types is the same in every language: these commands follow the program's name. A test compares them
/// with those that the program has.
const COMMANDS: [&str; 34] = [
    "begin",
    "stuck",
    "moment",
    "review",
    "talk",
    "practice",
    "ground",
    "map",
    "loops",
    "steps",
    "lookback",
    "crisis",
    "people",
    "voice",
    "store",
    "script",
    "try",
    "check",
    "model",
    "list",
    "install",
    "devices",
    "where",
    "verify",
    "passphrase",
    "backup",
    "restore",
    "merge",
    "export",
    "erase",
    "play",
    "draw",
    "safety",
    "entry",
];

/// A line in the pseudo-language. What stands in braces, what a person types, and names in capitals stay as they are.
#[must_use]
pub fn pseudo(line: &str) -> String {
    // The word that chooses an option is typed, too.
    if let Some((word, said)) = option(line) {
        return format!("{word}|{}", pseudo(said));
    }
    let indent = line.len() - line.trim_start().len();
    let mut out = format!("{}⟦", &line[..indent]);
    let mut signs = line[indent..].chars().peekable();
    let mut typed = false;
    while let Some(sign) = signs.peek().copied() {
        match sign {
            '{' => out.push_str(&placeholder(&mut signs)),
            sign if sign.is_whitespace() => {
                out.push(sign);
                signs.next();
            }
            _ => {
                let word = word(&mut signs);
                let bare = word.trim_matches(|sign: char| ",.:;?()“”".contains(sign));
                typed = bare == "wayfold" || (typed && (COMMANDS.contains(&bare) || bare.starts_with('-')));
                if typed || stays(bare) {
                    out.push_str(&word);
                } else {
                    turned(&word, &mut out);
                }
                // A sentence that goes on after a command is said, not typed.
                typed &= bare == word;
            }
        }
    }
    out.push('⟧');
    out
}

/// A words file in the pseudo-language, as TOML. `None` when it cannot be read. Lists of words to understand stay, and
/// so does what must be typed in full.
#[must_use]
pub fn pseudo_file(file: &str) -> Option<String> {
    let mut table: toml::Table = file.parse().ok()?;
    let lines = table.get_mut("lines")?.as_table_mut()?;
    for (name, line) in lines.iter_mut() {
        if let Some(text) = line.as_str()
            && !name.starts_with("words.")
            && name.rsplit_once('.').is_none_or(|(_, last)| last != "word")
        {
            *line = pseudo(text).into();
        }
    }
    Some(table.to_string())
}

/// The two sides of an option's bar. A bar inside braces is none.
fn option(line: &str) -> Option<(&str, &str)> {
    let mut depth = 0_u32;
    for (at, sign) in line.char_indices() {
        match sign {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            '|' if depth == 0 => return Some((&line[..at], &line[at + 1..])),
            _ => {}
        }
    }
    None
}

/// What stands in braces: its name as it is, and the words after a bar turned.
fn placeholder(signs: &mut Peekable<Chars<'_>>) -> String {
    let mut inside = String::new();
    for sign in signs.by_ref() {
        inside.push(sign);
        if sign == '}' {
            break;
        }
    }
    let Some((name, words)) = inside.split_once('|') else {
        return inside;
    };
    let mut out = format!("{name}|");
    for word in words.trim_end_matches('}').split_inclusive(' ') {
        turned(word, &mut out);
    }
    out.push('}');
    out
}

/// The next word, up to a space or a brace.
fn word(signs: &mut Peekable<Chars<'_>>) -> String {
    let mut word = String::new();
    while let Some(sign) = signs.next_if(|sign| !sign.is_whitespace() && *sign != '{') {
        word.push(sign);
    }
    word
}

/// Whether a word is typed or a name: an option, a command at a prompt, a file, or capitals alone.
fn stays(word: &str) -> bool {
    let capitals = word.len() > 1 && word.chars().any(|sign| sign.is_ascii_uppercase());
    word.starts_with(['/', '-'])
        || (word.contains('.') && !word.contains("..."))
        || word.starts_with("Ctrl-")
        || (capitals && !word.chars().any(|sign| sign.is_ascii_lowercase()))
}

/// A word with each letter in its place of the other alphabet, a point after each vowel, and longer by a third.
fn turned(word: &str, out: &mut String) {
    let mut letters = 0_u32;
    for sign in word.chars() {
        let small = sign.to_ascii_lowercase();
        if !small.is_ascii_lowercase() {
            out.push(sign);
            continue;
        }
        let place = u32::from(small) - u32::from('a');
        out.extend(char::from_u32(0x05d0 + place));
        letters += 1;
        if "aeiou".contains(small) {
            out.push('\u{5b8}');
        }
        if letters.is_multiple_of(3) {
            out.push('\u{5d5}');
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_or_filled_in_stays() {
        for (line, kept) in [
            (
                "Your map is empty so far. To begin: wayfold begin",
                " wayfold begin⟧",
            ),
            (
                "To say how one went: wayfold steps --mark. To put",
                " wayfold steps --mark. ",
            ),
            ("{name}: which ones go in?", "⟦{name}: "),
            ("/back goes back, /skip moves on", "⟦/back "),
            ("Two letters, such as NZ or IE.", " NZ "),
            ("yes | Yes, I would", "yes |"),
        ] {
            let turned = pseudo(line);
            assert!(turned.contains(kept), "{turned}");
            assert!(turned.ends_with('⟧'));
        }
        let turned = pseudo("Say it as {when|some day} fits");
        assert!(turned.contains("{when|") && !turned.contains("some"), "{turned}");
    }

    #[test]
    fn every_other_word_is_longer_and_in_other_letters() {
        let turned = pseudo("Noted, as an away move");
        assert!(!turned.chars().any(|sign| sign.is_ascii_alphabetic()), "{turned}");
        assert!(turned.chars().count() > "Noted, as an away move".len() * 5 / 4);
        assert_eq!(turned.split(' ').count(), 5);
    }
}
