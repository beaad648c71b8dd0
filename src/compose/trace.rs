//! A chosen row once more, now with its units: the cheapest, then the fewest, then the leftmost wide ones.

use typed_index_collections::{TiSlice, TiVec};

use super::before::Stay;
use super::cost::NEVER;
use super::prices::Ready;
use super::row::Wall;
use super::{Draft, Free, Live, Problem, Tables};
use crate::fabric::Family;
use crate::plan::{Piece, Row};
use crate::unit::Shape;

/// The best way to a cell: its key, and the last step with its width; none where it begins, or where there is no way.
#[derive(Clone, Copy)]
struct Way {
    key: i64,
    last: Option<(usize, Step)>,
}

#[derive(Clone, Copy)]
enum Step {
    Filler(Family),
    Shape(usize),
    Locked(usize),
    Stays(usize),
}

/// Costs and counts of units in one number, the cost in front: rows have fewer units than this.
const COST: i64 = 1 << 24;
/// No way at all; with a row more it still is a number.
const NO_WAY: i64 = i64::MAX / 2;

impl Way {
    const NONE: Self = Self { key: NO_WAY, last: None };
}

/// A row made ready to be traced, as often as one likes.
pub(super) struct Ground {
    y: usize,
    height: usize,
    from: usize,
    to: usize,
    walls: Vec<Wall>,
    stays: Vec<Stay>,
    /// Shapes with the cost of each at every x.
    units: Vec<(usize, Vec<u32>)>,
    fillers: TiVec<Family, Fillers>,
}

/// Which widths fillers of the row's height may have, by family, the widest first; any where this is none.
pub(super) type Widths<'a> = Option<&'a TiSlice<Family, Vec<usize>>>;

/// The best ways as far as a row is traced, by x.
struct Traced<'a> {
    widths: Widths<'a>,
    ways: Vec<Way>,
    /// By colour and x, the key of the best way to each x, less those of the cells before it.
    fillers: TiVec<Family, Vec<i64>>,
}

/// The costs of one shape along one row, compiled for the widest vectors of the machine.
struct RowOf<'a, 'p> {
    problem: &'a Problem<'p>,
    shape: Shape,
    y: usize,
    live: &'a Live,
    out: &'a mut [u32],
}

impl pulp::NullaryFnOnce for RowOf<'_, '_> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        self.problem.row(self.shape, self.y, self.live, self.out);
    }
}

/// The fillers of one colour in one row.
struct Fillers {
    longest: usize,
    /// The key of one apart from its length.
    start: i64,
    /// The keys of the cells before each x.
    sums: Vec<i64>,
}

impl Problem<'_> {
    /// The cheapest row of `height` at `y` from cell `from` to cell `to`, and its cost, its seam with it.
    pub fn best_row(&self, y: usize, height: usize, from: usize, to: usize) -> Option<(Row<Draft>, i64)> {
        let (units, cost) = self.trace_row(y, height, from, to)?;
        let seam = self.row_labour(to - from, height);
        let seam = seam - self.before.row([from, y, to, y + height], seam);
        Some((Row { height: height as u32, units }, cost + seam))
    }

    /// Its units and their cost.
    pub(super) fn trace_row(&self, y: usize, height: usize, from: usize, to: usize) -> Option<(Vec<Draft>, i64)> {
        if let Some(lock) = self.locked_row(y, height, from, to) {
            return Some((lock.units.iter().copied().map(Draft::Stands).collect(), i64::from(lock.cost)));
        }
        self.traced(&self.ground(y, height, from, to), None)
    }

    /// Readies a row that does not stand as a whole.
    pub(super) fn ground(&self, y: usize, height: usize, from: usize, to: usize) -> Ground {
        let (walls, stays) = (self.walls(y, height), self.stays(y, height));
        let (units, fillers) = (self.unit_costs(y, height), self.fillers(y, height));
        Ground { y, height, from, to, walls, stays, units, fillers }
    }

    /// The cheapest units across the row with fillers of these widths, and their cost.
    pub(super) fn traced(&self, ground: &Ground, widths: Widths) -> Option<(Vec<Draft>, i64)> {
        let Ground { y, from, to, .. } = *ground;
        let fillers = ground.fillers.iter().map(|_| Vec::with_capacity(to + 1 - from)).collect();
        let mut traced = Traced { widths, ways: vec![Way::NONE; to + 1], fillers };
        for x in from..=to {
            let way = if x == from { Way { key: 0, ..Way::NONE } } else { self.way(ground, &traced, x) };
            let each = traced.fillers.iter_mut().zip(&ground.fillers);
            each.for_each(|(ways, filler)| ways.push(way.key - filler.sums[x]));
            traced.ways[x] = way;
        }
        let ways = traced.ways;
        let mut row = Vec::new();
        let mut x = to;
        while let Some((width, step)) = ways[x].last {
            x -= width;
            let piece = match step {
                Step::Locked(index) => {
                    row.extend(self.locks[index].units.iter().rev().copied().map(Draft::Stands));
                    continue;
                }
                Step::Filler(colour) => Piece::Filler(colour),
                Step::Stays(index) => self.stays[index].unit.piece,
                Step::Shape(index) => {
                    let best = self.best(self.shapes[index], x, y);
                    Piece::Triangle(best.expect("a shape that costs something here has a unit here").unit)
                }
            };
            row.push(Draft::Free(Free { width: width as u32, piece }));
        }
        row.reverse();
        (ways[to].key < NO_WAY).then(|| (row, ways[to].key / COST))
    }

    fn unit_costs(&self, y: usize, height: usize) -> Vec<(usize, Vec<u32>)> {
        let live = self.all_live();
        let fitting = self.shapes.iter().enumerate();
        let fitting = fitting.filter(|(_, s)| s.height as usize == height && s.width as usize <= self.columns);
        let costs = fitting.map(|(index, &shape)| {
            let mut best = self.room();
            pulp::Arch::new().dispatch(RowOf { problem: self, shape, y, live: &live, out: &mut best });
            (index, best)
        });
        costs.collect()
    }

    /// The best way to x, of equals that with the widest unit, else the widest filler of the first colour.
    fn way(&self, ground: &Ground, traced: &Traced, x: usize) -> Way {
        let Ground { y, height, from, ref walls, ref stays, ref units, ref fillers, .. } = *ground;
        let Traced { widths, ref ways, fillers: ref before } = *traced;
        let is_wanted = |colour: Family, width| widths.is_none_or(|widths| widths[colour].contains(&width));
        let mut best = Way::NONE;
        let mut take = |width: usize, cost: i64, step: Step| {
            let key = ways[x - width].key + cost * COST + 1;
            if key < best.key {
                best = Way { key, last: Some((width, step)) };
            }
        };
        let locks = self.locks.iter().enumerate().filter(|(_, l)| (l.y, l.height) == (y, height) && l.x + l.width == x);
        if let Some(wall) = walls.iter().find(|wall| wall.from < x && x <= wall.to) {
            let through = locks.filter(|(_, l)| l.x >= from && x == wall.to && !l.row);
            through.for_each(|(index, lock)| take(lock.width, i64::from(lock.cost), Step::Locked(index)));
            return best;
        }
        let clear = walls.iter().filter(|wall| wall.to <= x).map(|wall| wall.to).max().unwrap_or(0).max(from);
        let room = x - clear.min(x);
        for stay in stays.iter().filter(|stay| stay.to == x && stay.from >= clear) {
            if self.stays[stay.index].unit.piece.filler().is_some_and(|colour| !is_wanted(colour, x - stay.from)) {
                continue;
            }
            take(x - stay.from, stay.cost, Step::Stays(stay.index));
        }
        for (index, costs) in units.iter().rev() {
            let width = self.shapes[*index].width as usize;
            if width <= room && costs[x - width] < NEVER {
                take(width, i64::from(costs[x - width]), Step::Shape(*index));
            }
        }
        for ready in self.prices.ready.iter().filter(|ready| ready.height == height && ready.width <= room) {
            let cost = self.ready_cost(ready, x - ready.width, y);
            take(ready.width, i64::from(cost), Step::Filler(ready.colour));
        }
        for ((colour, filler), before) in fillers.iter_enumerated().zip(before) {
            let longest = filler.longest.min(room);
            let least = match widths {
                _ if self.least > longest => None,
                None => {
                    let starts = &before[x - longest - from..x + 1 - self.least - from];
                    let least = starts.iter().min();
                    least.and_then(|least| Some((*least, longest - starts.iter().position(|start| start == least)?)))
                }
                Some(widths) => {
                    let starts = widths[colour].iter().filter(|width| **width <= longest);
                    starts.map(|&width| (before[x - width - from], width)).min_by_key(|(start, _)| *start)
                }
            };
            let Some((least, width)) = least else { continue };
            let key = least + filler.start + filler.sums[x];
            if key < best.key {
                best = Way { key, last: Some((width, Step::Filler(colour))) };
            }
        }
        best
    }

    /// What fillers cost in each colour, labour and price included.
    fn fillers(&self, y: usize, height: usize) -> TiVec<Family, Fillers> {
        let of = |(colour, tables): (Family, &Tables)| {
            let (start, along) = self.prices.filler(colour, height);
            let cell = self.labour.filler_cell * height as u32 + along;
            let sums = tables.rect(y).iter().zip(tables.rect(y + height)).zip(0_u32..);
            Fillers {
                longest: self.choices[colour].longest(height),
                start: (i64::from(self.labour.filler) + i64::from(start)) * COST + 1,
                sums: sums.map(|((above, below), x)| i64::from(below.wrapping_sub(*above) + x * cell) * COST).collect(),
            }
        };
        self.tables.iter_enumerated().map(of).collect()
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
    #[cfg(feature = "internals")]
    pub fn filler_cost(&self, colour: Family, x: usize, y: usize, width: usize, height: usize) -> i64 {
        let cloth = self.tables[colour].rectangle(x, y, width, height);
        let (start, along) = self.prices.filler(colour, height);
        i64::from(cloth)
            + i64::from(self.labour.rectangle(width * height))
            + i64::from(start)
            + i64::from(along) * width as i64
    }
}
