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
//! can only lower L. A trimmed unit and a slice may come off one unit: `Have::count_strips` says what each pays for it.
//! A scene that takes too much is repaired patch by patch (see `repair`).
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench stashes` shows what others do.

use super::Have;
use super::largest::TRIAL_ROUNDS;
use super::ledger::{Ledger, Short, Squares};
use super::patches::{Become, Found, open_units, put_back};
use super::planes::{Plane, next_prices, spread_out};
use super::repair::Repair;
use super::row_pool::{Chosen, RowPool};
use super::stocks::{Stock, alone, plane, price_list, stocks};
use crate::compose::{ComposeError, Composed, Draft, Parts, PriceList, Problem, Ready};
use crate::plan::Band;
use crate::watch::Stage;

/// The first box: this much dearer for a cell of cloth, in doubled cost.
pub(super) const FIRST_BOX: f64 = 48.0;
/// What slices pay of a unit turns by so much at first, and each time by this part of it; never to nothing.
const FIRST_TURN: f64 = 0.15;
const SLOWER: f64 = 0.9;
const LEAST_PART: f64 = 0.02;
/// One round in so many is for prices spread about the best, and so many are taken row by row in each pass.
const PART: u32 = 4;
/// A gap for which scenes need not be put together from others.
const NEARLY_CLOSED: f64 = 0.003;
/// Most sums and steps of the solver in all rounds; fewer rounds are taken where one takes more.
const MOST_COUNTS: u64 = 8_000_000_000;
/// Most pieces counted in and out to bring scenes within the cloth once there is one, and scenes put together as many.
const MOST_ADDS: u64 = 12_000_000;
/// So many times as many until there is one.
const UNTIL_ONE: u64 = 2;
/// Scenes are put together from others where no more stocks are counted.
const MIXED: usize = 100;
/// Where a size is only tried, so many times fewer.
const TRIAL: u64 = 6;
/// As many rounds are taken anyway.
const LEAST_ROUNDS: u32 = 8;
/// A gap that is not worth a round more.
const CLOSED: f64 = 0.0005;

/// The best scene found within the cloth, and how good any could be.
#[derive(Clone, Debug, PartialEq)]
pub struct WithinCloth {
    /// Bands; none where no scene was found.
    pub bands: Option<Vec<Band<Draft>>>,
    /// Where there is none: what the scene that came nearest is short of.
    pub short: Vec<Short>,
    /// The scene that there would be with no end of cloth.
    pub wish: Vec<Band<Draft>>,
    /// The scene at the last prices, which may take too much.
    pub last: Option<Found>,
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

impl WithinCloth {
    fn is_closed(&self) -> bool {
        self.bands.is_some() && self.gap() <= CLOSED
    }

    /// (answer - bound) / (answer - floor).
    pub fn gap(&self) -> f64 {
        gap(self.cost, self.bound, self.floor)
    }
}

/// (answer - bound) / (answer - floor); 0 where the answer is the bound.
pub fn gap(cost: i64, bound: i64, floor: i64) -> f64 {
    (cost - bound).max(0) as f64 / (cost - floor).max(1) as f64
}

/// Most pieces counted in and out in so many rounds, where usually they are `most`.
pub(super) fn adds_in(rounds: u32, most: u64) -> u64 {
    if rounds > TRIAL_ROUNDS { most } else { most / TRIAL }
}

/// The best scene that it can find within the cloth in so many rounds.
pub fn within_cloth(
    ready: &Ready,
    problem: &mut Problem,
    have: &Have,
    rounds: u32,
) -> Result<WithinCloth, ComposeError> {
    let mut pricing = Pricing::new(ready, have, problem.floor(), adds_in(rounds, MOST_ADDS));
    let mut prices = pricing.centre.clone();
    let mut rounds = rounds;
    let mut round = 0;
    while round < (rounds - rounds / PART).max(1) {
        round += 1;
        ready.watch.begins(Stage::Cloth, round, rounds)?;
        pricing.best.rounds = round;
        pricing.open(problem, &prices)?;
        rounds = rounds.min(pricing.affords());
        if pricing.best.is_closed() {
            break;
        }
        let Some(next) = next_prices(&pricing.planes, pricing.parts, &pricing.centre, pricing.side) else { break };
        if next == prices && pricing.side < 1.0 {
            break;
        }
        prices = next;
    }
    if pricing.best.bands.is_none() || pricing.best.gap() > NEARLY_CLOSED {
        let (centre, spread) = (pricing.centre.clone(), rounds / PART);
        for turn in 0..spread {
            pricing.best.rounds += 1;
            pricing.open(problem, &spread_out(&centre, turn))?;
        }
        // Of very many stocks whole squares leave so much over that a mixture is of no use.
        if pricing.stocks.len() <= MIXED {
            pricing.adds = 0;
            pricing.recombine(problem, spread);
            ready.watch.go_on()?;
        }
    }
    // The cost of a scene bounds the bound.
    pricing.best.bound = pricing.best.bound.min(pricing.best.cost);
    Ok(pricing.best)
}

/// Prices, and the scenes found at them.
pub(super) struct Pricing<'a> {
    pub(super) ready: &'a Ready,
    pub(super) have: &'a Have,
    pub(super) stocks: Vec<Stock>,
    planes: Vec<Plane>,
    pub(super) pool: RowPool,
    /// The best prices so far, and how far the next may be from them.
    pub(super) centre: Vec<f64>,
    side: f64,
    /// How trimmed units and slices share the price of a unit now, and by how much that may turn.
    pub(super) parts: Parts,
    turn: f64,
    /// Every scene by its rows.
    pub(super) scenes: Vec<Vec<Chosen>>,
    best: WithinCloth,
    /// Sums and steps of one run of the solver.
    counts: u64,
    /// Pieces that the repair of scenes counted in and out.
    adds: u64,
    /// Most of these once there is a scene.
    most_adds: u64,
}

impl<'a> Pricing<'a> {
    fn new(ready: &'a Ready, have: &'a Have, floor: i64, most_adds: u64) -> Self {
        let stocks = stocks(ready, have);
        let centre = vec![0.0; stocks.len()];
        let best = WithinCloth {
            bands: None,
            short: Vec::new(),
            wish: Vec::new(),
            last: None,
            cost: i64::MAX,
            bound: i64::MIN,
            floor,
            rounds: 0,
            prices: price_list(&stocks, have, have.parts, &centre),
        };
        Self {
            ready,
            have,
            stocks,
            planes: Vec::new(),
            pool: RowPool::default(),
            centre,
            side: FIRST_BOX,
            parts: have.parts,
            turn: FIRST_TURN,
            scenes: Vec::new(),
            best,
            counts: 0,
            adds: 0,
            most_adds,
        }
    }

    /// Rounds that may be taken at what one of them takes.
    fn affords(&self) -> u32 {
        u32::try_from(MOST_COUNTS / self.counts.max(1)).unwrap_or(u32::MAX).max(LEAST_ROUNDS)
    }

    /// The best scene at these prices, and what it tells.
    fn open(&mut self, problem: &mut Problem, prices: &[f64]) -> Result<(), ComposeError> {
        let list = price_list(&self.stocks, self.have, self.parts, prices);
        problem.set_prices(&list);
        let composed = problem.solve()?;
        self.counts = composed.counts.sums + composed.counts.steps;
        self.bound(&composed, prices, &list);
        let paid = problem.paid(&composed.bands);
        let plane = plane(self.ready, &composed.bands, composed.cost - paid, &self.stocks, &list);
        self.lean(&plane, prices);
        self.planes.push(plane);
        let scene = self.pool.add(&composed.layers, alone(self.ready, problem, &self.stocks, &list));
        self.scenes.push(scene);
        if self.best.wish.is_empty() {
            self.best.wish = composed.bands.clone();
        }
        let found = Found { cost: composed.cost - paid, bands: composed.bands };
        self.best.last = Some(found.clone());
        self.repair(problem, found);
        self.ready.watch.go_on()?;
        Ok(())
    }

    /// Slices pay more where they take more than trimmed units, else less.
    fn lean(&mut self, plane: &Plane, prices: &[f64]) {
        if !self.have.strips_are_counted() {
            return;
        }
        let worth =
            plane.cut.each_ref().map(|cells| cells.iter().zip(prices).map(|(cells, price)| cells * price).sum());
        let [trimmed, slices]: [f64; 2] = worth;
        let slice = self.parts.slice + if slices > trimmed { self.turn } else { -self.turn };
        self.turn *= SLOWER;
        self.parts = Parts { trimmed: 1.0 - slice.clamp(LEAST_PART, 1.0), slice: slice.clamp(LEAST_PART, 1.0) };
    }

    /// Weak duality: what the scene costs at these prices, less what all that there is costs.
    fn bound(&mut self, composed: &Composed, prices: &[f64], list: &PriceList) {
        let owed: f64 = self.stocks.iter().zip(prices).map(|(stock, price)| stock.have * price * stock.cells).sum();
        // Costs are whole, so the best scene costs at least the next whole number.
        let bound = (composed.cost as f64 - owed - 1e-3).ceil() as i64;
        self.side *= if bound > self.best.bound { 1.5 } else { 0.5 };
        if bound > self.best.bound {
            (self.best.bound, self.best.prices) = (bound, list.clone());
            self.centre = prices.to_vec();
        }
    }

    /// Brings a scene within the stock, and keeps it where it is the best.
    pub(super) fn repair(&mut self, problem: &Problem, found: Found) {
        let best = &mut self.best;
        let most = if best.bands.is_some() { self.most_adds } else { UNTIL_ONE * self.most_adds };
        if self.adds > most {
            return;
        }
        let mut repaired = |may| repaired(self.ready, problem, self.have, found.clone(), may, &mut self.adds);
        let within = repaired(Become::Recoloured);
        // Plain pieces only where there is nothing else: of these sheets often give less than their area says.
        let plain = within.is_err() && best.bands.is_none();
        match if plain { repaired(Become::Plain(Squares::Shared)) } else { within } {
            Ok(repaired) if repaired.cost < best.cost => {
                (best.cost, best.bands) = (repaired.cost, Some(repaired.bands))
            }
            Err(short) if best.short.is_empty() || cells_of(&short) < cells_of(&best.short) => best.short = short,
            _ => {}
        }
    }
}

fn cells_of(short: &[Short]) -> f64 {
    short.iter().map(|short| short.cells).sum()
}

/// A scene brought within the stock; what is short where it cannot be.
fn repaired(
    ready: &Ready,
    problem: &Problem,
    have: &Have,
    found: Found,
    may: Become,
    adds: &mut u64,
) -> Result<Found, Vec<Short>> {
    let Found { mut bands, mut cost } = found;
    cost += problem.strips_over(&bands, &have.on_hand);
    let mut ledger = Ledger::new(ready, have, &bands, Squares::Shared);
    let mut open = open_units(ready, problem, have, &bands, may);
    let mut repair = Repair::new(&mut ledger, &mut open);
    let settled = repair.settle().map(|added| cost += added - repair.improve() - repair.swap());
    *adds += ledger.adds;
    settled?;
    put_back(&mut bands, &open);
    Ok(Found { bands, cost })
}
