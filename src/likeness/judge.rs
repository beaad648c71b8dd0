//! The figures of likeness.

use palette::color_difference::HyAb;
use palette::white_point::D65;
use palette::{IntoColor, Lab, LinSrgb};
use rayon::prelude::*;

use super::blur::Gaussian;
use super::raster::{Halves, raster};
use super::ssim::ssim;
use crate::fabric::Rgb;
use crate::measure::Length;
use crate::plan::Plan;

/// The sigma of a squint on the top.
const SQUINT: Length = Length::INCH;
/// A picture whose lightness spreads by less has neither lights nor darks.
const FLAT: f64 = 0.01;

/// How near a top comes to its picture; distances are HyAB in CIELAB, a mean over all cells alike.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
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
pub struct Subject<'a> {
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
    let subject = Subject { picture: &plan.picture, columns, grid: plan.request.grid, fabrics: &fabrics };
    judge(&raster(plan), &subject)
}

/// How near cells of any colours come to the picture.
pub fn judge(top: &[Halves], subject: &Subject) -> Likeness {
    let best = best_cells(subject);
    let plain: Vec<Halves> = subject.picture.iter().map(|&cell| [cell; 2]).collect();
    let views = [&plain[..], top, &best].map(|cells| squint(cells, subject));
    let [picture, seen, seen_best] = views.each_ref();
    let [light, light_top, _] = views.each_ref().map(|view| view.iter().map(|lab| lab.l).collect::<Vec<f64>>());
    Likeness {
        error: error(top, subject.picture),
        floor: error(&best, subject.picture),
        squinted: mean_distance(seen, picture),
        squinted_floor: mean_distance(seen_best, picture),
        ssim: ssim(&light, &light_top, subject.columns, 100.0),
        values: values(&light, &light_top),
    }
}

/// Every cell in the fabric nearest to it.
fn best_cells(subject: &Subject) -> Vec<Halves> {
    let fabrics: Vec<(Lab<D65, f64>, Rgb)> = subject.fabrics.iter().map(|&fabric| (fabric.lab(), fabric)).collect();
    let best = |&cell: &Rgb| {
        let lab = cell.lab();
        let nearest = fabrics.iter().min_by(|a, b| a.0.hybrid_distance(lab).total_cmp(&b.0.hybrid_distance(lab)));
        [nearest.map_or(Rgb::default(), |fabric| fabric.1); 2]
    };
    subject.picture.par_iter().map(best).collect()
}

fn error(top: &[Halves], picture: &[Rgb]) -> f64 {
    let cell = |(halves, cell): (&Halves, &Rgb)| {
        let lab = cell.lab();
        halves.iter().map(|half| half.lab().hybrid_distance(lab)).sum::<f64>() / 2.0
    };
    mean(top.iter().zip(picture).map(cell))
}

/// The cells as seen at a squint.
fn squint(cells: &[Halves], subject: &Subject) -> Vec<Lab<D65, f64>> {
    let rows = cells.len() / subject.columns.max(1);
    // A blur wider than the top is the mean of all of it.
    let sigma = SQUINT.as_inches() / subject.grid.as_inches().max(f64::MIN_POSITIVE);
    let gaussian = Gaussian::new(sigma.min(subject.columns.max(rows) as f64).max(f64::MIN_POSITIVE));
    let channels: Vec<Vec<f64>> = (0..3_usize)
        .into_par_iter()
        .map(|channel| {
            let light = |[one, other]: &Halves| (one.linear()[channel] + other.linear()[channel]) / 2.0;
            gaussian.blur(&cells.iter().map(light).collect::<Vec<f64>>(), subject.columns)
        })
        .collect();
    let [red, green, blue] = channels.as_slice() else { return Vec::new() };
    let lab = |((&r, &g), &b): ((&f64, &f64), &f64)| LinSrgb::<f64>::new(r, g, b).into_color();
    red.iter().zip(green).zip(blue).map(lab).collect()
}

fn mean_distance(one: &[Lab<D65, f64>], other: &[Lab<D65, f64>]) -> f64 {
    mean(one.iter().zip(other).map(|(one, other)| one.hybrid_distance(*other)))
}

/// How well lights and darks are told apart; a picture without any asks for nothing.
fn values(picture: &[f64], top: &[f64]) -> f64 {
    let (centre, centre_top) = (mean(picture.iter().copied()), mean(top.iter().copied()));
    let spread = |values: &[f64], centre: f64| mean(values.iter().map(|value| (value - centre).powi(2))).sqrt();
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
