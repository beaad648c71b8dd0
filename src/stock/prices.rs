//! Prices for scarce cloth, and with them a bound on how good any scene within it could be.
//!
//! With c(x) the cost of scene x, u(x) what it takes of each stock (cloth of a family, pieces on hand of a kind)
//! and C what there is, every price vector p >= 0 bounds the best scene within the stock from below (weak duality):
//!
//! ```text
//! L(p) = min over x of c(x) + p · (u(x) - C)  <=  min of c(x) over x with u(x) <= C
//! ```
//!
//! A scene says of each piece whether it is taken from what is on hand or made of cloth: the minimum takes the
//! cheaper. Each L(p) is one run of the exact solver with its stock priced. The prices are raised by cutting planes:
//! each scene found bounds L from above by a plane, and the next prices are the best over all planes within a box
//! about the best so far (Kelley's method with a trust region). Prices in the solver are rounded down, which
//! can only lower L. A scene that takes too much is mended patch by patch (see `mend`).

use std::collections::BTreeMap;

use microlp::{ComparisonOp, OptimizationDirection, Problem as Planes};

use super::Have;
use super::ledger::{Ledger, Short, Squares};
use super::mend::Mend;
use super::patches::{put_back, spots};
use crate::compose::{ComposeError, PriceList, Problem, Ready, filler_cloth, half_cloth};
use crate::plan::{Band, Item, Placed, State, places};

/// Rounds of prices, each one run of the solver.
pub const ROUNDS: u32 = 40;
/// The first box: this much dearer for a cell of cloth, in doubled cost.
pub(super) const FIRST_BOX: f64 = 48.0;
/// A gap that is not worth a round more.
const CLOSED: f64 = 0.0005;

/// The best scene found within the cloth, and how good any could be.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// Bands, their pieces naming families; none where no scene was found.
    pub bands: Option<Vec<Band>>,
    /// Where there is none: what the scene that came nearest is short of.
    pub short: Vec<Short>,
    /// Doubled cost of that scene.
    pub cost: i64,
    /// No scene within the cloth costs less.
    pub bound: i64,
    /// Doubled cost of every cell in its best colour.
    pub floor: i64,
    /// Rounds taken.
    pub rounds: u32,
    /// The last best prices.
    pub prices: PriceList,
}

impl Cloth {
    /// (answer - bound) / (answer - floor).
    pub fn gap(&self) -> f64 {
        gap(self.cost, self.bound, self.floor)
    }
}

/// (answer - bound) / (answer - floor); 0 where the answer is the bound.
pub fn gap(cost: i64, bound: i64, floor: i64) -> f64 {
    (cost - bound).max(0) as f64 / (cost - floor).max(1) as f64
}

/// One thing that there is so much of: cloth of a family in cells, or pieces on hand.
struct Stock {
    what: What,
    /// How much there is.
    have: f64,
    /// Cells of cloth that one of it stands for, by which its price is measured.
    cells: f64,
}

enum What {
    Cloth(usize),
    /// Cloth of a family that is paired with another print of it.
    Alike(usize),
    Hand(Item),
}

/// One scene as a plane over prices.
struct Plane {
    cost: f64,
    over: Vec<f64>,
}

/// A scene as the solver gave it: its bands, its cost without prices, and what it pays for each piece on hand.
pub(super) struct Found {
    pub bands: Vec<Band>,
    pub cost: i64,
}

/// The best scene that it can find within the cloth in so many rounds.
pub fn within_cloth(ready: &Ready, problem: &mut Problem, have: &Have, rounds: u32) -> Result<Cloth, ComposeError> {
    let stocks = stocks(ready, have);
    let mut best = Cloth {
        bands: None,
        short: Vec::new(),
        cost: i64::MAX,
        bound: i64::MIN,
        floor: problem.floor(),
        rounds: 0,
        prices: price_list(&stocks, have, &vec![0.0; stocks.len()]),
    };
    let (mut centre, mut prices, mut side) = (vec![0.0; stocks.len()], vec![0.0; stocks.len()], FIRST_BOX);
    let mut planes = Vec::new();
    for round in 1..=rounds.max(1) {
        best.rounds = round;
        let list = price_list(&stocks, have, &prices);
        problem.set_prices(&list);
        let composed = problem.solve()?;
        let found = Found { cost: composed.cost - problem.paid(&composed.bands), bands: composed.bands };
        let over = taken(ready, &found.bands, &stocks, &list);
        let owed: f64 = stocks.iter().zip(&prices).map(|(stock, price)| stock.have * price * stock.cells).sum();
        // Costs are whole, so the best scene costs at least the next whole number.
        let bound = (composed.cost as f64 - owed - 1e-3).ceil() as i64;
        side *= if bound > best.bound { 1.5 } else { 0.5 };
        if bound > best.bound {
            (best.bound, best.prices) = (bound, list);
            centre.clone_from(&prices);
        }
        planes.push(Plane { cost: found.cost as f64, over });
        match mended(ready, problem, have, found) {
            Ok(mended) if mended.cost < best.cost => {
                (best.cost, best.bands) = (mended.cost, Some(mended.bands));
            }
            Err(short) if best.short.is_empty() || cells_of(&short) < cells_of(&best.short) => best.short = short,
            _ => {}
        }
        if best.bands.is_some() && best.gap() <= CLOSED {
            break;
        }
        let Some(next) = next_prices(&planes, &stocks, &centre, side) else { break };
        if next == prices && side < 1.0 {
            break;
        }
        prices = next;
    }
    // The cost of a scene bounds the bound.
    best.bound = best.bound.min(best.cost);
    Ok(best)
}

/// Everything that there is only so much of.
fn stocks(ready: &Ready, have: &Have) -> Vec<Stock> {
    let cloth = have.cloth.iter().enumerate().filter(|(family, _)| !have.none_of(*family));
    let cloth =
        cloth.filter_map(|(family, have)| Some(Stock { what: What::Cloth(family), have: (*have)?, cells: 1.0 }));
    let alike =
        have.alike.iter().enumerate().filter(|(family, have)| ready.choices[*family].two_prints && have.is_some());
    let alike =
        alike.filter_map(|(family, have)| Some(Stock { what: What::Alike(family), have: (*have)?, cells: 1.0 }));
    let hand = have.shelf.iter().map(|(&item, &count)| {
        let cells = match item {
            Item::Unit { block, .. } => 2.0 * half_cloth(&ready.vocabulary, block),
            Item::Slice { block, width, .. } => f64::from(block * width),
            Item::Filler { long, short, .. } => filler_cloth(&ready.vocabulary, long as usize, short as usize),
        };
        Stock { what: What::Hand(item), have: f64::from(count), cells: cells.max(1.0) }
    });
    cloth.chain(alike).chain(hand).collect()
}

/// Prices by stock, each for what stands for a cell of cloth, as the solver takes them.
fn price_list(stocks: &[Stock], have: &Have, prices: &[f64]) -> PriceList {
    let none = vec![0.0; have.cloth.len()];
    let mut list = PriceList { cloth: none.clone(), alike: none, ..PriceList::default() };
    for (stock, price) in stocks.iter().zip(prices) {
        match stock.what {
            What::Cloth(family) => list.cloth[family] = *price,
            What::Alike(family) => list.alike[family] = *price,
            What::Hand(item) => list.hand.push((item, price * stock.cells)),
        }
    }
    if (0..have.cloth.len()).any(|family| have.none_of(family)) {
        list.closed = (0..have.cloth.len()).map(|family| have.none_of(family)).collect();
    }
    list
}

/// What a scene takes of each stock over what there is; of what is on hand, where that is the cheaper.
fn taken(ready: &Ready, bands: &[Band], stocks: &[Stock], list: &PriceList) -> Vec<f64> {
    let hand: BTreeMap<Item, f64> = list.hand.iter().copied().collect();
    let (mut cloth, mut pieces) = (vec![0.0; ready.families.len()], BTreeMap::<Item, f64>::new());
    let mut alike = cloth.clone();
    for placed in places(bands).iter().filter(|placed| placed.unit.state == State::Free) {
        let (item, cells) = (placed.item(), cells(ready, placed));
        let made: f64 = placed.unit.piece.fabrics().map(|family| list.cloth[family] * cells).sum();
        let made = match item {
            Item::Unit { first, second, .. } if first == second => made + list.alike[first] * cells,
            _ => made,
        };
        let shut = placed.unit.piece.fabrics().any(|family| list.closed.get(family) == Some(&true));
        let strip = matches!(item, Item::Slice { .. });
        match hand.get(&item) {
            Some(price) if shut || strip || *price <= made => *pieces.entry(item).or_default() += 1.0,
            _ => {
                placed.unit.piece.fabrics().for_each(|family| cloth[family] += cells);
                if let Item::Unit { first, second, .. } = item
                    && first == second
                {
                    alike[first] += cells;
                }
            }
        }
    }
    let taken = |stock: &Stock| match stock.what {
        What::Cloth(family) => cloth[family],
        What::Alike(family) => alike[family],
        What::Hand(item) => pieces.get(&item).copied().unwrap_or(0.0),
    };
    stocks.iter().map(|stock| (taken(stock) - stock.have) * stock.cells).collect()
}

/// Cells of cloth that one unit takes of each of its families.
fn cells(ready: &Ready, placed: &Placed) -> f64 {
    match placed.item() {
        Item::Filler { long, short, .. } => filler_cloth(&ready.vocabulary, long as usize, short as usize),
        Item::Unit { block, .. } => half_cloth(&ready.vocabulary, block),
        Item::Slice { .. } => 0.0,
    }
}

fn cells_of(short: &[Short]) -> f64 {
    short.iter().map(|short| short.cells).sum()
}

/// A scene brought within the stock; what is short where it cannot be.
fn mended(ready: &Ready, problem: &Problem, have: &Have, found: Found) -> Result<Found, Vec<Short>> {
    let Found { mut bands, mut cost } = found;
    let mut ledger = Ledger::new(ready, have, &bands, Squares::Shared);
    let mut spots = spots(ready, problem, have, &bands);
    let mut mend = Mend::new(&mut ledger, &mut spots);
    cost += mend.settle()?;
    cost -= mend.improve();
    put_back(&mut bands, &spots);
    Ok(Found { bands, cost })
}

/// The prices that are best over all planes, within a box about the best prices so far.
fn next_prices(planes: &[Plane], stocks: &[Stock], centre: &[f64], side: f64) -> Option<Vec<f64>> {
    let mut master = Planes::new(OptimizationDirection::Maximize);
    let worth = master.add_var(1.0, (f64::NEG_INFINITY, f64::INFINITY));
    let within = |&centre: &f64| ((centre - side).max(0.0), centre + side);
    let prices: Vec<_> = centre.iter().take(stocks.len()).map(|centre| master.add_var(0.0, within(centre))).collect();
    for plane in planes {
        let terms = prices.iter().zip(&plane.over).map(|(&price, over)| (price, -over));
        let row: Vec<_> = std::iter::once((worth, 1.0)).chain(terms).collect();
        master.add_constraint(row, ComparisonOp::Le, plane.cost);
    }
    let solved = master.solve().ok()?.into_solution().ok()?;
    // Rounded, so that the last bits of the linear program do not matter.
    Some(prices.iter().map(|&price| (solved.var_value(price).max(0.0) * 64.0).round() / 64.0).collect())
}
