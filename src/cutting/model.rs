//! What is cut for one top, but for its sheets of cloth.

use crate::fabric::Print;
use crate::measure::Length;
use crate::plan::Item;
use crate::unit::{AtATime, ByCorner, Corner, Diagonal, Square, upright_yields};

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
    /// How the squares are laid, where a print stands upright.
    pub upright: Option<Upright>,
}

/// How pairs are laid and counted of which a print stands upright in the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Upright {
    /// The diagonal that they are sewn along; none where along both.
    pub diagonal: Option<Diagonal>,
    /// Whether the second fabric lies below and not the first: face up, as it stands in the top.
    pub second_below: bool,
    /// Whether both stand: the one above is laid by a quarter, its top to the side of the diagonal's upper end.
    pub both: bool,
    /// Units that the scene uses, by the corner that the first fabric fills.
    pub needed: ByCorner,
}

impl Upright {
    /// The side that the top of the print above is to, where that stands too.
    pub fn top_to(&self) -> Option<&'static str> {
        self.diagonal.filter(|_| self.both).map(Diagonal::upper_end)
    }
}

impl Batch {
    /// The fabric whose square lies below, face up.
    pub fn below(&self, upright: Upright) -> Print {
        if upright.second_below { self.second } else { self.first }
    }

    /// The fabric whose square lies on it, face down.
    pub fn above(&self, upright: Upright) -> Print {
        if upright.second_below { self.first } else { self.second }
    }

    /// Units that the pairs give.
    pub fn made(&self) -> u32 {
        self.pairs * self.at_a_time.yields()
    }

    /// Uses so many more of its units, or fewer.
    pub fn more_needed(&mut self, stands: Option<Corner>, more: i32) {
        let add = |count: &mut u32| *count = count.saturating_add_signed(more);
        add(&mut self.needed);
        if let (Some(upright), Some(corner)) = (&mut self.upright, stands) {
            add(&mut upright.needed[corner as usize]);
        }
    }

    /// Units left over.
    pub fn spare(&self) -> u32 {
        self.made().saturating_sub(self.needed)
    }

    /// Units that the pairs give and that are alike: all of them, or where a print stands upright by the corner that
    /// the first fabric fills.
    pub fn gives(&self) -> Vec<(Option<Corner>, u32)> {
        let Some(upright) = self.upright else { return vec![(None, self.made())] };
        let yields = upright_yields(self.at_a_time, upright.diagonal);
        let corners = Corner::ALL.into_iter().zip(yields).filter(|(_, each)| *each > 0);
        corners.map(|(corner, each)| (Some(corner), each * self.pairs)).collect()
    }

    /// Those of them that are left over.
    pub fn spares(&self) -> Vec<(Option<Corner>, u32)> {
        let needed = |corner: Option<Corner>| match (self.upright, corner) {
            (Some(upright), Some(corner)) => upright.needed[corner as usize],
            _ => self.needed,
        };
        self.gives().into_iter().map(|(corner, made)| (corner, made.saturating_sub(needed(corner)))).collect()
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
