//! A design made ready: tables, shapes, edges and seams, and the run of the solver over them.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use std::collections::BTreeMap;
use std::ops::Range;

use rayon::prelude::*;
use typed_index_collections::{TiSlice, TiVec};

use super::cost::{CostMap, Tables};
use super::prices::{PriceList, Prices};
use super::row::{BLOCKED, Wall};
use super::stack::{self, RowCosts, Stack, Tier};
use super::{Before, Choice, ComposeError, Composed, Counts, Design, Draft, Free, Labour, Layer, Lock, free};
use crate::fabric::{Family, Rgb, hyab};
use crate::plan::{Band, Column, Item, Placed, Row, joined};
use crate::unit::{Shape, Triangle, Vocabulary};
use crate::watch::Watch;

/// A design made ready for the solver.
pub struct Problem<'a> {
    pub(super) columns: usize,
    pub(super) rows: usize,
    pub(super) choices: &'a TiSlice<Family, Choice>,
    /// By colour, then cell row by row.
    pub(super) cells: TiVec<Family, Vec<u32>>,
    pub(super) tables: TiVec<Family, Tables>,
    pub(super) shapes: Vec<Shape>,
    /// Heights that rows may have, tallest first.
    pub(super) heights: Vec<usize>,
    /// Column edges, the top's own included.
    pub(super) edges: Vec<usize>,
    /// Pairs of edges (left, right), by left.
    pub(super) pairs: Vec<(usize, usize)>,
    /// For each height what its rows cost beside their units, by pair.
    pub(super) row_labour: Vec<Vec<i64>>,
    /// Band edges.
    pub(super) levels: Vec<usize>,
    /// For each inner edge the cost of a column edge along it, summed from the top.
    pub(super) edge_sums: Vec<Vec<i64>>,
    pub(super) labour: Labour,
    pub(super) prices: Prices,
    pub(super) vocabulary: &'a Vocabulary,
    pub(super) tallest: usize,
    pub(super) locks: Vec<Lock>,
    pub(super) least: usize,
    /// The highest doubled cost of a cell.
    highest: u64,
    pub(super) floor: i64,
    /// What was there before, and its units that may stay, by families; by upper edge which of them begin there.
    pub(super) before: Before,
    pub(super) stays: Vec<Placed<Free>>,
    pub(super) old: Vec<Vec<usize>>,
    ceiling: i64,
    pub(crate) watch: Watch,
}

impl<'a> Problem<'a> {
    /// Readies a design.
    pub fn new(design: &Design<'a>) -> Result<Self, ComposeError> {
        let Design { columns, vocabulary, choices, labour, .. } = *design;
        if choices.is_empty() || columns == 0 {
            return Err(ComposeError::NoFabric);
        }
        let map = CostMap::new(design.picture, design.focus, columns, choices);
        let rows = map.rows;
        let least = vocabulary.least_cells() as usize;
        let tallest = vocabulary.largest_cells() as usize;
        let shapes: Vec<Shape> = vocabulary.shapes().into_iter().filter(|s| s.width as usize <= columns).collect();
        let edges = stops(columns, design.edge_step, &design.edges[0]);
        let pairs: Vec<_> = (0..edges.len()).flat_map(|i| (i + 1..edges.len()).map(move |j| (i, j))).collect();
        let heights: Vec<usize> = (least..=tallest.min(rows)).rev().collect();
        let width = |&(from, to): &(usize, usize)| (edges[to] - edges[from]) as i64;
        let rows_of = |&height: &usize| pairs.iter().map(|pair| labour.row(height) * width(pair)).collect();
        let list = PriceList { cloth: design.prices.clone(), ..PriceList::default() };
        let mut problem = Self {
            columns,
            rows,
            choices,
            tables: map.cells.raw.par_iter().map(|cells| Tables::new(cells, columns)).collect::<Vec<_>>().into(),
            row_labour: heights.iter().map(rows_of).collect(),
            heights,
            shapes,
            pairs,
            levels: stops(rows, design.edge_step, &design.edges[1]),
            edge_sums: edges.iter().map(|&edge| edge_sums(design, edge)).collect(),
            edges,
            labour,
            prices: Prices::new(vocabulary, &list, choices, &labour, &vocabulary.shapes(), tallest),
            vocabulary,
            tallest,
            locks: Vec::new(),
            least,
            highest: u64::from(map.highest()) * 2,
            floor: map.floor(),
            before: Before::NOTHING,
            stays: Vec::new(),
            old: Vec::new(),
            ceiling: map.ceiling(),
            cells: map.cells,
            watch: Watch::default(),
        };
        design.locks.iter().cloned().for_each(|lock| problem.lock(lock));
        problem.fits_32_bits().then_some(problem).ok_or(ComposeError::TooLarge)
    }

    /// Whether no row can cost as much as `BLOCKED` at the prices that are set, its seam with it, nor a unit, which is a
    /// part of one.
    fn fits_32_bits(&self) -> bool {
        let height = self.tallest as u64;
        self.highest * height * self.columns as u64 + self.work(1, height) < BLOCKED as u64
    }

    /// Whether no column can.
    pub(super) fn columns_fit_32_bits(&self) -> bool {
        let rows = self.rows.div_ceil(self.least.max(1)) as u64;
        self.ceiling as u64 + self.work(rows, self.rows as u64) < BLOCKED as u64
    }

    /// The most that so many rows, so many cells high together, can cost beside their errors, with all that is locked.
    fn work(&self, rows: u64, height: u64) -> u64 {
        let Labour { triangle, trimmed, slice, filler, filler_cell, lean, quiet, .. } = self.labour;
        let [unit, start, along] = self.prices.highest();
        let unit = unit + u64::from(slice.max(triangle + trimmed)) + u64::from(lean) + u64::from(quiet);
        let piece = unit.max(start + u64::from(filler));
        let pieces = (self.columns / self.least.max(1) + 1) as u64;
        let seam = self.labour.row(self.least) as u64;
        let locks: u64 = self.locks.iter().map(|lock| u64::from(lock.cost)).sum();
        ((along + seam) * rows + u64::from(filler_cell) * height) * self.columns as u64 + piece * pieces * rows + locks
    }

    /// Solves every row, stacks them, and traces the chosen ones.
    pub fn solve(&self) -> Result<Composed, ComposeError> {
        if self.heights.is_empty() {
            return Err(ComposeError::NoFit);
        }
        if !self.fits_32_bits() {
            return Err(ComposeError::TooLarge);
        }
        let mut counts = Counts::default();
        let costs = RowCosts::solve(self, &mut counts);
        self.watch.go_on()?;
        let top = stack::top(self, &costs);
        self.watch.go_on()?;
        let (cost, tiers) = top.ok_or(ComposeError::NoFit)?;
        let layers: Vec<Layer> = tiers.iter().map(|tier| self.layer(tier)).collect();
        let bands = joined(layers.iter().map(|layer| &layer.band));
        Ok(Composed { error: self.error(&bands), bands, layers, cost, floor: self.floor, counts })
    }

    /// Doubled cost of every cell in its best colour: no scene costs less.
    pub fn floor(&self) -> i64 {
        self.floor
    }

    /// Sets the prices of cloth and of what is on hand.
    pub fn set_prices(&mut self, list: &PriceList) {
        self.prices =
            Prices::new(self.vocabulary, list, self.choices, &self.labour, &self.vocabulary.shapes(), self.tallest);
    }

    /// What a scene's cloth and pieces on hand were priced at.
    pub fn paid(&self, bands: &[Band<Draft>]) -> i64 {
        let paid = |placed: &Placed<Free>| self.price(placed).expect("a unit of the scene is on hand or can be made");
        free(bands).iter().map(paid).sum()
    }

    /// What slices cost more than they were priced at, of which fewer strips are on hand: they must be cut.
    pub fn strips_over(&self, bands: &[Band<Draft>], on_hand: &BTreeMap<Item<Family>, u32>) -> i64 {
        let mut left = on_hand.clone();
        let mut over = 0;
        for placed in free(bands) {
            let Some(more) = self.strip_over(&placed) else { continue };
            match left.get_mut(&placed.item()).filter(|left| **left > 0) {
                Some(left) => *left -= 1,
                None => over += more,
            }
        }
        over
    }

    /// Doubled error of a place in one colour.
    pub fn filler_error(&self, colour: Family, [x, y]: [u32; 2], [width, height]: [u32; 2]) -> u32 {
        self.tables[colour].rectangle(x as usize, y as usize, width as usize, height as usize)
    }

    /// Doubled cost of rows of fillers across the whole top, their pieces naming colours.
    pub fn plain_cost(&self, bands: &[Band<Draft>]) -> i64 {
        let labour =
            |placed: &Placed<Free>| i64::from(self.labour.rectangle((placed.unit.width * placed.height) as usize));
        let rows = bands.iter().flat_map(|band| &band.columns).flat_map(|column| &column.rows);
        let rows: i64 = rows.map(|row| self.row_labour(self.columns, row.height as usize)).sum();
        let labour: i64 = free(bands).iter().map(labour).sum();
        self.error(bands) + labour + rows
    }

    /// Locks one more place, of which no error is counted.
    pub(super) fn lock(&mut self, lock: Lock) {
        let place = [lock.x, lock.y, lock.width, lock.height];
        self.floor = (self.floor - CostMap::floor_within(&self.cells.raw, self.columns, place)).max(0);
        self.locks.push(lock);
    }

    /// The cheapest filler of a rectangle in one piece.
    pub(super) fn best_filler(&self, x: usize, y: usize, width: usize, height: usize) -> Option<Family> {
        let fits = self.choices.keys().filter(|&colour| self.choices[colour].longest(height) >= width);
        fits.min_by_key(|&colour| self.tables[colour].rectangle(x, y, width, height))
    }

    /// The cheapest whole unit of a square place.
    pub(super) fn best_whole(&self, x: usize, y: usize, side: usize) -> Option<Triangle<Family>> {
        self.best(Shape::whole(side as u32), x, y).map(|best| best.unit)
    }

    fn layer(&self, tier: &Tier) -> Layer {
        let column = |stack: &Stack| {
            let rows = stack.rows.par_iter().map(|row| {
                let traced = self.trace_row(row.y, row.height, stack.x, stack.to);
                let (units, _) = traced.expect("a row that was chosen has a cost, and so a way across it");
                Row { height: row.height as u32, units }
            });
            Column { width: (stack.to - stack.x) as u32, rows: rows.collect() }
        };
        let costs = |stack: &Stack| stack.rows.iter().map(|row| row.cost).collect();
        Layer {
            band: Band { height: tier.height as u32, columns: tier.columns.iter().map(column).collect() },
            edges: tier.columns.iter().map(|stack| stack.edge).collect(),
            rows: tier.columns.iter().map(costs).collect(),
        }
    }

    /// Doubled error of a scene's patches, labour and locked places left out.
    pub fn error(&self, bands: &[Band<Draft>]) -> i64 {
        free(bands).iter().map(|placed| self.patch_error(placed)).sum()
    }

    pub(super) fn whole_pair(&self) -> usize {
        self.edges.len() - 2
    }

    /// What a seam between rows costs.
    #[cfg(feature = "internals")]
    pub fn row_seam(&self, width: usize) -> i64 {
        i64::from(self.labour.row_seam) * width as i64
    }

    /// What a row costs beside its units: its seam, and more where it is low.
    pub fn row_labour(&self, width: usize, height: usize) -> i64 {
        self.labour.row(height) * width as i64
    }

    /// What a column edge costs between two band edges.
    pub fn edge_cost(&self, edge: usize, upper: usize, lower: usize) -> i64 {
        let (sums, top, bottom) = (&self.edge_sums[edge], self.levels[upper], self.levels[lower]);
        let cost = i64::from(self.labour.column) + sums[bottom] - sums[top];
        cost - self.before.edge([self.edges[edge], top, bottom], cost)
    }

    /// What half a unit of the shape costs in cloth of a colour.
    #[inline(always)]
    pub(super) fn half_price(&self, colour: Family, shape: Shape) -> u32 {
        self.prices.half(colour, shape.block, shape.cut)
    }

    /// What both halves of a unit of the shape cost in cloth.
    pub(super) fn both_prices(&self, tip: Family, rest: Family, shape: Shape) -> u32 {
        self.prices.both(tip, rest, shape.block, shape.cut)
    }

    /// Sums of patches that one shape takes along one row.
    pub(super) fn sums_of(&self, shape: Shape) -> u64 {
        let corners = shape.cut.corners().len();
        let places = (self.columns + 1).saturating_sub(shape.width as usize);
        (2 * corners * self.choices.len() * places) as u64
    }

    /// The row that is locked there as a whole.
    pub(super) fn locked_row(&self, y: usize, height: usize, from: usize, to: usize) -> Option<&Lock> {
        let whole = |lock: &&Lock| (lock.y, lock.height, lock.x, lock.x + lock.width) == (y, height, from, to);
        self.locks.iter().filter(|lock| lock.row).find(whole)
    }

    /// The locked places that a row of `height` at `y` meets, from the left.
    pub(super) fn walls(&self, y: usize, height: usize) -> Vec<Wall> {
        let meets = self.locks.iter().filter(|lock| lock.y < y + height && y < lock.y + lock.height);
        let mut walls: Vec<Wall> = meets
            .map(|lock| Wall {
                from: lock.x,
                to: lock.x + lock.width,
                cost: (!lock.row && (lock.y, lock.height) == (y, height)).then_some(lock.cost as i32),
            })
            .collect();
        walls.sort_unstable_by_key(|wall| (wall.from, wall.to));
        merge(walls)
    }
}

/// Walls that overlap become one that nothing stands in.
fn merge(walls: Vec<Wall>) -> Vec<Wall> {
    let mut merged: Vec<Wall> = Vec::new();
    for wall in walls {
        match merged.last_mut().filter(|last| wall.from < last.to) {
            Some(last) => *last = Wall { from: last.from, to: last.to.max(wall.to), cost: None },
            None => merged.push(wall),
        }
    }
    merged
}

/// 0, every step and what stands off it, and the end; 0 and the end alone without a step.
fn stops(cells: usize, step: Option<usize>, more: &[usize]) -> Vec<usize> {
    let mut stops = vec![0, cells];
    if let Some(step) = step.filter(|step| *step > 0) {
        stops.extend((step..cells).step_by(step).chain(more.iter().copied().filter(|&edge| edge < cells)));
    }
    stops.sort_unstable();
    stops.dedup();
    stops
}

/// The cost of a column edge at `edge` from the top down to each cell: least where the picture has an edge too.
///
/// A cell of it costs 24 seams between neighbourhoods that look alike, one where they differ by `CLEAR` or more.
fn edge_sums(design: &Design, edge: usize) -> Vec<i64> {
    let seam = i64::from(design.labour.column_seam);
    let inner = edge > 0 && edge < design.columns;
    let sides = [edge.saturating_sub(BESIDE)..edge, edge..(edge + BESIDE).min(design.columns)];
    let sides = sides.map(|side| if inner { strips(design, side) } else { Vec::new() });
    let rows = design.picture.len() / design.columns;
    let along = (0..rows).scan(0_i64, |sum, y| {
        let [left, right] = sides.each_ref().map(|side| side.get(y.saturating_sub(1)..(y + 2).min(rows)));
        let contrast = left.zip(right).map_or(0.0, |(left, right)| hyab(light(left), light(right)));
        *sum += seam * (24.0 - 23.0 * (contrast / CLEAR).min(1.0)).round() as i64;
        Some(*sum)
    });
    std::iter::once(0).chain(along).collect()
}

/// Cells on each side of a column edge that are looked at, in the row at hand and the rows next to it.
const BESIDE: usize = 4;
/// So many HyAB between the means of both sides are a clear edge.
const CLEAR: f64 = 20.0;

/// The mean of some columns in each row, in linear light.
fn strips(design: &Design, columns: Range<usize>) -> Vec<[f64; 3]> {
    let rows = design.picture.chunks_exact(design.columns);
    rows.map(|row| mean_of(row[columns.clone()].iter().map(|cell| cell.linear()))).collect()
}

fn light(strips: &[[f64; 3]]) -> Rgb {
    Rgb::from_linear(mean_of(strips.iter().copied()))
}

pub(super) fn mean_of(lights: impl ExactSizeIterator<Item = [f64; 3]>) -> [f64; 3] {
    let count = lights.len().max(1) as f64;
    lights.fold([0.0; 3], |sum, light| std::array::from_fn(|i| sum[i] + light[i])).map(|sum| sum / count)
}
