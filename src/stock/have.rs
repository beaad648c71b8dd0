//! What there is of each family: cloth in cells, and pieces on hand.

use std::collections::BTreeMap;

use crate::compose::Ready;
use crate::fabric::{Fabric, Supply};
use crate::measure::Length;
use crate::plan::Item;

/// Cloth of each family in cells, none where it is free, and what is on hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Have {
    /// Squares and lengths together.
    pub cloth: Vec<Option<f64>>,
    /// So much of it as can be paired with another print of the family.
    pub alike: Vec<Option<f64>>,
    /// Pieces on hand, by family.
    pub shelf: BTreeMap<Item, u32>,
}

impl Have {
    /// The cloth of each family's prints; a print without counts makes its family free.
    pub fn new(ready: &Ready, fabrics: &[Fabric]) -> Self {
        let cell = area(ready.vocabulary.grid, ready.vocabulary.grid);
        let of_print = |&print: &usize| {
            fabrics.get(print).and_then(|fabric| fabric.supply.as_ref()).map(|supply| cloth(supply) / cell)
        };
        let all = |prints: &Vec<usize>| prints.iter().map(of_print).sum::<Option<f64>>();
        // A print that has more than all others together cannot be paired away.
        let alike = |prints: &Vec<usize>| {
            let most = prints.iter().filter_map(of_print).fold(0.0, f64::max);
            all(prints).map(|all| (all - most).min(all / 2.0))
        };
        Self {
            cloth: ready.families.iter().map(all).collect(),
            alike: ready.families.iter().map(alike).collect(),
            shelf: ready.shelf.clone(),
        }
    }

    /// Whether there is no cloth of a family at all.
    pub fn none_of(&self, family: usize) -> bool {
        self.cloth[family] == Some(0.0)
    }
}

/// All the cloth of one print, in square ticks.
fn cloth(supply: &Supply) -> f64 {
    let squares = supply.squares.iter().map(|s| area(s.size, s.size) * f64::from(s.count));
    let pieces = supply.pieces().into_iter().map(|piece| area(piece.width, piece.height) * f64::from(piece.count));
    squares.chain(pieces).sum()
}

fn area(width: Length, height: Length) -> f64 {
    width.ticks() as f64 * height.ticks() as f64
}
