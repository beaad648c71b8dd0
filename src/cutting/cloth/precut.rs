//! Squares that are there at the size that pairs want: whole, or four quarters from one.

use super::cut::Table;
use super::model::PairSquares;
use crate::cutting::layout::{PieceAt, SheetLayout, StripCut};
use crate::measure::Length;

/// Quarters of a square.
const QUARTERS: u32 = 4;

impl Table {
    /// Gives pairs the squares that are there at their size, the largest first.
    pub(super) fn precut(&mut self, squares: &[PairSquares]) {
        let mut sides: Vec<Length> = squares.iter().map(|wanted| wanted.square.bought()).collect();
        sides.sort_unstable();
        sides.dedup();
        for side in sides.into_iter().rev() {
            let at_side = |quartered: bool| {
                let wanted = squares.iter().enumerate();
                let wanted = wanted.filter(move |(_, wanted)| wanted.square.bought() == side);
                wanted.filter(move |(_, wanted)| wanted.square.quartered == quartered).map(|(piece, _)| piece)
            };
            let bins = self.bins.iter().enumerate();
            let bin = bins.filter(|(_, bin)| bin.kind.is_square()).find(|(_, bin)| bin.sheet.width == side);
            let Some((bin, _)) = bin else { continue };
            at_side(false).for_each(|piece| self.whole(bin, piece));
            self.quartered(bin, &at_side(true).collect::<Vec<_>>());
        }
    }

    fn whole(&mut self, bin: usize, piece: usize) {
        let count = self.left[piece].min(self.bins[bin].sheet.count);
        self.take(bin, self.one(bin, &[piece]), count);
    }

    /// Four of each piece from a square, then four of what remains, then the last few where squares are bought.
    fn quartered(&mut self, bin: usize, pieces: &[usize]) {
        for &piece in pieces {
            let count = (self.left[piece] / QUARTERS).min(self.bins[bin].sheet.count);
            self.take(bin, self.one(bin, &[piece; 4]), count);
        }
        let rest = pieces.iter().flat_map(|&piece| vec![piece; self.left[piece].min(QUARTERS) as usize]);
        for four in rest.collect::<Vec<_>>().chunks(QUARTERS as usize) {
            let last = four.len() < QUARTERS as usize && !self.opens(bin);
            if self.bins[bin].sheet.count > 0 && !last {
                self.take(bin, self.one(bin, four), 1);
            }
        }
    }

    /// One piece that is the whole square, or up to four quarters.
    fn one(&self, bin: usize, pieces: &[usize]) -> SheetLayout {
        let side = self.bins[bin].sheet.width;
        let cuts = |row: &[usize]| {
            let mut at = Length::ZERO;
            let mut cuts = Vec::new();
            for &piece in row {
                let width = self.pieces[piece].width;
                cuts.push(PieceAt { piece, at, width, height: width, turned: false });
                at += width;
            }
            cuts
        };
        let mut strips: Vec<StripCut> = Vec::new();
        for row in pieces.chunks(2) {
            let at = strips.last().map_or(Length::ZERO, |strip| strip.at + strip.height);
            strips.push(StripCut { at, height: self.pieces[row[0]].width, cuts: cuts(row) });
        }
        let used_length = strips.iter().map(|strip| strip.height).sum();
        let (width, height) = (side, Some(side));
        SheetLayout { sheet: bin, copy: 0, turned: false, width, height, strips, used_length, bound: Length::ZERO }
    }
}
