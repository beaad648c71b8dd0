//! A scene within the stash: cloth first, then whole squares, then prints and real sheets.

use super::Have;
use super::patches::{put_back, spots};
use super::prices::{Cloth, gap, within_cloth};
use super::prints::sewable;
use super::whole::{Short, within_squares};
use crate::compose::{ComposeError, Order, Ready, SceneError};
use crate::make::make;
use crate::plan::{Band, Plan};

/// Tries to make whole squares and real sheets suffice, each with a little less cloth.
const TRIES: u32 = 12;

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

/// Composes the best scene that it can find within the supplies of the order's fabrics.
pub fn fit(order: &Order, rounds: u32) -> Result<Fitted, StockError> {
    let ready = Ready::new(order)?;
    let mut problem = ready.problem(order)?;
    let have = Have::new(&ready, order.fabrics);
    let cloth = within_cloth(&ready, &mut problem, &have, rounds)?;
    let bands = cloth.bands.clone().ok_or_else(|| too_small(&ready, order, &have))?;
    let mut tighter = have.clone();
    let mut last = StockError::Short(String::new());
    for _ in 0..TRIES {
        let mut spots = spots(&ready, &problem, &bands);
        let added = match within_squares(&ready, &mut spots, &tighter) {
            Ok(added) => added,
            Err(short) => {
                last = StockError::Short(told(&ready, order, &short));
                break;
            }
        };
        let mut bands = bands.clone();
        put_back(&mut bands, &spots);
        let short = match sewable(&ready, order, &mut bands) {
            Ok(()) => {
                let fitted = fitted(&ready, order, bands, &cloth, added);
                let short = unplaced(&ready, order, &fitted.plan);
                if short.is_empty() {
                    return Ok(fitted);
                }
                short
            }
            Err(short) => short,
        };
        last = StockError::Short(told(&ready, order, &short));
        for Short { family, cells } in short {
            for have in [&mut tighter.cloth[family], &mut tighter.alike[family]] {
                *have = have.map(|have| (have - cells.max(4.0)).max(0.0));
            }
        }
    }
    Err(last)
}

fn fitted(ready: &Ready, order: &Order, bands: Vec<Band>, cloth: &Cloth, added: i64) -> Fitted {
    Fitted {
        plan: ready.plan(order, bands),
        cloth_gap: cloth.gap(),
        gap: gap(cloth.cost + added, cloth.bound, cloth.floor),
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
