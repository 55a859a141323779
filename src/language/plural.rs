//! Which form a word takes beside a number, by the rules of its language (Unicode CLDR, through `intl_pluralrules`).

use std::sync::LazyLock;

use intl_pluralrules::PluralCategory;
use intl_pluralrules::PluralRuleType;
use intl_pluralrules::PluralRules;
use unic_langid::LanguageIdentifier;

use crate::language::spoken;

/// The form for this number in the language that is spoken: `zero`, `one`, `two`, `few`, `many` or `other`.
#[must_use]
pub fn category(count: u64) -> &'static str {
    static RULES: LazyLock<Option<PluralRules>> = LazyLock::new(|| rules(spoken().tag()));
    RULES.as_ref().map_or("other", |rules| chosen(rules, count))
}

/// The forms that a language has, such as `one` and `other` for English; nothing for a language whose rules are not
/// known. A form that only very large numbers take is found too.
#[must_use]
pub fn forms(language: &str) -> Vec<&'static str> {
    let Some(rules) = rules(language) else {
        return Vec::new();
    };
    let mut forms = Vec::new();
    for count in (0..=200).chain([1_000, 10_000, 1_000_000]) {
        let form = chosen(&rules, count);
        if !forms.contains(&form) {
            forms.push(form);
        }
    }
    forms.sort_by_key(|form| ALL.iter().position(|one| one == form));
    forms
}

/// Every form that there is, in the order of the standard.
const ALL: [&str; 6] = ["zero", "one", "two", "few", "many", "other"];

fn rules(language: &str) -> Option<PluralRules> {
    // The pseudo-language is made from English and counts as it does.
    let language = if language == "qaa" { "en" } else { language };
    let language: LanguageIdentifier = language.parse().ok()?;
    PluralRules::create(language, PluralRuleType::CARDINAL).ok()
}

fn chosen(rules: &PluralRules, count: u64) -> &'static str {
    match rules.select(count) {
        Ok(PluralCategory::ZERO) => "zero",
        Ok(PluralCategory::ONE) => "one",
        Ok(PluralCategory::TWO) => "two",
        Ok(PluralCategory::FEW) => "few",
        Ok(PluralCategory::MANY) => "many",
        Ok(PluralCategory::OTHER) | Err(_) => "other",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_language_has_its_forms() {
        // From the chart of the Unicode CLDR, cardinal forms of whole numbers; from memory.
        for (language, expected) in [
            ("en", &["one", "other"][..]),
            ("ja", &["other"]),
            ("pl", &["one", "few", "many"]),
            ("ar", &["zero", "one", "two", "few", "many", "other"]),
            ("sl", &["one", "two", "few", "other"]),
        ] {
            assert_eq!(forms(language), expected, "{language}");
        }
        assert!(forms("no language").is_empty());
    }

    #[test]
    fn one_alone_is_one_in_english() {
        let form = |count| chosen(&rules("en").expect("known"), count);
        assert_eq!(
            [0, 1, 2, 11, 101].map(form),
            ["other", "one", "other", "other", "other"]
        );
    }
}
