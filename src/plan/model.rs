//! The plan in memory.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use typed_index_collections::TiSlice;

use super::{Address, Item, Numbers, Piece, Progress, Request};
use crate::fabric::{Fabric, Fabrics, OnHand, Print, Rgb, Stash, named_beside};
use crate::unit::{Patch, Vocabulary, stands};

/// A whole scene. All places and sizes are counted in cells of the grid.
#[derive(Clone, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Plan {
    /// What was asked for.
    pub request: Request,
    /// The fabrics.
    pub fabrics: Fabrics,
    /// What is sewn and cut already, for this scene to use.
    pub hand: OnHand,
    /// The picture's colour in each cell of the top, row by row.
    pub picture: Vec<Rgb>,
    /// The weight of each cell, 4 being plain; empty where all are.
    pub focus: Vec<u8>,
    /// Bands from the top.
    pub bands: Vec<Band>,
    /// Numbers that an earlier list gave.
    pub numbers: Numbers,
    /// How far the quilt is.
    pub progress: Progress,
}

/// A part of the top that runs its whole width; `U` is what stands in its rows: in a plan, units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Band<U = Unit> {
    /// Height in cells.
    pub height: u32,
    /// Columns from the left.
    pub columns: Vec<Column<U>>,
}

/// A part of a band that runs its whole height.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column<U = Unit> {
    /// Width in cells.
    pub width: u32,
    /// Rows from the top.
    pub rows: Vec<Row<U>>,
}

/// A part of a column that runs its whole width.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row<U = Unit> {
    /// Height in cells.
    pub height: u32,
    /// Units from the left.
    pub units: Vec<U>,
}

/// A piece of a row, as tall as its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unit {
    /// Width in cells.
    pub width: u32,
    /// What it is.
    pub piece: Piece,
    /// Whether it may still be changed.
    pub state: State,
}

/// Whether a unit may be changed by a later revision.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum State {
    /// May be changed.
    #[default]
    Free,
    /// Not to be changed.
    Kept,
    /// Its pieces are cut, and paired: not to be changed.
    Cut,
    /// Sewn already.
    Sewn,
}

impl State {
    /// Whether it stays where it is.
    pub fn stays(self) -> bool {
        self != Self::Free
    }

    /// Whether it is made, or on the way to it.
    pub fn is_made(self) -> bool {
        matches!(self, Self::Cut | Self::Sewn)
    }
}

/// A unit with its address and its place in the top, in cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed<U = Unit> {
    /// Address.
    pub address: Address,
    /// Left edge.
    pub x: u32,
    /// Upper edge.
    pub y: u32,
    /// Height, that of its row.
    pub height: u32,
    /// The unit.
    pub unit: U,
}

impl Plan {
    /// Every unit in its place: by band, column, row and unit.
    pub fn placed(&self) -> Vec<Placed> {
        places(&self.bands)
    }

    /// The unit at an address, where there is one.
    pub fn unit(&self, at: Address) -> Option<&Unit> {
        let column = self.bands.get(at.band.checked_sub(1)?)?.columns.get(at.column.checked_sub(1)?)?;
        column.rows.get(at.row.checked_sub(1)?)?.units.get(at.unit.checked_sub(1)?)
    }

    /// The same, to be changed; the address must be one of the plan's own.
    pub fn unit_mut(&mut self, at: Address) -> &mut Unit {
        &mut self.bands[at.band - 1].columns[at.column - 1].rows[at.row - 1].units[at.unit - 1]
    }

    /// Every row with the address of its first unit, by band, column and row.
    pub fn rows(&self) -> Vec<(Address, &Row)> {
        let mut rows = Vec::new();
        for (band, b) in (1..).zip(&self.bands) {
            for (column, c) in (1..).zip(&b.columns) {
                rows.extend((1..).zip(&c.rows).map(|(row, r)| (Address { band, column, row, unit: 1 }, r)));
            }
        }
        rows
    }

    /// Prints that some patch shows.
    pub fn used(&self) -> BTreeSet<Print> {
        self.placed().iter().flat_map(|placed| placed.unit.piece.fabrics()).collect()
    }

    /// Whether the fabrics past the held ones are as they are proposed from a picture: free to use, with letters and names
    /// by colour.
    pub fn is_proposed(&self) -> bool {
        let held = self.held();
        let colours = self.fabrics.iter().skip(held.len()).map(|fabric| fabric.colour).collect();
        let as_asked = held.iter().map(|fabric| &fabric.letter).eq(&self.request.held);
        self.hand.is_empty() && as_asked && self.fabrics == named_beside(held, colours)
    }

    /// The first so many fabrics as were held.
    pub fn held(&self) -> &[Fabric] {
        &self.fabrics.raw[..self.request.held.len().min(self.fabrics.len())]
    }

    /// The stash that the fabrics are.
    pub fn stash(&self) -> Stash {
        Stash { prints: self.fabrics.clone(), hand: self.hand.clone() }
    }

    /// The units that the plan's squares give.
    pub fn vocabulary(&self) -> Vocabulary {
        let request = &self.request;
        Vocabulary::new(&request.squares, request.seam, request.grid, &request.strips, request.least)
            .expect("the request was checked when the plan was made or read")
    }
}

/// What takes a width of its row.
pub trait Wide: Copy {
    /// Width in cells.
    fn width(&self) -> u32;
}

impl Wide for Unit {
    fn width(&self) -> u32 {
        self.width
    }
}

/// Every unit of the bands in its place: by band, column, row and unit.
pub fn places<U: Wide>(bands: &[Band<U>]) -> Vec<Placed<U>> {
    let mut placed = Vec::new();
    let mut top = 0;
    for (band, b) in (1..).zip(bands) {
        let mut left = 0;
        for (column, c) in (1..).zip(&b.columns) {
            let mut y = top;
            for (row, r) in (1..).zip(&c.rows) {
                let mut x = left;
                for (unit, &u) in (1..).zip(&r.units) {
                    placed.push(Placed {
                        address: Address { band, column, row, unit },
                        x,
                        y,
                        height: r.height,
                        unit: u,
                    });
                    x += u.width();
                }
                y += r.height;
            }
            left += c.width;
        }
        top += b.height;
    }
    placed
}

/// Tells every triangle unit whether a print in it stands upright.
pub fn stand(bands: &mut [Band], fabrics: &TiSlice<Print, Fabric>) {
    for unit in units_mut(bands) {
        if let Piece::Triangle(t) = &mut unit.piece {
            t.upright = fabrics[t.tip].upright || fabrics[t.rest].upright;
        }
    }
}

/// Whether a unit is yet to be sewn with a print upright, and the squares give none such.
pub fn cannot_stand(placed: &Placed, fabrics: &TiSlice<Print, Fabric>, vocabulary: &Vocabulary) -> bool {
    placed.unit.piece.triangle().filter(|t| t.upright && placed.unit.state != State::Sewn).is_some_and(|t| {
        let both = fabrics[t.tip].upright && fabrics[t.rest].upright;
        !stands(vocabulary, vocabulary.grid * t.block, both)
    })
}

/// Bands with those of one column joined where they meet.
pub fn joined<'a, U: Clone + 'a>(bands: impl IntoIterator<Item = &'a Band<U>>) -> Vec<Band<U>> {
    let mut all: Vec<Band<U>> = Vec::new();
    for band in bands {
        match (all.last_mut(), &band.columns[..]) {
            (Some(Band { height, columns }), [more]) if columns.len() == 1 => {
                *height += band.height;
                columns[0].rows.extend_from_slice(&more.rows);
            }
            _ => all.push(band.clone()),
        }
    }
    all
}

/// Every unit of the bands, to be changed: by band, column, row and unit.
pub fn units_mut<U>(bands: &mut [Band<U>]) -> impl Iterator<Item = &mut U> {
    bands.iter_mut().flat_map(|b| &mut b.columns).flat_map(|c| &mut c.rows).flat_map(|r| &mut r.units)
}

impl<U> Placed<U> {
    /// Another unit in the same place.
    pub fn of<V>(&self, unit: V) -> Placed<V> {
        Placed { address: self.address, x: self.x, y: self.y, height: self.height, unit }
    }
}

/// The bands with every unit made into another, of as many cells; it is told the height of its row.
pub fn remade<U, V>(bands: Vec<Band<U>>, mut unit: impl FnMut(U, u32) -> V) -> Vec<Band<V>> {
    let mut row =
        |Row { height, units }: Row<U>| Row { height, units: units.into_iter().map(|one| unit(one, height)).collect() };
    let mut column =
        |Column { width, rows }: Column<U>| Column { width, rows: rows.into_iter().map(&mut row).collect() };
    let band =
        |Band { height, columns }: Band<U>| Band { height, columns: columns.into_iter().map(&mut column).collect() };
    bands.into_iter().map(band).collect()
}

impl Placed {
    /// The unit's patches in cells of the top.
    pub fn patches(&self) -> Vec<Patch<Print>> {
        let (x, y, w, h) = (self.x, self.y, self.unit.width, self.height);
        let outlines = self.unit.piece.outlines(x, y, w, h);
        self.unit.piece.fabrics().zip(outlines).map(|(fabric, outline)| Patch { fabric, outline }).collect()
    }

    /// What it is, or is cut from, however it is turned.
    pub fn item(&self) -> Item {
        self.unit.piece.item(self.unit.width, self.height)
    }
}
