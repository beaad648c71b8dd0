//! What there is of each family, and what a scene takes of it, in cells of cloth.

use crate::compose::{Ready, filler_cloth, half_cloth};
use crate::fabric::{Fabric, Supply};
use crate::measure::Length;
use crate::plan::{Band, Piece, Placed, State, places};
use crate::unit::Cut;

/// Cloth of each family in cells, squares and lengths together; none where it is free.
#[derive(Clone, Debug, PartialEq)]
pub struct Have(pub Vec<Option<f64>>);

impl Have {
    /// The cloth of each family's prints; a print without counts makes its family free.
    pub fn new(ready: &Ready, fabrics: &[Fabric]) -> Self {
        let cell = area(ready.vocabulary.grid, ready.vocabulary.grid);
        let of_print = |&print: &usize| {
            fabrics.get(print).and_then(|fabric| fabric.supply.as_ref()).map(|supply| cloth(supply) / cell)
        };
        Self(ready.families.iter().map(|prints| prints.iter().map(of_print).sum()).collect())
    }

    /// Whether the scene stays within it.
    pub fn holds(&self, used: &[f64]) -> bool {
        self.0.iter().zip(used).all(|(have, used)| have.is_none_or(|have| *used <= have + 1e-9))
    }
}

/// All the cloth of one print, in square ticks.
fn cloth(supply: &Supply) -> f64 {
    let squares = supply.squares.iter().map(|s| area(s.size, s.size) * f64::from(s.count));
    let lengths = supply.yardage.iter().map(|y| area(y.width, y.length));
    let pieces = supply.oddments.iter().map(|o| area(o.width, o.height) * f64::from(o.count));
    let quarters = area(Length::INCH * 18i64, Length::INCH * 22i64) * f64::from(supply.fat_quarters);
    squares.sum::<f64>() + lengths.sum::<f64>() + pieces.sum::<f64>() + quarters
}

fn area(width: Length, height: Length) -> f64 {
    width.ticks() as f64 * height.ticks() as f64
}

/// Cloth that each family's free patches take, in cells: parts of squares, and fillers with their seams.
pub fn used(ready: &Ready, bands: &[Band]) -> Vec<f64> {
    let mut used = vec![0.0; ready.families.len()];
    for placed in places(bands).iter().filter(|placed| placed.unit.state == State::Free) {
        let (cloth, families) = takes(ready, placed);
        families.into_iter().flatten().for_each(|family| used[family] += cloth);
    }
    used
}

/// What one unit takes of each of its families: cells of cloth.
pub fn takes(ready: &Ready, placed: &Placed) -> (f64, [Option<usize>; 2]) {
    match placed.unit.piece {
        Piece::Filler(family) => {
            let cloth = filler_cloth(&ready.vocabulary, placed.unit.width as usize, placed.height as usize);
            (cloth, [Some(family), None])
        }
        Piece::Triangle(t) if t.cut == Cut::Slice => (0.0, [Some(t.tip), Some(t.rest)]),
        Piece::Triangle(t) => (half_cloth(&ready.vocabulary, t.block), [Some(t.tip), Some(t.rest)]),
    }
}
