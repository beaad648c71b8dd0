//! A Gaussian blur of one channel, mirrored at the edges.

use crate::measure::math::{exp, squared};

/// How many sigmas the blur reaches.
const REACH: f64 = 4.0;

/// Weights of a Gaussian from its middle outward; both sides together come to 1.
pub struct Gaussian(Vec<f64>);

impl Gaussian {
    /// A Gaussian of `sigma` cells, as far as it tells.
    pub fn new(sigma: f64) -> Self {
        Self::within(sigma, (sigma * REACH).ceil().max(1.0) as usize)
    }

    /// A Gaussian of `sigma` cells, cut off `radius` cells from its middle.
    pub fn within(sigma: f64, radius: usize) -> Self {
        let weight = |away: usize| exp(-squared(away as f64 / sigma) / 2.0);
        let weights: Vec<f64> = (0..=radius).map(weight).collect();
        let sum = weights.iter().sum::<f64>() * 2.0 - 1.0;
        Self(weights.iter().map(|weight| weight / sum).collect())
    }

    /// Blurs values that lie row by row.
    pub fn blur(&self, values: &[f64], columns: usize) -> Vec<f64> {
        let rows = values.len() / columns.max(1);
        let across = self.rows(values, columns);
        transposed(&self.rows(&transposed(&across, columns), rows), rows)
    }

    fn rows(&self, values: &[f64], columns: usize) -> Vec<f64> {
        values.chunks_exact(columns.max(1)).flat_map(|row| (0..row.len()).map(|x| self.at(row, x))).collect()
    }

    fn at(&self, row: &[f64], x: usize) -> f64 {
        let reach = self.0.len() - 1;
        let inside = x >= reach && x + reach < row.len();
        let pair = |(away, weight): (usize, &f64)| {
            let (before, after) = if inside {
                (row[x - away], row[x + away])
            } else {
                (mirrored(row, x as i64 - away as i64), mirrored(row, (x + away) as i64))
            };
            weight * if away == 0 { after } else { before + after }
        };
        self.0.iter().enumerate().map(pair).sum()
    }
}

/// The value at `x` of a row that is mirrored at both ends without end.
fn mirrored(row: &[f64], x: i64) -> f64 {
    let count = row.len() as i64;
    let within = x.rem_euclid((count * 2).max(1));
    let at = if within < count { within } else { count * 2 - 1 - within };
    usize::try_from(at).ok().and_then(|at| row.get(at)).copied().unwrap_or_default()
}

fn transposed(values: &[f64], columns: usize) -> Vec<f64> {
    (0..columns).flat_map(|x| values.iter().skip(x).step_by(columns.max(1)).copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(one: f64, other: f64) -> bool {
        (one - other).abs() < 1e-9
    }

    #[test]
    fn what_is_even_stays_and_no_light_is_lost() {
        let gaussian = Gaussian::new(2.0);
        assert!(gaussian.blur(&[0.3; 35], 7).iter().all(|value| near(*value, 0.3)));
        let spots: Vec<f64> = (0..35).map(|i| f64::from(i * 13 % 7)).collect();
        assert!(near(gaussian.blur(&spots, 7).iter().sum(), spots.iter().sum()));
    }

    #[test]
    fn a_spot_becomes_the_bell_curve() {
        let mut spot = vec![0.0; 41 * 41];
        spot[20 * 41 + 20] = 1.0;
        let blurred = Gaussian::new(2.0).blur(&spot, 41);
        for (dx, dy) in [(0, 0), (1, 0), (0, 3), (4, 2)] {
            // The density of a normal distribution in the plane, sigma 2.
            let density = exp(-f64::from(dx * dx + dy * dy) / 8.0) / (std::f64::consts::TAU * 4.0);
            let found = blurred[(20 + dy as usize) * 41 + 20 + dx as usize];
            assert!((found - density).abs() < 1e-4 * density.max(0.01), "{found} {density}");
        }
    }

    #[test]
    fn edges_mirror() {
        let row = [1.0, 2.0, 4.0];
        let shown: Vec<f64> = (-4..7).map(|x| mirrored(&row, x)).collect();
        assert_eq!(shown, [4.0, 4.0, 2.0, 1.0, 1.0, 2.0, 4.0, 4.0, 2.0, 1.0, 1.0]);
    }
}
