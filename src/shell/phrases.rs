//! What the program itself says, apart from its dialogues: the words file is read by the language room.

use crate::language;

pub(crate) use crate::language::counted;
pub(crate) use crate::language::filled;

/// A phrase by its name. A name that is missing says its own name, so that nothing is ever silent.
pub(crate) fn phrase(name: &str) -> String {
    language::filled(name, &[])
}
