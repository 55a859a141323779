//! The unhooking form of a thought: "I'm having the thought that ...", in the person's own words. Source: a
//! common exercise of the trade (common practice, no source).

use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::clause::clauses;
use super::tokens::Token;
use super::tokens::tokens;

/// A thought longer than this reads badly behind "I'm having the thought that", in bytes.
const LONGEST: usize = 160;

/// Words behind which a sentence would not read on.
const NO_SENTENCE: &[&str] = &[
    "because", "having", "how", "if", "notice", "noticing", "what", "when", "where", "which", "who", "why",
];

/// The thought in its unhooking form, or nothing where it would read badly: no sentence, a question, already
/// unhooked.
pub(super) fn unhooked(thought: &str) -> Option<String> {
    let ends = |c: char| {
        c.is_whitespace() || matches!(c, '.' | '!' | '\u{2026}' | ',' | '"' | '\u{201c}' | '\u{201d}')
    };
    let said = thought.trim_matches(ends);
    if said.is_empty() || said.len() > LONGEST || said.contains(['\n', '?', '.', '!', ';']) {
        return None;
    }
    let words = tokens(said);
    let rest = words.get(opening(&words)..)?;
    let first = rest.first()?;
    let odd = NO_SENTENCE.contains(&first.text.as_str()) || said.to_lowercase().contains("the thought that");
    if odd || !clauses(rest).first().is_some_and(is_sentence) {
        return None;
    }
    let to_me = matches!(first.text.as_str(), "you" | "you're" | "you'll");
    let named = rest
        .iter()
        .any(|w| matches!(w.text.as_str(), "you" | "your" | "you're" | "you'll"));
    let body = match (to_me, named) {
        (true, _) => in_first_person(rest, said)?,
        (false, true) => return None,
        (false, false) => own_words(rest, said)?,
    };
    Some(format!("I'm having the thought that {body}"))
}

/// How many words open the thought without being part of it: "I think that", "I feel like", "thinking".
fn opening(words: &[Token]) -> usize {
    let text = |at: usize| words.get(at).map_or("", |w| w.text.as_str());
    let mut at = usize::from(matches!(text(0), "and" | "but" | "so" | "like"));
    let verb = at + usize::from(matches!(text(at), "i" | "i'm" | "just"));
    let thinks = matches!(text(verb), "think" | "thinking" | "believe" | "guess" | "know");
    let feels =
        matches!(text(verb), "feel" | "feeling" | "feels") && matches!(text(verb + 1), "like" | "that");
    if thinks && (sentence_begins(text(verb + 1)) || text(verb + 1) == "that") {
        at = verb + 1;
    } else if feels && sentence_begins(text(verb + 2)) {
        at = verb + 2;
    }
    at + usize::from(text(at) == "that" && at > 0)
}

fn sentence_begins(word: &str) -> bool {
    matches!(
        word,
        "i" | "i'm"
            | "i'll"
            | "i've"
            | "i'd"
            | "my"
            | "nobody"
            | "everyone"
            | "everybody"
            | "people"
            | "they"
            | "he"
            | "she"
            | "it"
            | "we"
            | "no"
            | "they're"
            | "it's"
            | "the"
            | "nothing"
    )
}

fn is_sentence(clause: &Clause<'_>) -> bool {
    // "I will only spoil it": a small word before the verb can hide it, but who speaks and that it is said is clear.
    let told = matches!(clause.shape, Shape::Act(_) | Shape::Being(_)) || clause.subject == Subject::Me;
    clause.subject != Subject::Unsaid && clause.finite && told
}

/// The person's own words, with "I" written large and a first letter that reads on.
fn own_words(words: &[Token], said: &str) -> Option<String> {
    let mut out = String::with_capacity(said.len() + 8);
    let mut at = words.first()?.place.start;
    for (place, word) in words.iter().enumerate() {
        out.push_str(said.get(at..word.place.start)?);
        let typed = said.get(word.place.clone())?;
        match word.text.as_str() {
            "i" | "i'm" | "i've" | "i'd" | "i'll" => {
                out.push('I');
                out.push_str(&word.text[1..]);
            }
            _ if place == 0 && typed.chars().skip(1).all(char::is_lowercase) && is_plain(word) => {
                out.push_str(&word.text);
            }
            _ => out.push_str(typed),
        }
        at = word.place.end;
    }
    Some(out)
}

/// Whether a first word loses its capital in the middle of a sentence; a name keeps it.
fn is_plain(word: &Token) -> bool {
    word.verb.is_some() || word.noun.is_some() || super::lists::closed(&word.text) || word.adverb.is_some()
}

/// A mind that says "you" means the writer: "you're a failure" reads on as "I'm a failure".
fn in_first_person(words: &[Token], said: &str) -> Option<String> {
    let mut out = String::with_capacity(said.len() + 8);
    for (place, word) in words.iter().enumerate() {
        if place > 0 {
            out.push(' ');
        }
        let next = words.get(place + 1).map_or("", |w| w.text.as_str());
        let before = place.checked_sub(1).map_or("", |at| words[at].text.as_str());
        match word.text.as_str() {
            "you" if place == 0 || matches!(next, "are" | "were" | "will" | "can" | "have" | "should") => {
                out.push('I');
            }
            "you" => out.push_str("me"),
            "you're" => out.push_str("I'm"),
            "you'll" => out.push_str("I'll"),
            "your" => out.push_str("my"),
            "yourself" => out.push_str("myself"),
            "are" if before == "you" => out.push_str("am"),
            "were" if before == "you" => out.push_str("was"),
            _ => out.push_str(said.get(word.place.clone())?),
        }
    }
    Some(out)
}
