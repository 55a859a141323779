//! The reduced WordNet against WordNet itself, read live by NLTK in the pinned Python environment.

use std::collections::BTreeMap;

use wayfold::coach::Part;
use wayfold::coach::lemma;
use wayfold::coach::lemmas;
use wayfold::coach::look_up;

use crate::python;

fn reference<T: serde::de::DeserializeOwned>(what: &str) -> T {
    let answer = python::printed("reference/coach_wordnet.py", &[what], &[]);
    serde_json::from_slice(&answer).expect("the reference answers in JSON")
}

fn part(letter: &str) -> Part {
    match letter {
        "n" => Part::Noun,
        "v" => Part::Verb,
        "a" => Part::Adjective,
        _ => Part::Adverb,
    }
}

/// NLTK's `WordNetLemmatizer` on the 2,000 commonest words that WordNet knows, in each part of speech. Like
/// it, a word without a base stays as it is. The explanations that are allowed for a difference: both are
/// bases of the word, and NLTK takes the shortest where we take the one met most often; or the base is so
/// rare that the reduction leaves it out.
#[test]
fn bases_agree_with_nltk_on_two_thousand_words() {
    let rows: Vec<(String, String, Vec<String>, String)> = reference("lemmas");
    let words = rows
        .iter()
        .map(|row| &row.0)
        .collect::<std::collections::BTreeSet<_>>()
        .len();
    assert_eq!(words, 2000);
    let (mut same_bases, mut oftener, mut left_out) = (0_usize, Vec::new(), Vec::new());
    for (word, letter, theirs, picked) in &rows {
        let part = part(letter);
        let ours = lemmas(word, part);
        assert!(
            ours.iter().all(|base| theirs.contains(base)),
            "{word} {letter}: {ours:?} {theirs:?}"
        );
        for base in theirs.iter().filter(|base| !ours.contains(base)) {
            let known = look_up(base).and_then(|known| known.part(part));
            assert!(
                known.is_none(),
                "{word} {letter}: {base} is in the table but was not found"
            );
        }
        same_bases += usize::from(theirs.iter().all(|base| ours.contains(base)));
        let mine = lemma(word, part).unwrap_or_else(|| word.clone());
        if mine != *picked {
            let found = format!("{word} {letter}: {mine}, NLTK {picked}");
            if ours.contains(picked) {
                oftener.push(found);
            } else {
                left_out.push(found);
            }
        }
    }
    let of = rows.len() as f64;
    let agreement = 1.0 - (oftener.len() + left_out.len()) as f64 / of;
    let all_bases = same_bases as f64 / of;
    let report = format!(
        "{of} pairs of word and part: lemma agrees {agreement:.4}; all bases agree {all_bases:.4}\n\
         met oftener than NLTK's shortest: {oftener:#?}\nleft out by the reduction: {left_out:#?}"
    );
    assert!(agreement >= 0.99, "{report}");
    assert!(all_bases >= 0.96, "{report}");
}

/// The class that carries most weight, as NLTK's senses and counts give it with the weighting of the
/// reduction.
#[test]
fn classes_agree_with_wordnet() {
    let rows: Vec<(String, String, BTreeMap<u8, f64>)> = reference("classes");
    let mut compared = 0;
    for (word, letter, weights) in &rows {
        let Some(senses) = look_up(word).and_then(|known| known.part(part(letter))) else {
            continue;
        };
        let most = weights.values().copied().fold(0.0, f64::max);
        let total: f64 = weights.values().sum();
        compared += 1;
        let ours = weights.get(&senses.first).copied().unwrap_or(0.0);
        assert!(
            ours >= most - 1e-9,
            "{word} {letter}: class {} of {weights:?}",
            senses.first
        );
        let share = 7.0 * most / total;
        assert!(
            (share - f64::from(senses.share)).abs() <= 0.5 + 1e-9,
            "{word} {letter}: share {share}"
        );
    }
    assert!(
        compared * 100 >= rows.len() * 97,
        "only {compared} of {} are in the table",
        rows.len()
    );
}

/// Forms under WordNet's rules of detachment and from its exception lists (morphy(7WN), from memory).
#[test]
fn published_examples() {
    let check = |form: &str, part: Part, base: &str| {
        assert!(
            lemmas(form, part).iter().any(|found| found == base),
            "{form}: {base}"
        );
    };
    check("axes", Part::Noun, "axis");
    check("axes", Part::Noun, "ax");
    check("children", Part::Noun, "child");
    check("hurried", Part::Verb, "hurry");
    check("rang", Part::Verb, "ring");
    check("fed", Part::Verb, "feed");
    check("happier", Part::Adjective, "happy");
    assert_eq!(lemma("felt", Part::Verb).as_deref(), Some("feel"));
}
