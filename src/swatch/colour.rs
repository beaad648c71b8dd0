//! The colour that a print reads as: its mean in linear light, without what shade, folds and glare set off.

use super::light::Light;
use super::outline::Askew;
use super::view::{BLOCK, View};
use crate::fabric::{Rgb, ciede2000};

/// Parts along each side that are compared.
const PARTS: usize = 6;
/// A part so much lighter or darker than the middling one is left out, unless many differ as much.
const OFF: f64 = 0.16;
const OFF_MANY: f64 = 3.2;
/// Pixels that the spread is taken of.
const SAMPLES: usize = 1_500;
/// Mean CIEDE2000 of its parts up to which a print reads as one colour.
const ONE_COLOUR: f64 = 4.5;

/// What a swatch's pixels say.
pub(super) struct Reading {
    pub colour: Rgb,
    pub spread: f64,
    pub one_colour: bool,
    /// The share of its parts that were left out.
    pub left_out: f64,
    /// The share of its pixels that are as bright as can be.
    pub full: f64,
    /// How many pixels it has.
    pub pixels: usize,
}

/// Pixels of blocks, without those at their edge where that leaves enough.
pub(super) fn inside(view: &View, blocks: &[usize]) -> Vec<usize> {
    let all: std::collections::BTreeSet<usize> = blocks.iter().copied().collect();
    let within = |block: &usize| view.blocks.beside(*block).filter(|beside| all.contains(beside)).count() == 4;
    let inner: Vec<usize> = blocks.iter().copied().filter(within).collect();
    let taken = if inner.len() * 5 >= blocks.len() { inner } else { blocks.to_vec() };
    let pixels = taken.into_iter().flat_map(|block| {
        let (column, row) = view.blocks.at(block);
        let across = column * BLOCK..((column + 1) * BLOCK).min(view.width);
        let down = row * BLOCK..((row + 1) * BLOCK).min(view.height);
        down.flat_map(move |y| across.clone().map(move |x| y * view.width + x))
    });
    pixels.collect()
}

/// Reads the pixels of a swatch.
pub(super) fn reading(view: &View, light: &Light, pixels: &[usize], askew: &Askew) -> Reading {
    let place = |at: usize| [(at % view.width) as f64 + 0.5, (at / view.width) as f64 + 0.5];
    let evened = |at: usize| {
        let [x, y] = place(at);
        light.evened([x / view.width as f64, y / view.height as f64], view.light[at])
    };
    let mut parts = [[0.0; 4]; PARTS * PARTS];
    for &at in pixels {
        let within = askew.within(place(at).map(|side| side / BLOCK as f64));
        let [u, v] = within.map(|side| ((side * PARTS as f64) as usize).min(PARTS - 1));
        let light = evened(at);
        (0..3).for_each(|i| parts[v * PARTS + u][i] += light[i]);
        parts[v * PARTS + u][3] += 1.0;
    }
    let full = pixels.iter().filter(|&&at| view.light[at].iter().any(|&light| light > 0.98)).count();
    // A part of few pixels says little of itself.
    let enough = pixels.len() as f64 / (4 * PARTS * PARTS) as f64;
    let means: Vec<([f64; 3], f64)> = parts
        .iter()
        .filter(|part| part[3] >= enough.max(1.0))
        .map(|part| ([part[0] / part[3], part[1] / part[3], part[2] / part[3]], part[3]))
        .collect();
    let luma = |[r, g, b]: [f64; 3]| 0.2126 * r + 0.7152 * g + 0.0722 * b;
    let middle = middling(means.iter().map(|(mean, _)| luma(*mean)).collect());
    let off = |mean: [f64; 3]| (luma(mean) - middle).abs();
    let usual = middling(means.iter().map(|(mean, _)| off(*mean)).collect());
    let most = (OFF * middle).max(OFF_MANY * usual);
    let kept: Vec<&([f64; 3], f64)> = means.iter().filter(|(mean, _)| off(*mean) <= most).collect();
    let all: f64 = kept.iter().map(|(_, count)| count).sum();
    let mean = [0, 1, 2].map(|i| kept.iter().map(|(mean, count)| mean[i] * count).sum::<f64>() / all.max(1.0));
    let colour = Rgb::from_linear(mean);
    let apart = |light: [f64; 3]| ciede2000(Rgb::from_linear(light), colour);
    let step = (pixels.len() / SAMPLES).max(1);
    let sampled: Vec<f64> = pixels.iter().step_by(step).map(|&at| apart(evened(at))).collect();
    let of_parts = kept.iter().map(|(mean, _)| apart(*mean)).sum::<f64>() / kept.len().max(1) as f64;
    Reading {
        colour,
        spread: sampled.iter().sum::<f64>() / sampled.len().max(1) as f64,
        one_colour: of_parts <= ONE_COLOUR,
        left_out: 1.0 - kept.len() as f64 / means.len().max(1) as f64,
        full: full as f64 / pixels.len().max(1) as f64,
        pixels: pixels.len(),
    }
}

fn middling(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or_default()
}
