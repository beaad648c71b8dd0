//! From a plan to the work: which squares to pair, what to cut, what to sew to what.

mod batches;
mod fillers;
pub mod layout;
mod leftovers;
mod need;
pub(crate) mod offcuts;
mod sew;
#[cfg(test)]
mod tests;
mod work;

pub use leftovers::{Leftovers, SpareSquares, SpareStrips, SpareUnits};
pub use need::SquaresNeeded;
pub use work::{Batch, FillerCut, Press, RowWork, Size, Source, Strip, UnitWork, Work};

use crate::plan::{Placed, Plan};

/// The work that sews `plan`.
pub fn make(plan: &Plan) -> Work {
    let vocabulary = plan.vocabulary();
    let placed = plan.placed();
    let offcuts = offcuts::used_again(&placed, &vocabulary);
    let own: Vec<Placed> = placed.iter().filter(|unit| !offcuts.from.contains_key(&unit.address)).copied().collect();
    let batches = batches::pair_up(&own, &vocabulary);
    let fillers = fillers::cut_list(plan, &placed);
    let rows = sew::Bench::new(plan, &vocabulary, &offcuts, &batches, &fillers).rows();
    Work { drift: sew::drift(plan), batches, fillers, rows }
}
