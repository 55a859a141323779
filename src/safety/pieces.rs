//! Cuts a text at a mark, for pieces of a few letters: words, columns, choices. `str::split` looks for its mark in blocks,
//! which pays for long pieces only, and takes several times as long here.

/// The pieces between the marks, like `str::split`. The mark is an ASCII byte, so that every cut is between characters.
pub(super) fn pieces(text: &str, mark: u8) -> impl Iterator<Item = &str> {
    debug_assert!(mark.is_ascii());
    let mut rest = Some(text);
    std::iter::from_fn(move || {
        let text = rest?;
        let end = text.bytes().position(|byte| byte == mark);
        rest = end.map(|end| &text[end + 1..]);
        Some(end.map_or(text, |end| &text[..end]))
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn the_pieces_are_those_of_the_standard_library(text in "[a/é ]{0,12}") {
            for mark in [b'/', b' '] {
                let expected: Vec<&str> = text.split(mark as char).collect();
                prop_assert_eq!(pieces(&text, mark).collect::<Vec<_>>(), expected);
            }
        }
    }
}
