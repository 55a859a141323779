//! The slips of the keyboard and of the ear by which a word is misspelt.

/// One-step slips of a word: a letter left out, doubled, swapped with the next, or a vowel or neighbouring key hit.
pub(super) fn slips(word: &str) -> Vec<String> {
    let mut out = Vec::new();
    let bytes = word.as_bytes();
    if bytes.len() < 4 {
        return out;
    }
    for at in 0..bytes.len() {
        let (before, after) = (&word[..at], &word[at + 1..]);
        let letter = bytes[at] as char;
        if at > 0 {
            out.push(format!("{before}{after}"));
        }
        out.push(format!("{before}{letter}{letter}{after}"));
        if let Some(next) = bytes.get(at + 1) {
            out.push(format!("{before}{}{letter}{}", *next as char, &word[at + 2..]));
        }
        if at > 0 && bytes.len() > 4 {
            for other in near(letter).chars() {
                out.push(format!("{before}{other}{after}"));
            }
        }
    }
    out
}

/// The letters that a slip puts in a letter's place: its neighbours on the keyboard, and for vowels, s and c those that sound like it.
fn near(letter: char) -> &'static str {
    match letter {
        'a' => "eiouqsz",
        'b' => "vghn",
        'c' => "sxdfvk",
        'd' => "sfecx",
        'e' => "aiouwrd",
        'f' => "dgrv",
        'g' => "fhtb",
        'h' => "gjyn",
        'i' => "aeouyk",
        'k' => "jlic",
        'l' => "kop",
        'm' => "nk",
        'n' => "bmhj",
        'o' => "aeuilp",
        'p' => "ol",
        'r' => "etf",
        's' => "acdwz",
        't' => "rygf",
        'u' => "aeioyj",
        'v' => "cbfg",
        'w' => "qes",
        'x' => "zc",
        'y' => "tuhi",
        'z' => "xas",
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_is_left_out_doubled_or_swapped_and_in_a_longer_word_hit_beside() {
        assert_eq!(slips("rye"), Vec::<String>::new());
        // The first letter is never left out.
        let four = [
            "ddoor", "odor", "dor", "dooor", "door", "dor", "dooor", "doro", "doo", "doorr",
        ];
        assert_eq!(slips("door"), four);
        let five = slips("paint");
        for slip in ["pant", "paaint", "apint", "paibt", "peint", "pain", "painr"] {
            assert!(five.iter().any(|known| known == slip), "{slip}: {five:?}");
        }
        for letter in ('a'..='z').filter(|letter| !"jq".contains(*letter)) {
            assert!(
                !near(letter).is_empty() && !near(letter).contains(letter),
                "{letter}"
            );
        }
        for far in ["aint", "oaint", "pbint"] {
            assert!(!five.iter().any(|known| known == far), "{far}");
        }
    }
}
