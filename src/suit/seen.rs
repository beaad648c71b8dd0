//! A picture and the scenes composed of it as they are seen, and how they are judged.

use palette::color_difference::HyAb;
use rayon::prelude::*;

use super::fit::{Seen, fit, lab};
use super::median::Lab;
use super::tones::Tones;
use crate::compose::{Order, SceneError, scene};
use crate::fabric::{Print, Rgb};
use crate::likeness::{Gaussian, pieces, raster};
use crate::measure::Length;
use crate::measure::math::pow;
use crate::plan::Plan;

/// The sigma of what is seen from across the room.
const BLUR: Length = Length::INCH;
/// Cells from one point to the next, each way, at least.
const APART: usize = 2;
/// Most points.
const POINTS: usize = 5_000;

/// The order with its picture as it is seen.
pub(super) struct Sight<'a> {
    order: &'a Order<'a>,
    columns: usize,
    gaussian: Gaussian,
    /// The cells that are points.
    points: Vec<usize>,
    /// The blurred picture at the points, in linear light and in CIELAB.
    light: Vec<[f64; 3]>,
    labs_seen: Vec<Lab>,
    /// Each cell as it is.
    pub(super) labs: Vec<Lab>,
    /// What each cell counts for.
    pub(super) weights: Vec<f64>,
}

/// A patch: its fabric, and its cells with the part of each that is in it.
pub(super) struct Patch {
    fabric: usize,
    pub(super) cells: Vec<(usize, f64)>,
}

/// Tones with the scene that is composed of them.
pub(super) struct Scene {
    pub(super) tones: Tones,
    /// By unit: a filler's patch, or a triangle unit's two.
    pub(super) units: Vec<Vec<Patch>>,
    /// The share of triangle units in the top.
    pub(super) share: f64,
    /// The blurred mask of each fabric at the points.
    masks: Vec<Vec<f64>>,
}

/// How good a scene is; less is better.
#[derive(Clone, Copy, Debug)]
pub(super) struct Judged {
    /// The sum of its error as it is seen.
    pub(super) blurred: f64,
    /// That and its error close to alike, few units, many triangles.
    pub(super) score: f64,
}

impl<'a> Sight<'a> {
    pub(super) fn new(order: &'a Order<'a>) -> Self {
        let columns = (order.request.cells().0 as usize).clamp(1, order.picture.len().max(1));
        let rows = order.picture.len() / columns;
        let sigma = BLUR.as_inches() / order.request.grid.as_inches().max(f64::MIN_POSITIVE);
        let gaussian = Gaussian::new(sigma.clamp(f64::MIN_POSITIVE, columns.max(rows).max(1) as f64));
        let apart = (APART..).find(|step| rows.div_ceil(*step) * columns.div_ceil(*step) <= POINTS).unwrap_or(APART);
        let points = (0..rows).step_by(apart).flat_map(|y| (0..columns).step_by(apart).map(move |x| y * columns + x));
        let mut sight = Self {
            order,
            columns,
            gaussian,
            points: points.collect(),
            light: Vec::new(),
            labs_seen: Vec::new(),
            labs: order.picture.par_iter().map(|cell| cell.lab()).collect(),
            weights: (0..order.picture.len())
                .map(|at| f64::from(order.focus.get(at).copied().unwrap_or(4)) / 4.0)
                .collect(),
        };
        let linear: Vec<[f64; 3]> = order.picture.iter().map(|cell| cell.linear()).collect();
        let channels: Vec<Vec<f64>> = (0..3_usize)
            .into_par_iter()
            .map(|channel| sight.blurred(&linear.iter().map(|cell| cell[channel]).collect::<Vec<f64>>()))
            .collect();
        sight.light = (0..sight.points.len()).map(|at| std::array::from_fn(|c| channels[c][at])).collect();
        sight.labs_seen = sight.light.iter().map(|light| lab(*light)).collect();
        sight
    }

    fn blurred(&self, cells: &[f64]) -> Vec<f64> {
        let blurred = self.gaussian.blur(cells, self.columns);
        self.points.iter().map(|&at| blurred[at]).collect()
    }

    /// The scene of the tones.
    pub(super) fn scene(&self, tones: &Tones) -> Result<Scene, SceneError> {
        let fabrics = tones.fabrics();
        let order = Order { fabrics: &fabrics, ..*self.order };
        let (plan, _) = scene(&order)?;
        let units = units(&plan, self.columns);
        let counts = pieces(&plan);
        let share = counts.triangle_cells.0 as f64 / counts.triangle_cells.1.max(1) as f64;
        let mask = |fabric: usize| {
            let mut cells = vec![0.0; self.labs.len()];
            let own = units.iter().flatten().filter(|patch| patch.fabric == fabric);
            own.flat_map(|patch| &patch.cells).for_each(|&(at, part)| cells[at] += part);
            self.blurred(&cells)
        };
        let masks = (0..fabrics.len()).into_par_iter().map(mask).collect();
        Ok(Scene { tones: tones.clone(), units, share, masks })
    }

    /// How the scene would be judged in other colours.
    pub(super) fn judged(&self, scene: &Scene, colours: &[Rgb]) -> Judged {
        let linear: Vec<[f64; 3]> = colours.iter().map(|colour| colour.linear()).collect();
        let seen = |at: usize| {
            let channel = |c: usize| scene.masks.iter().zip(&linear).map(|(mask, light)| mask[at] * light[c]).sum();
            lab(std::array::from_fn(channel)).hybrid_distance(self.labs_seen[at])
        };
        let far: Vec<f64> = (0..self.points.len()).into_par_iter().map(seen).collect();
        let labs: Vec<Lab> = colours.iter().map(|colour| colour.lab()).collect();
        let patch = |patch: &Patch| {
            let cell = |&(at, part): &(usize, f64)| {
                labs[patch.fabric].hybrid_distance(self.labs[at]) * part * self.weights[at]
            };
            patch.cells.iter().map(cell).sum::<f64>()
        };
        let close: f64 = scene.units.iter().flatten().map(patch).sum();
        let blurred = far.iter().sum::<f64>();
        let units = pow(scene.units.len() as f64, 0.2);
        Judged { blurred, score: (blurred * close).sqrt() * units / scene.share.max(0.01).sqrt() }
    }

    /// The tones' colours fitted to the pieces of their scene.
    pub(super) fn fitted(&self, scene: &Scene) -> Vec<Rgb> {
        let seen = Seen {
            picture: self.light.clone(),
            weights: self.points.iter().map(|&at| self.weights[at]).collect(),
            masks: scene.masks.clone(),
        };
        fit(&seen, &scene.tones.colours(), &scene.tones.began(), &scene.tones.held())
    }

    /// The cells that count, each with what a part of it counts for.
    pub(super) fn weighted(&self, patch: &Patch) -> Vec<(Lab, f64)> {
        patch.cells.iter().map(|&(at, part)| (self.labs[at], part * self.weights[at])).collect()
    }
}

/// The patches of each unit.
fn units(plan: &Plan, columns: usize) -> Vec<Vec<Patch>> {
    let halves = raster(plan);
    let unit = |placed: crate::plan::Placed| {
        let (wide, high) = (placed.unit.width as usize, placed.height as usize);
        let first = placed.y as usize * columns + placed.x as usize;
        let cells: Vec<usize> = (0..high).flat_map(|y| (0..wide).map(move |x| first + y * columns + x)).collect();
        let patch = |print: Print| {
            let colour = plan.fabrics[print].colour;
            let part = |at: usize| halves[at].iter().filter(|half| **half == colour).count() as f64 / 2.0;
            let cells = cells.iter().map(|&at| (at, part(at))).filter(|(_, part)| *part > 0.0).collect();
            // By tone from here on: its scene's fabrics are named of the tones one by one.
            Patch { fabric: print.0, cells }
        };
        placed.unit.piece.fabrics().map(patch).collect()
    };
    plan.placed().into_iter().map(unit).collect()
}
