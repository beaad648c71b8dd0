//! Scenes as planes over prices, and the prices that are best over all of them.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench stashes` shows what others do.

use microlp::{ComparisonOp, OptimizationDirection, Problem as Planes};

use crate::compose::Parts;

/// How far prices are spread about the best, in turn: so much higher, or as much lower.
const SPREAD: [f64; 3] = [0.2, 0.7, 4.0];

/// One scene as a plane over prices.
pub struct Plane {
    /// Its cost without prices.
    pub cost: f64,
    /// Cells that it takes of each stock over what there is, the two parts of units left out.
    pub over: Vec<f64>,
    /// Cells of its trimmed units, and of its slices, as whole units.
    pub cut: [Vec<f64>; 2],
}

impl Plane {
    fn over(&self, parts: Parts) -> impl Iterator<Item = f64> {
        let [trimmed, slices] = &self.cut;
        let cut = trimmed.iter().zip(slices);
        self.over.iter().zip(cut).map(move |(over, (main, slice))| over + parts.trimmed * main + parts.slice * slice)
    }
}

/// The prices that are best over all planes, within a box about the best prices so far.
pub fn next_prices(planes: &[Plane], parts: Parts, centre: &[f64], side: f64) -> Option<Vec<f64>> {
    let mut master = Planes::new(OptimizationDirection::Maximize);
    let worth = master.add_var(1.0, (f64::NEG_INFINITY, f64::INFINITY));
    let within = |&centre: &f64| ((centre - side).max(0.0), centre + side);
    let prices: Vec<_> = centre.iter().map(|centre| master.add_var(0.0, within(centre))).collect();
    for plane in planes {
        let terms = prices.iter().zip(plane.over(parts)).map(|(&price, over)| (price, -over));
        let row: Vec<_> = std::iter::once((worth, 1.0)).chain(terms).collect();
        master.add_constraint(row, ComparisonOp::Le, plane.cost);
    }
    let solved = master.solve().ok()?.into_solution().ok()?;
    // Rounded, so that the last bits of the linear program do not matter.
    Some(prices.iter().map(|&price| (solved.var_value(price).max(0.0) * 64.0).round() / 64.0).collect())
}

/// Prices about the best, each a part higher or lower.
pub fn spread_out(centre: &[f64], turn: u32) -> Vec<f64> {
    let most = SPREAD[turn as usize % SPREAD.len()];
    let spread = |(index, price): (u32, &f64)| {
        let part = evenly(turn.wrapping_mul(64).wrapping_add(index), 2001) as f64 / 1000.0 - 1.0;
        let times = 1.0 + most * part.abs();
        let price = if part < 0.0 { price / times } else { price * times };
        (price * 64.0).round() / 64.0
    };
    (0..).zip(centre).map(spread).collect()
}

/// A number below `of`: turn after turn they lie evenly (Weyl's sequence of the golden ratio).
pub fn evenly(turn: u32, of: usize) -> usize {
    ((u64::from(turn.wrapping_mul(2_654_435_769)) * of as u64) >> 32) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_spread_evenly_and_within_their_part() {
        for turn in 0..90 {
            let most = SPREAD[turn as usize % 3];
            let spread = spread_out(&[64.0; 16], turn);
            let within = |price: &f64| *price >= 64.0 / (1.0 + most) - 0.02 && *price <= 64.0 * (1.0 + most) + 0.02;
            assert!(spread.iter().all(within), "{spread:?}");
            let higher = spread.iter().filter(|price| **price > 64.0).count();
            assert!((6..=10).contains(&higher), "turn {turn}: {higher} of 16 are higher");
        }
        assert_eq!(spread_out(&[0.0, 1e9], 2)[0], 0.0);
    }
}
