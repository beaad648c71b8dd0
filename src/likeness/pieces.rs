//! What a scene is sewn from, counted.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::plan::{Piece, Plan};
use crate::unit::Cut;

/// Counts of a scene's units by what they are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct PieceCounts {
    /// All units.
    pub units: usize,
    /// Whole triangle units.
    pub whole: usize,
    /// Triangle units with a strip cut off.
    pub trimmed: usize,
    /// Such strips, used.
    pub slices: usize,
    /// Rectangles of one fabric.
    pub fillers: usize,
    /// Cells of triangle units, of all cells.
    pub triangle_cells: (u64, u64),
}

impl PieceCounts {
    /// Area of triangle units in whole per cent of the top.
    pub fn triangle_share(&self) -> u64 {
        let (triangles, all) = self.triangle_cells;
        triangles * 100 / all.max(1)
    }
}

/// Counts the units of a scene.
pub fn pieces(plan: &Plan) -> PieceCounts {
    let mut pieces = PieceCounts::default();
    for placed in plan.placed() {
        let area = u64::from(placed.unit.width) * u64::from(placed.height);
        pieces.units += 1;
        pieces.triangle_cells.1 += area;
        let count = match placed.unit.piece {
            Piece::Filler(_) => &mut pieces.fillers,
            Piece::Triangle(triangle) => {
                pieces.triangle_cells.0 += area;
                match triangle.cut {
                    Cut::Whole => &mut pieces.whole,
                    Cut::Trimmed => &mut pieces.trimmed,
                    Cut::Slice => &mut pieces.slices,
                }
            }
        };
        *count += 1;
    }
    pieces
}
