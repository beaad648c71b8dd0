//! Scenes as planes over prices, and the prices that are best over all of them.

use microlp::{ComparisonOp, OptimizationDirection, Problem as Planes};

/// One scene as a plane over prices.
pub struct Plane {
    /// Its cost without prices.
    pub cost: f64,
    /// Cells that it takes of each stock over what there is.
    pub over: Vec<f64>,
}

/// The prices that are best over all planes, within a box about the best prices so far.
pub fn next_prices(planes: &[Plane], centre: &[f64], side: f64) -> Option<Vec<f64>> {
    let mut master = Planes::new(OptimizationDirection::Maximize);
    let worth = master.add_var(1.0, (f64::NEG_INFINITY, f64::INFINITY));
    let within = |&centre: &f64| ((centre - side).max(0.0), centre + side);
    let prices: Vec<_> = centre.iter().map(|centre| master.add_var(0.0, within(centre))).collect();
    for plane in planes {
        let terms = prices.iter().zip(&plane.over).map(|(&price, over)| (price, -over));
        let row: Vec<_> = std::iter::once((worth, 1.0)).chain(terms).collect();
        master.add_constraint(row, ComparisonOp::Le, plane.cost);
    }
    let solved = master.solve().ok()?.into_solution().ok()?;
    // Rounded, so that the last bits of the linear program do not matter.
    Some(prices.iter().map(|&price| (solved.var_value(price).max(0.0) * 64.0).round() / 64.0).collect())
}
