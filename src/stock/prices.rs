//! Prices for scarce cloth, and with them a bound on how good any scene within it could be.
//!
//! With c(x) the cost of scene x, u(x) the cloth that it takes of each family and C what there is, every price
//! vector p >= 0 bounds the best scene within the stock from below (weak duality):
//!
//! ```text
//! L(p) = min over x of c(x) + p · (u(x) - C)  <=  min of c(x) over x with u(x) <= C
//! ```
//!
//! Each L(p) is one run of the exact solver with cloth priced. The prices are raised by cutting planes: each
//! scene found bounds L from above by a plane, and the next prices are the best over all planes within a box
//! about the best so far (Kelley's method with a trust region). Prices in the solver are rounded down, which
//! can only lower L. A scene that takes too much is mended patch by patch (see `patches`).

use microlp::{ComparisonOp, OptimizationDirection, Problem as Planes};

use super::Have;
use super::have::used;
use super::patches::{improve, put_back, repair, spots};
use crate::compose::{ComposeError, Problem, Ready};
use crate::plan::Band;

/// Rounds of prices, each one run of the solver.
pub const ROUNDS: u32 = 40;
/// The first box: this much dearer for a cell of cloth, in doubled cost.
const FIRST_BOX: f64 = 48.0;
/// A gap that is not worth a round more.
const CLOSED: f64 = 0.0005;

/// The best scene found within the cloth, and how good any could be.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// Bands, their pieces naming families; none where no scene was found.
    pub bands: Option<Vec<Band>>,
    /// Doubled cost of that scene.
    pub cost: i64,
    /// No scene within the cloth costs less.
    pub bound: i64,
    /// Doubled cost of every cell in its best colour.
    pub floor: i64,
    /// Rounds taken.
    pub rounds: u32,
    /// The last best prices, by family.
    pub prices: Vec<f64>,
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

/// One scene as a plane over prices.
struct Plane {
    cost: f64,
    over: Vec<f64>,
}

/// The best scene that it can find within the cloth in so many rounds.
pub fn within_cloth(ready: &Ready, problem: &mut Problem, have: &Have, rounds: u32) -> Result<Cloth, ComposeError> {
    let families = ready.families.len();
    let mut best = Cloth {
        bands: None,
        cost: i64::MAX,
        bound: i64::MIN,
        floor: problem.floor(),
        rounds: 0,
        prices: vec![0.0; families],
    };
    let (mut planes, mut prices, mut side) = (Vec::new(), vec![0.0; families], FIRST_BOX);
    for round in 1..=rounds.max(1) {
        best.rounds = round;
        problem.set_prices(&prices);
        let composed = problem.solve()?;
        let cost = composed.cost - problem.paid(&composed.bands);
        let taken = used(ready, &composed.bands);
        let over: Vec<f64> =
            have.cloth.iter().zip(&taken).map(|(have, used)| have.map_or(0.0, |have| used - have)).collect();
        let owed: f64 = have.cloth.iter().zip(&prices).map(|(have, price)| have.unwrap_or(0.0) * price).sum();
        // Costs are whole, so the best scene costs at least the next whole number.
        let bound = (composed.cost as f64 - owed - 1e-3).ceil() as i64;
        side *= if bound > best.bound { 1.5 } else { 0.5 };
        if bound > best.bound {
            (best.bound, best.prices) = (bound, prices.clone());
        }
        mend(ready, problem, have, (composed.bands, cost, taken), &mut best);
        planes.push(Plane { cost: cost as f64, over });
        if best.bands.is_some() && best.gap() <= CLOSED {
            break;
        }
        let Some(next) = next_prices(&planes, have, &best.prices, side) else { break };
        if next == prices && side < 1.0 {
            break;
        }
        prices = next;
    }
    // The cost of a scene bounds the bound.
    best.bound = best.bound.min(best.cost);
    Ok(best)
}

/// Brings a scene within the cloth, and keeps it where it is the best so far.
fn mend(ready: &Ready, problem: &Problem, have: &Have, found: (Vec<Band>, i64, Vec<f64>), best: &mut Cloth) {
    let (mut bands, mut cost, mut taken) = found;
    if !have.holds(&taken) {
        let mut spots = spots(ready, problem, &bands);
        let Some(added) = repair(ready, &mut spots, &mut taken, have) else { return };
        cost += added - improve(ready, &mut spots, &mut taken, have);
        put_back(&mut bands, &spots);
    }
    if cost < best.cost {
        (best.cost, best.bands) = (cost, Some(bands));
    }
}

/// The prices that are best over all planes, within a box about the best prices so far.
fn next_prices(planes: &[Plane], have: &Have, centre: &[f64], side: f64) -> Option<Vec<f64>> {
    let mut master = Planes::new(OptimizationDirection::Maximize);
    let worth = master.add_var(1.0, (f64::NEG_INFINITY, f64::INFINITY));
    let scarce: Vec<usize> = (0..have.cloth.len()).filter(|&family| have.cloth[family].is_some()).collect();
    let prices: Vec<_> = scarce
        .iter()
        .map(|&family| master.add_var(0.0, ((centre[family] - side).max(0.0), centre[family] + side)))
        .collect();
    for plane in planes {
        let terms = scarce.iter().zip(&prices).map(|(&family, &price)| (price, -plane.over[family]));
        let row: Vec<_> = std::iter::once((worth, 1.0)).chain(terms).collect();
        master.add_constraint(row, ComparisonOp::Le, plane.cost);
    }
    let solved = master.solve().ok()?.into_solution().ok()?;
    let mut next = vec![0.0; have.cloth.len()];
    for (&family, &price) in scarce.iter().zip(&prices) {
        // Rounded, so that the last bits of the linear program do not matter.
        next[family] = (solved.var_value(price).max(0.0) * 64.0).round() / 64.0;
    }
    Some(next)
}
