//! Structural similarity of two grey pictures: Wang, Bovik, Sheikh and Simoncelli, Image quality assessment (2004).

use super::blur::Gaussian;

/// The window's sigma, and how far it reaches from its middle: 11 x 11 cells.
const WINDOW: (f64, usize) = (1.5, 5);
/// What keeps small means and variances from telling too much.
const K: [f64; 2] = [0.01, 0.03];

/// Mean structural similarity of values from 0 to `range`, row by row; 1 where both are the same.
pub fn ssim(one: &[f64], other: &[f64], columns: usize, range: f64) -> f64 {
    let window = Gaussian::within(WINDOW.0, WINDOW.1);
    let product = |a: &[f64], b: &[f64]| {
        let products: Vec<f64> = a.iter().zip(b).map(|(a, b)| a * b).collect();
        window.blur(&products, columns)
    };
    let (mean, mean_other) = (window.blur(one, columns), window.blur(other, columns));
    let (squares, squares_other, both) = (product(one, one), product(other, other), product(one, other));
    let [c1, c2] = K.map(|k| (k * range).powi(2));
    let at = |i: usize| {
        let (m, n) = (mean[i], mean_other[i]);
        let (variance, variance_other, covariance) = (squares[i] - m * m, squares_other[i] - n * n, both[i] - m * n);
        (2.0 * m * n + c1) * (2.0 * covariance + c2) / ((m * m + n * n + c1) * (variance + variance_other + c2))
    };
    (0..mean.len()).map(at).sum::<f64>() / mean.len().max(1) as f64
}
