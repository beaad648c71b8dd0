//! The yardstick: the cheapest top with no limit on depth, on small tops.
//!
//! Any rectangle may be one row of units, or be split again, across or down, at any cell:
//!
//! ```text
//! row(r) = min over its first unit of that unit + row(the rest)
//! top(r) = min of row(r), top(upper) + top(lower) + row seam, top(left) + top(right) + column edge
//! ```
//!
//! Units, fillers and what they and their seams cost are the solver's own, so its scenes are among these.

use std::collections::HashMap;

use rowscape::compose::{Design, Problem};
use rowscape::fabric::Family;

/// x, y, width and height in cells.
type Place = (usize, usize, usize, usize);

/// A unit of the cheapest top.
#[derive(Clone, Copy)]
pub enum Found {
    /// A filler of a colour.
    Filler(Family),
    /// The best triangle unit of that size.
    Triangle(rowscape::unit::Triangle<Family>),
}

#[derive(Clone, Copy)]
enum Way {
    Unit(Found),
    /// Split down after so many cells.
    Down(usize),
    /// Split across after so many cells.
    Across(usize),
}

/// Searches all tops of a design.
pub struct Deep<'a> {
    problem: Problem<'a>,
    design: &'a Design<'a>,
    units: HashMap<Place, Option<(i64, Way)>>,
    rows: HashMap<Place, Option<(i64, Way)>>,
    tops: HashMap<Place, Option<(i64, Way)>>,
}

impl<'a> Deep<'a> {
    /// The design must have an edge step of one cell, so that edges are numbered as cells are.
    pub fn new(design: &'a Design<'a>) -> Self {
        let problem = Problem::new(design).expect("a problem");
        Self { problem, design, units: HashMap::new(), rows: HashMap::new(), tops: HashMap::new() }
    }

    /// The cost of the cheapest top, and its units in their places.
    pub fn solve(&mut self) -> (i64, Vec<(Place, Found)>) {
        let (columns, rows) = (self.design.columns, self.design.picture.len() / self.design.columns);
        let all = (0, 0, columns, rows);
        let (cost, _) = self.top(all).expect("a top");
        let mut found = Vec::new();
        self.trace(all, false, &mut found);
        // Every row is charged the seam below it, the last one too.
        (cost + self.problem.row_seam(columns), found)
    }

    fn least(&self) -> usize {
        self.design.vocabulary.least_cells() as usize
    }

    fn top(&mut self, place: Place) -> Option<(i64, Way)> {
        if let Some(held) = self.tops.get(&place) {
            return *held;
        }
        let (x, y, width, height) = place;
        let least = self.least();
        let mut best = self.row(place);
        for cut in least..=height.saturating_sub(least) {
            let seam = self.problem.row_seam(width);
            let parts = self.top((x, y, width, cut)).zip(self.top((x, y + cut, width, height - cut)));
            best = cheaper(best, parts.map(|(a, b)| (a.0 + b.0 + seam, Way::Across(cut))));
        }
        for cut in least..=width.saturating_sub(least) {
            let seam = self.problem.edge_cost(x + cut, y, y + height);
            let parts = self.top((x, y, cut, height)).zip(self.top((x + cut, y, width - cut, height)));
            best = cheaper(best, parts.map(|(a, b)| (a.0 + b.0 + seam, Way::Down(cut))));
        }
        self.tops.insert(place, best);
        best
    }

    /// The cheapest single row: units side by side, all as tall as it.
    fn row(&mut self, place: Place) -> Option<(i64, Way)> {
        if let Some(held) = self.rows.get(&place) {
            return *held;
        }
        let (x, y, width, height) = place;
        let least = self.least();
        let mut best = None;
        if height <= self.design.vocabulary.largest_cells() as usize {
            best = self.unit(place);
            for cut in least..=width.saturating_sub(least) {
                let parts = self.unit((x, y, cut, height)).zip(self.row((x + cut, y, width - cut, height)));
                best = cheaper(best, parts.map(|(a, b)| (a.0 + b.0, Way::Down(cut))));
            }
        }
        self.rows.insert(place, best);
        best
    }

    fn unit(&mut self, place: Place) -> Option<(i64, Way)> {
        if let Some(held) = self.units.get(&place) {
            return *held;
        }
        let (x, y, width, height) = place;
        let mut best = None;
        for colour in self.design.choices.keys().filter(|&c| width <= self.design.choices[c].longest(height)) {
            let cost = self.problem.filler_cost(colour, x, y, width, height);
            best = cheaper(best, Some((cost, Way::Unit(Found::Filler(colour)))));
        }
        let shapes = self.design.vocabulary.shapes();
        if let Some(shape) = shapes.iter().find(|s| (s.width as usize, s.height as usize) == (width, height)) {
            let unit = self.problem.best(*shape, x, y);
            best = cheaper(best, unit.map(|unit| (i64::from(unit.cost), Way::Unit(Found::Triangle(unit.unit)))));
        }
        // A low row is charged by its length, and so unit by unit.
        let low = self.problem.row_labour(width, height) - self.problem.row_seam(width);
        let best = best.map(|(cost, way)| (cost + low, way));
        self.units.insert(place, best);
        best
    }

    fn trace(&mut self, place: Place, in_row: bool, found: &mut Vec<(Place, Found)>) {
        let (x, y, width, height) = place;
        let row = self.row(place);
        let top = if in_row { row } else { self.top(place) };
        let in_row = in_row || row.map(|row| row.0) == top.map(|top| top.0);
        let Some((_, way)) = (if in_row { row } else { top }) else { return };
        let (first, second) = match way {
            Way::Unit(unit) => return found.push((place, unit)),
            Way::Down(cut) => ((x, y, cut, height), (x + cut, y, width - cut, height)),
            Way::Across(cut) => ((x, y, width, cut), (x, y + cut, width, height - cut)),
        };
        if in_row {
            // The first of a row is one unit.
            if let Some((_, Way::Unit(unit))) = self.unit(first) {
                found.push((first, unit));
            }
        } else {
            self.trace(first, false, found);
        }
        self.trace(second, in_row, found);
    }
}

fn cheaper(best: Option<(i64, Way)>, other: Option<(i64, Way)>) -> Option<(i64, Way)> {
    match (best, other) {
        (Some(held), Some(new)) if new.0 >= held.0 => Some(held),
        (held, None) => held,
        (_, new) => new,
    }
}
