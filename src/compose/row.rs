//! The row solver: the cheapest row between any two column edges.
//!
//! Objective: the sum of the units' costs and, for each filler, its labour and its cloth. Feasible: units
//! side by side from the left edge to the right edge exactly; a filler of colour c is from `least` to
//! limit(c) cells long; nothing crosses a locked place, which itself stands as it is. Recurrence over the
//! cells x from the left, for every left edge s at once:
//!
//! ```text
//! d(s, s) = 0
//! d(s, x) = min  d(s, x - w) + U_w(x - w)                                      over unit widths w
//!           min  d(s, x - w) + O                                               over old units that may stay (`before`)
//!           min  d(s, x') + F_c + Q_c(x) - Q_c(x')    over colours c and x - limit(c) <= x' <= x - least
//! ```
//!
//! U_w is the best unit of that width (see `units`), Q_c the running sum of colour c along the row. The
//! last line is a sliding minimum of d(s, x') - Q_c(x'), so a row takes time linear in its cells and
//! colours. The path must end on an edge, so widths come out exact: it is a shortest path in a graph without
//! circles, which the recurrence solves exactly.

use super::before::Stay;
use super::cost::NEVER;
use super::{Counts, Live, Problem};
use crate::fabric::Family;

/// A cost that no row reaches.
pub const BLOCKED: i32 = NEVER as i32;

/// A locked place in a row: nothing crosses it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wall {
    /// Left edge.
    pub from: usize,
    /// Right edge.
    pub to: usize,
    /// What the locked unit costs; none where the row does not lie as the unit does.
    pub cost: Option<i32>,
}

/// So many left edges are followed at once.
const ABREAST: usize = 8;
type Paths = [i32; ABREAST];

#[inline(always)]
fn least_of(mut a: Paths, b: &Paths) -> Paths {
    for i in 0..ABREAST {
        a[i] = a[i].min(b[i]);
    }
    a
}

#[inline(always)]
fn plus(mut a: Paths, more: i32) -> Paths {
    for path in &mut a {
        *path += more;
    }
    a
}

/// Room for solving one row after another.
#[derive(Default)]
pub struct RowSolver {
    /// Best unit at each x, by width.
    units: Vec<(usize, Vec<u32>)>,
    /// d(s, x) by x, for `ABREAST` of s.
    paths: Vec<Paths>,
    fillers: Vec<Filler>,
}

/// The fillers of one colour in the row at hand, and the least of the places where one may start that ends here:
/// from the window's first place to the end of the block before, and of this block so far.
#[derive(Default)]
struct Filler {
    /// F_c.
    start: i32,
    /// Q_c(x).
    sums: Vec<i32>,
    /// Places in a window, and in a block.
    block: usize,
    /// d(s, x') - Q_c(x') by x'; in the block before, the least of it from there to its end.
    taken: Vec<Paths>,
    /// The least of this block so far.
    head: Paths,
    /// Where the first block begins, and this one.
    first: usize,
    begun: usize,
}

impl RowSolver {
    /// Costs of the row of `height` at `y` between any two edges, in the order of `problem.pairs`, into `out`.
    #[inline(always)]
    pub fn solve(
        &mut self,
        problem: &Problem,
        [y, height]: [usize; 2],
        live: &Live,
        out: &mut [i32],
        counts: &mut Counts,
    ) {
        let starts = &problem.edges[..problem.edges.len() - 1];
        self.prepare_units(problem, [y, height], live, counts);
        self.prepare_fillers(problem, y, height, live);
        let walls = problem.walls(y, height);
        let mut stays = problem.stays(y, height);
        stays.sort_unstable_by_key(|stay| stay.to);
        let mut pairs = out.iter_mut().zip(&problem.pairs).peekable();
        for (group, starts) in starts.chunks(ABREAST).enumerate() {
            self.follow(problem, starts, &walls, &stays);
            while let Some((cost, &(from, to))) = pairs.next_if(|(_, pair)| pair.0 / ABREAST == group) {
                *cost = self.paths[problem.edges[to]][from % ABREAST];
            }
        }
        // A filler takes two: into its window and out of it.
        let fillers = problem.choices.iter().filter(|choice| choice.longest(height) >= problem.least).count();
        let ways = self.units.len() + 2 * fillers;
        counts.steps += (problem.columns * starts.len() * ways) as u64;
        for lock in problem.locks.iter().filter(|lock| lock.row && (lock.y, lock.height) == (y, height)) {
            let spans = |&(from, to): &(usize, usize)| {
                (problem.edges[from], problem.edges[to]) == (lock.x, lock.x + lock.width)
            };
            if let Some(pair) = problem.pairs.iter().position(spans) {
                out[pair] = lock.cost as i32;
            }
        }
    }

    /// Follows the paths from these left edges to the right end.
    #[inline(always)]
    fn follow(&mut self, problem: &Problem, starts: &[usize], walls: &[Wall], stays: &[Stay]) {
        let first = starts[0];
        self.paths.clear();
        self.paths.resize(problem.columns + 1, [BLOCKED; ABREAST]);
        self.fillers.iter_mut().for_each(|filler| filler.clear(first));
        let mut passed = walls.iter().take_while(|wall| wall.to <= first).count();
        let (mut clear_from, mut started, mut stayed) = (first, 0, 0);
        for x in first..=problem.columns {
            let fillers = self.fillers_to(x, problem.least, clear_from);
            let mut at = self.units_to(x, clear_from, fillers);
            while let Some(stay) = stays.get(stayed).filter(|stay| stay.to <= x) {
                if stay.to == x && stay.from >= clear_from {
                    at = least_of(at, &plus(self.paths[stay.from], stay.cost as i32));
                }
                stayed += 1;
            }
            let wall = walls.get(passed).filter(|wall| x > wall.from);
            if let Some(wall) = wall {
                at = self.cross(*wall, x);
            }
            if starts.get(started) == Some(&x) {
                at[started] = if wall.is_some_and(|wall| x < wall.to) { BLOCKED } else { 0 };
                started += 1;
            }
            self.paths[x] = at;
            if walls.get(passed).is_some_and(|wall| x == wall.to) {
                (passed, clear_from) = (passed + 1, x);
                self.fillers.iter_mut().for_each(|filler| filler.clear(x));
            }
        }
    }

    #[inline(always)]
    fn prepare_units(&mut self, problem: &Problem, [y, height]: [usize; 2], live: &Live, counts: &mut Counts) {
        let shapes =
            problem.shapes.iter().filter(|s| s.height as usize == height && s.width as usize <= problem.columns);
        let mut used = 0;
        for &shape in shapes {
            if self.units.len() == used {
                self.units.push((0, problem.room()));
            }
            let (width, best) = &mut self.units[used];
            *width = shape.width as usize;
            problem.row(shape, y, live, best);
            counts.sums += problem.sums_of(shape);
            used += 1;
        }
        for ready in problem.prices.ready.iter().filter(|ready| ready.height == height) {
            if self.units.len() == used {
                self.units.push((0, problem.room()));
            }
            let (width, best) = &mut self.units[used];
            *width = ready.width;
            problem.row_of_ready(ready, y, best);
            used += 1;
        }
        self.units.truncate(used);
    }

    #[inline(always)]
    fn prepare_fillers(&mut self, problem: &Problem, y: usize, height: usize, live: &Live) {
        let longest = |colour: Family| problem.choices[colour].longest(height);
        let long = live.fillers.iter().filter(|&&colour| longest(colour) >= problem.least);
        let mut used = 0;
        for &colour in long {
            if self.fillers.len() == used {
                self.fillers.push(Filler::default());
            }
            let filler = &mut self.fillers[used];
            let (price, along) = problem.prices.filler(colour, height);
            filler.start = (problem.labour.filler + price) as i32;
            let cell = problem.labour.filler_cell * height as u32 + along;
            let (above, below) = (problem.tables[colour].rect(y), problem.tables[colour].rect(y + height));
            let sums = above.iter().zip(below).zip(0_u32..).map(|((a, b), x)| (b.wrapping_sub(*a) + x * cell) as i32);
            filler.sums.clear();
            filler.sums.extend(sums);
            filler.block = longest(colour) + 1 - problem.least;
            filler.taken.resize(problem.columns + 1, [BLOCKED; ABREAST]);
            used += 1;
        }
        self.fillers.truncate(used);
    }

    /// The least of the fillers that end at x.
    #[inline(always)]
    fn fillers_to(&mut self, x: usize, least: usize, clear_from: usize) -> Paths {
        let mut at = [BLOCKED; ABREAST];
        let Some(from) = x.checked_sub(least).filter(|from| *from >= clear_from) else { return at };
        let before = self.paths[from];
        for filler in &mut self.fillers {
            let least = filler.step(from, before);
            at = least_of(at, &plus(least, filler.start + filler.sums[x]));
        }
        at
    }

    /// Lowers `at` to the least of the units that end at x.
    #[inline(always)]
    fn units_to(&self, x: usize, clear_from: usize, mut at: Paths) -> Paths {
        for (width, best) in &self.units {
            if let Some(from) = x.checked_sub(*width).filter(|from| *from >= clear_from) {
                at = least_of(at, &plus(self.paths[from], best[from] as i32));
            }
        }
        at
    }

    /// The paths inside a wall and at its right edge.
    fn cross(&self, wall: Wall, x: usize) -> Paths {
        let blocked = [BLOCKED; ABREAST];
        let through = wall.cost.filter(|_| x == wall.to);
        through.map_or(blocked, |cost| least_of(plus(self.paths[wall.from], cost), &blocked))
    }
}

impl Filler {
    /// Forgets all places before x.
    fn clear(&mut self, x: usize) {
        (self.first, self.begun) = (x, x);
        self.head = [BLOCKED; ABREAST];
    }

    /// Takes in the next place where a filler may start; the least in the window.
    #[inline(always)]
    fn step(&mut self, from: usize, before: Paths) -> Paths {
        if from == self.begun + self.block {
            self.turn_over(from);
        }
        let taken = plus(before, -self.sums[from]);
        self.taken[from] = taken;
        self.head = least_of(self.head, &taken);
        let tail = from + 1 - self.block.min(from + 1);
        if self.first < self.begun && tail < self.begun { least_of(self.head, &self.taken[tail]) } else { self.head }
    }

    #[inline(always)]
    fn turn_over(&mut self, from: usize) {
        let mut least = [BLOCKED; ABREAST];
        for tail in self.taken[self.begun..from].iter_mut().rev() {
            least = least_of(least, tail);
            *tail = least;
        }
        self.begun = from;
        self.head = [BLOCKED; ABREAST];
    }
}
