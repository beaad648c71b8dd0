//! What a unit is made as. All that a kind of piece is asked in common is answered here, in matches of every kind.

use super::Item;
use crate::fabric::Print;
use crate::unit::{Corner, Cut, Shape, Triangle, Vocabulary};

/// What a unit is made as; its fabrics are prints in a plan, families while it is composed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum Piece<C = Print> {
    /// A rectangle of one fabric.
    Filler(C),
    /// A triangle unit of two fabrics.
    Triangle(Triangle<C>),
}

impl<C: Copy + Ord> Piece<C> {
    /// The fabric of a filler.
    pub fn filler(&self) -> Option<C> {
        match *self {
            Self::Filler(fabric) => Some(fabric),
            Self::Triangle(_) => None,
        }
    }

    /// The triangle unit that it is.
    pub fn triangle(&self) -> Option<Triangle<C>> {
        match *self {
            Self::Filler(_) => None,
            Self::Triangle(triangle) => Some(triangle),
        }
    }

    /// Its fabrics, patch by patch: one of a filler, tip and rest of a triangle unit.
    pub fn fabrics(&self) -> impl Iterator<Item = C> + use<C> {
        let (first, second) = match *self {
            Self::Filler(fabric) => (fabric, None),
            Self::Triangle(t) => (t.tip, Some(t.rest)),
        };
        std::iter::once(first).chain(second)
    }

    /// The same of other fabrics, told each patch by its number; none where one of them has no other.
    pub fn each<D>(&self, mut fabric: impl FnMut(usize, C) -> Option<D>) -> Option<Piece<D>> {
        Some(match self {
            Self::Filler(of) => Piece::Filler(fabric(0, *of)?),
            Self::Triangle(t) => Piece::Triangle(t.of(fabric(0, t.tip)?, fabric(1, t.rest)?)),
        })
    }

    /// The same of other fabrics; none where one of them has no other.
    pub fn with<D>(&self, fabric: impl Fn(C) -> Option<D>) -> Option<Piece<D>> {
        self.each(|_, of| fabric(of))
    }

    /// Whether patches that are sewn together are of one fabric.
    pub fn joins_one_fabric(&self) -> bool {
        match self {
            Self::Filler(_) => false,
            Self::Triangle(t) => t.tip == t.rest,
        }
    }

    /// Outlines of its patches in a `width` x `height` rectangle at (x, y), in cells.
    pub fn outlines(&self, x: u32, y: u32, width: u32, height: u32) -> Vec<Vec<(u32, u32)>> {
        match self {
            Self::Filler(_) => vec![vec![(x, y), (x + width, y), (x + width, y + height), (x, y + height)]],
            Self::Triangle(triangle) => triangle.outlines(x, y, width, height).into(),
        }
    }

    /// The patches that the two halves of a cell show, the cell being counted from the piece's upper left corner.
    pub fn patches_at(&self, cell: [u32; 2], width: u32, height: u32) -> [usize; 2] {
        match self {
            Self::Filler(_) => [0; 2],
            Self::Triangle(t) => t.in_tip(cell, width, height).map(|in_tip| usize::from(!in_tip)),
        }
    }

    /// The side of the unit that it is cut from, in cells, and which part of it; none of a filler.
    pub fn cut_from(&self) -> Option<(u32, Cut)> {
        match self {
            Self::Filler(_) => None,
            Self::Triangle(t) => Some((t.block, t.cut)),
        }
    }

    /// Its shape in a row of `height`, which the squares must give; none of a filler.
    pub fn shape(&self, width: u32, height: u32) -> Option<Shape> {
        self.cut_from().map(|(block, cut)| Shape { height, width, block, cut })
    }

    /// The same cut from a unit of another side in cells, as on another grid.
    pub fn of_block(self, block: u32) -> Self {
        match self {
            Self::Filler(_) => self,
            Self::Triangle(t) => Self::Triangle(Triangle { block, ..t }),
        }
    }

    /// The corner of the whole unit that its first fabric fills; none where a turn changes nothing.
    pub fn turn(&self) -> Option<Corner> {
        match self {
            Self::Filler(_) => None,
            Self::Triangle(t) => Some(t.turn()),
        }
    }

    /// It may be turned by so many quarters and their multiples; none where a turn changes nothing.
    pub fn quarters(&self) -> Option<u32> {
        match self {
            Self::Filler(_) => None,
            Self::Triangle(t) if t.cut.is_whole() => Some(1),
            Self::Triangle(_) => Some(2),
        }
    }

    /// The same turned clockwise.
    pub fn turned(self, quarters: u32) -> Self {
        match self {
            Self::Filler(_) => self,
            Self::Triangle(t) => Self::Triangle(Triangle { corner: t.corner.turned(quarters % 4), ..t }),
        }
    }

    /// What it is at this size, or is cut from, however it is turned.
    pub fn item(&self, width: u32, height: u32) -> Item<C> {
        match self {
            Self::Filler(fabric) => Item::filler(*fabric, width, height),
            Self::Triangle(t) if t.cut.is_strip() => Item::slice(t, width, height),
            Self::Triangle(t) => Item::of_triangle(t),
        }
    }

    /// `filler`, or the unit's size with its cut: `big`, `big trimmed`, `big slice`.
    pub fn kind(&self, vocabulary: &Vocabulary) -> String {
        let triangle = match self {
            Self::Filler(_) => return "filler".into(),
            Self::Triangle(triangle) => triangle,
        };
        let block = vocabulary.blocks.iter().find(|b| vocabulary.cells(b.finished) == triangle.block);
        let size = block.expect("a unit is of a size that the squares give").at_a_time.size();
        match triangle.cut.word() {
            None => size.into(),
            Some(cut) => format!("{size} {cut}"),
        }
    }
}
