//! Reads the words by which people are known.

use serde::Deserialize;

use super::Fault;
use super::read;
use crate::safety::by_word::ByWord;
use crate::safety::people::People;

/// The file of words.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Lists {
    own: String,
    they: String,
    contracted: String,
    before_place: String,
    theirs: String,
    persons: String,
    behind: String,
    between: String,
    spoke: String,
    openings: String,
    verbs: String,
    things: String,
    infants: String,
    quoting: String,
    present: String,
    present_after: String,
    small: String,
    finds: String,
    suffers: String,
    acting: String,
    leading: String,
    learning: String,
}

/// Reads the file.
pub(in crate::safety) fn people() -> Result<People, Fault> {
    let lists: Lists = read(include_str!("../patterns/people.toml"))?;
    let words = |list: String| -> ByWord<()> { list.split_whitespace().map(|word| (word, ())).collect() };
    Ok(People {
        own: words(lists.own),
        they: words(lists.they),
        contracted: words(lists.contracted),
        before_place: words(lists.before_place),
        theirs: words(lists.theirs),
        persons: words(lists.persons),
        behind: words(lists.behind),
        between: words(lists.between),
        spoke: words(lists.spoke),
        openings: words(lists.openings),
        verbs: words(lists.verbs),
        things: words(lists.things),
        infants: words(lists.infants),
        quoting: words(lists.quoting),
        present: words(lists.present),
        present_after: words(lists.present_after),
        small: words(lists.small),
        finds: words(lists.finds),
        suffers: words(lists.suffers),
        acting: words(lists.acting),
        leading: words(lists.leading),
        learning: words(lists.learning),
    })
}
