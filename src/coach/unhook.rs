//! The unhooking form of a thought: "I'm having the thought that ...", in the person's own words. Source: a
//! common exercise of the trade (common practice, no source).

use super::clause::Clause;
use super::clause::Shape;
use super::clause::Subject;
use super::clause::clauses;
use super::lists;
use super::tokens::Token;
use super::tokens::tokens;

/// A thought longer than this reads badly behind "I'm having the thought that", in bytes.
const LONGEST: usize = 160;

/// Words behind which a sentence would not read on.
const NO_SENTENCE: &[&str] = &[
    "because", "having", "how", "if", "notice", "noticing", "what", "when", "where", "which", "who", "why",
];

/// "You" as the one who does something, or is to.
const AS_SUBJECT: &[&str] = &["you", "you'd", "you'll", "you're", "you've"];

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
    let to_me = AS_SUBJECT.contains(&first.text.as_str());
    let named = rest.iter().any(|w| {
        AS_SUBJECT.contains(&w.text.as_str()) || matches!(w.text.as_str(), "your" | "yours" | "yourself")
    });
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
            _ if place == 0 && has_small_letters(typed) && is_plain(word) => {
                out.extend(typed.chars().flat_map(char::to_lowercase));
            }
            _ => out.push_str(typed),
        }
        at = word.place.end;
    }
    Some(out)
}

/// Whether a word has no capital but perhaps its first letter: "They", "It's", and not "BBC".
fn has_small_letters(typed: &str) -> bool {
    typed
        .chars()
        .skip(1)
        .all(|c| c.is_lowercase() || matches!(c, '\'' | '’' | '-'))
}

/// Whether a first word loses its capital in the middle of a sentence; a name keeps it.
fn is_plain(word: &Token) -> bool {
    word.verb.is_some() || word.noun.is_some() || lists::closed(&word.text) || word.adverb.is_some()
}

/// A mind that says "you" means the writer: "you're a failure" reads on as "I'm a failure". Nothing where a "you" could
/// be "I" as well as "me".
fn in_first_person(words: &[Token], said: &str) -> Option<String> {
    let mut out = String::with_capacity(said.len() + 8);
    let mut at = words.first()?.place.start;
    for (place, word) in words.iter().enumerate() {
        out.push_str(said.get(at..word.place.start)?);
        at = word.place.end;
        let before = place.checked_sub(1).map_or("", |at| words[at].text.as_str());
        match word.text.as_str() {
            "you" if place == 0 || begins_clause(words, place) => out.push('I'),
            // "Everyone knows you lied" against "everyone hates you".
            "you" if words.get(place + 1).is_some_and(|next| next.verb.is_some()) => return None,
            "you" => out.push_str("me"),
            "you're" => out.push_str("I'm"),
            "you'll" => out.push_str("I'll"),
            "you've" => out.push_str("I've"),
            "you'd" => out.push_str("I'd"),
            "your" => out.push_str("my"),
            "yours" => out.push_str("mine"),
            "yourself" => out.push_str("myself"),
            "are" if before == "you" => out.push_str("am"),
            "aren't" if before == "you" => out.push_str("am not"),
            "were" if before == "you" => out.push_str("was"),
            "weren't" if before == "you" => out.push_str("wasn't"),
            _ => out.push_str(said.get(word.place.clone())?),
        }
    }
    Some(out)
}

/// Whether a "you" in the middle begins a clause: "and you know it", "because you never try", "what you are". In "him and
/// you" it begins none.
fn begins_clause(words: &[Token], place: usize) -> bool {
    let Some(next) = words.get(place + 1) else {
        return false;
    };
    let joined = words[place - 1].among(lists::JOIN) || words[place - 1].is("that");
    let stands_alone = next.among(lists::JOIN) || next.among(lists::PREP) || next.is("to");
    joined && !stands_alone
        || matches!(next.text.as_str(), "are" | "were" | "have")
        || next.among(lists::NOT)
        || next.among(lists::MODAL)
        || next.among(lists::DUTY)
}
