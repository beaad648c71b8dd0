//! Rounds of composing and fitting.

use rayon::prelude::*;

use super::fit::{Seen, fit};
use crate::compose::{Order, SceneError, scene};
use crate::fabric::{Fabric, Rgb, named};
use crate::likeness::{Gaussian, Halves, Subject, judge, pieces, raster};
use crate::measure::Length;
use crate::plan::{Effort, Plan};

/// The sigma of what is seen from across the room.
const BLUR: Length = Length::INCH;
/// Cells from one point to the next, each way.
const APART: usize = 2;
/// Rounds at full effort.
const ROUNDS: usize = 3;
/// A scene may have so much less of its area in triangle units than the first.
const LESS: f64 = 0.02;

/// The order's fabrics, proposed ones, with colours suited to its scene; `told` hears of each round before it is begun.
///
/// Quick: one scene, and its colours fitted. Full: as many rounds as bring more, each judged by the scene that is
/// composed of it, so that none is worse. As many fabrics come out, named anew from light to dark.
pub fn suited(order: &Order, effort: Effort, mut told: impl FnMut(usize, usize)) -> Result<Vec<Fabric>, SceneError> {
    let rounds = match effort {
        Effort::None => return Ok(order.fabrics.to_vec()),
        Effort::Quick => 1,
        Effort::Full => ROUNDS,
    };
    let mut fabrics = order.fabrics.to_vec();
    let mut began = colours(&fabrics);
    let mut best: Option<Round> = None;
    let mut first = None;
    for round in 0..rounds {
        told(round + 1, rounds);
        let (plan, composed) = scene(&Order { fabrics: &fabrics, ..*order })?;
        let made = Round::new(&plan, composed.error, &fabrics);
        let least = *first.get_or_insert(made.share) - LESS;
        if made.share >= least && best.as_ref().is_none_or(|best| made.score < best.score) {
            best = Some(made);
        }
        if effort == Effort::Full && round + 1 == rounds {
            break;
        }
        let known = colours(&fabrics);
        let fitted = fit(&seen(&plan, &known), &known, &began);
        if fitted == known {
            break;
        }
        let mut moved: Vec<(Rgb, Rgb)> = fitted.into_iter().zip(began).collect();
        moved.sort_by(|one, other| other.0.lightness().total_cmp(&one.0.lightness()).then(one.cmp(other)));
        let (fitted, before) = moved.into_iter().unzip();
        (fabrics, began) = (named(fitted), before);
    }
    Ok(match (effort, best) {
        (Effort::Full, Some(best)) => best.fabrics,
        _ => fabrics,
    })
}

/// Fabrics with what is composed of them.
struct Round {
    fabrics: Vec<Fabric>,
    /// Less is better.
    score: f64,
    /// The share of triangle units in the top.
    share: f64,
}

impl Round {
    /// Blurred error and error close to alike, few units, many triangles.
    fn new(plan: &Plan, error: i64, fabrics: &[Fabric]) -> Self {
        let known = colours(fabrics);
        let columns = plan.request.cells().0 as usize;
        let subject = Subject { picture: &plan.picture, columns, grid: plan.request.grid, fabrics: &known };
        let counts = pieces(plan);
        let share = counts.triangle_cells.0 as f64 / counts.triangle_cells.1.max(1) as f64;
        let blurred = judge(&raster(plan), &subject).squinted;
        let score = (blurred * error as f64).sqrt() * (counts.units as f64).powf(0.2) / share.max(0.01).sqrt();
        Self { fabrics: fabrics.to_vec(), score, share }
    }
}

fn colours(fabrics: &[Fabric]) -> Vec<Rgb> {
    fabrics.iter().map(|fabric| fabric.colour).collect()
}

/// The scene and its picture as they are seen, at every second cell each way.
fn seen(plan: &Plan, colours: &[Rgb]) -> Seen {
    let columns = plan.request.cells().0 as usize;
    let rows = plan.picture.len() / columns.max(1);
    let sigma = BLUR.as_inches() / plan.request.grid.as_inches().max(f64::MIN_POSITIVE);
    let gaussian = Gaussian::new(sigma.clamp(f64::MIN_POSITIVE, columns.max(rows).max(1) as f64));
    let points = |channel: Vec<f64>| -> Vec<f64> {
        let blurred = gaussian.blur(&channel, columns);
        (0..rows)
            .step_by(APART)
            .flat_map(|y| (0..columns).step_by(APART).map(move |x| y * columns + x))
            .map(|at| blurred[at])
            .collect()
    };
    let cells = raster(plan);
    let mask = |colour: &Rgb| points(cells.iter().map(|cell| part(cell, *colour)).collect());
    let masks = colours.par_iter().map(mask).collect();
    let light: Vec<Vec<f64>> = (0..3_usize)
        .into_par_iter()
        .map(|channel| points(plan.picture.iter().map(|cell| cell.linear()[channel]).collect()))
        .collect();
    let picture = (0..light[0].len()).map(|at| std::array::from_fn(|channel| light[channel][at])).collect();
    let weight = |at: usize| f64::from(plan.focus.get(at).copied().unwrap_or(4)) / 4.0;
    let spots = (0..rows).step_by(APART).flat_map(|y| (0..columns).step_by(APART).map(move |x| y * columns + x));
    Seen { picture, weights: spots.map(weight).collect(), masks }
}

/// How much of a cell is of the colour.
fn part(cell: &Halves, colour: Rgb) -> f64 {
    cell.iter().filter(|half| **half == colour).count() as f64 / 2.0
}
