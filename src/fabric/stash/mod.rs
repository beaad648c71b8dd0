//! What the maker has: a stash file of fabrics, what there is of each, and units on hand.

mod check;
mod error;
mod file;
mod model;

pub use error::{StashError, StashProblem};
pub use file::stash_schema;
pub use model::{FillerOnHand, Lean, Oddment, Print, SliceOnHand, Squares, Stash, Supply, UnitOnHand, Yardage};
