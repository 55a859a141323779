//! How hard a line is to read, as a school grade: the formula of Kincaid and others (1975), from words a sentence and
//! syllables a word. English only.

use unicode_segmentation::UnicodeSegmentation as _;

/// The Flesch-Kincaid grade of a text. Nothing to read has grade 0.
///
/// A piece of one or two words, such as "Yes." or a heading, is no sentence of its own.
#[must_use]
pub fn grade(text: &str) -> f64 {
    let words: Vec<_> = text.unicode_words().collect();
    if words.is_empty() {
        return 0.0;
    }
    let sentences = text
        .split(['.', '?', '!'])
        .filter(|piece| piece.unicode_words().count() > 2)
        .count()
        .max(1);
    let syllables: usize = words.iter().map(|word| syllables(word)).sum();
    let (words, sentences, syllables) = (words.len() as f64, sentences as f64, syllables as f64);
    0.39 * words / sentences + 11.8 * syllables / words - 15.59
}

/// How many syllables an English word has, by its spelling: groups of vowels, less the silent endings, more where two
/// vowels beside each other are said apart. At least one.
#[must_use]
pub fn syllables(word: &str) -> usize {
    let letters: Vec<char> = word
        .to_lowercase()
        .chars()
        .filter(char::is_ascii_alphabetic)
        .collect();
    let word: String = letters.iter().collect();
    let vowel = |at: usize| {
        // A y before a vowel is a consonant: "yes", "beyond".
        "aeiou".contains(letters[at])
            || (letters[at] == 'y' && letters.get(at + 1).is_none_or(|next| !"aeiou".contains(*next)))
    };
    let groups = (0..letters.len())
        .filter(|at| vowel(*at) && (*at == 0 || !vowel(at - 1)))
        .count();
    let silent = usize::from(has_silent_ending(&word));
    let apart = SAID_APART
        .iter()
        .map(|pair| word.matches(pair).count())
        .sum::<usize>();
    let together = SAID_TOGETHER
        .iter()
        .map(|piece| word.matches(piece).count())
        .sum::<usize>();
    (groups + apart).saturating_sub(silent + together).max(1)
}

/// Vowels beside each other that are two syllables.
const SAID_APART: [&str; 12] = [
    "ia", "io", "iu", "eo", "oing", "uing", "eing", "uel", "iet", "ier", "ruin", "idea",
];

/// Pieces of words in which the above are one syllable all the same.
const SAID_TOGETHER: [&str; 13] = [
    "tion",
    "sion",
    "cial",
    "tial",
    "cian",
    "gion",
    "cious",
    "tious",
    "people",
    "something",
    "sometime",
    "somewh",
    "someone",
];

fn has_silent_ending(word: &str) -> bool {
    let before = |ending: &str| word.strip_suffix(ending).and_then(|stem| stem.chars().last());
    let consonant = |c: char| !"aeiouy".contains(c);
    if let Some(last) = before("ed") {
        return !"td".contains(last) && last != 'e' && word.len() > 3;
    }
    if let Some(last) = before("es") {
        let hissing = "sxzcg".contains(last) || word.ends_with("ches") || word.ends_with("shes");
        return consonant(last) && !hissing && last != 'l' || (last == 'l' && !word.ends_with("les"));
    }
    if let Some(last) = before("e") {
        // "table" has its last syllable; "while" and "he" have not.
        let le = last == 'l' && word.chars().rev().nth(2).is_some_and(consonant);
        return consonant(last)
            && !le
            && word.len() > 2
            && word.chars().filter(|c| "aeiouy".contains(*c)).count() > 1;
    }
    false
}

#[cfg(test)]
mod tests {
    use super::syllables;

    #[test]
    fn words_are_counted_as_they_are_said() {
        // Counts from memory, by clapping; the live comparison with another counter is in the tests beside the program.
        for (word, count) in [
            ("a", 1),
            ("the", 1),
            ("he", 1),
            ("yes", 1),
            ("away", 2),
            ("moved", 1),
            ("noted", 2),
            ("table", 2),
            ("while", 1),
            ("matters", 2),
            ("notices", 3),
            ("doing", 2),
            ("playing", 2),
            ("idea", 3),
            ("question", 2),
            ("feelings", 2),
            ("someone", 2),
            ("quiet", 2),
            ("likes", 1),
            ("people", 2),
            ("everyone", 3),
            ("1975", 1),
        ] {
            assert_eq!(syllables(word), count, "{word}");
        }
    }
}
