//! From a plan to the work: which squares to pair, what to cut, what to sew to what.

mod batches;
mod fillers;
pub mod layout;
mod sew;
mod work;

pub use work::{Batch, FillerCut, Press, RowWork, Size, Source, Strip, UnitWork, Work};

use crate::plan::Plan;

/// The work that sews `plan`.
pub fn make(plan: &Plan) -> Work {
    let vocabulary = plan.vocabulary();
    let placed = plan.placed();
    let batches = batches::pair_up(&placed, &vocabulary);
    let fillers = fillers::cut_list(plan, &placed);
    let rows = sew::rows(plan, &vocabulary, &batches, &fillers);
    Work { drift: sew::drift(plan), batches, fillers, rows }
}
