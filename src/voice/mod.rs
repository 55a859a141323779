//! See the crate's front page for what this room is for.
