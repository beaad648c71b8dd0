//! A chosen row once more, now with its units: the cheapest, then the fewest, then the leftmost wide ones.

use super::prices::Ready;
use super::row::Wall;
use super::units::NEVER;
use super::{Problem, Tables};
use crate::plan::{Piece, Row, State, Unit};

/// The best way to a cell: cost, units, and the last step.
#[derive(Clone, Copy)]
struct Way {
    key: (i64, usize),
    width: usize,
    step: Step,
}

#[derive(Clone, Copy)]
enum Step {
    Start,
    Filler(usize),
    Shape(usize),
    Locked(usize),
}

/// The fillers of one colour in one row.
struct FillerSums {
    longest: usize,
    /// What one costs apart from its length.
    start: i64,
    /// What the cells before each x cost.
    sums: Vec<u32>,
}

impl Problem<'_> {
    /// The cheapest row of `height` at `y` from cell `from` to cell `to`, and its cost, its seam with it.
    pub fn best_row(&self, y: usize, height: usize, from: usize, to: usize) -> Option<(Row, i64)> {
        let (units, cost) = self.trace_row(y, height, from, to)?;
        Some((Row { height: height as u32, units }, cost + self.row_labour(to - from, height)))
    }

    /// Its units and their cost.
    pub(super) fn trace_row(&self, y: usize, height: usize, from: usize, to: usize) -> Option<(Vec<Unit>, i64)> {
        if let Some(lock) = self.locked_row(y, height, from, to) {
            return Some((lock.units.clone(), i64::from(lock.cost)));
        }
        let units = self.unit_costs(y, height);
        let fillers = self.filler_sums(y, height);
        let walls = self.walls(y, height);
        let mut ways: Vec<Option<Way>> = vec![None; to + 1];
        ways[from] = Some(Way { key: (0, 0), width: 0, step: Step::Start });
        for x in from + 1..=to {
            for (width, cost, step) in self.steps([y, height], from, x, &walls, &units, &fillers) {
                let Some(before) = ways[x - width] else { continue };
                let key = (before.key.0 + cost, before.key.1 + 1);
                if ways[x].is_none_or(|held| key < held.key) {
                    ways[x] = Some(Way { key, width, step });
                }
            }
        }
        let mut row = Vec::new();
        let mut x = to;
        while let Some(way) = ways[x].filter(|way| way.width > 0) {
            x -= way.width;
            match way.step {
                Step::Locked(index) => row.extend(self.locks[index].units.iter().rev()),
                _ => row.push(self.unit(way, x, y)),
            }
        }
        row.reverse();
        ways[to].map(|way| (row, way.key.0))
    }

    fn unit_costs(&self, y: usize, height: usize) -> Vec<(usize, Vec<u32>)> {
        let live = self.all_live();
        let fitting = self.shapes.iter().enumerate();
        let fitting = fitting.filter(|(_, s)| s.height as usize == height && s.width as usize <= self.columns);
        let costs = fitting.map(|(index, &shape)| {
            let mut best = self.room();
            self.row(shape, y, &live, &mut best);
            (index, best)
        });
        costs.collect()
    }

    /// Every last step to x: (width, cost, step), widest units first.
    fn steps(
        &self,
        [y, height]: [usize; 2],
        from: usize,
        x: usize,
        walls: &[Wall],
        units: &[(usize, Vec<u32>)],
        fillers: &[FillerSums],
    ) -> Vec<(usize, i64, Step)> {
        let locks = self.locks.iter().enumerate().filter(|(_, l)| (l.y, l.height) == (y, height) && l.x + l.width == x);
        if let Some(wall) = walls.iter().find(|wall| wall.from < x && x <= wall.to) {
            let through = locks.filter(|(_, l)| l.x >= from && x == wall.to && !l.row);
            return through.map(|(index, lock)| (lock.width, i64::from(lock.cost), Step::Locked(index))).collect();
        }
        let clear = walls.iter().filter(|wall| wall.to <= x).map(|wall| wall.to).max().unwrap_or(0).max(from);
        let room = x - clear.min(x);
        let mut steps = Vec::new();
        for (index, best) in units.iter().rev() {
            let width = self.shapes[*index].width as usize;
            if width <= room && best[x - width] < NEVER {
                steps.push((width, i64::from(best[x - width]), Step::Shape(*index)));
            }
        }
        for ready in self.prices.ready.iter().filter(|ready| ready.height == height && ready.width <= room) {
            let cost = self.ready_cost(ready, x - ready.width, y);
            steps.push((ready.width, i64::from(cost), Step::Filler(ready.colour)));
        }
        for (colour, filler) in fillers.iter().enumerate() {
            for width in (self.least..=filler.longest.min(room)).rev() {
                let along = filler.sums[x].wrapping_sub(filler.sums[x - width]);
                steps.push((width, filler.start + i64::from(along), Step::Filler(colour)));
            }
        }
        steps
    }

    /// What fillers cost in each colour, labour and price included.
    fn filler_sums(&self, y: usize, height: usize) -> Vec<FillerSums> {
        let of = |(tables, colour): (&Tables, usize)| {
            let (start, along) = self.prices.filler(colour, height);
            let cell = self.labour.filler_cell * height as u32 + along;
            let sums = tables.rect(y).iter().zip(tables.rect(y + height)).zip(0_u32..);
            FillerSums {
                longest: self.choices[colour].longest(height),
                start: i64::from(self.labour.filler) + i64::from(start),
                sums: sums.map(|((above, below), x)| below.wrapping_sub(*above).wrapping_add(x * cell)).collect(),
            }
        };
        self.tables.iter().zip(0..).map(of).collect()
    }

    fn unit(&self, way: Way, x: usize, y: usize) -> Unit {
        let piece = match way.step {
            Step::Start | Step::Locked(_) => Piece::Filler(0),
            Step::Filler(colour) => Piece::Filler(colour),
            Step::Shape(index) => {
                let best = self.best(self.shapes[index], x, y);
                best.map_or(Piece::Filler(0), |best| Piece::Triangle(best.unit))
            }
        };
        Unit { width: way.width as u32, piece, state: State::Free }
    }

    /// Doubled cost of a rectangle on hand in its place, labour included.
    fn ready_cost(&self, ready: &Ready, x: usize, y: usize) -> u32 {
        let error = self.tables[ready.colour].rectangle(x, y, ready.width, ready.height);
        error + self.labour.rectangle(ready.width * ready.height) + ready.price
    }

    /// The same at every x of row y, into `out`, which is `room` long.
    pub(super) fn row_of_ready(&self, ready: &Ready, y: usize, out: &mut [u32]) {
        let places = (self.columns + 1).saturating_sub(ready.width);
        out.fill(NEVER);
        (0..places).for_each(|x| out[x] = self.ready_cost(ready, x, y));
    }

    /// Doubled cost of one filler in its place, labour included.
    pub fn filler_cost(&self, colour: usize, x: usize, y: usize, width: usize, height: usize) -> i64 {
        let cloth = self.tables[colour].rectangle(x, y, width, height);
        let (start, along) = self.prices.filler(colour, height);
        i64::from(cloth)
            + i64::from(self.labour.rectangle(width * height))
            + i64::from(start)
            + i64::from(along) * width as i64
    }
}
