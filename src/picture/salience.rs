//! What stands out in a picture, as a weight for each cell.
//!
//! A lamp, a sail or a far mast differs from what lies on both sides of it; the
//! edge of a hill differs from one side only. So, at several sizes: a box of
//! cells is compared in CIELAB (HyAB) with like boxes on both sides of it along
//! four lines (across, down, both diagonals). A line gives half the detour that
//! leads from one side's colour to the other's by way of the box's: in full on
//! a spot, nothing on an edge or a slope, where the box lies between the two or
//! is a mix of them, as HyAB is a metric. The second smallest of the four is the score: a
//! spot and a thin line keep theirs, a corner loses it. A line that leaves the
//! picture gives nothing, so the outermost two cells stay plain.
//!
//! A cell takes the best score of the boxes over it, bounded by how far the
//! cell itself differs from the same surroundings, and its best size counts.
//! Only the eighth of the cells that stands out most gains weight.
//!
//! Centre against surround: Itti, Koch and Niebur, A model of saliency-based
//! visual attention (1998). The ranked lines in place of a mean are our own.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use rayon::prelude::*;

use crate::fabric::Rgb;

/// The weight of a cell that does not stand out.
const PLAIN: u8 = 4;
/// What the cell that stands out most adds.
const GAIN: u64 = 4;
/// Parts of a CIELAB step.
const PARTS: f64 = 16.0;
/// The least difference that counts, 10 steps.
const FLOOR: u64 = 10 * 16;
/// The difference above the floor that earns full weight in a soft picture, 24 steps.
const CLEAR: u64 = 24 * 16;
/// Sides of the boxes in cells.
const SIDES: [i64; 5] = [1, 3, 5, 7, 11];

/// A weight of 4 (plain) to 8 (stands out most) for each cell.
pub fn salience(cells: &[Rgb], columns: u32, rows: u32) -> Vec<u8> {
    let (width, height) = (i64::from(columns), i64::from(rows));
    if width * height != i64::try_from(cells.len()).unwrap_or(0) || cells.is_empty() {
        return vec![PLAIN; cells.len()];
    }
    let table = Table::new(cells, width, height);
    let fits = |side: &i64| side * 3 <= width.min(height).max(3);
    let mut scores = vec![0; cells.len()];
    for side in SIDES.into_iter().filter(fits) {
        let at_side = table.scores(side);
        scores.iter_mut().zip(at_side).for_each(|(best, score)| *best = score.max(*best));
    }
    weights(&scores)
}

fn weights(scores: &[u64]) -> Vec<u8> {
    let mut sorted = scores.to_vec();
    sorted.sort_unstable();
    let common = sorted.get(sorted.len() * 7 / 8).copied().unwrap_or(0);
    let floor = common.max(FLOOR);
    let range = sorted.last().copied().unwrap_or(0).saturating_sub(floor).max(CLEAR);
    let weight = |score: &u64| {
        let gain = (score.saturating_sub(floor) * GAIN + range / 2) / range;
        PLAIN.saturating_add(u8::try_from(gain.min(GAIN)).unwrap_or(0))
    };
    scores.iter().map(weight).collect()
}

/// A colour in parts of CIELAB.
type Colour = [i64; 3];

/// Sums of CIELAB over every rectangle that begins at the upper left.
struct Table {
    width: i64,
    height: i64,
    sums: Vec<Colour>,
}

impl Table {
    fn new(cells: &[Rgb], width: i64, height: i64) -> Self {
        let colours: Vec<Colour> = cells.par_iter().map(|cell| parts(*cell)).collect();
        let mut above = vec![[0; 3]; index(width + 1)];
        let mut sums = above.clone();
        for row in colours.chunks(index(width).max(1)) {
            let mut left = [0; 3];
            for (place, colour) in above.iter_mut().skip(1).zip(row) {
                left = combine([(left, 1), (*colour, 1)]);
                *place = combine([(*place, 1), (left, 1)]);
            }
            sums.extend_from_slice(&above);
        }
        Self { width, height, sums }
    }

    /// Every cell's score among boxes of this side.
    fn scores(&self, side: i64) -> Vec<u64> {
        let pairs: Vec<(u64, u64)> = (0..self.width * self.height)
            .into_par_iter()
            .map(|place| self.compare(place % self.width, place / self.width, side))
            .collect();
        let boxes: Vec<u64> = pairs.iter().map(|(score, _)| *score).collect();
        let spread_out = transposed(&spread(&boxes, index(self.width), side), index(self.width));
        let spread_out = transposed(&spread(&spread_out, index(self.height), side), index(self.height));
        spread_out.into_iter().zip(pairs).map(|(score, (_, own))| score.min(own)).collect()
    }

    /// How the box and the cell in its middle differ from the surroundings.
    fn compare(&self, x: i64, y: i64, side: i64) -> (u64, u64) {
        let away = side + (side + 1) / 2;
        let pairs = [(1, 0), (0, 1), (1, 1), (1, -1)].map(|(right, down)| {
            let (right, down) = (right * away, down * away);
            self.mean(x - right, y - down, side).zip(self.mean(x + right, y + down, side))
        });
        let rank = |colour: Option<Colour>| colour.map_or(0, |colour| ranked(colour, pairs));
        (rank(self.mean(x, y, side)), rank(self.mean(x, y, 1)))
    }

    /// The mean of what lies inside of a box around a cell.
    fn mean(&self, x: i64, y: i64, side: i64) -> Option<Colour> {
        let half = side / 2;
        let (left, right) = ((x - half).max(0), (x + half + 1).min(self.width));
        let (top, bottom) = ((y - half).max(0), (y + half + 1).min(self.height));
        if left >= right || top >= bottom {
            return None;
        }
        let at = |x, y| self.sums.get(index(y * (self.width + 1) + x)).copied().unwrap_or_default();
        let sum = combine([(at(right, bottom), 1), (at(left, top), 1), (at(left, bottom), -1), (at(right, top), -1)]);
        Some(sum.map(|sum| sum.div_euclid((right - left) * (bottom - top))))
    }
}

fn parts(cell: Rgb) -> Colour {
    let lab = cell.lab();
    [lab.l, lab.a, lab.b].map(|value| (value * PARTS).round() as i64)
}

fn combine<const N: usize>(terms: [(Colour, i64); N]) -> Colour {
    let mut sum = [0; 3];
    for (colour, sign) in terms {
        sum.iter_mut().zip(colour).for_each(|(sum, value)| *sum += sign * value);
    }
    sum
}

/// The second smallest of the differences along four lines.
fn ranked(colour: Colour, pairs: [Option<(Colour, Colour)>; 4]) -> u64 {
    let mut differences = pairs.map(|pair| pair.map_or(0, |(one, other)| along(colour, one, other)));
    differences.sort_unstable();
    let [_, second, ..] = differences;
    second
}

/// Half the detour that leads from one side to the other by way of the colour.
fn along(colour: Colour, one: Colour, other: Colour) -> u64 {
    (difference(one, colour) + difference(colour, other)).saturating_sub(difference(one, other)) / 2
}

fn difference([l, a, b]: Colour, [other_l, other_a, other_b]: Colour) -> u64 {
    let square = |one: i64, other: i64| one.abs_diff(other).pow(2);
    l.abs_diff(other_l) + (square(a, other_a) + square(b, other_b)).isqrt()
}

/// The largest within half a side to the left and right.
fn spread(values: &[u64], width: usize, side: i64) -> Vec<u64> {
    let half = index(side / 2);
    let largest = |row: &[u64], x: usize| {
        let end = (x + half + 1).min(row.len());
        row.get(x.saturating_sub(half)..end).and_then(|near| near.iter().max()).copied().unwrap_or(0)
    };
    values.chunks(width.max(1)).flat_map(|row| (0..row.len()).map(move |x| largest(row, x))).collect()
}

fn transposed(values: &[u64], width: usize) -> Vec<u64> {
    (0..width).flat_map(|x| values.iter().skip(x).step_by(width.max(1)).copied()).collect()
}

fn index(value: i64) -> usize {
    usize::try_from(value).unwrap_or_default()
}
