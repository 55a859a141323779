//! What the screen needs of its files, worked out when the program is built, so that nobody waits for it before their first
//! words are looked at. `scripts/build.rs` writes it down, and `screen.rs` takes it up.
//!
//! A fault in a file is a fault of the build. Nothing here is in the program itself.

mod classes;
mod demands;
mod groups;
mod notation;
mod parts;
mod patterns;
mod slips;
mod spellings;
mod weights;

use std::fmt;

use serde::Serialize;
use serde::de::DeserializeOwned;

use spellings::spellings;

use crate::safety::people::People;

/// What is wrong with the files.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// A file is not of the right shape: what is wrong, and how the file begins.
    File(String, String),
    /// A group has no name, meaning or source.
    Untold(String),
    /// A row of a group breaks the notation.
    Row(String, notation::Fault),
    /// A row demands no word by which it could be found.
    NoDemand(String),
    /// A join names no two lists, or a group that is no sign.
    Join(String),
    /// A class, or the forms of a word, in two files.
    Twice(String),
    /// A row of the table of weights is not of the right shape.
    Weight(String),
    /// What was worked out cannot be written down.
    Unwritten(String),
}

/// For whoever builds: what is wrong, with the text to look for.
impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File(fault, start) => write!(out, "a file that begins with\n{start}\n{fault}"),
            Self::Untold(group) => write!(out, "the group \"{group}\" lacks a name, meaning or source"),
            Self::Row(row, fault) => write!(out, "the row\n{row}\n{fault:?}"),
            Self::NoDemand(row) => write!(out, "the row\n{row}\ndemands no word by which it could be found"),
            Self::Join(name) => write!(out, "a join names \"{name}\", which is no sign, or not two lists"),
            Self::Twice(name) => write!(out, "\"{name}\" is defined twice"),
            Self::Weight(row) => write!(out, "a row of the table of weights is not as it must be\n{row}"),
            Self::Unwritten(fault) => write!(out, "what was worked out cannot be written down: {fault}"),
        }
    }
}

/// What was worked out, written down in the parts that are taken up by themselves.
#[derive(Debug)]
pub(crate) struct Written {
    /// The patterns that are looked for sentence by sentence.
    pub sentences: Vec<u8>,
    /// All that the screen needs beside: the patterns for sentences read together, spellings, people and weights.
    pub rest: Vec<u8>,
    /// What the files say of each group for readers and tests.
    pub examples: Vec<u8>,
}

/// Works all of it out.
///
/// # Errors
///
/// The first [`Fault`] that is met in the files.
pub(crate) fn written() -> Result<Written, Fault> {
    let classes = classes::Classes::new()?;
    let of_sentences = groups::groups(&groups::FILES)?;
    let of_answers = groups::groups(&groups::FILES_OF_ANSWERS)?;
    let sentences = patterns::patterns(&of_sentences, &classes, &classes.commonest)?;
    // Few sentences are worth reading together, so that in these a common word says next to nothing.
    let commonest = [classes.commonest.as_str(), &classes.common].join(" ");
    let answers = patterns::patterns(&of_answers, &classes, &commonest)?;
    let examples: Vec<_> = of_sentences
        .into_iter()
        .chain(of_answers)
        .map(groups::InFile::examples)
        .collect();
    Ok(Written {
        sentences: write(&sentences)?,
        rest: write(&(answers, spellings()?, people()?, weights::weighing()?))?,
        examples: write(&examples)?,
    })
}

/// The words by which people are known.
pub(in crate::safety) fn people() -> Result<People, Fault> {
    read(include_str!("../patterns/people.toml"))
}

fn write(what: &impl Serialize) -> Result<Vec<u8>, Fault> {
    postcard::to_allocvec(what).map_err(|fault| Fault::Unwritten(fault.to_string()))
}

fn read<T: DeserializeOwned>(file: &str) -> Result<T, Fault> {
    toml::from_str(file).map_err(|fault| {
        let start = file.chars().take(80).collect();
        Fault::File(fault.to_string(), start)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_program_holds_is_what_its_files_say() {
        let written = written().expect("sound files");
        assert!(written.sentences == crate::safety::screen::OF_SENTENCES);
        assert!(written.rest == crate::safety::screen::REST);
        assert!(written.examples == crate::safety::EXAMPLES);
    }
}
