//! Every unit that the maker's squares can give, as sizes and as shapes on the grid.

use super::{AtATime, Cut, Square};
use crate::measure::{Length, Seam};

/// A whole triangle unit: one square, one method.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// The square that is paired.
    pub square: Square,
    /// The method.
    pub at_a_time: AtATime,
    /// The unfinished size before trimming, rounded down to a tick.
    pub exact_unfinished: Length,
    /// The size that the unit is trimmed to: finished + 2 seams.
    pub trimmed: Length,
    /// The finished size.
    pub finished: Length,
    /// What may be cut off, and what then finishes.
    pub mains: Vec<Strip>,
    /// Strips that may be used themselves, and what they finish at.
    pub slices: Vec<Strip>,
}

/// A cut across a unit, and the finished width of the part that is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strip {
    /// Raw width of the strip that is cut off.
    pub cut: Length,
    /// Finished width of the part used.
    pub finished: Length,
}

/// A triangle unit's rectangle in a row, in cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Shape {
    /// Height, that of its row.
    pub height: u32,
    /// Width.
    pub width: u32,
    /// Finished side of the whole unit.
    pub block: u32,
    /// Which part of it.
    pub cut: Cut,
}

impl Shape {
    /// A whole unit of a side.
    pub fn whole(side: u32) -> Self {
        Self { height: side, width: side, block: side, cut: Cut::Whole }
    }
}

/// Why squares, seam and grid make no vocabulary.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum VocabularyError {
    /// The square gives no unit.
    #[error(
        "a square of {square} with a seam of {seam} finishes no triangle unit on a grid of {grid}: take a larger square, a narrower seam or a finer grid"
    )]
    NoUnit {
        /// Side of the square.
        square: Length,
        /// The working seam.
        seam: Length,
        /// The grid.
        grid: Length,
    },
    /// The unit has too many cells.
    #[error("a unit of {finished} is more than {limit} cells of {grid} wide: take a coarser grid")]
    TooFine {
        /// Finished side.
        finished: Length,
        /// The grid.
        grid: Length,
        /// Most cells a side.
        limit: u32,
    },
}

/// Every unit that the squares can give.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Vocabulary {
    /// The whole units, by square and then big to mini.
    pub blocks: Vec<Block>,
    /// The grid.
    pub grid: Length,
    /// The seam.
    pub seam: Seam,
    /// The least finished side of a filler, a trimmed unit or a slice.
    pub least: Length,
}

impl Vocabulary {
    /// Most cells along a whole unit's side.
    pub const MOST_CELLS: u32 = 48;

    /// The vocabulary of `squares`; the smaller a unit, the fewer of `strips` (narrowest first) come off.
    pub fn new(
        squares: &[Square],
        seam: Seam,
        grid: Length,
        strips: &[Length],
        least: Length,
    ) -> Result<Self, VocabularyError> {
        let mut vocabulary = Self { blocks: Vec::new(), grid, seam, least };
        for &square in squares {
            let before = vocabulary.blocks.len();
            for (smaller, at_a_time) in AtATime::ALL.into_iter().enumerate() {
                let strips = &strips[..strips.len().saturating_sub(smaller)];
                vocabulary.blocks.extend(vocabulary.block(square, at_a_time, strips));
            }
            if vocabulary.blocks.len() == before {
                return Err(VocabularyError::NoUnit { square: square.cut, seam: seam.working, grid });
            }
        }
        let widest = vocabulary.blocks.iter().map(|b| b.finished).max().unwrap_or_default();
        if widest.floor_div(grid) > i64::from(Self::MOST_CELLS) {
            return Err(VocabularyError::TooFine { finished: widest, grid, limit: Self::MOST_CELLS });
        }
        Ok(vocabulary)
    }

    /// Sides of the whole units in cells, each once, from small to large.
    pub fn sides(&self) -> Vec<u32> {
        let mut sides: Vec<u32> = self.blocks.iter().map(|block| self.cells(block.finished)).collect();
        sides.sort_unstable();
        sides.dedup();
        sides
    }

    fn block(&self, square: Square, at_a_time: AtATime, strips: &[Length]) -> Option<Block> {
        let exact_unfinished = at_a_time.exact_unfinished(square.cut, self.seam.working);
        let finished = at_a_time.finished(square.cut, self.seam.working, self.grid);
        let fits = |strip: &Strip| strip.finished >= self.least && strip.finished < finished;
        let main = |&cut: &Length| Strip { cut, finished: finished - cut };
        let mut slices: Vec<Strip> = strips.iter().map(|&cut| self.slice(cut)).filter(fits).collect();
        slices.dedup();
        (finished >= self.least).then(|| Block {
            square,
            at_a_time,
            exact_unfinished,
            trimmed: finished + self.seam.both(),
            finished,
            mains: strips.iter().filter(|cut| cut.is_multiple_of(self.grid)).map(main).filter(fits).collect(),
            slices,
        })
    }

    /// The widest slice on the grid from a strip of `cut`; cut exactly where one cut gives main and slice.
    fn slice(&self, cut: Length) -> Strip {
        let finished = self.grid * (cut - self.seam.both()).floor_div(self.grid);
        Strip { cut: finished + self.seam.both(), finished }
    }

    /// A length on the grid as a count of cells.
    pub fn cells(&self, length: Length) -> u32 {
        u32::try_from(length.floor_div(self.grid)).unwrap_or(0)
    }

    /// The least side of a filler in cells.
    pub fn least_cells(&self) -> u32 {
        u32::try_from(self.least.ceil_div(self.grid)).unwrap_or(u32::MAX).max(1)
    }

    /// The largest unit's side in cells.
    pub fn largest_cells(&self) -> u32 {
        self.blocks.iter().map(|block| self.cells(block.finished)).max().unwrap_or(1)
    }

    /// All shapes once each, by height and width; whole before trimmed before slice where two agree.
    pub fn shapes(&self) -> Vec<Shape> {
        let mut shapes: Vec<Shape> = self.blocks.iter().flat_map(|block| self.shapes_of(block)).collect();
        shapes.sort_by_key(|s| (s.height, s.width, s.cut, s.block));
        shapes.dedup_by_key(|s| (s.height, s.width));
        shapes
    }

    /// Raw width of the strip that is cut off the whole unit for a part of it, or that the part is.
    pub fn strip_cut(&self, part: Shape) -> Option<Length> {
        let short = part.width.min(part.height);
        match part.cut {
            Cut::Whole => None,
            Cut::Trimmed => Some(self.grid * part.block.saturating_sub(short)),
            Cut::Slice => Some(self.grid * short + self.seam.both()),
        }
    }

    fn shapes_of(&self, unit: &Block) -> Vec<Shape> {
        let block = self.cells(unit.finished);
        let strip = |cut: Cut| {
            move |strip: &Strip| {
                let part = self.cells(strip.finished);
                [(block, part), (part, block)].map(|(height, width)| Shape { height, width, block, cut })
            }
        };
        let mut shapes = vec![Shape::whole(block)];
        shapes.extend(unit.mains.iter().flat_map(strip(Cut::Trimmed)));
        shapes.extend(unit.slices.iter().flat_map(strip(Cut::Slice)));
        shapes
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Ruler;

    fn inches(halves: &[i64]) -> Vec<Length> {
        halves.iter().map(|&n| Length::inches(n, 2)).collect()
    }

    fn ten_inch(least: Length) -> Vocabulary {
        let seam = Seam::measured(Length::inches(1, 4), Ruler::Inch);
        let squares = ["10in".parse().unwrap()];
        Vocabulary::new(&squares, seam, Length::inches(1, 2), &inches(&[2, 4, 6]), least).unwrap()
    }

    #[test]
    fn one_cut_gives_a_main_and_a_slice() {
        let vocabulary = ten_inch(Length::inches(1, 2));
        let widths = |strips: &[Strip]| strips.iter().map(|s| s.finished).collect::<Vec<_>>();
        assert_eq!(widths(&vocabulary.blocks[0].mains), inches(&[16, 14, 12]));
        assert_eq!(widths(&vocabulary.blocks[0].slices), inches(&[1, 3, 5]));
        assert_eq!(widths(&vocabulary.blocks[1].mains), inches(&[10, 8]));
        assert_eq!(widths(&vocabulary.blocks[2].mains), inches(&[6]));
    }

    #[test]
    fn shapes_stand_once_and_lie_both_ways() {
        let shapes = ten_inch(Length::INCH).shapes();
        assert!(shapes.contains(&Shape { height: 18, width: 16, block: 18, cut: Cut::Trimmed }));
        assert!(shapes.contains(&Shape { height: 16, width: 18, block: 18, cut: Cut::Trimmed }));
        assert!(shapes.contains(&Shape { height: 3, width: 18, block: 18, cut: Cut::Slice }));
        assert!(shapes.windows(2).all(|two| two[0] < two[1]));
    }

    #[test]
    fn off_the_grid_seams_cut_slices_of_their_own() {
        let seam = Seam::measured(Length::MM * 15i64 / 2, Ruler::Metric);
        let square = "25cm".parse().unwrap();
        let vocabulary =
            Vocabulary::new(&[square], seam, Length::CM, &[2i64, 4, 6].map(|n| Length::CM * n), Length::CM * 2i64)
                .unwrap();
        let slice = vocabulary.blocks[0].slices[0];
        assert_eq!((slice.cut, slice.finished), (Length::mm(35), Length::mm(20)));
    }
}
