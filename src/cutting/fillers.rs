//! Which rectangles to cut.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::{FillerCut, Size};
use crate::fabric::Print;
use crate::plan::{Placed, Plan, Row};

/// What is cut for fillers, by fabric and then largest first.
pub fn cut_list(plan: &Plan, fillers: &[(Print, Placed)]) -> Vec<FillerCut> {
    let mut counts: BTreeMap<(Print, Reverse<Size>), u32> = BTreeMap::new();
    for (fabric, placed) in fillers {
        *counts.entry((*fabric, Reverse(cut_size(plan, placed)))).or_default() += 1;
    }
    let cuts =
        counts.into_iter().map(|((fabric, Reverse(cut)), count)| FillerCut { id: String::new(), fabric, cut, count });
    cuts.collect()
}

/// What is cut for a filler: unfinished, and the spare where it ends a row.
pub fn cut_size(plan: &Plan, placed: &Placed) -> Size {
    let request = &plan.request;
    let finished = Size { width: request.grid * placed.unit.width, height: request.grid * placed.height };
    let mut cut = finished.unfinished(request.seam.both());
    if ends_row(plan, placed) {
        cut.width += request.row_ends.extra(request.ruler);
    }
    cut
}

/// Whether a unit is the first or the last of its row.
pub fn ends_row(plan: &Plan, placed: &Placed) -> bool {
    let row = row_of(plan, placed);
    placed.address.unit == 1 || row.is_some_and(|row| row.units.len() == placed.address.unit)
}

fn row_of<'a>(plan: &'a Plan, placed: &Placed) -> Option<&'a Row> {
    let at = placed.address;
    plan.bands.get(at.band - 1)?.columns.get(at.column - 1)?.rows.get(at.row - 1)
}
