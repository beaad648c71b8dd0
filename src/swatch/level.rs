//! Cloth that lies together, turned level, and how much its colours change along a line.

use std::ops::Range;

use super::outline::Askew;
use super::view::{BLOCK, View};
use crate::measure::math::squared;

/// Bins of each of lightness, a and b, how wide they are in steps of CIELAB, and what a pixel counts, shared by two.
const BINS: usize = 16;
const WIDE: [f64; 3] = [6.7, 12.0, 12.0];
const WHOLE: f64 = 8.0;
/// How much of a difference in lightness counts, as folds and shadows make some.
const LIGHTNESS: f64 = 0.6;
/// Pixels of the view to a step across lines, and to one along them.
pub(super) const STEPS: [usize; 2] = [2, 4];

/// Colours in bins, of a stretch of pixels.
type Counts = [u32; 3 * BINS];

/// Some rows between two columns, whose colours are compared in so many parts.
pub(super) struct Stretch {
    pub rows: Range<usize>,
    pub columns: [usize; 2],
    pub parts: usize,
}

/// A line by its columns at the first row and at the end of the last.
pub(super) type Line = [f64; 2];

/// Cloth that lies together, turned level: what lies to the left of each step, row by row.
pub(super) struct Level {
    pub columns: usize,
    pub rows: usize,
    sums: Vec<[u16; 3 * BINS]>,
    cloth: Vec<u16>,
}

impl Level {
    /// The cloth in its frame, lines running down where `upright`, and across otherwise.
    pub fn of(view: &View, cloth: &[bool], frame: &Askew, upright: bool) -> Self {
        let sides = [frame.width, frame.height].map(|side| side * BLOCK as f64);
        let [wide, tall] = if upright { sides } else { [sides[1], sides[0]] };
        let count = |side: f64, step: usize| ((side / step as f64) as usize).max(1);
        let (columns, rows, fine) = (count(wide, STEPS[0]), count(tall, STEPS[1]), STEPS[1] / STEPS[0]);
        let mut level = Self { columns, rows, sums: Vec::new(), cloth: Vec::new() };
        for row in 0..rows {
            let (mut sums, mut count) = ([0; 3 * BINS], 0);
            level.sums.push(sums);
            level.cloth.push(count);
            for column in 0..columns {
                for part in 0..fine {
                    let along = (row * fine + part) as f64 + 0.5;
                    let place = [(column as f64 + 0.5) / columns as f64, along / (rows * fine) as f64];
                    let [across, down] = if upright { place } else { [place[1], place[0]] };
                    let [x, y] = frame.place(across, down).map(|side| side * BLOCK as f64);
                    if x < 0.0 || y < 0.0 || x >= view.width as f64 || y >= view.height as f64 {
                        continue;
                    }
                    let (x, y) = (x as usize, y as usize);
                    if cloth[y / BLOCK * view.blocks.columns + x / BLOCK] {
                        add(&mut sums, view.lab[y * view.width + x]);
                        count += 1;
                    }
                }
                level.sums.push(sums);
                level.cloth.push(count);
            }
        }
        level
    }

    /// What lies in a row between two columns.
    fn at(&self, row: usize, column: usize) -> usize {
        row * (self.columns + 1) + column
    }

    fn take(&self, counts: &mut Counts, row: usize, [from, to]: [usize; 2]) {
        let (start, end) = (&self.sums[self.at(row, from)], &self.sums[self.at(row, to)]);
        for (count, (end, start)) in counts.iter_mut().zip(end.iter().zip(start)) {
            *count += u32::from(end - start);
        }
    }

    /// The columns between which there is cloth in most of some rows.
    pub fn filled(&self, rows: &Range<usize>) -> Vec<[usize; 2]> {
        let most = rows.len() * STEPS[1] / STEPS[0] / 2;
        let cloth = |column: usize| {
            let of = |row| self.cloth[self.at(row, column + 1)] - self.cloth[self.at(row, column)];
            rows.clone().map(|row| usize::from(of(row))).sum::<usize>() > most
        };
        let mut all: Vec<[usize; 2]> = Vec::new();
        for column in (0..self.columns).filter(|&column| cloth(column)) {
            match all.last_mut() {
                Some(last) if last[1] == column => last[1] = column + 1,
                _ => all.push([column, column + 1]),
            }
        }
        all
    }

    /// How much colours change along a line, as deep on both sides, in steps of CIELAB.
    pub fn change(&self, [top, bottom]: Line, stretch: &Stretch, deep: usize) -> f64 {
        let (rows, parts) = (&stretch.rows, stretch.parts);
        let (mut sum, mut all) = (0.0, 0.0);
        for part in 0..parts {
            let [mut left, mut right] = [[0; 3 * BINS]; 2];
            for row in rows.start + rows.len() * part / parts..rows.start + rows.len() * (part + 1) / parts {
                let along = ((row - rows.start) as f64 + 0.5) / rows.len() as f64;
                let at = (top + (bottom - top) * along).clamp(0.0, self.columns as f64) as usize;
                self.take(&mut left, row, [at.saturating_sub(deep), at]);
                self.take(&mut right, row, [at, (at + deep).min(self.columns)]);
            }
            let both = [&left, &right].map(|side| f64::from(side[..BINS].iter().sum::<u32>()));
            let weight = both[0].min(both[1]);
            if weight > 0.0 {
                sum += weight * moved(&left, &right, both);
                all += weight;
            }
        }
        sum / f64::max(all, 1.0)
    }
}

/// A pixel, shared by the two bins that it lies between.
fn add(sums: &mut [u16; 3 * BINS], lab: [f64; 3]) {
    for i in 0..3 {
        let middle = if i == 0 { 0.0 } else { BINS as f64 / 2.0 };
        let place = (lab[i] / WIDE[i] + middle).clamp(0.0, BINS as f64 - 1.001);
        let upper = (place.fract() * WHOLE).round() as u16;
        sums[i * BINS + place as usize] += WHOLE as u16 - upper;
        sums[i * BINS + place as usize + 1] += upper;
    }
}

/// How far what is in bins is moved to make one side of the other: in one dimension, the difference of the sums so far
/// (Rubner, Tomasi and Guibas, 2000: the earth mover's distance).
fn moved(left: &Counts, right: &Counts, [one, other]: [f64; 2]) -> f64 {
    let each = |i: usize| {
        let (mut so_far, mut sum) = (0.0, 0.0);
        for bin in i * BINS..(i + 1) * BINS {
            so_far += f64::from(left[bin]) / one - f64::from(right[bin]) / other;
            sum += f64::abs(so_far);
        }
        squared(sum * WIDE[i])
    };
    (LIGHTNESS * each(0) + each(1) + each(2)).sqrt()
}
