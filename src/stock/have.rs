//! What there is of each family, and what a scene takes of it, in cells of cloth.

use crate::compose::{Ready, filler_cloth, half_cloth};
use crate::fabric::{Fabric, Supply};
use crate::measure::Length;
use crate::plan::{Band, Piece, Placed, State, places};
use crate::unit::Cut;

/// Cloth of each family in cells, none where it is free.
#[derive(Clone, Debug, PartialEq)]
pub struct Have {
    /// Squares and lengths together.
    pub cloth: Vec<Option<f64>>,
    /// So much of it as can be paired with another print of the family.
    pub alike: Vec<Option<f64>>,
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
        Self { cloth: ready.families.iter().map(all).collect(), alike: ready.families.iter().map(alike).collect() }
    }

    /// Whether the scene stays within it.
    pub fn holds(&self, used: &[f64]) -> bool {
        self.cloth.iter().zip(used).all(|(have, used)| have.is_none_or(|have| *used <= have + 1e-9))
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

/// Cloth that each family's free patches take, in cells: parts of squares, and fillers with their seams.
pub fn used(ready: &Ready, bands: &[Band]) -> Vec<f64> {
    let mut used = vec![0.0; ready.families.len()];
    for placed in places(bands).iter().filter(|placed| placed.unit.state == State::Free) {
        let cloth = takes(ready, placed);
        placed.unit.piece.fabrics().for_each(|family| used[family] += cloth);
    }
    used
}

/// Cells of cloth that one unit takes of each of its families.
pub fn takes(ready: &Ready, placed: &Placed) -> f64 {
    match placed.unit.piece {
        Piece::Filler(_) => filler_cloth(&ready.vocabulary, placed.unit.width as usize, placed.height as usize),
        Piece::Triangle(t) if t.cut == Cut::Slice => 0.0,
        Piece::Triangle(t) => half_cloth(&ready.vocabulary, t.block),
    }
}
