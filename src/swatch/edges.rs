//! How much the blocks on both sides of each line between two blocks differ, against their spread.

use rayon::prelude::*;

use super::view::{Blocks, Sum, apart};

/// Blocks on each side that are compared: so deep, and so far along the line to either side.
const DEEP: i64 = 3;
const ALONG: i64 = 1;
/// How much of the spread is taken as chance.
const CHANCE: f64 = 0.25;
/// The least that differs, in steps of CIELAB, squared.
const LEAST: f64 = 4.0;
/// What is left of a line beside a stronger one.
const BESIDE: f64 = 0.3;

/// Strengths of the lines: right of each block, and below it.
pub(super) struct Edges {
    pub right: Vec<f64>,
    pub below: Vec<f64>,
}

/// How much two sums differ against their spread.
pub(super) fn contrast(one: &Sum, other: &Sum) -> f64 {
    let spread = (one.variance() + other.variance()) / 2.0;
    (apart(one.mean(), other.mean()) / (CHANCE * spread + LEAST)).sqrt()
}

pub(super) fn edges(blocks: &Blocks) -> Edges {
    let at = |block: usize| (blocks.at(block).0 as i64, blocks.at(block).1 as i64);
    let every = |strength: &(dyn Fn(usize) -> f64 + Sync)| -> Vec<f64> {
        (0..blocks.sums.len()).into_par_iter().map(strength).collect()
    };
    let right = every(&|block| {
        let (x, y) = at(block);
        let along = y - ALONG..y + ALONG + 1;
        contrast(&blocks.over(x + 1 - DEEP..x + 1, along.clone()), &blocks.over(x + 1..x + 1 + DEEP, along))
    });
    let below = every(&|block| {
        let (x, y) = at(block);
        let along = x - ALONG..x + ALONG + 1;
        contrast(&blocks.over(along.clone(), y + 1 - DEEP..y + 1), &blocks.over(along, y + 1..y + 1 + DEEP))
    });
    let columns = blocks.columns;
    let across = |block: usize, by: i64| {
        let column = (block % columns) as i64 + by;
        (0..columns as i64).contains(&column).then(|| (block as i64 + by) as usize)
    };
    let down = |block: usize, by: i64| usize::try_from(block as i64 + by * columns as i64).ok();
    Edges { right: thinned(&right, across), below: thinned(&below, down) }
}

/// Keeps the strongest of neighbouring lines, and little of the others.
fn thinned(strengths: &[f64], beside: impl Fn(usize, i64) -> Option<usize>) -> Vec<f64> {
    let stronger = |block: usize, by: i64| {
        let other = beside(block, by).and_then(|other| strengths.get(other));
        other.is_some_and(|&other| other > strengths[block])
    };
    let left = |block: usize| match [-2, -1, 1, 2].into_iter().any(|by| stronger(block, by)) {
        true => strengths[block] * BESIDE,
        false => strengths[block],
    };
    (0..strengths.len()).map(left).collect()
}
