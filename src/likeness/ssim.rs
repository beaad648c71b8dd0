//! Structural similarity of two grey pictures: Wang, Bovik, Sheikh and Simoncelli, Image quality assessment (2004).

use super::blur::Gaussian;
use crate::measure::math::squared;

/// The window's sigma, and how far it reaches from its middle: 11 x 11 cells.
const WINDOW: (f64, usize) = (1.5, 5);
/// What keeps small means and variances from telling too much.
const K: [f64; 2] = [0.01, 0.03];

/// Mean structural similarity of values from 0 to `range`, row by row; 1 where both are the same.
pub fn ssim(one: &[f64], other: &[f64], columns: usize, range: f64) -> f64 {
    let count = one.len().min(other.len()) / columns.max(1) * columns;
    let (one, other) = (&one[..count], &other[..count]);
    let window = Gaussian::within(WINDOW.0, WINDOW.1);
    let product = |a: &[f64], b: &[f64]| {
        let products: Vec<f64> = a.iter().zip(b).map(|(a, b)| a * b).collect();
        window.blur(&products, columns)
    };
    let (mean, mean_other) = (window.blur(one, columns), window.blur(other, columns));
    let (squares, squares_other, both) = (product(one, one), product(other, other), product(one, other));
    let [c1, c2] = K.map(|k| squared(k * range));
    let at = |i: usize| {
        let (m, n) = (mean[i], mean_other[i]);
        let (variance, variance_other, covariance) = (squares[i] - m * m, squares_other[i] - n * n, both[i] - m * n);
        (2.0 * m * n + c1) * (2.0 * covariance + c2) / ((m * m + n * n + c1) * (variance + variance_other + c2))
    };
    (0..count).map(at).sum::<f64>() / count.max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(value: impl Fn(usize, usize) -> f64) -> Vec<f64> {
        (0..14).flat_map(|y| (0..16).map(move |x| (x, y))).map(|(x, y)| value(x, y)).collect()
    }

    fn pattern(x: usize, y: usize) -> f64 {
        ((x * 37 + y * 61) % 101) as f64
    }

    /// scikit-image 0.26.0, `structural_similarity` with Gaussian weights, sigma 1.5, the covariance of the
    /// population and range 100: the mean of its full map of the same two pictures.
    #[test]
    fn as_others_find_it() {
        let (one, other) = (picture(pattern), picture(|x, y| pattern(x, y) * 0.8 + (x * y % 13) as f64));
        assert!((ssim(&one, &other, 16, 100.0) - 0.957_913_367_222_871_6).abs() < 1e-12);
    }

    #[test]
    fn the_same_is_one() {
        let one = picture(pattern);
        assert!((ssim(&one, &one, 16, 100.0) - 1.0).abs() < 1e-12);
        assert_eq!(ssim(&[], &[], 0, 100.0), 0.0);
    }

    /// Even pictures have no variance: the formula leaves (2mn + C1) / (m^2 + n^2 + C1), C1 = 1.
    #[test]
    fn even_pictures_differ_by_their_means_alone() {
        let found = ssim(&[50.0; 64], &[25.0; 64], 8, 100.0);
        assert!((found - 2501.0 / 3126.0).abs() < 1e-9, "{found}");
    }
}
