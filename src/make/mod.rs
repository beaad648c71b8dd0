//! From a plan to the work: what to cut, what to sew to what, what is left and what to buy.

mod bias;
mod effort;
mod finishing;
mod leftovers;
mod need;
mod packets;
mod press;
mod remedy;
mod seams;
mod sew;
mod share;
mod shopping;
mod steps;
#[cfg(test)]
mod tests;
mod work;

pub use effort::{Effort, Rates, efforts};
pub use finishing::{FinishCloth, FinishPart, Off, PartCut, PartOf, Ring, made};
pub use leftovers::{Leftovers, SpareCloth, SpareSquares, SpareStrips, SpareUnits};
pub use need::SquaresNeeded;
pub use packets::{Handed, Handover, JoinedRows, Meeting, Packet, Packets, packets};
pub use press::{Joint, Joints, Tone, Way, darker};
pub use remedy::{Remedy, RemedyWay, remedy};
pub use shopping::{LengthToBuy, SquaresToBuy, Taken, ToBuy};
pub use steps::{Chapter, Part, Step, Task, steps, ticked};
pub use work::{RowWork, Source, StripOff, UnitWork, Work};

use crate::cutting::{Cuts, cuts};
use crate::plan::Plan;

/// The work that sews `plan`.
pub fn make(plan: &Plan) -> Work {
    let cuts = cuts(plan);
    let mut rows = sew::Bench::new(plan, &plan.vocabulary(), &cuts).rows();
    bias::flag(plan, &cuts.batches, &mut rows);
    let joints = press::joints(plan, &cuts.hand.used, &rows);
    let Cuts { batches, fillers, cloth, hand, .. } = cuts;
    Work { drift: sew::drift(plan), batches, fillers, cloth, hand: hand.used, joints, rows }
}
