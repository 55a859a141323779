//! Coming back.
