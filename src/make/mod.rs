//! From a plan to the work: what to cut, what to sew to what, what is left and what to buy.

mod leftovers;
mod need;
mod sew;
mod shopping;
#[cfg(test)]
mod tests;
mod work;

pub use leftovers::{Leftovers, SpareCloth, SpareSquares, SpareStrips, SpareUnits};
pub use need::SquaresNeeded;
pub use shopping::{LengthToBuy, SquaresToBuy, Taken, ToBuy};
pub use work::{Press, RowWork, Source, Strip, UnitWork, Work};

use crate::cutting::{Cuts, cuts};
use crate::plan::Plan;

/// The work that sews `plan`.
pub fn make(plan: &Plan) -> Work {
    let cuts = cuts(plan);
    let rows = sew::Bench::new(plan, &plan.vocabulary(), &cuts).rows();
    let Cuts { batches, fillers, cloth, hand, .. } = cuts;
    Work { drift: sew::drift(plan), batches, fillers, cloth, hand: hand.used, rows }
}
