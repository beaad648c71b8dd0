//! The work in memory: frozen once made, read by every renderer.

use typed_index_collections::TiVec;

use super::FabricCut;
use crate::fabric::Print;
use crate::measure::{Drift, Length};
use crate::plan::{Address, Item, Placed};
use crate::unit::{AtATime, Corner, Side, Square};

/// All that is to be cut and sewn for one top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Work {
    /// Pairs of squares, by fabrics and then big to mini.
    pub batches: Vec<Batch>,
    /// Fillers to cut, by fabric and then largest first.
    pub fillers: Vec<FillerCut>,
    /// What is used of what was on hand: units, then strips, then fillers.
    pub hand: Vec<HandPiece>,
    /// The sheets of cloth that all this is cut from, by the plan's fabrics.
    pub cloth: TiVec<Print, FabricCut>,
    /// Rows in the order of their addresses.
    pub rows: Vec<RowWork>,
    /// What the measured seam makes of the top.
    pub drift: Drift,
}

/// Pairs of squares that are sewn alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Batch {
    /// `P1`, `P2` and so on.
    pub id: String,
    /// First fabric.
    pub first: Print,
    /// Second fabric, after the first.
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
    /// `H1`, `H2` and so on.
    pub id: String,
    /// What it is; sizes in cells.
    pub item: Item,
    /// How many there are.
    pub there: u32,
    /// How many the scene uses.
    pub used: u32,
}

/// Fillers of one fabric and one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FillerCut {
    /// `F1`, `F2` and so on.
    pub id: String,
    /// Fabric.
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

/// One row as it is sewn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowWork {
    /// Address of its first unit.
    pub address: Address,
    /// Units from the left.
    pub units: Vec<UnitWork>,
    /// Finished size: the sum of the units.
    pub finished: Size,
    /// The size to measure before it is joined.
    pub unfinished: Size,
    /// Width as sewn, before the ends are trimmed.
    pub sewn_width: Length,
    /// Which way its seams are pressed, so that they nest with the rows above and below.
    pub press: Press,
}

/// Which way seams are pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    /// To the left.
    Left,
    /// To the right.
    Right,
}

impl Press {
    /// `left` or `right`.
    pub fn words(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// One unit as it is made and sewn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitWork {
    /// Where it goes.
    pub placed: Placed,
    /// `filler`, `big`, `small trimmed` and so on.
    pub kind: String,
    /// Its first fabric.
    pub first: Print,
    /// Its second fabric, for a triangle unit.
    pub second: Option<Print>,
    /// The corner that the first fabric fills: upper left is no turn.
    pub turn: Option<Corner>,
    /// Finished size.
    pub finished: Size,
    /// Finished size and two seams.
    pub unfinished: Size,
    /// A filler's size as cut; larger than unfinished at a spare row end.
    pub cut: Option<Size>,
    /// What it is made from.
    pub source: Source,
    /// The strip cut off the whole unit.
    pub strip: Option<Strip>,
    /// Where the strip cut off it goes.
    pub offcut_to: Option<Address>,
}

/// What a unit comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A batch, by index.
    Batch(usize),
    /// A cut filler, by index.
    Filler(usize),
    /// The strip cut off the unit at an address.
    Offcut(Address),
    /// Something on hand, by index.
    Hand(usize),
}

/// A cut across a whole unit, once it is turned as it lies in its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strip {
    /// Raw width of the strip.
    pub cut: Length,
    /// The side that it comes off.
    pub side: Side,
}
