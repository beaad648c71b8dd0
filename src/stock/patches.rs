//! A scene as patches that may change their family: what each would cost in any other.

use super::Have;
use super::have::takes;
use crate::compose::{Problem, Ready};
use crate::plan::{Band, Piece, Placed, State, Unit, places};
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
    /// The families of the tip and of the rest; a filler has a rest alone.
    pub fn families(&self) -> (Option<usize>, usize) {
        match self.placed.unit.piece {
            Piece::Filler(family) => (None, family),
            Piece::Triangle(t) => (Some(t.tip), t.rest),
        }
    }

    fn error(&self, piece: Piece) -> i64 {
        match piece {
            Piece::Filler(family) => i64::from(self.costs[family][1]),
            Piece::Triangle(t) => i64::from(self.costs[t.tip][0]) + i64::from(self.costs[t.rest][1]),
        }
    }

    /// Every other choice of families that the unit may have.
    pub fn moves<'a>(&'a self, ready: &'a Ready) -> impl Iterator<Item = Move> + 'a {
        let now = self.placed.unit.piece;
        let held = self.error(now);
        let count = ready.choices.len();
        let pieces: Vec<Piece> = match now {
            Piece::Filler(_) => {
                let (along, across) = (self.placed.unit.width as usize, self.placed.height as usize);
                (0..count).filter(|&f| ready.choices[f].longest(across) >= along).map(Piece::Filler).collect()
            }
            Piece::Triangle(t) => {
                let pairs = (0..count).flat_map(|tip| (0..count).map(move |rest| (tip, rest)));
                let may = pairs.filter(|&(tip, rest)| tip != rest || ready.choices[tip].two_prints);
                may.map(|(tip, rest)| Piece::Triangle(Triangle { tip, rest, ..t })).collect()
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
    free.map(|placed| Spot { placed, cloth: takes(ready, &placed).0, costs: problem.patch_costs(&placed) }).collect()
}

/// Puts the spots' pieces back into the bands.
pub fn put_back(bands: &mut [Band], spots: &[Spot]) {
    let units = bands.iter_mut().flat_map(|b| &mut b.columns).flat_map(|c| &mut c.rows).flat_map(|r| &mut r.units);
    let free = units.filter(|unit| unit.state == State::Free);
    free.zip(spots).for_each(|(unit, spot): (&mut Unit, &Spot)| unit.piece = spot.placed.unit.piece);
}

/// Changes patches, the cheapest for the cloth they free first, until no family is over; the added error.
pub fn repair(ready: &Ready, spots: &mut [Spot], used: &mut [f64], have: &Have) -> Option<i64> {
    let mut added = 0;
    let over = |used: &[f64], family: usize| have.0[family].is_some_and(|have| used[family] > have + 1e-9);
    while let Some(family) = (0..used.len()).find(|&family| over(used, family)) {
        let mut best: Option<(f64, usize, Move)> = None;
        for (index, spot) in spots.iter().enumerate().filter(|(_, spot)| spot.cloth > 0.0) {
            let (tip, rest) = spot.families();
            if tip != Some(family) && rest != family {
                continue;
            }
            let room = |other: usize| have.0[other].is_none_or(|have| used[other] + spot.cloth <= have);
            for change in spot.moves(ready) {
                let (frees, fits) = change_of(spot, change.piece, family, &room);
                let rate = change.cost as f64 / frees.max(1e-9);
                if frees > 0.0 && fits && best.as_ref().is_none_or(|(held, ..)| rate < *held) {
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
        let better = spot.moves(ready).filter(|change| {
            let mut then = used.to_vec();
            shift(spot, change.piece, &mut then);
            change.cost < 0
                && have
                    .0
                    .iter()
                    .zip(&then)
                    .zip(&*used)
                    .all(|((have, then), now)| have.is_none_or(|have| *then <= have || then <= now))
        });
        if let Some(change) = better.min_by_key(|change| change.cost) {
            apply(spot, change.piece, used);
            saved -= change.cost;
        }
    }
    saved
}

/// Cloth of the family that the change frees, and whether the families that it takes more of have room.
fn change_of(spot: &Spot, piece: Piece, family: usize, room: &dyn Fn(usize) -> bool) -> (f64, bool) {
    let count = |piece: Piece, family: usize| match piece {
        Piece::Filler(f) => usize::from(f == family),
        Piece::Triangle(t) => usize::from(t.tip == family) + usize::from(t.rest == family),
    };
    let now = spot.placed.unit.piece;
    let frees = count(now, family) as f64 - count(piece, family) as f64;
    let new = match piece {
        Piece::Filler(f) => [f, f],
        Piece::Triangle(t) => [t.tip, t.rest],
    };
    // A family taken twice needs room twice: it is refused here unless the unit had it before.
    let fits = |f: usize| {
        let more = count(piece, f).saturating_sub(count(now, f));
        more == 0 || (more == 1 && room(f))
    };
    (frees * spot.cloth, new.into_iter().all(fits))
}

fn shift(spot: &Spot, piece: Piece, used: &mut [f64]) {
    let add = |used: &mut [f64], piece: Piece, cloth: f64| match piece {
        Piece::Filler(family) => used[family] += cloth,
        Piece::Triangle(t) => {
            used[t.tip] += cloth;
            used[t.rest] += cloth;
        }
    };
    add(used, spot.placed.unit.piece, -spot.cloth);
    add(used, piece, spot.cloth);
}

/// Changes the unit, and what is used.
pub fn apply(spot: &mut Spot, piece: Piece, used: &mut [f64]) {
    shift(spot, piece, used);
    spot.placed.unit.piece = piece;
}
