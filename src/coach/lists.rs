//! The closed lists of the check: words whose part in a sentence is fixed, and the words of the trade for which WordNet's
//! classes are too coarse. "Common practice, no source" where a list is about the map; ordinary English grammar otherwise.
//!
//! Every list is sorted, since it is searched by halves; a test holds that.

pub(super) use super::trade::AIM_FELT;
pub(super) use super::trade::AIM_NOUNS;
pub(super) use super::trade::APPROVAL;
pub(super) use super::trade::BAD_TRAITS;
pub(super) use super::trade::BIG;
pub(super) use super::trade::BODY_WORDS;
pub(super) use super::trade::DISORDERS;
pub(super) use super::trade::END_STATES;
pub(super) use super::trade::FEELING_NOUNS;
pub(super) use super::trade::FELT;
pub(super) use super::trade::FIX;
pub(super) use super::trade::GOALS;
pub(super) use super::trade::GOAL_NOUNS;
pub(super) use super::trade::GOAL_VERBS;
pub(super) use super::trade::GOOD_TRAITS;
pub(super) use super::trade::INNER_ACTS;
pub(super) use super::trade::INNER_VERBS;
pub(super) use super::trade::LABELS;
pub(super) use super::trade::LABEL_VERBS;
pub(super) use super::trade::MEANS;
pub(super) use super::trade::MIND;
pub(super) use super::trade::OUTSIDE;
pub(super) use super::trade::PASSIVE;
pub(super) use super::trade::PULLS;
pub(super) use super::trade::QUALITIES;
pub(super) use super::trade::RECALLS;
pub(super) use super::trade::ROLES;
pub(super) use super::trade::SEEN_VERBS;
pub(super) use super::trade::SUBSTANCES;
pub(super) use super::trade::WAYS;

/// Whether a sorted list has the word.
pub(super) fn among(list: &[&str], word: &str) -> bool {
    list.binary_search(&word).is_ok()
}

/// Whether a word is grammar alone, so that a dictionary of nouns and verbs has nothing to say about it.
pub(super) fn closed(word: &str) -> bool {
    [LEADS_ALONE, FIRST, BE, OWN, THEM, ANYONE, PREP, NOT, MODAL, DUTY, JOIN, SELF]
        .into_iter()
        .any(|list| among(list, word))
}

/// Whether a word stands in a list of the trade, so that it is no typing slip.
pub(super) fn named(word: &str) -> bool {
    [ROLES, OUTSIDE, LABELS, FEELING_NOUNS, AIM_NOUNS, INNER_VERBS, GOOD_TRAITS, BAD_TRAITS, BODY_WORDS]
        .into_iter()
        .any(|list| among(list, word))
}

/// The usual spelling of a short form or a frequent slip.
pub(super) fn short_form(word: &str) -> Option<&'static str> {
    SHORT_FORMS.binary_search_by(|(short, _)| (*short).cmp(word)).ok().map(|at| SHORT_FORMS[at].1)
}

/// What may stand before a head without changing it.
pub(super) const LEADS: &[&str] = &[
    "actually", "again", "also", "always", "and", "basically", "but", "constantly", "early", "either",
    "erm", "even", "finally", "first", "generally", "gently", "honestly", "immediately", "instead", "just",
    "kinda", "late", "like", "literally", "maybe", "more", "mostly", "now", "often", "ok", "okay", "once",
    "or", "please", "plus", "probably", "quietly", "really", "secretly", "simply", "slowly", "so",
    "sometimes", "still", "suddenly", "then", "to", "today", "tomorrow", "tonight", "uh", "um", "usually",
    "well", "yeah", "yesterday",
];

/// The person who writes.
pub(super) const FIRST: &[&str] = &[
    "i", "i'd", "i'll", "i'm", "i've", "myself", "we", "we're", "we've",
];

/// Forms of "be".
pub(super) const BE: &[&str] = &[
    "am", "are", "be", "been", "being", "i'm", "is", "was", "we're", "were",
];

/// What opens a noun phrase.
pub(super) const OWN: &[&str] = &[
    "a", "all", "an", "another", "any", "both", "each", "eight", "enough", "every", "few", "five", "four",
    "her", "his", "loads", "lots", "many", "most", "much", "my", "nine", "no", "our", "own", "seven",
    "several", "six", "some", "ten", "that", "the", "their", "these", "this", "those", "three", "two",
    "whose", "your",
];

/// Another person as a subject.
pub(super) const THEM: &[&str] = &[
    "he", "he'll", "he's", "it'll", "it's", "she", "she'll", "she's", "that's", "there's", "they",
    "they'll", "they're", "you", "you're",
];

/// Nobody in particular.
pub(super) const ANYONE: &[&str] = &[
    "anybody", "anyone", "everybody", "everyone", "everyone's", "folk", "folks", "no-one", "nobody",
    "others", "people", "somebody", "someone",
];

/// Prepositions.
pub(super) const PREP: &[&str] = &[
    "about", "across", "after", "against", "along", "among", "around", "as", "at", "away", "back", "before",
    "behind", "beside", "between", "by", "down", "during", "for", "from", "in", "inside", "into", "like",
    "near", "of", "off", "on", "onto", "out", "outside", "over", "past", "per", "round", "than", "through",
    "till", "toward", "towards", "under", "until", "up", "with", "without",
];

/// Negations.
pub(super) const NOT: &[&str] = &[
    "ain't", "aren't", "can't", "cannot", "couldn't", "didn't", "doesn't", "don't", "hadn't", "hasn't",
    "haven't", "isn't", "mustn't", "neither", "never", "not", "shouldn't", "wasn't", "weren't", "won't",
    "wouldn't",
];

/// Helping verbs that say what may be.
pub(super) const MODAL: &[&str] = &[
    "'ll", "can", "could", "gonna", "may", "might", "shall", "will", "would",
];

/// A should, a must.
pub(super) const DUTY: &[&str] = &[
    "gotta", "must", "mustn't", "needa", "ought", "should", "shouldn't",
];

/// What joins two clauses.
pub(super) const JOIN: &[&str] = &[
    "after", "although", "and", "as", "because", "before", "but", "if", "instead", "or", "since", "so",
    "then", "though", "until", "when", "which", "while", "whilst", "who",
];

/// Verbs whose past looks like their base.
pub(super) const PAST_ALIKE: &[&str] = &[
    "beat", "bet", "burst", "cast", "cost", "cut", "hit", "hurt", "let", "put", "quit", "read", "set",
    "shut", "split", "spread",
];

/// Words that WordNet has too few counts for, but that people mistype here.
pub(super) const OFTEN_MISTYPED: &[&str] = &[
    "anxiety", "anxious", "apologise", "arguing", "argument", "avoiding", "confidence", "confident",
    "depressed", "depression", "embarrassed", "embarrassment", "exercise", "exhausted", "guilty", "honest",
    "honesty", "isolate", "isolating", "jealous", "jealousy", "kindness", "loneliness", "lonely",
    "overthinking", "overwhelmed", "patience", "procrastinate", "procrastinating", "procrastination",
    "stressed", "worrying",
];

/// Oneself.
pub(super) const SELF: &[&str] = &[
    "herself", "himself", "me", "myself", "oneself", "yourself",
];

/// Leads that are nothing but grammar.
pub(super) const LEADS_ALONE: &[&str] = &[
    "also", "always", "and", "but", "erm", "instead", "just", "never", "often", "or", "so", "to", "uh",
    "um",
];

/// Short forms and frequent slips, with the usual spelling.
const SHORT_FORMS: &[(&str, &str)] = &[
    ("2moro", "tomorrow"),
    ("abt", "about"),
    ("alot", "lots"),
    ("angy", "angry"),
    ("anixety", "anxiety"),
    ("anxios", "anxious"),
    ("anxity", "anxiety"),
    ("anxiuos", "anxious"),
    ("anxous", "anxious"),
    ("arent", "aren't"),
    ("bc", "because"),
    ("becasue", "because"),
    ("becuase", "because"),
    ("bf", "boyfriend"),
    ("cant", "can't"),
    ("cause", "because"),
    ("confidance", "confidence"),
    ("cos", "because"),
    ("couldnt", "couldn't"),
    ("coz", "because"),
    ("cuz", "because"),
    ("definately", "definitely"),
    ("didnt", "didn't"),
    ("doesnt", "doesn't"),
    ("dont", "don't"),
    ("embarassed", "embarrassed"),
    ("every1", "everyone"),
    ("excercise", "exercise"),
    ("excersise", "exercise"),
    ("exersise", "exercise"),
    ("freind", "friend"),
    ("freinds", "friends"),
    ("gf", "girlfriend"),
    ("greatful", "grateful"),
    ("hasnt", "hasn't"),
    ("havent", "haven't"),
    ("hes", "he's"),
    ("im", "i'm"),
    ("isnt", "isn't"),
    ("ive", "i've"),
    ("jelous", "jealous"),
    ("kiddo", "kid"),
    ("lonley", "lonely"),
    ("mam", "mum"),
    ("mams", "mum"),
    ("meds", "medicine"),
    ("mom", "mum"),
    ("moms", "mum"),
    ("mums", "mum"),
    ("nan", "gran"),
    ("noone", "nobody"),
    ("ppl", "people"),
    ("procastinate", "procrastinate"),
    ("procastinating", "procrastinating"),
    ("procastination", "procrastination"),
    ("realy", "really"),
    ("recieve", "receive"),
    ("rly", "really"),
    ("self-confidence", "confidence"),
    ("selfcare", "self-care"),
    ("selfesteem", "self-esteem"),
    ("shes", "she's"),
    ("shouldnt", "shouldn't"),
    ("telly", "television"),
    ("thats", "that's"),
    ("theyll", "they'll"),
    ("theyre", "they're"),
    ("thier", "their"),
    ("tho", "though"),
    ("tv", "television"),
    ("u", "you"),
    ("ur", "your"),
    ("w", "with"),
    ("wasnt", "wasn't"),
    ("werent", "weren't"),
    ("whatsapp", "phone"),
    ("wierd", "weird"),
    ("wont", "won't"),
    ("wouldnt", "wouldn't"),
    ("youre", "you're"),
    ("youtube", "television"),
];

/// Verbs that are younger than WordNet or spelled another way there, with their lexicographer class.
pub(super) const NEW_VERBS: &[(&str, u8)] = &[
    ("agonise", 37), ("apologise", 32), ("babysat", 41), ("babysit", 41), ("binge", 34), ("binge-watch",
    39), ("catastrophise", 31), ("catastrophize", 31), ("cold-shoulder", 41), ("comfort-eat", 34),
    ("criticise", 32), ("declutter", 35), ("dm", 32), ("doom-scroll", 34), ("doomscrol", 34), ("doomscroll",
    34), ("e-mail", 32), ("email", 32), ("facetime", 32), ("fantasise", 31), ("gaslight", 41), ("ghost",
    41), ("google", 32), ("hoover", 35), ("job-hunt", 41), ("jog", 38), ("journal", 36), ("lie-in", 29),
    ("livestream", 32), ("memorise", 32), ("message", 32), ("micro-manage", 41), ("micromanage", 41),
    ("minimise", 30), ("organise", 41), ("over-analyse", 31), ("over-think", 31), ("overanalyse", 31),
    ("overanalyze", 31), ("overeat", 34), ("overshare", 32), ("overthink", 31), ("people-please", 41),
    ("practise", 41), ("prioritise", 41), ("rationalise", 31), ("re-check", 35), ("re-read", 32),
    ("realise", 31), ("recheck", 35), ("recognise", 31), ("reread", 32), ("scroll", 34), ("second-guess",
    31), ("self-harm", 35), ("self-isolate", 41), ("self-medicate", 34), ("self-sabotage", 41), ("snooze",
    29), ("socialise", 41), ("spiral", 31), ("stonewall", 41), ("text", 32), ("tiktok", 34), ("unfollow",
    41), ("unfriend", 41), ("upcycle", 36), ("vape", 34), ("vent", 32), ("volunteer", 41), ("whatsapp", 32),
    ("zoom", 32),
];

/// Every list, for the test that they are sorted.
#[cfg(test)]
const EVERY: &[&[&str]] = &[
    LEADS, FIRST, BE, OWN, THEM, ANYONE, PREP, NOT, MODAL, DUTY, JOIN, PAST_ALIKE, OFTEN_MISTYPED,
    INNER_VERBS, SEEN_VERBS, FELT, AIM_FELT, AIM_NOUNS, GOOD_TRAITS, BAD_TRAITS, LABELS, LABEL_VERBS, BIG,
    FIX, PASSIVE, APPROVAL, GOAL_VERBS, GOAL_NOUNS, GOALS, MEANS, END_STATES, ROLES, OUTSIDE, PULLS,
    RECALLS, MIND, INNER_ACTS, WAYS, SELF, SUBSTANCES, BODY_WORDS, QUALITIES, DISORDERS, FEELING_NOUNS,
    LEADS_ALONE,
];

#[cfg(test)]
mod tests {
    #[test]
    fn every_list_is_sorted() {
        for list in super::EVERY {
            assert!(list.is_sorted(), "{list:?}");
        }
        assert!(super::SHORT_FORMS.is_sorted());
        assert!(super::NEW_VERBS.is_sorted());
    }
}
