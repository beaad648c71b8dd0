//! All that is cut for a plan: what is on hand is used first, the rest comes out of cloth.

use typed_index_collections::TiVec;

use super::batches::pair_up;
use super::cloth::cut_all;
use super::fillers::cut_list;
use super::numbers::{number, with_these};
use super::offcuts::{Offcuts, used_again};
use super::on_hand::{Inventory, Taken};
use super::{Batch, FabricCut, FillerCut};
use crate::fabric::Print;
use crate::plan::{Numbers, Piece, Placed, Plan, State};

/// What is cut, and what stands for it.
pub(crate) struct Cuts {
    /// What is taken of what is on hand.
    pub hand: Taken,
    /// Strips used again.
    pub offcuts: Offcuts,
    /// Pairs of squares.
    pub batches: Vec<Batch>,
    /// Fillers.
    pub fillers: Vec<FillerCut>,
    /// The sheets that they are cut from, by fabric.
    pub cloth: TiVec<Print, FabricCut>,
}

/// What is cut for a plan.
pub(crate) fn cuts(plan: &Plan) -> Cuts {
    let Wanted { hand, offcuts, batches, fillers } = wanted(plan);
    let cloth = cut_all(plan, &batches, &fillers);
    Cuts { hand, offcuts, batches, fillers, cloth }
}

/// Every number that a plan's list gives, and those that lists before it gave.
pub fn numbers(plan: &Plan) -> Numbers {
    let Wanted { batches, fillers, .. } = wanted(plan);
    with_these(plan, &batches, &fillers)
}

/// What is wanted of cloth, before any is laid out.
struct Wanted {
    hand: Taken,
    offcuts: Offcuts,
    batches: Vec<Batch>,
    fillers: Vec<FillerCut>,
}

/// What a plan wants, numbered.
fn wanted(plan: &Plan) -> Wanted {
    let vocabulary = plan.vocabulary();
    // What is sewn is made, and takes nothing more.
    let placed: Vec<Placed> = plan.placed().into_iter().filter(|unit| unit.unit.state != State::Sewn).collect();
    let mut inventory = Inventory::new(plan);
    inventory.serve_cut(&placed);
    inventory.serve_slices(&placed);
    let open: Vec<Placed> = placed.iter().filter(|unit| !inventory.serves(unit.address)).copied().collect();
    let offcuts = used_again(&open, &vocabulary);
    inventory.serve_rest(plan, &open, &offcuts);
    let made = |unit: &&Placed| !inventory.serves(unit.address) && !offcuts.from.contains_key(&unit.address);
    let (mut sewn, mut plain) = (Vec::new(), Vec::new());
    for unit in placed.iter().filter(made) {
        match unit.unit.piece {
            Piece::Filler(fabric) => plain.push((fabric, *unit)),
            Piece::Triangle(triangle) => sewn.push(triangle),
        }
    }
    let mut batches = pair_up(&sewn, &vocabulary, &plan.fabrics);
    let mut fillers = cut_list(plan, &plain);
    number(plan, &mut batches, &mut fillers);
    Wanted { hand: inventory.taken(plan), offcuts, batches, fillers }
}
