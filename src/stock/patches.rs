//! A scene as patches that may change their family: what each would cost in any other.

use super::Have;
use crate::compose::{Choice, Problem, Ready};
use crate::plan::{Band, Item, Piece, Placed, State, Unit, places, units_mut};
use crate::unit::{Cut, Triangle};

/// A scene by its families, and its cost without prices.
#[derive(Clone)]
pub struct Found {
    /// Bands.
    pub bands: Vec<Band>,
    /// Doubled cost.
    pub cost: i64,
}

/// One free unit, and every choice of families that it may have.
pub struct Spot {
    /// Every piece that it may be, and its error.
    pub options: Vec<Choosable>,
    /// The option that it is.
    pub now: usize,
}

/// One choice of families.
#[derive(Clone, Copy)]
pub struct Choosable {
    /// The piece.
    pub piece: Piece,
    /// What it is counted as.
    pub item: Item,
    /// Doubled error.
    pub error: i64,
}

impl Spot {
    /// What it is counted as now.
    pub fn item(&self) -> Item {
        self.options[self.now].item
    }

    /// What another option would add to the error.
    pub fn added(&self, option: usize) -> i64 {
        self.options[option].error - self.options[self.now].error
    }
}

/// Every free unit whose families may be changed; slices stay as they are, for their strips are of one kind.
pub fn spots(ready: &Ready, problem: &Problem, have: &Have, bands: &[Band]) -> Vec<Spot> {
    places(bands).into_iter().filter(may_change).map(|placed| spot(ready, problem, have, placed)).collect()
}

fn may_change(placed: &Placed) -> bool {
    let slice = matches!(placed.unit.piece, Piece::Triangle(Triangle { cut: Cut::Slice, .. }));
    placed.unit.state == State::Free && !slice
}

fn spot(ready: &Ready, problem: &Problem, have: &Have, placed: Placed) -> Spot {
    let costs = problem.patch_costs(&placed);
    let error = |piece: Piece| match piece {
        Piece::Filler(family) => i64::from(costs[family][1]),
        Piece::Triangle(t) => i64::from(costs[t.tip][0]) + i64::from(costs[t.rest][1]),
    };
    let pieces = pieces(ready, have, &placed);
    let now = pieces.iter().position(|piece| *piece == placed.unit.piece);
    let mut options: Vec<Choosable> = pieces.into_iter().map(|piece| choosable(&placed, piece, error(piece))).collect();
    let now = now.unwrap_or_else(|| {
        options.push(choosable(&placed, placed.unit.piece, error(placed.unit.piece)));
        options.len() - 1
    });
    Spot { options, now }
}

fn choosable(placed: &Placed, piece: Piece, error: i64) -> Choosable {
    let item = Item::of(piece, placed.unit.width, placed.height);
    Choosable { piece, item, error }
}

/// What a unit may be made as: of cloth that there is, or from the shelf.
fn pieces(ready: &Ready, have: &Have, placed: &Placed) -> Vec<Piece> {
    let families = 0..ready.choices.len();
    match placed.unit.piece {
        Piece::Filler(_) => {
            let (along, across) = (placed.unit.width, placed.height);
            let cut = |family: usize| {
                !have.none_of(family) && ready.choices[family].longest(across as usize) >= along as usize
            };
            let held = |family: usize| have.shelf.contains_key(&Item::filler(family, along, across));
            families.filter(|&family| cut(family) || held(family)).map(Piece::Filler).collect()
        }
        Piece::Triangle(t) => {
            let made: Vec<(usize, usize)> = Choice::pairs(&ready.choices)
                .filter(|&(tip, rest)| !have.none_of(tip) && !have.none_of(rest))
                .collect();
            let held = |tip: usize, rest: usize| have.shelf.contains_key(&Item::unit(tip, rest, t.block));
            let all = families.clone().flat_map(|tip| families.clone().map(move |rest| (tip, rest)));
            let held = all.filter(|&(tip, rest)| held(tip, rest) && !made.contains(&(tip, rest)));
            made.iter().copied().chain(held).map(|(tip, rest)| Piece::Triangle(Triangle { tip, rest, ..t })).collect()
        }
    }
}

/// Puts the spots' pieces back into the bands.
pub fn put_back(bands: &mut [Band], spots: &[Spot]) {
    let open = places(bands).into_iter().map(|placed| may_change(&placed)).collect::<Vec<_>>();
    let free = units_mut(bands).zip(open).filter(|(_, open)| *open).map(|(unit, _)| unit);
    free.zip(spots).for_each(|(unit, spot): (&mut Unit, &Spot)| unit.piece = spot.options[spot.now].piece);
}
