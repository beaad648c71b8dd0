//! What a stash adds up to, and what its squares could give at most.

use std::collections::BTreeMap;

use super::{Stash, Supply, Yardage};
use crate::fabric::Fabric;
use crate::measure::Length;
use crate::unit::AtATime;

/// A fat quarter, 18 by 22 in (common practice, no source).
pub const FAT_QUARTER: [Length; 2] = [Length::inches(18, 1), Length::inches(22, 1)];

/// What a stash adds up to.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct StashTotals {
    /// Squares by size, the largest first, and what they could give.
    pub squares: Vec<SquaresGive>,
    /// Lengths of cloth, those of one width together, the widest first.
    pub cloth: Vec<Yardage>,
    /// Pieces of 18 by 22 in.
    pub fat_quarters: u64,
    /// Other pieces.
    pub oddments: u64,
    /// Square metres of cloth, fat quarters and oddments; squares do not count.
    pub square_metres: f64,
    /// Triangle units on hand by finished size, the largest first.
    pub units: Vec<(Length, u64)>,
    /// Slices on hand.
    pub slices: u64,
    /// Fillers on hand.
    pub fillers: u64,
    /// Prints without counts, free to use.
    pub free: usize,
}

/// Squares of one size, and the units that they could give.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SquaresGive {
    /// Side as cut.
    pub size: Length,
    /// How many.
    pub count: u64,
    /// Most pairs of two prints; a print free to use has a square for every other one.
    pub pairs: u64,
    /// The usual seam on the ruler that shows the size.
    pub seam: Length,
    /// What each method finishes at with that seam, where it gives a unit.
    pub gives: Vec<(AtATime, Length)>,
}

impl SquaresGive {
    /// Most units by this method, if all squares went into it.
    pub fn at_most(&self, method: AtATime) -> u64 {
        self.pairs * u64::from(method.yields())
    }
}

impl Fabric {
    /// Its squares by size, the largest first.
    pub fn squares(&self) -> Vec<(Length, u64)> {
        let sizes = self.supply.iter().flat_map(Supply::sizes);
        sizes.map(|(size, count)| (size, count.into())).collect()
    }
}

impl Stash {
    /// What it adds up to, all packs shared out.
    pub fn totals(&self) -> StashTotals {
        let supplies = || self.prints.iter().filter_map(|print| print.supply.as_ref());
        let mut cloth: BTreeMap<Length, Length> = BTreeMap::new();
        supplies().flat_map(|s| &s.yardage).for_each(|y| *cloth.entry(y.width).or_default() += y.length);
        let cloth: Vec<Yardage> = cloth.into_iter().rev().map(|(width, length)| Yardage { width, length }).collect();
        let fat_quarters = supplies().map(|s| u64::from(s.fat_quarters)).sum();
        let oddments = || supplies().flat_map(|s| &s.oddments);
        let pieces = supplies().flat_map(Supply::pieces);
        let square_metres = pieces.map(|piece| area(piece.width, piece.height) * f64::from(piece.count)).sum();
        StashTotals {
            squares: self.squares_give(),
            square_metres,
            cloth,
            fat_quarters,
            oddments: oddments().map(|piece| u64::from(piece.count)).sum(),
            units: summed(self.hand.units.iter().map(|unit| (unit.finished, unit.count.into()))),
            slices: self.hand.slices.iter().map(|slice| u64::from(slice.count)).sum(),
            fillers: self.hand.fillers.iter().map(|filler| u64::from(filler.count)).sum(),
            free: self.prints.iter().filter(|print| print.supply.is_none()).count(),
        }
    }

    fn squares_give(&self) -> Vec<SquaresGive> {
        let by_print: Vec<Vec<(Length, u64)>> = self.prints.iter().map(Fabric::squares).collect();
        let free = self.prints.iter().any(|print| print.supply.is_none());
        let sizes = summed(by_print.iter().flatten().copied());
        let of = |size: Length, count: u64| {
            let most = by_print.iter().flatten().filter(|squares| squares.0 == size).map(|squares| squares.1).max();
            // Two of a pair differ, so the commonest print needs as many others.
            let pairs = if free { count } else { (count / 2).min(count - most.unwrap_or(0)) };
            SquaresGive { size, count, pairs, seam: usual(size)[0], gives: gives(size) }
        };
        sizes.into_iter().map(|(size, count)| of(size, count)).collect()
    }
}

/// Counts by size, the largest first.
fn summed(counts: impl Iterator<Item = (Length, u64)>) -> Vec<(Length, u64)> {
    let mut sums: BTreeMap<Length, u64> = BTreeMap::new();
    counts.for_each(|(size, count)| *sums.entry(size).or_default() += count);
    sums.into_iter().rev().collect()
}

/// In square metres.
fn area(width: Length, height: Length) -> f64 {
    width.as_cm() * height.as_cm() / 10_000.0
}

/// The finished sizes of units from squares of `size`, at the usual seam and grid of its ruler.
pub(super) fn gives(size: Length) -> Vec<(AtATime, Length)> {
    let [seam, grid, least] = usual(size);
    let finished = AtATime::ALL.map(|method| (method, method.finished(size, seam, grid)));
    finished.into_iter().filter(|(_, finished)| *finished >= least).collect()
}

/// Seam, grid and least piece that a maker works with on the ruler that shows `size`.
fn usual(size: Length) -> [Length; 3] {
    if size.is_multiple_of(Length::inches(1, 64)) {
        [Length::inches(1, 4), Length::inches(1, 2), Length::INCH]
    } else {
        [Length::MM * 15i64 / 2, Length::CM, Length::CM * 2i64]
    }
}
