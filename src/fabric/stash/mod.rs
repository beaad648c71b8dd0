//! What the maker has: a stash file of fabrics, what there is of each, and units on hand.

mod alike;
mod check;
mod error;
mod families;
mod file;
mod lenient;
mod mend;
mod model;
mod notes;
mod palette;
mod totals;
mod write;

pub use error::{StashError, StashProblem};
pub use families::Proposal;
pub use file::stash_schema;
pub use model::{FillerOnHand, Lean, Oddment, OnHand, SliceOnHand, Squares, Stash, Supply, UnitOnHand, Yardage};
pub use notes::StashNote;
pub use totals::{FAT_QUARTER, SquaresGive, StashTotals};
