//! Squares to buy, by fabric.

use std::collections::BTreeMap;

use super::Work;
use crate::fabric::Print;
use crate::measure::Length;

/// Squares of one fabric and one size as bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SquaresNeeded {
    /// Fabric.
    pub fabric: Print,
    /// Side as bought.
    pub side: Length,
    /// Squares that are paired as they are.
    pub whole: u32,
    /// Quarters that are paired.
    pub quarters: u32,
}

impl SquaresNeeded {
    /// Squares that are quartered, four quarters from each.
    pub fn quartered(&self) -> u32 {
        self.quarters.div_ceil(4)
    }

    /// Squares to buy.
    pub fn bought(&self) -> u32 {
        self.whole + self.quartered()
    }

    /// Quarters left over.
    pub fn spare_quarters(&self) -> u32 {
        self.quartered() * 4 - self.quarters
    }
}

impl Work {
    /// The squares that the pairs take, by fabric and then largest first; quarters of a fabric share squares.
    pub fn squares(&self) -> Vec<SquaresNeeded> {
        let mut sides: BTreeMap<(Print, std::cmp::Reverse<Length>), (u32, u32)> = BTreeMap::new();
        for batch in &self.batches {
            for fabric in [batch.first, batch.second] {
                let counts = sides.entry((fabric, std::cmp::Reverse(batch.square.bought()))).or_default();
                *if batch.square.quartered { &mut counts.1 } else { &mut counts.0 } += batch.pairs;
            }
        }
        let needed = |((fabric, side), (whole, quarters)): ((Print, std::cmp::Reverse<Length>), (u32, u32))| {
            SquaresNeeded { fabric, side: side.0, whole, quarters }
        };
        sides.into_iter().map(needed).collect()
    }
}
