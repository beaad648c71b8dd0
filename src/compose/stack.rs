//! Rows to columns, columns to bands, bands to the top.
//!
//! With R(y, h, e, f) the cheapest row of height h at y between the edges e and f, S(h) its seam and what it costs
//! more where it is low, and Y the band edges:
//!
//! ```text
//! column(e, f, Y, y) = min over h of column(e, f, Y, y - h) + R(y - h, h, e, f) + S(h)
//! band(Y, Z)         = cheapest way from the left to the right edge over columns (e, f) and column edges
//! top(y)             = min over h of top(y - h) + R(y - h, h, left, right) + S(h),
//!                      and over Y of top(Y) + band(Y, y) where y is a band edge too
//! ```
//!
//! What a column edge costs depends on the picture along it and on its length alone, so the parts stay
//! independent and the minimum is exact. Rows across the whole top may stand at any cell; only the edges of
//! split bands and of columns are on the edge step. Among equals: no split, then the taller row or the
//! earlier edge.

use std::ops::Range;

use rayon::prelude::*;

use super::row::{BLOCKED, RowSolver};
use super::{Counts, Problem};

/// Costs of all rows, their seams with them: by upper edge, then height, then pair of edges.
pub struct RowCosts {
    costs: Vec<i32>,
    heights: usize,
    pairs: usize,
}

/// A layer of the top as found: a row across the whole of it, or a band of columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tier {
    /// Height.
    pub height: usize,
    /// Columns from the left; one of one row where it is a row across the whole top.
    pub columns: Vec<Stack>,
}

/// A column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stack {
    /// Left edge.
    pub x: usize,
    /// Right edge.
    pub to: usize,
    /// What the left edge costs.
    pub edge: i64,
    /// Rows from the top.
    pub rows: Vec<Laid>,
}

/// A row in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Laid {
    /// Upper edge.
    pub y: usize,
    /// Height.
    pub height: usize,
    /// What it costs, its seam with it.
    pub cost: i64,
}

impl RowCosts {
    /// Solves every row of the problem.
    pub fn solve(problem: &Problem, counts: &mut Counts) -> Self {
        let (heights, pairs) = (problem.heights.len(), problem.pairs.len());
        let mut costs = vec![BLOCKED; problem.rows * heights * pairs];
        let arch = pulp::Arch::new();
        let solve = |solver: &mut RowSolver, (part, out): (usize, &mut [i32])| {
            arch.dispatch(RowsFrom { problem, solver, y: part * TOGETHER, out })
        };
        let all = costs.par_chunks_mut(TOGETHER * heights * pairs).enumerate();
        *counts += all.map_init(RowSolver::default, solve).reduce(Counts::default, |a, b| a + b);
        Self { costs, heights, pairs }
    }

    fn at(&self, y: usize, height: usize) -> &[i32] {
        &self.costs[(y * self.heights + height) * self.pairs..][..self.pairs]
    }
}

/// So many upper edges share what is known of colours that cannot matter.
const TOGETHER: usize = 4;

/// The rows of every height at some upper edges from y on, compiled for the widest vectors of the machine.
struct RowsFrom<'a, 'p> {
    problem: &'a Problem<'p>,
    solver: &'a mut RowSolver,
    y: usize,
    out: &'a mut [i32],
}

impl pulp::NullaryFnOnce for RowsFrom<'_, '_> {
    type Output = Counts;

    #[inline(always)]
    fn call(self) -> Counts {
        let mut counts = Counts::default();
        let Self { problem, solver, y: first, out } = self;
        let (heights, pairs) = (problem.heights.len(), problem.pairs.len());
        let live = problem.live(first..first + out.len() / (heights * pairs));
        for (at, out) in out.chunks_exact_mut(pairs).enumerate() {
            let (y, index) = (first + at / heights, at % heights);
            let height = problem.heights[index];
            if y + height <= problem.rows && !problem.watch.is_stopped() {
                solver.solve(problem, [y, height], &live, out, &mut counts);
                let seams = out.iter_mut().zip(&problem.row_labour[index]);
                seams.for_each(|(cost, seam)| *cost = (i64::from(*cost) + seam).min(BLOCKED.into()) as i32);
                problem.favour_rows([y, height], &problem.row_labour[index], out);
            }
        }
        counts
    }
}

/// Where the best way to a place came from.
#[derive(Clone, Copy, Debug)]
enum Step {
    Row(usize),
    Band(usize),
}

/// The cheapest top and its cost; `None` where locked places leave none.
pub fn top(problem: &Problem, costs: &RowCosts) -> Option<(i64, Vec<Tier>)> {
    let bands = Bands::solve(problem, costs);
    let whole = problem.whole_pair();
    let mut best: Vec<Option<(i64, Step)>> = vec![None; problem.rows + 1];
    let reach = |best: &[Option<(i64, Step)>], y: usize| if y == 0 { Some(0) } else { best[y].map(|b| b.0) };
    for y in 1..=problem.rows {
        for (index, &height) in problem.heights.iter().enumerate().filter(|(_, h)| **h <= y) {
            let row = costs.at(y - height, index)[whole];
            if let Some(before) = reach(&best, y - height).filter(|_| row < BLOCKED) {
                let cost = before + i64::from(row);
                if best[y].is_none_or(|(held, _)| cost < held) {
                    best[y] = Some((cost, Step::Row(height)));
                }
            }
        }
        for (from, band) in bands.ending_at(problem, y) {
            if let Some(before) = reach(&best, problem.levels[from])
                && best[y].is_none_or(|(held, _)| before + band < held)
            {
                best[y] = Some((before + band, Step::Band(from)));
            }
        }
    }
    let cost = best[problem.rows]?.0;
    Some((cost, trace(problem, costs, &best)))
}

fn trace(problem: &Problem, costs: &RowCosts, best: &[Option<(i64, Step)>]) -> Vec<Tier> {
    let mut tiers: Vec<Tier> = Vec::new();
    let reached = |y: usize| best[y].expect("the cheapest way comes from where there is one");
    let cost = |y: usize| if y == 0 { 0 } else { reached(y).0 };
    let mut bottom = problem.rows;
    while bottom > 0 {
        let (y, columns) = match reached(bottom).1 {
            Step::Row(height) => {
                let y = bottom - height;
                let row = Laid { y, height, cost: cost(bottom) - cost(y) };
                (y, vec![Stack { x: 0, to: problem.columns, edge: 0, rows: vec![row] }])
            }
            Step::Band(from) => (problem.levels[from], band_columns(problem, costs, from, bottom)),
        };
        tiers.push(Tier { height: bottom - y, columns });
        bottom = y;
    }
    tiers.reverse();
    tiers
}

/// Costs of every column between band edges: by pair of band edges (upper, lower), then pair of edges.
struct Bands {
    /// By lower level and then upper level; `i64::MAX` where no split band is.
    costs: Vec<Vec<i64>>,
}

const NO_BAND: i64 = i64::MAX / 4;

impl Bands {
    fn solve(problem: &Problem, costs: &RowCosts) -> Self {
        let (edges, levels) = (problem.edges.len(), problem.levels.len());
        if edges < 3 {
            return Self { costs: Vec::new() };
        }
        let ways = |upper: usize| vec![Ways::new(edges); levels - upper - 1];
        let mut below: Vec<Vec<Ways>> = (0..levels).map(ways).collect();
        let (narrow, arch) = (problem.columns_fit_32_bits(), pulp::Arch::new());
        for from in (0..problem.pairs.len()).step_by(ABREAST) {
            let pairs = from..(from + ABREAST).min(problem.pairs.len());
            if problem.watch.is_stopped() {
                break;
            }
            below.par_iter_mut().enumerate().for_each(|(upper, ways)| {
                arch.dispatch(ColumnsDown { problem, costs, upper, pairs: pairs.clone(), narrow, ways });
            });
        }
        Self { costs: below.iter().map(|ways| ways.iter().map(|way| way.0[edges - 1]).collect()).collect() }
    }

    /// Split bands that end at y: (upper level, cost).
    fn ending_at<'a>(&'a self, problem: &'a Problem, y: usize) -> impl Iterator<Item = (usize, i64)> + 'a {
        // None ends between two levels.
        let ended = problem.levels.binary_search(&y).into_iter();
        let ended = ended.flat_map(|lower| (0..lower.min(self.costs.len())).map(move |upper| (upper, lower)));
        ended.map(|(upper, lower)| (upper, self.costs[upper][lower - upper - 1])).filter(|(_, cost)| *cost < NO_BAND)
    }
}

/// So many pairs of edges are followed down from one level after the other, so that their costs stay near.
const ABREAST: usize = 512;

/// The cheapest way from the left end of a band to each column edge.
#[derive(Clone)]
struct Ways(Vec<i64>);

impl Ways {
    fn new(edges: usize) -> Self {
        let mut ways = vec![NO_BAND; edges];
        ways[0] = 0;
        Self(ways)
    }

    /// Takes in the columns between some pairs of edges, by left edge.
    #[inline(always)]
    fn take<T: Total>(
        &mut self,
        problem: &Problem,
        [upper, lower]: [usize; 2],
        columns: impl Iterator<Item = ((usize, usize), T)>,
    ) {
        let last = problem.edges.len() - 1;
        for ((from, to), column) in columns.filter(|&(pair, column)| pair != (0, last) && column < T::NONE) {
            let edge = if to == last { 0 } else { problem.edge_cost(to, upper, lower) };
            self.0[to] = self.0[to].min(self.0[from] + column.into() + edge);
        }
    }
}

/// A sum of rows.
trait Total: Copy + Ord + std::ops::Add<Output = Self> + Into<i64> {
    /// Of no rows.
    const NOTHING: Self;
    /// Where no column is: more than any column, and twice as much is a number too.
    const NONE: Self;
    fn of(row: i32) -> Self;
}

impl Total for i32 {
    const NOTHING: Self = 0;
    const NONE: Self = BLOCKED;
    #[inline(always)]
    fn of(row: i32) -> Self {
        row
    }
}

impl Total for i64 {
    const NOTHING: Self = 0;
    const NONE: Self = NO_BAND;
    #[inline(always)]
    fn of(row: i32) -> Self {
        if row < BLOCKED { row.into() } else { NO_BAND }
    }
}

/// The columns from a level down between some pairs of edges, compiled for the widest vectors of the machine.
struct ColumnsDown<'a, 'p> {
    problem: &'a Problem<'p>,
    costs: &'a RowCosts,
    upper: usize,
    pairs: Range<usize>,
    /// Whether 32 bits hold all sums.
    narrow: bool,
    /// By lower level, from the next one on.
    ways: &'a mut [Ways],
}

impl pulp::NullaryFnOnce for ColumnsDown<'_, '_> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        if self.narrow { self.follow::<i32>() } else { self.follow::<i64>() }
    }
}

impl ColumnsDown<'_, '_> {
    #[inline(always)]
    fn follow<T: Total>(self) {
        let Self { problem, costs, upper, pairs, ways, .. } = self;
        let top = problem.levels[upper];
        // The cheapest columns down to the last places, by depth.
        let mut columns = vec![vec![T::NOTHING; pairs.len()]; problem.tallest + 1];
        let slots = columns.len();
        let mut lower = upper + 1;
        for depth in 1..=problem.rows - top {
            let mut best = std::mem::take(&mut columns[depth % slots]);
            best.fill(T::NONE);
            for (index, &height) in problem.heights.iter().enumerate().filter(|(_, h)| **h <= depth) {
                let rows = &costs.at(top + depth - height, index)[pairs.clone()];
                for ((best, &before), &row) in best.iter_mut().zip(&columns[(depth - height) % slots]).zip(rows) {
                    *best = (*best).min(before + T::of(row));
                }
            }
            if problem.levels[lower] == top + depth {
                let ended = problem.pairs[pairs.clone()].iter().copied().zip(best.iter().copied());
                ways[lower - upper - 1].take(problem, [upper, lower], ended);
                lower += 1;
            }
            columns[depth % slots] = best;
        }
    }
}

/// Cheapest columns from one y down to every y as far as another: by y, then pair.
fn columns_between(problem: &Problem, costs: &RowCosts, top: usize, bottom: usize) -> Vec<Vec<i64>> {
    let mut columns: Vec<Vec<i64>> = vec![vec![0; problem.pairs.len()]];
    for depth in 1..=bottom - top {
        let mut best = vec![NO_BAND; problem.pairs.len()];
        for (index, &height) in problem.heights.iter().enumerate().filter(|(_, h)| **h <= depth) {
            let rows = costs.at(top + depth - height, index);
            for ((best, &before), &row) in best.iter_mut().zip(&columns[depth - height]).zip(rows) {
                *best = (*best).min(if row < BLOCKED { before + i64::from(row) } else { NO_BAND });
            }
        }
        columns.push(best);
    }
    columns
}

/// The cheapest way across a band over at least two columns, and the edges on it.
fn cheapest_split(problem: &Problem, upper: usize, lower: usize, columns: &[i64]) -> (i64, Vec<usize>) {
    let edges = problem.edges.len();
    let mut best = vec![(NO_BAND, 0); edges];
    best[0] = (0, 0);
    for (&(from, to), &column) in problem.pairs.iter().zip(columns) {
        let across = (from, to) == (0, edges - 1);
        let cost = best[from].0.saturating_add(column);
        let cost = if to == edges - 1 { cost } else { cost.saturating_add(problem.edge_cost(to, upper, lower)) };
        if !across && cost < best[to].0 {
            best[to] = (cost, from);
        }
    }
    let mut way = vec![edges - 1];
    while let Some(&at) = way.last().filter(|at| **at > 0 && best[**at].0 < NO_BAND) {
        way.push(best[at].1);
    }
    way.reverse();
    (best[edges - 1].0.min(NO_BAND), way)
}

fn band_columns(problem: &Problem, costs: &RowCosts, upper: usize, bottom: usize) -> Vec<Stack> {
    let top = problem.levels[upper];
    let columns = columns_between(problem, costs, top, bottom);
    let lower = problem.levels.binary_search(&bottom).expect("a band ends on a level");
    let (_, way) = cheapest_split(problem, upper, lower, &columns[bottom - top]);
    let stacks = way.windows(2).map(|two| {
        let pair = problem.pairs.iter().position(|&pair| pair == (two[0], two[1])).expect("any two edges are a pair");
        let rows = trace_column(problem, costs, &columns, top, bottom, pair);
        let edge = if two[0] == 0 { 0 } else { problem.edge_cost(two[0], upper, lower) };
        Stack { x: problem.edges[two[0]], to: problem.edges[two[1]], edge, rows }
    });
    stacks.collect()
}

fn trace_column(
    problem: &Problem,
    costs: &RowCosts,
    columns: &[Vec<i64>],
    top: usize,
    bottom: usize,
    pair: usize,
) -> Vec<Laid> {
    let mut rows = Vec::new();
    let mut depth = bottom - top;
    while depth > 0 {
        let leads = |&(index, height): &(usize, usize)| {
            let row = costs.at(top + depth - height, index)[pair];
            row < BLOCKED && columns[depth - height][pair] + i64::from(row) == columns[depth][pair]
        };
        let found = problem.heights.iter().copied().enumerate().filter(|(_, h)| *h <= depth).find(leads);
        let (_, height) = found.expect("the cheapest column ends in a row that leads to it");
        let cost = columns[depth][pair] - columns[depth - height][pair];
        depth -= height;
        rows.push(Laid { y: top + depth, height, cost });
    }
    rows.reverse();
    rows
}
