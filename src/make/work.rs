//! The work in memory: frozen once made, read by every renderer.

use typed_index_collections::TiVec;

use super::press::Joints;
use crate::cutting::{Batch, FabricCut, FillerCut, HandPiece, Size, Used};
use crate::fabric::Print;
use crate::measure::{Drift, Length};
use crate::plan::{Address, Placed};
use crate::unit::{Corner, Side};

/// All that is to be cut and sewn for one top.
#[derive(Clone, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
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
    /// How the seams between units, rows, columns and bands are pressed.
    pub joints: Joints,
    /// What the measured seam makes of the top.
    pub drift: Drift,
}

impl Work {
    /// What all fabrics take together.
    pub fn used(&self) -> Used {
        self.cloth.iter().map(FabricCut::used).sum()
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
    pub strip: Option<StripOff>,
    /// Where the strip cut off it goes.
    pub offcut_to: Option<Address>,
    /// Its sides that are on the bias and on the outside of the top.
    pub bias: Vec<Side>,
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
    /// Nothing more: it is sewn.
    Sewn,
}

/// A cut across a whole unit, once it is turned as it lies in its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StripOff {
    /// Raw width of the strip.
    pub cut: Length,
    /// The side that it comes off.
    pub side: Side,
}
