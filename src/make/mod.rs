//! From a plan to the work: which squares to pair, what to cut, what to sew to what.

mod batches;
mod cloth;
mod fillers;
mod hand;
mod lacking;
pub mod layout;
mod leftovers;
mod need;
pub(crate) mod offcuts;
mod sew;
mod shopping;
#[cfg(test)]
mod tests;
mod work;

pub use cloth::{Bin, Cloth, FabricCut, PairSquares, SheetCut, SheetKind, Used, cut};
pub use lacking::Lacking;
pub use leftovers::{Leftovers, SpareCloth, SpareSquares, SpareStrips, SpareUnits};
pub use need::SquaresNeeded;
pub use shopping::{LengthToBuy, SquaresToBuy, Taken, ToBuy};
pub use work::{Batch, FillerCut, HandPiece, Press, RowWork, Size, Source, Strip, UnitWork, Work};

use offcuts::Offcuts;

use crate::plan::{Placed, Plan};

/// The work that sews `plan`.
pub fn make(plan: &Plan) -> Work {
    let vocabulary = plan.vocabulary();
    let placed = plan.placed();
    let mut shelf = hand::Shelf::new(plan);
    shelf.serve_slices(&placed);
    let open: Vec<Placed> = placed.iter().filter(|unit| !shelf.serves(unit.address)).copied().collect();
    let offcuts = offcuts::used_again(&open, &vocabulary);
    shelf.serve_rest(plan, &open, &offcuts);
    let made = |unit: &&Placed| !shelf.serves(unit.address) && !offcuts.from.contains_key(&unit.address);
    let made: Vec<Placed> = placed.iter().filter(made).copied().collect();
    let batches = batches::pair_up(&made, &vocabulary);
    let fillers = fillers::cut_list(plan, &made);
    let cloth = cloth::cut_all(plan, &batches, &fillers);
    let hand = shelf.taken();
    let rows = sew::Bench::new(plan, &vocabulary, &offcuts, &batches, &fillers, &hand).rows();
    Work { drift: sew::drift(plan), batches, fillers, cloth, hand: hand.used, rows }
}
