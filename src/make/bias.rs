//! Edges on the bias that end up on the outside of the top, where no seam holds them.

use std::collections::BTreeMap;

use super::{RowWork, Source, UnitWork};
use crate::cutting::Batch;
use crate::plan::{Address, Plan};
use crate::unit::{AtATime, Side};

/// Flags every such side; a unit is cut along the bias all round where it was made four at a time.
pub fn flag(plan: &Plan, batches: &[Batch], rows: &mut [RowWork]) {
    let all = || rows.iter().flat_map(|row| &row.units);
    let whole: BTreeMap<Address, bool> = all().map(|unit| (unit.placed.address, is_bias(batches, unit))).collect();
    let (width, height) = plan.request.cells();
    for unit in rows.iter_mut().flat_map(|row| &mut row.units) {
        let of = match unit.source {
            Source::Offcut(from) => from,
            _ => unit.placed.address,
        };
        if whole.get(&of).is_some_and(|bias| *bias) {
            let at = unit.placed;
            let outside = [
                (Side::Top, at.y == 0),
                (Side::Right, at.x + at.unit.width == width),
                (Side::Bottom, at.y + at.height == height),
                (Side::Left, at.x == 0),
            ];
            unit.bias = outside.into_iter().filter(|side| side.1).map(|side| side.0).collect();
        }
    }
}

/// Whether a unit that is not another's strip has its edges on the bias; one on hand is taken to be as its size is made.
fn is_bias(batches: &[Batch], unit: &UnitWork) -> bool {
    match unit.source {
        Source::Batch(index) => batches[index].at_a_time == AtATime::Four,
        Source::Hand(_) => unit.kind.starts_with(AtATime::Four.size()),
        _ => false,
    }
}
