//! Cloth used, against the least that any layout could use.

use super::model::{FabricCut, SheetCut, SheetKind};
use crate::cutting::layout::{PieceToCut, least_sheets};
use crate::measure::Length;

/// Most sizes that the fewest squares are worked out for; fewer pieces never need more squares.
const SIZES: usize = 60;

/// Lengths and squares that are cut, and the least that could be proven.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Used {
    /// Length of cloth that strips are cut off.
    pub length: Length,
    /// The least length that any layout of two stages takes for the same pieces.
    pub least_length: Length,
    /// Squares that fillers are cut from, of the stash or bought.
    pub squares: u64,
    /// The fewest squares of the largest side that could hold all that these squares give.
    pub least_squares: u64,
}

impl FabricCut {
    /// What its fillers take of lengths and of squares.
    pub fn used(&self) -> Used {
        let lengths = self.sheets.iter().filter(|sheet| sheet.layout.bound > Length::ZERO);
        let mut used = Used::default();
        for sheet in lengths {
            used.length += sheet.layout.used_length;
            used.least_length += sheet.layout.bound;
        }
        let filler = |sheet: &&SheetCut| sheet.layout.counts().keys().any(|&piece| piece >= self.squares);
        // Where lengths are bought too, squares give what is left of them.
        let lengths = self.cloth.iter().any(|bin| bin.kind == SheetKind::BoughtLength);
        let square = |sheet: &&SheetCut| sheet.kind.is_square() && filler(sheet) && !lengths;
        let sheets: Vec<&SheetCut> = self.sheets.iter().filter(square).collect();
        if let Some(side) = sheets.iter().map(|sheet| sheet.layout.width).max() {
            used.squares = sheets.iter().map(|sheet| u64::from(sheet.count)).sum();
            used.least_squares = least_sheets(&self.cut_from(&sheets), side, side).unwrap_or(0);
        }
        used
    }

    /// The pieces that some of its sheets give.
    fn cut_from(&self, sheets: &[&SheetCut]) -> Vec<PieceToCut> {
        let mut counts = vec![0_u32; self.pieces.len()];
        for sheet in sheets {
            for (piece, each) in sheet.layout.counts() {
                counts[piece] = counts[piece].saturating_add(each.saturating_mul(sheet.count));
            }
        }
        let counted = self.pieces.iter().zip(counts).filter(|(_, count)| *count > 0);
        counted.map(|(piece, count)| PieceToCut { count, ..piece.clone() }).take(SIZES).collect()
    }
}

impl std::iter::Sum for Used {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), |sum, used| Self {
            length: sum.length + used.length,
            least_length: sum.least_length + used.least_length,
            squares: sum.squares + used.squares,
            least_squares: sum.least_squares + used.least_squares,
        })
    }
}
