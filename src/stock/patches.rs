//! A scene as units that may be made otherwise: what each would cost in other families, and as a filler.

use typed_index_collections::TiSlice;

use super::Have;
use super::ledger::Squares;
use crate::compose::{Choice, Draft, Free, Problem, Ready, free, free_mut};
use crate::fabric::Family;
use crate::plan::{Band, Item, Piece, Placed};
use crate::unit::Triangle;

/// A scene, and its cost without prices.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Bands.
    pub bands: Vec<Band<Draft>>,
    /// Doubled cost.
    pub cost: i64,
}

/// One free unit, and what it may be made as.
pub struct OpenUnit {
    /// Its place among the free units.
    pub at: usize,
    /// Every piece that it may be, the least error first.
    pub options: Vec<Choosable>,
    /// The option that it is.
    pub now: usize,
}

/// One way to make a unit.
#[derive(Clone, Copy)]
pub struct Choosable {
    /// The piece.
    pub piece: Piece<Family>,
    /// What it is counted as.
    pub item: Item<Family>,
    /// Doubled error, with the labour that it takes more or less.
    pub error: i64,
}

impl OpenUnit {
    /// What it is counted as now.
    pub fn item(&self) -> Item<Family> {
        self.options[self.now].item
    }

    /// What another option would add to the error.
    pub fn added(&self, option: usize) -> i64 {
        self.options[option].error - self.options[self.now].error
    }
}

/// Most fabrics of tip and of rest, the best, that a triangle unit is tried in; fewer in a scene of more units than so
/// many, and then fillers of fewer families too.
const NEAR: usize = 12;
const MANY: usize = 500;
const FILLERS: usize = 32;

/// What units may become.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Become {
    /// Other families only.
    Recoloured,
    /// Fillers too, squares being counted so.
    Plain(Squares),
}

/// Every free unit that may be made otherwise; a slice only where it is counted, and no strip on hand may be meant.
pub fn open_units(ready: &Ready, problem: &Problem, have: &Have, bands: &[Band<Draft>], may: Become) -> Vec<OpenUnit> {
    let may_change = |placed: &Placed<Free>| match placed.item() {
        item @ Item::Slice { .. } => {
            (may == Become::Plain(Squares::Whole) || have.strips_are_counted()) && !have.on_hand.contains_key(&item)
        }
        _ => true,
    };
    let free: Vec<(usize, Placed<Free>)> =
        free(bands).into_iter().enumerate().filter(|(_, placed)| may_change(placed)).collect();
    let [near, fillers] = match free.len() {
        ..=MANY => [NEAR, usize::MAX],
        many => [(NEAR * MANY / many).max(NEAR / 3), FILLERS],
    };
    let most = |placed: &Placed<Free>| match placed.unit.piece.filler() {
        None if may == Become::Recoloured => [near, 0],
        _ => [near, fillers],
    };
    free.iter().map(|(at, placed)| unit(ready, problem, have, *at, placed, most(placed))).collect()
}

/// At most so many fabrics of tip and of rest, and fillers of so many families.
fn unit(ready: &Ready, problem: &Problem, have: &Have, at: usize, placed: &Placed<Free>, most: [usize; 2]) -> OpenUnit {
    let costs = problem.patch_costs(placed);
    let choosable = |piece: Piece<Family>| Choosable {
        piece,
        // As the ledger counts a strip that has to be cut.
        item: piece.item(placed.unit.width, placed.height).whole(),
        error: problem.remade_cost(placed, &costs, &piece)
            - problem.stays_for(&placed.of(Free { piece, ..placed.unit })),
    };
    let now = choosable(placed.unit.piece);
    let pieces = pieces(ready, have, placed, &costs, most).into_iter().filter(|piece| *piece != now.piece);
    let mut options: Vec<Choosable> = std::iter::once(now).chain(pieces.map(choosable)).collect();
    options.sort_by_key(|option| option.error);
    let now = options.iter().position(|option| option.piece == now.piece).expect("what it is now is an option");
    OpenUnit { at, options, now }
}

/// What a unit may be made as: of cloth that there is, or from what is on hand.
fn pieces(
    ready: &Ready,
    have: &Have,
    placed: &Placed<Free>,
    costs: &TiSlice<Family, [u32; 2]>,
    most: [usize; 2],
) -> Vec<Piece<Family>> {
    let families = ready.choices.keys();
    let (along, across) = (placed.unit.width, placed.height);
    let cut =
        |family: Family| !have.none_of(family) && ready.choices[family].longest(across as usize) >= along as usize;
    let held = |family: Family| have.on_hand.contains_key(&Item::filler(family, along, across));
    let mut fillers: Vec<Family> = families.clone().filter(|&family| cut(family) || held(family)).collect();
    fillers.sort_by_key(|&family| costs[family].iter().sum::<u32>());
    fillers.truncate(most[1]);
    let fillers = fillers.into_iter().map(Piece::Filler);
    let t = match placed.unit.piece {
        Piece::Filler(_) => return fillers.collect(),
        Piece::Triangle(t) => t,
    };
    let near = |half: usize| {
        let mut there: Vec<Family> = families.clone().filter(|&family| !have.none_of(family)).collect();
        there.sort_by_key(|&family| costs[family][half]);
        there.truncate(most[0]);
        there
    };
    let (tips, rests) = (near(0), near(1));
    let made = tips.iter().flat_map(|&tip| rests.iter().map(move |&rest| (tip, rest)));
    let made = made.filter(|&(tip, rest)| Choice::may_join(&ready.choices, tip, rest, t.block));
    let made: Vec<(Family, Family)> = made.collect();
    let held = have.on_hand.keys().filter_map(|item| match *item {
        Item::Unit { first, second, block, stands: None } if block == t.block => {
            Some([(first, second), (second, first)])
        }
        _ => None,
    });
    let mut held: Vec<(Family, Family)> = held.flatten().filter(|pair| !made.contains(pair)).collect();
    held.dedup();
    let upright = |family: Family| ready.choices[family].upright.is_some();
    let triangles = made
        .into_iter()
        .chain(held)
        .map(|(tip, rest)| Piece::Triangle(Triangle { upright: upright(tip) || upright(rest), ..t.of(tip, rest) }));
    triangles.chain(fillers).collect()
}

/// Puts the units' pieces back into the bands.
pub fn put_back(bands: &mut [Band<Draft>], open: &[OpenUnit]) {
    let mut units: Vec<&mut Free> = free_mut(bands).collect();
    open.iter().for_each(|unit| units[unit.at].piece = unit.options[unit.now].piece);
}
