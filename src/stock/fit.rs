//! A scene within the stash: cloth first, then whole squares, then prints and real sheets.

use super::Have;
use super::ledger::{Ledger, NOTHING, Short, Squares};
use super::mend::Mend;
use super::patches::{put_back, spots};
use super::prices::{Cloth, Found, gap, within_cloth};
use super::prints::sewable;
use super::whole::Slopes;
use crate::compose::{ComposeError, Order, Problem, Ready, SceneError};
use crate::make::make;
use crate::plan::{Band, Plan};

/// Tries to make whole squares and real sheets suffice, each with a little less cloth.
const TRIES: u32 = 12;
/// Rounds by the cell for each round by whole squares.
const EACH: u32 = 4;

/// A scene within the stash, and how good it is.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// The plan.
    pub plan: Plan,
    /// Gap where cloth may be cut as one will: (answer - bound) / (answer - floor).
    pub cloth_gap: f64,
    /// Gap of the plan itself, with whole pairs of squares and real sheets.
    pub gap: f64,
    /// Rounds of prices taken.
    pub rounds: u32,
}

/// Why a stash gives no scene.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StockError {
    /// The order makes no scene with any amount of cloth.
    #[error(transparent)]
    Scene(#[from] SceneError),
    /// There is too little.
    #[error("the stash is too small for this top: {0}")]
    Short(String),
}

impl From<ComposeError> for StockError {
    fn from(error: ComposeError) -> Self {
        Self::Scene(error.into())
    }
}

/// Whether the order's fabrics have counts, or anything is on hand, so that a scene must keep within them.
pub fn counted(order: &Order) -> bool {
    !order.hand.is_empty() || order.fabrics.iter().any(|fabric| fabric.supply.is_some())
}

/// What a cell of cloth is worth at the request's thrift, in doubled error.
///
/// At 100 per cent a pair of squares saved may show as much as one big unit of it a just noticeable difference off
/// (2.3 in CIELAB; Mahy, Van Eycken and Oosterlinck, 1994, from memory).
fn thrift(order: &Order) -> f64 {
    f64::from(order.request.thrift) * 0.3
}

/// The best scene of cloth that is free to use, but for stray units whose pairs are saved where that hardly shows.
pub fn free(order: &Order) -> Result<Plan, SceneError> {
    let ready = Ready::new(order)?;
    let problem = ready.problem(order)?;
    let mut bands = problem.solve()?.bands;
    if order.request.thrift > 0 {
        let have = Have::new(&ready, order.fabrics);
        let mut spots = spots(&ready, &problem, &have, &bands);
        let mut ledger = Ledger::new(&ready, &have, &bands, Squares::Whole);
        Mend::new(&mut ledger, &mut spots).thrift(thrift(order));
        put_back(&mut bands, &spots);
    }
    ready.lay_prints(&mut bands);
    Ok(ready.plan(order, bands))
}

/// Composes the best scene that it can find within the supplies of the order's fabrics.
pub fn fit(order: &Order, rounds: u32) -> Result<Fitted, StockError> {
    let ready = Ready::new(order)?;
    let mut problem = ready.problem(order)?;
    let have = Have::new(&ready, order.fabrics);
    let cloth = within_cloth(&ready, &mut problem, &have, rounds)?;
    let first = cloth.bands.clone().ok_or_else(|| too_small(&ready, order, &have))?;
    let mut search = Search { ready: &ready, order, tighter: have.clone(), best: None, last: Vec::new() };
    let mut slopes = Slopes::new(cloth.prices.clone());
    let mut found = Found { bands: first, cost: cloth.cost };
    for _ in 0..=rounds / EACH {
        let bands = found.bands.clone();
        search.take(&problem, found);
        if search.best.as_ref().is_some_and(|(cost, _)| *cost <= cloth.cost) {
            break;
        }
        found = slopes.next(&ready, &mut problem, &have, &bands)?;
    }
    match search.best {
        Some((cost, bands)) => Ok(fitted(&ready, order, bands, &cloth, cost)),
        None => Err(StockError::Short(told(&ready, order, &search.last))),
    }
}

/// The best scene so far that can be sewn.
struct Search<'a> {
    ready: &'a Ready,
    order: &'a Order<'a>,
    /// What is counted on, so that real sheets suffice.
    tighter: Have,
    best: Option<(i64, Vec<Band>)>,
    last: Vec<Short>,
}

impl Search<'_> {
    /// Brings a scene within whole squares and real sheets, and keeps it where it is the best.
    fn take(&mut self, problem: &Problem, found: Found) {
        let mut have = self.tighter.clone();
        for _ in 0..TRIES {
            let mut bands = found.bands.clone();
            let mut spots = spots(self.ready, problem, &have, &bands);
            let mut ledger = Ledger::new(self.ready, &have, &bands, Squares::Whole);
            let mut mend = Mend::new(&mut ledger, &mut spots);
            let added = match mend.settle() {
                Ok(added) => added,
                Err(short) => return self.fail(short),
            };
            let saved = mend.improve();
            let cost = found.cost + added - saved + mend.thrift(thrift(self.order));
            if self.best.as_ref().is_some_and(|(best, _)| cost >= *best) {
                return;
            }
            put_back(&mut bands, &spots);
            let short = match sewable(self.ready, self.order, &mut bands) {
                Ok(()) => unplaced(self.ready, self.order, &self.ready.plan(self.order, bands.clone())),
                Err(short) => short,
            };
            if short.is_empty() {
                self.best = Some((cost, bands));
                self.tighter = have;
                return;
            }
            tighten(&mut have, &short);
            self.last = short;
        }
    }

    fn fail(&mut self, short: Vec<Short>) {
        if self.last.is_empty() || short.iter().map(|s| s.cells).sum::<f64>() > NOTHING {
            self.last = short;
        }
    }
}

fn tighten(have: &mut Have, short: &[Short]) {
    for Short { family, cells } in short {
        for have in [&mut have.cloth[*family], &mut have.alike[*family]] {
            *have = have.map(|have| (have - cells.max(4.0)).max(0.0));
        }
    }
}

fn fitted(ready: &Ready, order: &Order, bands: Vec<Band>, cloth: &Cloth, cost: i64) -> Fitted {
    Fitted {
        plan: ready.plan(order, bands),
        cloth_gap: cloth.gap(),
        gap: gap(cost, cloth.bound, cloth.floor),
        rounds: cloth.rounds,
    }
}

/// What finds no room when the work is made: nothing is promised that cannot be cut.
fn unplaced(ready: &Ready, order: &Order, plan: &Plan) -> Vec<Short> {
    let cell = order.request.grid.ticks() as f64;
    let mut short = vec![0.0; ready.families.len()];
    for (fabric, cut) in plan.fabrics.iter().zip(make(plan).cloth) {
        let print = order.fabrics.iter().position(|other| other.letter == fabric.letter);
        let family = ready.families.iter().position(|prints| print.is_some_and(|print| prints.contains(&print)));
        for left in &cut.unplaced {
            let piece = &cut.pieces[left.piece];
            let area = piece.width.ticks() as f64 * piece.height.ticks() as f64 * f64::from(left.count);
            short[family.unwrap_or(0)] += area / (cell * cell);
        }
    }
    let short = short.into_iter().enumerate().filter(|(_, cells)| *cells > 0.0);
    short.map(|(family, cells)| Short { family, cells }).collect()
}

/// What is short, in words: families and how much cloth.
fn told(ready: &Ready, order: &Order, short: &[Short]) -> String {
    let request = order.request;
    let cell = request.grid.as_inches().powi(2);
    let one = |Short { family, cells }: &Short| {
        let name = &order.fabrics[ready.families[*family][0]].family;
        let inches = (cells * cell).ceil();
        format!("{name} by {inches} square inches")
    };
    short.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn too_small(ready: &Ready, order: &Order, have: &Have) -> StockError {
    let (columns, rows) = order.request.cells();
    let cell = order.request.grid.as_inches().powi(2);
    let all: f64 = have.cloth.iter().flatten().sum::<f64>() * cell;
    let top = f64::from(columns) * f64::from(rows) * cell;
    let families = ready.families.len();
    StockError::Short(format!(
        "its {families} families have {all:.0} square inches of cloth, and the top shows {top:.0} before seams"
    ))
}
