//! How large a filler a fabric gives in one piece.

use crate::fabric::{Fabric, Oddment};
use crate::measure::Length;
use crate::plan::Request;

/// Finished sizes of the largest fillers that a fabric's sheets give, each way that they may lie: along the row, across.
pub fn largest_fillers(fabric: &Fabric, request: &Request) -> Vec<[Length; 2]> {
    // The spare of row ends lies along the row, so the two sides of what a square gives may differ.
    let gives = |along: Length, across: Length| {
        [request.filler_limit(along.min(request.cloth_width)), across - request.seam.both()]
    };
    let Some(supply) = &fabric.supply else {
        let side = fabric.only_squares.unwrap_or(request.cloth_width);
        return vec![gives(side, side)];
    };
    let ways = |sheet: Oddment| {
        let turned = (!fabric.directional).then(|| gives(sheet.height, sheet.width));
        [gives(sheet.width, sheet.height)].into_iter().chain(turned)
    };
    // A length's end comes off first.
    let lengths = supply.lengths().map(|sheet| Oddment { height: sheet.height - request.end_cut(), ..sheet });
    let squares = supply.sizes().into_iter().map(|(side, count)| Oddment { width: side, height: side, count });
    let others = supply.fat_quarters().into_iter().chain(supply.oddments.iter().copied());
    squares.chain(lengths).chain(others).filter(|sheet| sheet.count > 0).flat_map(ways).collect()
}

/// Whether a fabric gives a filler of this finished size in one piece.
pub fn gives_filler(fabric: &Fabric, request: &Request, [along, across]: [Length; 2]) -> bool {
    largest_fillers(fabric, request).iter().any(|most| along <= most[0] && across <= most[1])
}
