//! Long straight edges that are nearly level or nearly upright: a horizon, a quay, the side of a tower.
//!
//! Such an edge is to be sewn as one seam, not as two a cell apart. So it is made level, the few cells about it moved
//! up or down.
//!
//! Lines are found by votes (after Hough, 1962, and Duda and Hart, 1972): each line of a few slopes is followed across
//! the picture, two steps up for each column that has an edge there, one where it has one next to it, and `MISS` steps
//! down for each that has none; its best run counts. The longest is taken, and the next that keeps clear of it.
//!
//! Numbers without a source were found by trial, no figures kept.

use rayon::prelude::*;

use crate::fabric::{Rgb, hyab};

/// The least step of HyAB that is an edge.
const EDGE: f64 = 8.0;
/// Votes lost where a column has no edge.
const MISS: i64 = 12;
/// The most by which an edge may rise or fall, in half cells.
const RISE: i64 = 8;
/// The steepest rise, in cells of a hundred: one and a half degrees.
const STEEPEST: i64 = 3;
/// The shortest run, in cells, and as a part of the picture's side.
const SHORTEST: [i64; 2] = [24, 2];
/// Most lines each way.
const MOST: usize = 6;
/// Cells about an edge that are its own.
const REACH: i64 = 3;

/// An edge: its columns, and where it lies above the first and the last of all columns, in half cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Line {
    votes: i64,
    from: i64,
    to: i64,
    ends: [i64; 2],
}

/// The cells with straight edges made level or upright.
pub fn level(cells: &[Rgb], columns: u32, rows: u32) -> Vec<Rgb> {
    let mut cells = cells.to_vec();
    for turned in [false, true] {
        let Some(view) = View::new(cells.len(), [columns, rows], turned) else { continue };
        let before = cells.clone();
        for line in Edges::new(&view, &before).lines() {
            for x in line.from..line.to {
                line.moved(x, view.wide as i64).for_each(|[from, to]| {
                    if let (Some(from), Some(to)) = (view.index(x, from), view.index(x, to)) {
                        cells[to] = before[from];
                    }
                });
            }
        }
    }
    cells
}

/// The picture upright, or on its side with its columns as rows.
struct View {
    wide: usize,
    high: usize,
    turned: bool,
}

impl View {
    /// None where the cells are not so many.
    fn new(cells: usize, [columns, rows]: [u32; 2], turned: bool) -> Option<Self> {
        let (columns, rows) = (columns as usize, rows as usize);
        let [wide, high] = if turned { [rows, columns] } else { [columns, rows] };
        (cells > 0 && columns.checked_mul(rows) == Some(cells)).then_some(Self { wide, high, turned })
    }

    fn index(&self, x: i64, y: i64) -> Option<usize> {
        let (x, y) = (usize::try_from(x).ok()?, usize::try_from(y).ok()?);
        let inside = x < self.wide && y < self.high;
        inside.then_some(if self.turned { x * self.high + y } else { y * self.wide + x })
    }
}

impl Line {
    /// Where it crosses the middle of a column, in parts: a cell is `4 · wide` of them.
    fn at(&self, x: i64, wide: i64) -> i64 {
        let [start, end] = self.ends;
        2 * start * wide + (end - start) * (2 * x + 1)
    }

    /// The cell edge nearest to it there.
    fn nearest(&self, x: i64, wide: i64) -> i64 {
        (self.at(x, wide) + 2 * wide).div_euclid(4 * wide)
    }

    /// Whether another line is nowhere so near that the cells about them are the same.
    fn is_clear_of(&self, other: &Self) -> bool {
        let near = |line: &Self| {
            let [start, end] = line.ends;
            (start.min(end) - 2 * REACH, start.max(end) + 2 * REACH)
        };
        let ((top, bottom), (other_top, other_bottom)) = (near(self), near(other));
        bottom < other_top || other_bottom < top || self.to <= other.from || other.to <= self.from
    }

    /// The row of cell edges that stands for it.
    fn level(&self, wide: i64) -> i64 {
        self.nearest((self.from + self.to - 1) / 2, wide)
    }

    /// From which cell of a column to which its colours move.
    fn moved(&self, x: i64, wide: i64) -> impl Iterator<Item = [i64; 2]> {
        let (here, level) = (self.nearest(x, wide), self.level(wide));
        let reach = if here == level { 0 } else { (here - level).abs() + 1 };
        (-reach..reach).map(move |beside| [here + beside, level + beside])
    }
}

/// Steps of colour down each column.
struct Edges {
    wide: usize,
    high: usize,
    /// By row and column: whether the cell edge above that cell is a step, as great as those next to it.
    steps: Vec<bool>,
    /// The cells, row by row.
    cells: Vec<Rgb>,
}

impl Edges {
    fn new(view: &View, cells: &[Rgb]) -> Self {
        let (wide, high) = (view.wide, view.high);
        let places = (0..high as i64).flat_map(|y| (0..wide as i64).map(move |x| (x, y)));
        let cells: Vec<Rgb> = places.filter_map(|(x, y)| view.index(x, y)).map(|at| cells[at]).collect();
        let step = |at: usize| if at < wide { 0.0 } else { hyab(cells[at - wide], cells[at]) };
        let sizes: Vec<f64> = (0..cells.len()).into_par_iter().map(step).collect();
        let greatest = |at: usize| {
            let next = [at.checked_sub(wide), Some(at + wide)].into_iter().flatten();
            sizes[at] >= EDGE && next.filter_map(|next| sizes.get(next)).all(|&next| next <= sizes[at])
        };
        let steps = (0..cells.len()).map(greatest).collect();
        Self { wide, high, steps, cells }
    }

    /// The longest lines that keep clear of each other; of those with as many votes the more level one.
    fn lines(&self) -> Vec<Line> {
        let shortest = SHORTEST[0].max(self.wide as i64 / SHORTEST[1]);
        let rise = RISE.min(2 * STEEPEST * self.wide as i64 / 100);
        let starts = (0..2 * self.high as i64).into_par_iter();
        let lines =
            starts.flat_map_iter(|start| (-rise..=rise).filter_map(move |rise| self.run([start, start + rise])));
        let mut lines: Vec<Line> = lines.filter(|line| line.to - line.from >= shortest).collect();
        lines.sort_unstable_by_key(|line| (-line.votes, (line.ends[1] - line.ends[0]).abs(), *line));
        let mut clear: Vec<Line> = Vec::new();
        for line in lines {
            if clear.len() == MOST {
                break;
            }
            if clear.iter().all(|other| line.is_clear_of(other)) && self.tells_apart(&line) {
                clear.push(line);
            }
        }
        clear
    }

    /// The best run along a line.
    fn run(&self, ends: [i64; 2]) -> Option<Line> {
        let wide = self.wide as i64;
        let (mut best, mut votes, mut from) = (Line { votes: 0, from: 0, to: 0, ends }, 0, 0);
        for x in 0..wide {
            votes += self.vote(&best, x);
            if votes <= 0 {
                (votes, from) = (0, x + 1);
            } else if votes > best.votes {
                best = Line { votes, from, to: x + 1, ends };
            }
        }
        (best.votes > 0).then_some(best)
    }

    /// Twice for an edge where the line is, once for one next to it.
    fn vote(&self, line: &Line, x: i64) -> i64 {
        let y = line.nearest(x, self.wide as i64);
        let on = (0..self.high as i64).contains(&y) && self.steps[y as usize * self.wide + x as usize];
        match on {
            true => 2,
            false if self.near(line, x).any(|at| self.steps[at]) => 1,
            false => -MISS,
        }
    }

    /// Cell edges within three quarters of a cell of a line.
    fn near(&self, line: &Line, x: i64) -> impl Iterator<Item = usize> + use<> {
        let (wide, high) = (self.wide as i64, self.high as i64);
        let at = line.at(x, wide);
        let first = (at - 3 * wide + 4 * wide - 1).div_euclid(4 * wide);
        let last = (at + 3 * wide).div_euclid(4 * wide);
        (first.max(0)..(last + 1).min(high)).map(move |y| (y * wide + x) as usize)
    }

    /// Whether both sides are of different colours as a whole, which texture is not.
    fn tells_apart(&self, line: &Line) -> bool {
        let side = |down: i64| {
            let mut sum = [0.0; 3];
            let rows = line.from..line.to;
            for x in rows {
                let y = (line.nearest(x, self.wide as i64) + down).clamp(0, self.high as i64 - 1);
                let light = self.cells[y as usize * self.wide + x as usize].linear();
                sum = std::array::from_fn(|i| sum[i] + light[i]);
            }
            Rgb::from_linear(sum.map(|sum| sum / (line.to - line.from) as f64))
        };
        hyab(side(-2), side(1)) >= 1.5 * EDGE
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SEA: Rgb = Rgb([40, 90, 140]);
    const SKY: Rgb = Rgb([190, 210, 230]);

    /// Sea below `line` of x, each cell mixed as the line divides it.
    fn horizon(columns: u32, rows: u32, line: impl Fn(f64) -> f64) -> Vec<Rgb> {
        let cell = |x: u32, y: u32| {
            let sea = (f64::from(y + 1) - line(f64::from(x) + 0.5)).clamp(0.0, 1.0);
            let (sea_light, sky_light) = (SEA.linear(), SKY.linear());
            Rgb::from_linear([0, 1, 2].map(|i| sea * sea_light[i] + (1.0 - sea) * sky_light[i]))
        };
        (0..rows).flat_map(|y| (0..columns).map(move |x| (x, y))).map(|(x, y)| cell(x, y)).collect()
    }

    /// The same on its side.
    fn turned(cells: &[Rgb], columns: usize) -> Vec<Rgb> {
        (0..columns).flat_map(|x| cells.iter().skip(x).step_by(columns).copied()).collect()
    }

    #[test]
    fn an_edge_one_degree_off_becomes_level_in_both_ways() {
        // The tangent of one degree.
        let slope = 0.017_455_064_928_f64;
        for slope in [slope, -slope] {
            let tilted = horizon(100, 60, |x| 30.0 + slope * (x - 50.0));
            let level = level(&tilted, 100, 60);
            // Cells that the edge divides may lie on either side.
            let sure = |rows: std::ops::Range<usize>, colour| {
                rows.flat_map(|y| &level[y * 100..][..100]).all(|c| *c == colour)
            };
            assert!(sure(0..29, SKY) && sure(31..60, SEA), "{slope}");
        }
    }

    #[test]
    fn an_upright_edge_is_as_good_as_a_level_one() {
        let tilted = horizon(100, 60, |x| 30.0 + (x - 50.0) / 60.0);
        assert_eq!(level(&turned(&tilted, 100), 60, 100), turned(&level(&tilted, 100, 60), 100));
    }

    #[test]
    fn what_is_level_and_what_slopes_stay_as_they_are() {
        for slope in [0.0, 0.25] {
            let cells = horizon(60, 40, |x| 10.0 + x * slope);
            assert_eq!(level(&cells, 60, 40), cells);
        }
    }

    #[test]
    fn texture_has_no_straight_edges() {
        let mut state = 7_u32;
        let mut dice = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 24) as u8
        };
        let cells: Vec<Rgb> = (0..120 * 80).map(|_| Rgb([dice(); 3])).collect();
        assert_eq!(level(&cells, 120, 80), cells);
    }

    #[test]
    fn no_cells_and_a_grid_of_another_size_stay_as_they_are() {
        assert_eq!(level(&[], 0, 0), []);
        assert_eq!(level(&[SEA; 5], 2, 2), [SEA; 5]);
    }
}
