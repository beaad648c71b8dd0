//! How pieces are cut out of cloth: strips across the width, then each strip across into pieces.

mod bound;
mod build;
mod filler;
mod knapsack;
mod lay_out;
mod least;
mod length;
mod model;
mod one_sheet;
mod order;
mod place;
mod proven;
mod search;
mod sheets;
mod simplex;

#[cfg(feature = "internals")]
pub use lay_out::lay_out;
pub use lay_out::lay_out_with;
pub use least::least_sheets;
pub use model::{
    Layout, LayoutEffort, LayoutError, PieceAt, PieceToCut, Remain, Sheet, SheetLayout, StripCut, Unplaced,
};
