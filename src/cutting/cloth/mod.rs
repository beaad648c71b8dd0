//! Out of which sheet of cloth every square and every filler is cut.

mod cut;
mod model;
mod precut;
mod spare;
mod used;

pub use cut::{cut, cut_of};
pub use model::{Bin, Cloth, FabricCut, PairSquares, SheetCut, SheetKind};
pub use used::Used;

use rayon::prelude::*;
use typed_index_collections::TiVec;

use super::layout::PieceToCut;
use super::{Batch, FillerCut};
use crate::fabric::Print;
use crate::plan::Plan;

/// How each fabric of the plan is cut.
pub fn cut_all(plan: &Plan, batches: &[Batch], fillers: &[FillerCut]) -> TiVec<Print, FabricCut> {
    let prints: Vec<Print> = plan.fabrics.keys().collect();
    let cuts: Vec<FabricCut> = prints.into_par_iter().map(|print| cut_fabric(plan, batches, fillers, print)).collect();
    cuts.into()
}

fn cut_fabric(plan: &Plan, batches: &[Batch], fillers: &[FillerCut], index: Print) -> FabricCut {
    let fabric = &plan.fabrics[index];
    let pairs = batches.iter().filter(|batch| batch.first == index || batch.second == index);
    let squares = |b: &Batch| {
        let sides = u32::from(b.first == index) + u32::from(b.second == index);
        PairSquares { id: b.id.clone(), square: b.square, count: b.pairs.saturating_mul(sides) }
    };
    let squares: Vec<PairSquares> = pairs.map(squares).collect();
    let fillers = fillers.iter().filter(|filler| filler.fabric == index).map(|filler| PieceToCut {
        id: filler.id.clone(),
        width: filler.cut.width,
        height: filler.cut.height,
        count: filler.count,
        turn: true,
    });
    let mut cut = cut_of(fabric, &plan.request, &squares, fillers.collect());
    cut.name(&fabric.letter);
    cut
}
