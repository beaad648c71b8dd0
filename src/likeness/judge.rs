//! The figures of likeness.

use palette::Lab;
use palette::color_difference::HyAb;
use palette::white_point::D65;
use rayon::prelude::*;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::blur::Gaussian;
use super::raster::{Halves, raster};
use super::ssim::ssim;
use crate::fabric::Rgb;
use crate::fabric::light;
use crate::measure::Length;
use crate::measure::math::squared;
use crate::plan::Plan;

/// The sigma of a squint on the top.
const SQUINT: Length = Length::INCH;
/// A picture whose lightness spreads by less has neither lights nor darks.
const FLAT: f64 = 0.01;

/// How near a top comes to its picture; distances are HyAB in CIELAB, a mean over all cells alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Likeness {
    /// Between top and picture; a cell on a diagonal counts half and half.
    pub error: f64,
    /// The same with every cell in its best fabric: no top of them does better.
    pub floor: f64,
    /// Between both as seen at a squint, blurred in linear light by a Gaussian of 1 in.
    pub squinted: f64,
    /// The same for the picture with every cell in its best fabric.
    pub squinted_floor: f64,
    /// Structural similarity of lightness at a squint; 1 is the same.
    pub ssim: f64,
    /// Lights and darks at a squint: the correlation of lightness with the picture's, times the share of the
    /// picture's spread of lightness that the top has, at most all of it. 1 is told apart as in the picture, 0
    /// is not at all.
    pub values: f64,
}

/// What a top is judged against.
#[derive(Clone, Copy, Debug)]
pub struct Aim<'a> {
    /// The picture's colour in each cell, row by row.
    pub picture: &'a [Rgb],
    /// Cells across.
    pub columns: usize,
    /// Side of a cell.
    pub grid: Length,
    /// Colours of the fabrics.
    pub fabrics: &'a [Rgb],
}

/// How near the scene comes to its picture.
pub fn likeness(plan: &Plan) -> Likeness {
    let fabrics: Vec<Rgb> = plan.fabrics.iter().map(|fabric| fabric.colour).collect();
    let columns = plan.request.cells().0 as usize;
    let aim = Aim { picture: &plan.picture, columns, grid: plan.request.grid, fabrics: &fabrics };
    judge(&raster(plan), &aim)
}

/// How near cells of any colours come to the picture.
pub fn judge(top: &[Halves], aim: &Aim) -> Likeness {
    let best = best_cells(aim);
    let plain: Vec<Halves> = aim.picture.iter().map(|&cell| [cell; 2]).collect();
    let views = [&plain[..], top, &best].map(|cells| squint(cells, aim));
    let [picture, seen, seen_best] = views.each_ref();
    let [light, light_top, _] = views.each_ref().map(|view| view.iter().map(|lab| lab.l).collect::<Vec<f64>>());
    Likeness {
        error: error(top, aim.picture),
        floor: error(&best, aim.picture),
        squinted: mean_distance(seen, picture),
        squinted_floor: mean_distance(seen_best, picture),
        ssim: ssim(&light, &light_top, aim.columns, 100.0),
        values: values(&light, &light_top),
    }
}

/// Every cell in the fabric nearest to it.
fn best_cells(aim: &Aim) -> Vec<Halves> {
    let fabrics: Vec<(Lab<D65, f64>, Rgb)> = aim.fabrics.iter().map(|&fabric| (fabric.lab(), fabric)).collect();
    let best = |&cell: &Rgb| {
        let lab = cell.lab();
        let nearest = fabrics.iter().min_by(|a, b| a.0.hybrid_distance(lab).total_cmp(&b.0.hybrid_distance(lab)));
        [nearest.map_or(Rgb::default(), |fabric| fabric.1); 2]
    };
    aim.picture.par_iter().map(best).collect()
}

fn error(top: &[Halves], picture: &[Rgb]) -> f64 {
    let cell = |(halves, cell): (&Halves, &Rgb)| {
        let lab = cell.lab();
        halves.iter().map(|half| half.lab().hybrid_distance(lab)).sum::<f64>() / 2.0
    };
    mean(top.iter().zip(picture).map(cell))
}

/// The cells as seen at a squint.
fn squint(cells: &[Halves], aim: &Aim) -> Vec<Lab<D65, f64>> {
    let rows = cells.len() / aim.columns.max(1);
    // A blur wider than the top is the mean of all of it.
    let sigma = SQUINT.as_inches() / aim.grid.as_inches().max(f64::MIN_POSITIVE);
    let gaussian = Gaussian::new(sigma.min(aim.columns.max(rows) as f64).max(f64::MIN_POSITIVE));
    let channels: Vec<Vec<f64>> = (0..3_usize)
        .into_par_iter()
        .map(|channel| {
            let light = |[one, other]: &Halves| (one.linear()[channel] + other.linear()[channel]) / 2.0;
            gaussian.blur(&cells.iter().map(light).collect::<Vec<f64>>(), aim.columns)
        })
        .collect();
    let [red, green, blue] = channels.as_slice() else { return Vec::new() };
    let lab = |((&r, &g), &b): ((&f64, &f64), &f64)| light::lab([r, g, b]);
    red.iter().zip(green).zip(blue).map(lab).collect()
}

fn mean_distance(one: &[Lab<D65, f64>], other: &[Lab<D65, f64>]) -> f64 {
    mean(one.iter().zip(other).map(|(one, other)| one.hybrid_distance(*other)))
}

/// How well lights and darks are told apart; a picture without any asks for nothing.
fn values(picture: &[f64], top: &[f64]) -> f64 {
    let (centre, centre_top) = (mean(picture.iter().copied()), mean(top.iter().copied()));
    let spread = |values: &[f64], centre: f64| mean(values.iter().map(|value| squared(value - centre))).sqrt();
    let (spread_picture, spread_top) = (spread(picture, centre), spread(top, centre_top));
    if spread_picture < FLAT || spread_top < FLAT {
        return if spread_picture < FLAT { 1.0 } else { 0.0 };
    }
    let covariance = mean(picture.iter().zip(top).map(|(one, other)| (one - centre) * (other - centre_top)));
    covariance / (spread_picture * spread_top) * (spread_top / spread_picture).min(1.0)
}

fn mean(figures: impl ExactSizeIterator<Item = f64>) -> f64 {
    let count = figures.len().max(1) as f64;
    figures.sum::<f64>() / count
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHITE: Rgb = Rgb([255; 3]);
    const BLACK: Rgb = Rgb([0; 3]);
    const GREY: Rgb = Rgb([119; 3]);

    fn aim<'a>(picture: &'a [Rgb], fabrics: &'a [Rgb]) -> Aim<'a> {
        Aim { picture, columns: 8, grid: Length::inches(1, 2), fabrics }
    }

    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() < 0.005, "{found} is not {expected}");
    }

    /// Black and white lie 100 apart in lightness and in nothing else.
    #[test]
    fn half_a_cell_counts_half() {
        let picture = [BLACK; 64];
        let top: Vec<Halves> = (0..64).map(|i| if i < 16 { [WHITE, BLACK] } else { [BLACK; 2] }).collect();
        let found = judge(&top, &aim(&picture, &[WHITE, GREY]));
        near(found.error, 100.0 * 16.0 / 2.0 / 64.0);
        near(found.floor, GREY.lightness());
        near(found.squinted_floor, GREY.lightness());
    }

    #[test]
    fn the_picture_itself_is_perfect() {
        let picture: Vec<Rgb> = (0..64_u8).map(|i| Rgb([i * 3, 200 - i, 40])).collect();
        let top: Vec<Halves> = picture.iter().map(|&cell| [cell; 2]).collect();
        let found = judge(&top, &aim(&picture, &picture));
        for (figure, expected) in [(found.error, 0.0), (found.floor, 0.0), (found.squinted, 0.0)] {
            near(figure, expected);
        }
        near(found.ssim, 1.0);
        near(found.values, 1.0);
    }

    /// Fine checks of black and white have a mean of half the light of white: L* of Y = 1/2 is 76.07.
    #[test]
    fn a_squint_mixes_light_and_not_paint() {
        let picture = [Rgb::from_linear([0.5; 3]); 64];
        let top: Vec<Halves> = (0..64).map(|_| [WHITE, BLACK]).collect();
        let found = judge(&top, &aim(&picture, &[WHITE, BLACK]));
        near(found.error, (76.07 + 23.93) / 2.0);
        assert!(found.squinted < 0.3, "{}", found.squinted);
    }

    #[test]
    fn middle_values_tell_less_apart_and_turned_values_nothing() {
        let picture: Vec<Rgb> = (0..64).map(|i| if i % 8 < 4 { WHITE } else { BLACK }).collect();
        let top = |light: Rgb, dark: Rgb| -> Vec<Halves> {
            (0..64).map(|i| if i % 8 < 4 { [light; 2] } else { [dark; 2] }).collect()
        };
        let values = |light, dark| judge(&top(light, dark), &aim(&picture, &[light, dark])).values;
        let middle = values(Rgb([150; 3]), Rgb([90; 3]));
        assert!((0.1..0.5).contains(&middle), "{middle}");
        assert!(values(Rgb([120; 3]), Rgb([110; 3])) < middle);
        assert!(values(BLACK, WHITE) < -0.9);
        near(values(GREY, GREY), 0.0);
        near(super::values(&[5.0; 9], &[1.0, 2.0, 3.0]), 1.0);
    }

    /// Told apart as far as black and white, in the wrong places as often as in the right ones.
    #[test]
    fn contrast_in_the_wrong_places_counts_for_nothing() {
        near(super::values(&[0.0, 0.0, 100.0, 100.0], &[0.0, 100.0, 0.0, 100.0]), 0.0);
        near(super::values(&[0.0, 50.0, 100.0], &[25.0, 50.0, 75.0]), 0.5);
        near(super::values(&[25.0, 50.0, 75.0], &[0.0, 50.0, 100.0]), 1.0);
    }

    #[test]
    fn too_few_cells_are_judged_as_far_as_they_go() {
        let found = judge(&[[BLACK; 2]; 8], &aim(&[BLACK; 16], &[]));
        near(found.error, 0.0);
        assert_eq!(judge(&[], &aim(&[], &[])).ssim, 0.0);
    }
}
