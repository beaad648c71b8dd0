//! What makes two pieces the same, turned as they may be: how those on hand are told apart and counted.

use std::collections::BTreeMap;

use super::{Request, RowEnds};
use crate::fabric::{FillerOnHand, Lean, OnHand, Print, SliceOnHand, UnitOnHand};
use crate::measure::Length;
use crate::unit::{Corner, Triangle};

/// A piece that any other of its kind may stand for; its fabrics are prints, or families; sizes in cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item<C = Print> {
    /// A whole triangle unit, or one to be trimmed.
    Unit {
        /// The lower fabric.
        first: C,
        /// The higher fabric, or the same where a family is meant.
        second: C,
        /// Finished side.
        block: u32,
        /// The corner that the lower fabric fills, where a print stands upright.
        stands: Option<Corner>,
    },
    /// A strip of a triangle unit.
    Slice {
        /// Fabric of the triangle in the corner.
        tip: C,
        /// Fabric of the rest.
        rest: C,
        /// Finished side of the unit that it came from.
        block: u32,
        /// Finished width.
        width: u32,
        /// Stood up with its tip on top: the corner that the tip is in.
        leans: Lean,
        /// The corner that the tip is in, where a print stands upright.
        stands: Option<Corner>,
    },
    /// A rectangle of one fabric.
    Filler {
        /// The fabric.
        fabric: C,
        /// Finished longer side.
        long: u32,
        /// Finished shorter side.
        short: u32,
    },
}

fn cells(length: Length, grid: Length) -> Option<u32> {
    length.is_multiple_of(grid).then(|| u32::try_from(length.floor_div(grid)).ok())?
}

impl Item {
    /// A unit on hand; none off the grid.
    pub fn of_unit(unit: &UnitOnHand, grid: Length) -> Option<Self> {
        let [one, other] = unit.fabrics;
        Some(Self::standing(one, other, cells(unit.finished, grid)?, unit.stands))
    }

    /// A strip on hand; none off the grid.
    pub fn of_slice(slice: &SliceOnHand, grid: Length) -> Option<Self> {
        let (block, width) = (cells(slice.from, grid)?, cells(slice.width, grid)?);
        let &SliceOnHand { tip, rest, leans, stands, .. } = slice;
        Some(Self::Slice { tip, rest, block, width, leans, stands })
    }

    /// A rectangle on hand; none off the grid.
    pub fn of_filler(filler: &FillerOnHand, grid: Length) -> Option<Self> {
        Some(Self::filler(filler.fabric, cells(filler.width, grid)?, cells(filler.height, grid)?))
    }
}

impl<C: Copy + Ord> Item<C> {
    /// A whole unit of two fabrics, to be turned.
    pub fn unit(one: C, other: C, block: u32) -> Self {
        Self::standing(one, other, block, None)
    }

    /// A whole unit of two fabrics, the one in this corner.
    pub fn standing(one: C, other: C, block: u32, corner: Option<Corner>) -> Self {
        let stands = if one <= other { corner } else { corner.map(Corner::opposite) };
        Self::Unit { first: one.min(other), second: one.max(other), block, stands }
    }

    /// The whole unit that a triangle unit is, or is cut from.
    pub fn of_triangle(t: &Triangle<C>) -> Self {
        Self::standing(t.tip, t.rest, t.block, t.upright.then_some(t.corner))
    }

    /// The corner that its first fabric fills, or a strip's tip, where a print stands upright.
    pub fn stands(&self) -> Option<Corner> {
        match self {
            Self::Unit { stands, .. } | Self::Slice { stands, .. } => *stands,
            Self::Filler { .. } => None,
        }
    }

    /// Its fabrics, each once.
    pub fn fabrics(&self) -> Vec<C> {
        match *self {
            Self::Unit { first, second, .. } => vec![first, second],
            Self::Slice { tip, rest, .. } => vec![tip, rest],
            Self::Filler { fabric, .. } => vec![fabric],
        }
    }

    /// Whether it is a strip.
    pub fn is_slice(&self) -> bool {
        matches!(self, Self::Slice { .. })
    }

    /// The whole unit that a strip may be cut from; all else is itself.
    pub fn whole(self) -> Self {
        match self {
            Self::Slice { tip, rest, block, stands, .. } => Self::standing(tip, rest, block, stands),
            item => item,
        }
    }

    /// A rectangle, whichever way it lies.
    pub fn filler(fabric: C, width: u32, height: u32) -> Self {
        Self::Filler { fabric, long: width.max(height), short: width.min(height) }
    }

    /// A strip, whichever way it lies.
    pub fn slice(t: &Triangle<C>, width: u32, height: u32) -> Self {
        let leans = leans_at(t.corner, width < height);
        let stands = t.upright.then_some(t.corner);
        Self::Slice { tip: t.tip, rest: t.rest, block: t.block, width: width.min(height), leans, stands }
    }

    /// The same of other fabrics; none where one of them has no other.
    pub fn with<D: Copy + Ord>(self, fabric: impl Fn(C) -> Option<D>) -> Option<Item<D>> {
        Some(match self {
            Self::Unit { first, second, block, stands } => {
                Item::standing(fabric(first)?, fabric(second)?, block, stands)
            }
            Self::Slice { tip, rest, block, width, leans, stands } => {
                Item::Slice { tip: fabric(tip)?, rest: fabric(rest)?, block, width, leans, stands }
            }
            Self::Filler { fabric: of, long, short } => Item::Filler { fabric: fabric(of)?, long, short },
        })
    }
}

/// Which way a part of a unit leans that has its tip in this corner.
pub fn leans_at(corner: Corner, upright: bool) -> Lean {
    // A part that lies is stood up by a quarter turn, after which its tip's corner has changed sides.
    let left = (corner.is_left() == corner.is_upper()) == upright;
    if left { Lean::Left } else { Lean::Right }
}

/// Everything on hand that is on the grid, by item; fabrics as it numbers them.
///
/// Where rows have spare ends, fillers are cut longer, so none on hand serves.
pub fn items(hand: &OnHand, request: &Request) -> BTreeMap<Item, u32> {
    let grid = request.grid;
    let units = hand.units.iter().filter_map(|unit| Some((Item::of_unit(unit, grid)?, unit.count)));
    let slices = hand.slices.iter().filter_map(|slice| Some((Item::of_slice(slice, grid)?, slice.count)));
    let exact = hand.fillers.iter().filter(|_| request.row_ends == RowEnds::Exact);
    let fillers = exact.filter_map(|filler| Some((Item::of_filler(filler, grid)?, filler.count)));
    let mut counts: BTreeMap<Item, u32> = BTreeMap::new();
    for (item, count) in units.chain(slices).chain(fillers).filter(|(_, count)| *count > 0) {
        let held = counts.entry(item).or_default();
        *held = held.saturating_add(count);
    }
    counts
}
