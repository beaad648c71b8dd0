//! What each kind of piece costs in its place: the error of its patches, labour, cloth; and what it may be remade as.

use typed_index_collections::{TiSlice, TiVec};

use super::design::{filler_cloth, half_cloth};
use super::prices::Parts;
use super::{Choice, Free, Problem};
use crate::fabric::Family;
use crate::plan::{Piece, Placed};
use crate::unit::{Shape, Triangle, Vocabulary};

impl Problem<'_> {
    /// What a unit's cloth, or the piece on hand that it is, is priced at; none where it cannot be made.
    pub(super) fn price(&self, placed: &Placed<Free>) -> Option<i64> {
        match placed.unit.piece {
            Piece::Filler(colour) => {
                let (width, height) = (placed.unit.width as usize, placed.height as usize);
                let ready = self.prices.ready(colour, width, height).map(i64::from);
                let cut = (self.choices[colour].longest(height) >= width).then(|| {
                    let (start, along) = self.prices.filler(colour, height);
                    i64::from(start) + i64::from(along) * width as i64
                });
                ready.into_iter().chain(cut).min()
            }
            Piece::Triangle(t) => {
                let shape = t.shape(placed.unit.width, placed.height);
                Some(match self.prices.open(shape, t.corner) {
                    Some(open) => i64::from(open.at(t.tip, t.rest)?.1),
                    None => i64::from(self.both_prices(t.tip, t.rest, shape)),
                })
            }
        }
    }

    /// Doubled error and labour of a unit in its place, and what its cloth is priced at; none where it cannot be made.
    pub(super) fn unit_cost(&self, placed: &Placed<Free>) -> Option<(i64, i64)> {
        let (x, y) = (placed.x as usize, placed.y as usize);
        let price = self.price(placed)?;
        let cost = match placed.unit.piece {
            Piece::Filler(_) => {
                let cells = (placed.unit.width * placed.height) as usize;
                self.patch_error(placed) + i64::from(self.labour.rectangle(cells))
            }
            Piece::Triangle(t) => {
                let shape = t.shape(placed.unit.width, placed.height);
                let work = self.pair_cost(shape, self.prices.open(shape, t.corner), t.tip, t.rest)?;
                let lean = if super::units::against(shape, t.corner, x, y) { self.labour.lean } else { 0 };
                self.patch_error(placed) + i64::from(work) + i64::from(lean) - price
            }
        };
        Some((cost, price))
    }

    /// What a slice costs more in labour than it was priced at, if it must be cut; none of other units.
    pub(super) fn strip_over(&self, placed: &Placed<Free>) -> Option<i64> {
        let t = placed.unit.piece.triangle().filter(|t| t.cut.is_strip())?;
        let open = self.open(t.shape(placed.unit.width, placed.height), &t);
        let labour = open.map_or(self.labour.slice, |(cost, price)| cost - price - self.quiet(&t));
        Some(i64::from(self.labour.slice) - i64::from(labour))
    }

    /// Doubled error of a unit's patches.
    pub(super) fn patch_error(&self, placed: &Placed<Free>) -> i64 {
        let (x, y) = (placed.x as usize, placed.y as usize);
        let (width, height) = (placed.unit.width, placed.height);
        i64::from(match placed.unit.piece {
            Piece::Filler(colour) => self.tables[colour].rectangle(x, y, width as usize, height as usize),
            Piece::Triangle(t) => self.cloth_cost(t.shape(width, height), t.corner, t.tip, t.rest, x, y),
        })
    }

    /// Doubled error of a free unit's two patches in each colour; a filler is all rest.
    pub fn patch_costs(&self, placed: &Placed<Free>) -> TiVec<Family, [u32; 2]> {
        let (x, y) = (placed.x as usize, placed.y as usize);
        let (width, height) = (placed.unit.width, placed.height);
        let costs = self.choices.keys().map(|colour| {
            let all = self.tables[colour].rectangle(x, y, width as usize, height as usize);
            let tip = match placed.unit.piece {
                Piece::Filler(_) => 0,
                Piece::Triangle(t) => self.tip_cost(t.shape(width, height), t.corner, colour, x, y),
            };
            [tip, all.wrapping_sub(tip)]
        });
        costs.collect()
    }

    /// Doubled error of a piece in a unit's place, whose patches cost so in each colour, with the labour that it takes
    /// more or less.
    pub fn remade_cost(&self, placed: &Placed<Free>, costs: &TiSlice<Family, [u32; 2]>, piece: &Piece<Family>) -> i64 {
        let error = |of: &Piece<Family>| patch_sum(of, |family, patch| i64::from(costs[family][patch]));
        match piece {
            Piece::Filler(_) => error(piece) + self.plainer(placed),
            Piece::Triangle(t) => error(piece) + i64::from(self.quiet(t)) - self.quiet_of(&placed.unit.piece),
        }
    }

    /// What a filler would cost more in labour than a unit in its place.
    fn plainer(&self, placed: &Placed<Free>) -> i64 {
        let (width, height) = (placed.unit.width, placed.height);
        match &placed.unit.piece {
            Piece::Filler(_) => 0,
            Piece::Triangle(unit) => {
                let shape = unit.shape(width, height);
                let against = super::units::against(shape, unit.corner, placed.x as usize, placed.y as usize);
                let lean = if against { self.labour.lean } else { 0 };
                let unit = self.labour.unit(shape.cut) + lean + self.quiet(unit);
                i64::from(self.labour.rectangle((width * height) as usize)) - i64::from(unit)
            }
        }
    }

    fn quiet_of(&self, piece: &Piece<Family>) -> i64 {
        match piece {
            Piece::Filler(_) => 0,
            Piece::Triangle(unit) => i64::from(self.quiet(unit)),
        }
    }

    /// What a unit's two colours cost together, and the price in it; none where each half has its own price.
    fn open(&self, shape: Shape, unit: &Triangle<Family>) -> Option<(u32, u32)> {
        let open = self.prices.open(shape, unit.corner)?;
        Some(open.at(unit.tip, unit.rest).expect("the colours of a unit of the scene may meet"))
    }

    /// What a unit costs more as its two colours are nearly one.
    fn quiet(&self, unit: &Triangle<Family>) -> u32 {
        self.prices.quiet(unit.tip, unit.rest)
    }
}

/// The cost of a piece's patches, told what each family costs as tip (0) and as rest (1); a filler is both.
pub(super) fn patch_sum<N: std::ops::Add<Output = N>>(piece: &Piece<Family>, cost: impl Fn(Family, usize) -> N) -> N {
    match *piece {
        Piece::Filler(family) => cost(family, 0) + cost(family, 1),
        Piece::Triangle(t) => cost(t.tip, 0) + cost(t.rest, 1),
    }
}

/// The piece in all families that can make it.
pub(super) fn in_families(placed: &Placed, choices: &TiSlice<Family, Choice>) -> Vec<Piece<Family>> {
    match placed.unit.piece {
        Piece::Filler(_) => {
            let (along, across) = (placed.unit.width as usize, placed.height as usize);
            let fits = choices.keys().filter(|&family| choices[family].longest(across) >= along);
            fits.map(Piece::Filler).collect()
        }
        Piece::Triangle(t) => Choice::pairs(choices, &t).map(Piece::Triangle).collect(),
    }
}

/// What a piece's two colours are charged as they are nearly one, by a table of tip and then rest.
pub(super) fn nearly_one(piece: &Piece<Family>, colours: usize, quiet: &[u32]) -> u32 {
    match piece {
        Piece::Filler(_) => 0,
        Piece::Triangle(t) => quiet.get(t.tip.0 * colours + t.rest.0).copied().unwrap_or(0),
    }
}

/// Cells of cloth that a unit takes of each of its families.
pub fn cloth_of_each(vocabulary: &Vocabulary, placed: &Placed<Free>, parts: Parts) -> f64 {
    match placed.unit.piece {
        Piece::Filler(_) => filler_cloth(vocabulary, placed.unit.width as usize, placed.height as usize),
        Piece::Triangle(unit) => half_cloth(vocabulary, unit.block) * parts.of(unit.cut),
    }
}
