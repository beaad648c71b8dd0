//! What is cut for one top, but for its sheets of cloth.

use crate::fabric::Print;
use crate::measure::Length;
use crate::plan::Item;
use crate::unit::{AtATime, Square};

/// Pairs of squares that are sewn alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Batch {
    /// `P1`, `P2` and so on.
    pub id: String,
    /// First fabric, by index.
    pub first: Print,
    /// Second fabric, by index, after the first.
    pub second: Print,
    /// What units of this size are called: `big`, `small` or `mini`.
    pub size: &'static str,
    /// The squares that are paired.
    pub square: Square,
    /// The method.
    pub at_a_time: AtATime,
    /// The size that each unit is trimmed to.
    pub trimmed: Length,
    /// The size that each unit finishes at.
    pub finished: Length,
    /// Pairs to sew: one square of each fabric a pair.
    pub pairs: u32,
    /// Units that the scene uses.
    pub needed: u32,
}

impl Batch {
    /// Units that the pairs give.
    pub fn made(&self) -> u32 {
        self.pairs * self.at_a_time.yields()
    }

    /// Units left over.
    pub fn spare(&self) -> u32 {
        self.made().saturating_sub(self.needed)
    }
}

/// Pieces of one kind on hand, and how many of them the scene uses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HandPiece {
    /// `H1`, `H2` and so on, or the number that it was made under.
    pub id: String,
    /// What it is; fabrics by index, sizes in cells.
    pub item: Item,
    /// How many there are.
    pub there: u32,
    /// How many the scene uses.
    pub used: u32,
}

impl HandPiece {
    /// Whether it was made by an earlier list, under whose number it lies.
    pub fn was_made_so(&self) -> bool {
        !self.id.starts_with('H')
    }
}

/// Fillers of one fabric and one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FillerCut {
    /// `F1`, `F2` and so on.
    pub id: String,
    /// Fabric, by index.
    pub fabric: Print,
    /// Size as cut.
    pub cut: Size,
    /// How many.
    pub count: u32,
}

/// A width and a height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Size {
    /// Along the row.
    pub width: Length,
    /// Across the row.
    pub height: Length,
}

impl Size {
    /// The size with two seams more each way.
    pub fn unfinished(self, both_seams: Length) -> Self {
        Self { width: self.width + both_seams, height: self.height + both_seams }
    }
}
