//! A scene as patches that may change their family: what each would cost in any other.

use super::Have;
use super::have::takes;
use crate::compose::{Choice, Problem, Ready};
use crate::plan::{Band, Piece, Placed, State, Unit, places, units_mut};
use crate::unit::Triangle;

/// One free unit: its families, what it takes of each, and its error in every family.
pub struct Spot {
    /// Where it is.
    pub placed: Placed,
    /// Cells of cloth that each of its patches takes.
    pub cloth: f64,
    /// By family: error of the tip and of the rest.
    pub costs: Vec<[u32; 2]>,
}

/// A change of one unit's families, and what it adds to the error.
#[derive(Clone, Copy)]
pub struct Move {
    /// The new piece.
    pub piece: Piece,
    /// Added error.
    pub cost: i64,
}

impl Spot {
    fn error(&self, piece: Piece) -> i64 {
        match piece {
            Piece::Filler(family) => i64::from(self.costs[family][1]),
            Piece::Triangle(t) => i64::from(self.costs[t.tip][0]) + i64::from(self.costs[t.rest][1]),
        }
    }

    /// Cells of cloth that another piece would take more of a family.
    fn more(&self, piece: Piece, family: usize) -> f64 {
        let count = |piece: Piece| piece.fabrics().filter(|taken| *taken == family).count() as f64;
        (count(piece) - count(self.placed.unit.piece)) * self.cloth
    }

    /// Whether there is cloth for another piece.
    fn fits(&self, piece: Piece, used: &[f64], have: &Have) -> bool {
        piece.fabrics().all(|family| {
            let more = self.more(piece, family);
            more <= 0.0 || have.cloth[family].is_none_or(|have| used[family] + more <= have)
        })
    }

    /// Every other choice of families that the unit may have.
    pub fn moves<'a>(&'a self, ready: &'a Ready) -> impl Iterator<Item = Move> + 'a {
        let now = self.placed.unit.piece;
        let held = self.error(now);
        let pieces: Vec<Piece> = match now {
            Piece::Filler(_) => {
                let (along, across) = (self.placed.unit.width as usize, self.placed.height as usize);
                let fits = (0..ready.choices.len()).filter(|&f| ready.choices[f].longest(across) >= along);
                fits.map(Piece::Filler).collect()
            }
            Piece::Triangle(t) => {
                let pairs = Choice::pairs(&ready.choices);
                pairs.map(|(tip, rest)| Piece::Triangle(Triangle { tip, rest, ..t })).collect()
            }
        };
        pieces
            .into_iter()
            .filter(move |&piece| piece != now)
            .map(move |piece| Move { piece, cost: self.error(piece) - held })
    }
}

/// Every free unit of the scene.
pub fn spots(ready: &Ready, problem: &Problem, bands: &[Band]) -> Vec<Spot> {
    let free = places(bands).into_iter().filter(|placed| placed.unit.state == State::Free);
    free.map(|placed| Spot { placed, cloth: takes(ready, &placed), costs: problem.patch_costs(&placed) }).collect()
}

/// Puts the spots' pieces back into the bands.
pub fn put_back(bands: &mut [Band], spots: &[Spot]) {
    let free = units_mut(bands).filter(|unit| unit.state == State::Free);
    free.zip(spots).for_each(|(unit, spot): (&mut Unit, &Spot)| unit.piece = spot.placed.unit.piece);
}

/// Changes patches, the cheapest for the cloth they free first, until no family is over; the added error.
pub fn repair(ready: &Ready, spots: &mut [Spot], used: &mut [f64], have: &Have) -> Option<i64> {
    let mut added = 0;
    let over = |used: &[f64], family: usize| have.cloth[family].is_some_and(|have| used[family] > have + 1e-9);
    while let Some(family) = (0..used.len()).find(|&family| over(used, family)) {
        let mut best: Option<(f64, usize, Move)> = None;
        for (index, spot) in spots.iter().enumerate().filter(|(_, spot)| spot.cloth > 0.0) {
            if !spot.placed.unit.piece.fabrics().any(|taken| taken == family) {
                continue;
            }
            for change in spot.moves(ready) {
                let frees = -spot.more(change.piece, family);
                let rate = change.cost as f64 / frees.max(1e-9);
                if frees > 0.0 && spot.fits(change.piece, used, have) && best.as_ref().is_none_or(|b| rate < b.0) {
                    best = Some((rate, index, change));
                }
            }
        }
        let (_, index, change) = best?;
        apply(&mut spots[index], change.piece, used);
        added += change.cost;
    }
    Some(added)
}

/// Lets patches have a better family again where the cloth is there; the error that it saves.
pub fn improve(ready: &Ready, spots: &mut [Spot], used: &mut [f64], have: &Have) -> i64 {
    let mut saved = 0;
    for spot in spots {
        let better = spot.moves(ready).filter(|change| change.cost < 0 && spot.fits(change.piece, used, have));
        if let Some(change) = better.min_by_key(|change| change.cost) {
            apply(spot, change.piece, used);
            saved -= change.cost;
        }
    }
    saved
}

/// Changes the unit, and what is used.
fn apply(spot: &mut Spot, piece: Piece, used: &mut [f64]) {
    spot.placed.unit.piece.fabrics().for_each(|family| used[family] -= spot.cloth);
    piece.fabrics().for_each(|family| used[family] += spot.cloth);
    spot.placed.unit.piece = piece;
}
