//! The tests of what is computed from the map, and of the map itself.

mod cycles;
mod figures;
mod json;
mod lookback;
mod loops;
mod made;
mod map;
mod recount;
mod reference;
mod sequence;
mod side_by_side;
