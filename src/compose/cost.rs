//! What each cell costs in each colour, and the sums of it over every patch.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use rayon::prelude::*;
use typed_index_collections::{TiSlice, TiVec};

use super::Choice;
use super::live::PART;
use crate::fabric::{Family, Rgb};

/// Cost of one cell wrong by one HyAB, at plain weight; all costs are twice that, so that halves are whole.
pub const PER_HYAB: f64 = 16.0;
/// Dearer than any unit: none may be here.
pub const NEVER: u32 = 1 << 29;
/// What a cell painted in one fabric's sketch colour costs in any other.
const FOREIGN: u32 = 1_500;
/// How near a cell must be to a sketch colour to be painted in it, in HyAB.
const PAINTED: f64 = 3.0;

/// Integer costs for each colour and cell: round(16 HyAB · weight).
pub struct CostMap {
    /// Columns of cells.
    pub columns: usize,
    /// Rows of cells.
    pub rows: usize,
    /// By colour, then cell row by row.
    pub cells: TiVec<Family, Vec<u32>>,
}

impl CostMap {
    /// Costs of `picture` in each of `choices`; `focus` weighs cells, 4 being plain, empty where all are.
    pub fn new(picture: &[Rgb], focus: &[u8], columns: usize, choices: &TiSlice<Family, Choice>) -> Self {
        let labs: Vec<_> = picture.par_iter().map(|cell| cell.lab()).collect();
        let sketches: TiVec<Family, _> = choices.iter().map(|choice| choice.sketch).collect();
        let painted = painted(picture, &sketches);
        let cells = choices.raw.par_iter().enumerate().map(|(index, choice)| {
            let target = choice.sketch.unwrap_or(choice.colour).lab();
            let cost = |(cell, lab): (usize, &palette::Lab<_, f64>)| {
                use palette::color_difference::HyAb;
                let weight = focus.get(cell).map_or(1.0, |&w| f64::from(w) / 4.0);
                let foreign =
                    painted.get(cell).is_some_and(|painted| painted.is_some_and(|painted| painted != Family(index)));
                let cost = rounded(PER_HYAB * target.hybrid_distance(*lab) * weight);
                cost + if foreign { FOREIGN } else { 0 }
            };
            labs.iter().enumerate().map(cost).collect()
        });
        Self { columns, rows: picture.len() / columns.max(1), cells: cells.collect::<Vec<_>>().into() }
    }

    /// The highest cost of any cell.
    pub fn highest(&self) -> u32 {
        self.cells.iter().flatten().copied().max().unwrap_or(0)
    }

    /// Twice the cost of every cell in its best colour: no scene costs less.
    pub fn floor(&self) -> i64 {
        self.extreme(u32::min)
    }

    /// The part of the floor that lies in a rectangle.
    pub fn floor_within(cells: &[Vec<u32>], columns: usize, [x, y, width, height]: [usize; 4]) -> i64 {
        let places = (y..y + height).flat_map(|y| (x..x + width).map(move |x| y * columns + x));
        let least = |at: usize| cells.iter().filter_map(|colour| colour.get(at)).min().copied().unwrap_or(0);
        places.map(|at| i64::from(least(at))).sum::<i64>() * 2
    }

    /// Twice the cost of every cell in its worst colour: no scene's errors cost more.
    pub fn ceiling(&self) -> i64 {
        self.extreme(u32::max)
    }

    fn extreme(&self, of: impl Fn(u32, u32) -> u32) -> i64 {
        let mut found = self.cells.first().cloned().unwrap_or_default();
        for colour in self.cells.iter().skip(1) {
            found.iter_mut().zip(colour).for_each(|(held, &cost)| *held = of(*held, cost));
        }
        found.into_iter().map(i64::from).sum::<i64>() * 2
    }
}

/// `f64::round` of what is not negative, without a call to a library.
fn rounded(cost: f64) -> u32 {
    let whole = cost as u32;
    whole.saturating_add(u32::from(cost - f64::from(whole) >= 0.5))
}

/// For each cell the sketch colour that it is painted in, by index; empty where there is none.
pub(super) fn painted<C>(picture: &[Rgb], sketches: &TiSlice<C, Option<Rgb>>) -> Vec<Option<C>>
where
    C: From<usize> + Copy + Ord + Send + Sync,
{
    let sketches: Vec<(C, Rgb)> =
        sketches.iter_enumerated().filter_map(|(index, sketch)| Some((index, (*sketch)?))).collect();
    if sketches.is_empty() {
        return Vec::new();
    }
    let nearest = |cell: &Rgb| {
        let distances = sketches.iter().map(|&(index, sketch)| (crate::fabric::hyab(*cell, sketch), index));
        let best = distances.min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        best.filter(|(distance, _)| *distance <= PAINTED).map(|(_, index)| index)
    };
    picture.par_iter().map(nearest).collect()
}

/// Sums over one colour's costs, doubled: rectangles and right isosceles triangles in a few look-ups.
///
/// With P(y, k) the sum of the first k cells of row y, all taken modulo 2^32, which is exact
/// for every patch since its own sum is less:
/// * `rect[y][x]` = 2 · sum of the cells above y and left of x;
/// * `rise[y][k+1]` = G(y, k) + G(y, k+1), G(y, k) the cells of rows y' < y left of k + (y - y');
/// * `fall[y][k]` = F(y, k) + F(y, k+1), F(y, k) the cells of rows y' < y left of k - (y - y').
pub struct Tables {
    columns: usize,
    rect: Vec<u32>,
    rise: Vec<u32>,
    fall: Vec<u32>,
}

impl Tables {
    /// Tables over `cells`, row by row.
    pub fn new(cells: &[u32], columns: usize) -> Self {
        let rows = cells.len() / columns.max(1);
        let mut tables = Self {
            columns,
            rect: Vec::with_capacity((rows + 1) * (columns + 1)),
            rise: Vec::with_capacity((rows + 1) * (columns + 2)),
            fall: Vec::with_capacity((rows + 1) * (columns + 1)),
        };
        let mut rect = vec![0_u32; columns + 1];
        let mut rise = vec![0_u32; columns + 4];
        let mut fall = vec![0_u32; columns + 2];
        tables.push(&rect, &rise, &fall);
        for row in cells.chunks_exact(columns) {
            let prefix = prefix(row);
            for (sum, p) in rect.iter_mut().zip(&prefix) {
                *sum = sum.wrapping_add(p.wrapping_mul(2));
            }
            for k in 0..columns + 3 {
                rise[k] = rise[k + 1].wrapping_add(prefix[k.min(columns)]);
            }
            rise[columns + 3] = rise[columns + 2];
            for k in (1..columns + 2).rev() {
                fall[k] = fall[k - 1].wrapping_add(prefix[k - 1]);
            }
            fall[0] = 0;
            tables.push(&rect, &rise, &fall);
        }
        for table in [&mut tables.rect, &mut tables.rise, &mut tables.fall] {
            table.extend([0; PART]);
        }
        tables
    }

    fn push(&mut self, rect: &[u32], rise: &[u32], fall: &[u32]) {
        let two = |pair: &[u32]| pair[0].wrapping_add(pair[1]);
        self.rect.extend_from_slice(rect);
        self.rise.extend(rise.windows(2).take(self.columns + 2).map(two));
        self.fall.extend(fall.windows(2).take(self.columns + 1).map(two));
    }

    /// Entries from one row of `rect` or `fall` to the next.
    pub fn stride(columns: usize) -> usize {
        columns + 1
    }

    /// Entries from one row of `rise` to the next.
    pub fn rise_stride(columns: usize) -> usize {
        columns + 2
    }

    /// `rect`, row after row, with `PART` entries more at the end; so are the others.
    #[inline(always)]
    pub fn rects(&self) -> &[u32] {
        &self.rect
    }

    /// `rise`, row after row.
    #[inline(always)]
    pub fn rises(&self) -> &[u32] {
        &self.rise
    }

    /// `fall`, row after row.
    #[inline(always)]
    pub fn falls(&self) -> &[u32] {
        &self.fall
    }

    /// `rect[y]`.
    #[inline(always)]
    pub fn rect(&self, y: usize) -> &[u32] {
        &self.rect[y * (self.columns + 1)..][..self.columns + 1]
    }

    fn rise(&self, y: usize) -> &[u32] {
        &self.rise[y * (self.columns + 2)..][..self.columns + 2]
    }

    fn fall(&self, y: usize) -> &[u32] {
        &self.fall[y * (self.columns + 1)..][..self.columns + 1]
    }

    /// Doubled cost of a rectangle.
    pub fn rectangle(&self, x: usize, y: usize, width: usize, height: usize) -> u32 {
        let (above, below) = (self.rect(y), self.rect(y + height));
        let strip = |row: &[u32]| row[x + width].wrapping_sub(row[x]);
        strip(below).wrapping_sub(strip(above))
    }

    /// Doubled cost of the triangle in the upper left of the `leg` square at (x, y).
    pub fn upper_left(&self, x: usize, y: usize, leg: usize) -> u32 {
        let within = self.rise(y + leg)[x].wrapping_sub(self.rise(y)[x + leg]);
        within.wrapping_sub(self.rect(y + leg)[x].wrapping_sub(self.rect(y)[x]))
    }

    /// Doubled cost of the triangle in the upper right of the `leg` square at (x, y).
    pub fn upper_right(&self, x: usize, y: usize, leg: usize) -> u32 {
        let left_of = self.fall(y + leg)[x + leg].wrapping_sub(self.fall(y)[x]);
        self.rect(y + leg)[x + leg].wrapping_sub(self.rect(y)[x + leg]).wrapping_sub(left_of)
    }
}

fn prefix(row: &[u32]) -> Vec<u32> {
    let sums = row.iter().scan(0_u32, |sum, &cost| {
        *sum = sum.wrapping_add(cost);
        Some(*sum)
    });
    std::iter::once(0).chain(sums).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noise(count: usize) -> Vec<u32> {
        let mut state = 7_u32;
        let mut next = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            state >> 20
        };
        (0..count).map(|_| next()).collect()
    }

    #[test]
    fn every_sum_equals_a_plain_loop() {
        for (columns, rows) in [(1, 1), (7, 5), (5, 9), (12, 12)] {
            let cells = noise(columns * rows);
            let tables = Tables::new(&cells, columns);
            let sum = |x0: usize, y0: usize, w: usize, h: usize, weight: &dyn Fn(usize, usize) -> u32| -> u32 {
                let row =
                    |dy: usize| (0..w).map(|dx| cells[(y0 + dy) * columns + x0 + dx] * weight(dx, dy)).sum::<u32>();
                (0..h).map(row).sum()
            };
            for (x, y) in (0..columns).flat_map(|x| (0..rows).map(move |y| (x, y))) {
                for (w, h) in (1..=columns - x).flat_map(|w| (1..=rows - y).map(move |h| (w, h))) {
                    assert_eq!(tables.rectangle(x, y, w, h), sum(x, y, w, h, &|_, _| 2));
                }
                for m in 1..=(columns - x).min(rows - y) {
                    let side = |a: usize, b: usize| 1 + u32::from(a < b) - u32::from(a > b);
                    assert_eq!(tables.upper_left(x, y, m), sum(x, y, m, m, &|dx, dy| side(dx + dy, m - 1)));
                    assert_eq!(tables.upper_right(x, y, m), sum(x, y, m, m, &|dx, dy| side(dy, dx)));
                }
            }
        }
    }
}
