//! A scene while it is composed: what is free names families, what stands keeps the maker's prints.

use crate::fabric::{Family, Print};
use crate::plan::{Band, Item, Piece, Placed, Unit, Wide, places, units_mut};

/// A unit of a scene that is composed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Draft {
    /// To be given prints.
    Free(Free),
    /// Not to be changed.
    Stands(Unit),
}

/// A unit that may be made otherwise, of families.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Free {
    /// Width in cells.
    pub width: u32,
    /// What it is.
    pub piece: Piece<Family>,
}

impl Draft {
    /// Whether it is a triangle unit.
    pub fn is_triangle(&self) -> bool {
        match self {
            Self::Free(unit) => unit.piece.triangle().is_some(),
            Self::Stands(unit) => unit.piece.triangle().is_some(),
        }
    }
}

impl Wide for Draft {
    fn width(&self) -> u32 {
        match self {
            Self::Free(unit) => unit.width,
            Self::Stands(unit) => unit.width,
        }
    }
}

impl Placed<Draft> {
    /// The unit in its place, where it is free.
    pub fn free(self) -> Option<Placed<Free>> {
        match self.unit {
            Draft::Free(unit) => Some(self.of(unit)),
            Draft::Stands(_) => None,
        }
    }
}

impl Placed<Free> {
    /// What it is, or is cut from, however it is turned.
    pub fn item(&self) -> Item<Family> {
        self.unit.piece.item(self.unit.width, self.height)
    }
}

impl Placed {
    /// The same unit of families; none where one of its prints is of none.
    pub fn of_families(self, family: impl Fn(Print) -> Option<Family>) -> Option<Placed<Free>> {
        Some(self.of(Free { width: self.unit.width, piece: self.unit.piece.with(family)? }))
    }
}

/// Every free unit of the bands in its place.
pub fn free(bands: &[Band<Draft>]) -> Vec<Placed<Free>> {
    places(bands).into_iter().filter_map(Placed::<Draft>::free).collect()
}

/// Every free unit of the bands, to be changed, in the order of `free`.
pub fn free_mut(bands: &mut [Band<Draft>]) -> impl Iterator<Item = &mut Free> {
    units_mut(bands).filter_map(|unit| match unit {
        Draft::Free(unit) => Some(unit),
        Draft::Stands(_) => None,
    })
}
