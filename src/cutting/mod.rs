//! What is cut, out of which cloth, and whether that suffices: pairs of squares, fillers, the sheets that give them.

mod batches;
mod cloth;
mod cuts;
mod fillers;
mod lacking;
pub mod layout;
mod model;
mod numbers;
mod offcuts;
mod on_hand;
mod reach;

pub use cloth::{Bin, Cloth, FabricCut, PairSquares, SheetCut, SheetKind, Used, cut, cut_of};
pub use cuts::numbers;
pub use lacking::{Lacking, lacking};
pub use model::{Batch, FillerCut, HandPiece, Size, Upright};
pub use reach::{gives_filler, largest_fillers};

pub(crate) use batches::UnitsLeft;
pub(crate) use cuts::{Cuts, cuts};
pub(crate) use fillers::cut_size;
pub(crate) use numbers::made_batches;
pub(crate) use offcuts::{Offcuts, Ribbon, cut_off, remains, used};
