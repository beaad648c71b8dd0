//! The picture's colours gathered into samples that weigh what stands out.

use std::collections::BTreeMap;

use palette::color_difference::HyAb;
use palette::white_point::D65;

use crate::fabric::Rgb;
use crate::fabric::light;
use crate::measure::math::length;

/// A colour in CIELAB.
pub(super) type Lab = palette::Lab<D65, f64>;

/// Most colours that are proposed.
pub(super) const MOST_COLOURS: usize = 60;
/// Most cells that are looked at; a larger picture is thinned out evenly.
const MOST_CELLS: usize = 24_000;
/// Side of the cubes of CIELAB in which near colours are one sample.
const CUBE: f64 = 3.0;

/// The cells of the picture, thinned out where there are many.
pub(super) struct Cells {
    /// Colours, row by row.
    pub colours: Vec<Rgb>,
    /// The maker's weight of each cell, 1 being plain.
    pub focus: Vec<f64>,
    /// Cells in a row.
    pub width: usize,
}

/// Near colours of the picture as one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sample {
    /// Their mean.
    pub lab: Lab,
    /// The share of the picture that they cover.
    pub area: f64,
    /// What they count for: area, the maker's weight, and how they stand out.
    pub weight: f64,
}

impl Cells {
    /// Every cell, or evenly spread ones of a large picture.
    pub(super) fn new(cells: &[Rgb], columns: usize, weights: &[u8]) -> Self {
        let width = columns.clamp(1, cells.len().max(1));
        let step = (1..).find(|step| cells.len() / (step * step) <= MOST_CELLS).unwrap_or(1);
        let mut thin = Self { colours: Vec::new(), focus: Vec::new(), width: width.div_ceil(step) };
        for (y, row) in cells.chunks_exact(width).enumerate().step_by(step) {
            for (x, colour) in row.iter().enumerate().step_by(step) {
                let weight = weights.get(y * width + x).copied().unwrap_or(4);
                thin.colours.push(*colour);
                thin.focus.push(f64::from(weight.max(1)) / 4.0);
            }
        }
        thin
    }

    /// The cells in CIELAB; each colour is worked out once.
    pub(super) fn labs(&self) -> Vec<Lab> {
        let mut known: BTreeMap<Rgb, Lab> = BTreeMap::new();
        self.colours.iter().map(|colour| *known.entry(*colour).or_insert_with(|| colour.lab())).collect()
    }
}

/// The picture's colours as samples, in a fixed order.
pub(super) fn samples(cells: &Cells) -> Vec<Sample> {
    let labs = cells.labs();
    let contrast = contrast(&labs, cells.width);
    let mut cubes: BTreeMap<[i32; 3], Vec<usize>> = BTreeMap::new();
    for (i, lab) in labs.iter().enumerate() {
        let key = [lab.l, lab.a, lab.b].map(|value| (value / CUBE).floor() as i32);
        cubes.entry(key).or_default().push(i);
    }
    let share = 1.0 / labs.len().max(1) as f64;
    let sample = |members: Vec<usize>| {
        let mut sum = Sample { lab: Lab::new(0.0, 0.0, 0.0), area: 0.0, weight: 0.0 };
        for &i in &members {
            sum.lab += labs[i];
            sum.area += share;
            let stands_out = (contrast[i] / 14.0).min(4.0) + length(labs[i].a, labs[i].b) / 40.0;
            sum.weight += share * cells.focus[i] * (1.0 + stands_out);
        }
        Sample { lab: sum.lab / members.len() as f64, ..sum }
    };
    cubes.into_values().map(sample).collect()
}

/// How far each cell with its neighbours is from the wider surroundings, in HyAB.
fn contrast(labs: &[Lab], width: usize) -> Vec<f64> {
    let height = labs.len() / width.max(1);
    let sums = sums(labs, width, height);
    let mean = |x: usize, y: usize, reach: usize| {
        let (x0, x1) = (x.saturating_sub(reach), (x + reach + 1).min(width));
        let (y0, y1) = (y.saturating_sub(reach), (y + reach + 1).min(height));
        let at = |x: usize, y: usize| sums[y * (width + 1) + x];
        (at(x1, y1) - at(x0, y1) - at(x1, y0) + at(x0, y0)) / ((x1 - x0) * (y1 - y0)) as f64
    };
    let wide = (width.max(height) / 7).max(2);
    let cells = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    cells.map(|(x, y)| mean(x, y, 1).hybrid_distance(mean(x, y, wide))).collect()
}

/// Sums of all cells above and to the left of each corner.
fn sums(labs: &[Lab], width: usize, height: usize) -> Vec<Lab> {
    let zero = Lab::new(0.0, 0.0, 0.0);
    let mut sums = vec![zero; (width + 1) * (height + 1)];
    for (y, row) in labs.chunks_exact(width.max(1)).enumerate() {
        let mut run = zero;
        for (x, lab) in row.iter().enumerate() {
            run += *lab;
            sums[(y + 1) * (width + 1) + x + 1] = sums[y * (width + 1) + x + 1] + run;
        }
    }
    sums
}

/// Index of the nearest colour and its HyAB distance.
pub(super) fn nearest(lab: Lab, colours: &[Lab]) -> Option<(usize, f64)> {
    let far = colours.iter().map(|colour| colour.hybrid_distance(lab)).enumerate();
    far.min_by(|one, other| one.1.total_cmp(&other.1))
}

/// The eight-bit colour, less colourful until it can be shown.
pub(super) fn shown(lab: Lab) -> Rgb {
    let dulled = |step: u32| {
        let keep = f64::from(step) / 40.0;
        Lab::new(lab.l.clamp(0.0, 100.0), lab.a * keep, lab.b * keep)
    };
    let fits = |lab: &Lab| light::levels(light::of_lab(*lab)).iter().all(|value| (-0.002..=1.002).contains(value));
    let lab = (0..=40).rev().map(dulled).find(fits).unwrap_or(dulled(0));
    Rgb::from_linear(light::of_lab(lab))
}
