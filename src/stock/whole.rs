//! Whole squares: a pair gives two, four or eight units of one pair of fabrics, so a lone unit costs a pair.
//!
//! Prices by the cell let a scene spread over many pairs of families, each with a remainder. So units are priced
//! again by what their pair really took in the scene before, divided by its units (slope scaling, after Kim and
//! Pardalos, 1999, from memory): kinds of which there are many stay cheap, and stray ones become dear. Families that
//! whole squares make short become dearer, loose ones cheaper. Each scene is then brought within whole squares patch
//! by patch, and the best is kept.

use typed_index_collections::TiVec;

use super::Have;
use super::ledger::{Ledger, Squares};
use super::patches::Found;
use super::prices::FIRST_BOX;
use crate::compose::{ComposeError, Draft, Parts, PriceList, Problem, Ready, pair_cloth};
use crate::fabric::Family;
use crate::plan::{Band, Item};

/// Prices for the next scene.
pub struct Slopes {
    list: PriceList,
    /// By side of squares, as the stock lists them, and family: more for a cell of such squares.
    sides: Vec<TiVec<Family, f64>>,
    step: f64,
}

impl Slopes {
    /// From the best prices by the cell.
    pub fn new(list: PriceList) -> Self {
        let sides = list.squares.iter().map(|squares| squares.price.clone()).collect();
        Self { list: PriceList { parts: Parts::WHOLE, ..list }, sides, step: FIRST_BOX }
    }

    /// A scene at prices that follow from `last`, which was found before.
    pub fn next(
        &mut self,
        ready: &Ready,
        problem: &mut Problem,
        have: &Have,
        last: &[Band<Draft>],
    ) -> Result<Found, ComposeError> {
        let ledger = Ledger::new(ready, have, last, Squares::Whole);
        let step = self.step;
        let follow = |price: &mut f64, need: f64, have: Option<f64>| {
            let over = have.filter(|have| *have > 0.0).map_or(0.0, |have| (need - have) / have);
            *price = (*price + step * over.clamp(-0.5, 0.5)).max(0.0);
        };
        for family in have.cloth.keys() {
            follow(&mut self.list.cloth[family], ledger.need[family], have.cloth[family]);
            follow(&mut self.list.alike[family], ledger.alike[family], have.alike[family]);
            for ((price, cut), (_, have)) in self.sides.iter_mut().zip(&ledger.cut[family]).zip(&have.squares) {
                follow(&mut price[family], *cut, have[family]);
            }
        }
        self.step *= 0.8;
        self.list.units = units(ready, &ledger, &self.list, &self.sides);
        problem.set_prices(&self.list);
        let composed = problem.solve()?;
        let cost = composed.cost - problem.paid(&composed.bands) + problem.strips_over(&composed.bands, &have.on_hand);
        Ok(Found { cost, bands: composed.bands })
    }
}

/// What a unit of each kind costs, its share of the pairs that its kind takes.
fn units(
    ready: &Ready,
    ledger: &Ledger,
    list: &PriceList,
    sides: &[TiVec<Family, f64>],
) -> std::collections::BTreeMap<Item<Family>, f64> {
    let PriceList { cloth, alike, .. } = list;
    let blocks = ready.vocabulary.sides();
    let families = ready.families.len();
    let kinds = blocks.iter().flat_map(|&block| {
        (0..families).flat_map(move |one| (one..families).map(move |other| (Family(one), Family(other), block)))
    });
    let price = |(one, other, block): (Family, Family, u32)| {
        let item = Item::unit(one, other, block);
        let (count, held) = ledger.count(&item);
        // A kind that is not there yet is priced as for a few, so that it may come in.
        let units = (count - held).max(2);
        let each = pair_cloth(&ready.vocabulary, block, units) / f64::from(units);
        let (units, each) = ledger.upright(one, other, block).unwrap_or((units, each));
        let more = if one == other { alike[one] } else { 0.0 };
        let none = ledger.never(one, block) || ledger.never(other, block);
        let squares = |family: Family| {
            ledger.cells_by_side(block, units).zip(sides).map(move |(cells, side)| cells * side[family]).sum::<f64>()
        };
        let squares = (squares(one) + squares(other)) / f64::from(units);
        (item, if none { f64::MAX } else { (cloth[one] + cloth[other] + more) * each + squares })
    };
    kinds.map(price).collect()
}
