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
//!           min  d(s, x') + F_c + Q_c(x) - Q_c(x')    over colours c and x - limit(c) <= x' <= x - least
//! ```
//!
//! U_w is the best unit of that width (see `units`), Q_c the running sum of colour c along the row. The
//! second line is a sliding minimum of d(s, x') - Q_c(x'), so a row takes time linear in its cells and
//! colours. The path must end on an edge, so widths come out exact: it is a shortest path in a graph without
//! circles, which the recurrence solves exactly.

use super::units::NEVER;
use super::{Counts, Problem};

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
fn least_of(a: Paths, b: Paths) -> Paths {
    std::array::from_fn(|i| a[i].min(b[i]))
}

#[inline(always)]
fn plus(a: Paths, more: i32) -> Paths {
    a.map(|path| path + more)
}

/// Room for solving one row after another.
pub struct RowSolver {
    /// Best unit at each x, by width.
    units: Vec<(usize, Vec<u32>)>,
    /// d(s, x) by x and then s, `ABREAST` of s together.
    paths: Vec<Paths>,
    /// How many such groups each x has.
    groups: usize,
    fillers: Vec<Filler>,
}

/// The fillers of one colour in the row at hand.
struct Filler {
    /// F_c; none where the colour gives no filler of this height.
    start: Option<i32>,
    /// Q_c(x).
    sums: Vec<i32>,
    window: Window,
}

impl RowSolver {
    /// Room for rows of the problem.
    pub fn new(problem: &Problem) -> Self {
        let filler = |_| Filler { start: None, sums: Vec::new(), window: Window::default() };
        let groups = (problem.edges.len() - 1).div_ceil(ABREAST);
        let fillers = (0..problem.choices.len()).map(filler).collect();
        Self { units: Vec::new(), paths: Vec::new(), groups, fillers }
    }

    /// Costs of the row of `height` at `y` between any two edges, in the order of `problem.pairs`, into `out`.
    #[inline(always)]
    pub fn solve(&mut self, problem: &Problem, y: usize, height: usize, out: &mut [i32], counts: &mut Counts) {
        let starts = problem.edges.len() - 1;
        self.prepare_units(problem, y, height, counts);
        self.prepare_fillers(problem, y, height);
        self.paths.clear();
        self.paths.resize((problem.columns + 1) * self.groups, [BLOCKED; ABREAST]);
        let walls = problem.walls(y, height);
        let (mut passed, mut clear_from) = (0, 0);
        for x in 0..=problem.columns {
            self.fillers_to(x, problem.least, clear_from);
            self.units_to(x, clear_from);
            if let Some(wall) = walls.get(passed).filter(|wall| x > wall.from) {
                self.cross(*wall, x);
            }
            if let Some(start) = problem.edges[..starts].iter().position(|&edge| edge == x) {
                let inside = walls.get(passed).is_some_and(|wall| wall.from < x && x < wall.to);
                self.paths[x * self.groups + start / ABREAST][start % ABREAST] = if inside { BLOCKED } else { 0 };
            }
            if walls.get(passed).is_some_and(|wall| x == wall.to) {
                (passed, clear_from) = (passed + 1, x);
                self.fillers.iter_mut().for_each(|filler| filler.window.block());
            }
        }
        // A filler takes two: into its window and out of it.
        let ways = self.units.len() + 2 * self.fillers.iter().filter(|filler| filler.start.is_some()).count();
        counts.steps += (problem.columns * starts * ways) as u64;
        for (cost, &(from, to)) in out.iter_mut().zip(&problem.pairs) {
            *cost = self.paths[problem.edges[to] * self.groups + from / ABREAST][from % ABREAST];
        }
        for lock in problem.locks.iter().filter(|lock| lock.row && (lock.y, lock.height) == (y, height)) {
            let spans = |&(from, to): &(usize, usize)| {
                (problem.edges[from], problem.edges[to]) == (lock.x, lock.x + lock.width)
            };
            if let Some(pair) = problem.pairs.iter().position(spans) {
                out[pair] = lock.cost;
            }
        }
    }

    #[inline(always)]
    fn prepare_units(&mut self, problem: &Problem, y: usize, height: usize, counts: &mut Counts) {
        let shapes =
            problem.shapes.iter().filter(|s| s.height as usize == height && s.width as usize <= problem.columns);
        let mut used = 0;
        for &shape in shapes {
            if self.units.len() == used {
                self.units.push((0, problem.room()));
            }
            let (width, best) = &mut self.units[used];
            *width = shape.width as usize;
            problem.row(shape, y, best);
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
    fn prepare_fillers(&mut self, problem: &Problem, y: usize, height: usize) {
        for (colour, filler) in self.fillers.iter_mut().enumerate() {
            let longest = problem.choices[colour].longest(height);
            let (price, along) = problem.prices.filler(colour, height);
            filler.start = (longest >= problem.least).then_some((problem.labour.filler + price) as i32);
            let cell = problem.labour.filler_cell * height as u32 + along;
            let (above, below) = (problem.tables[colour].rect(y), problem.tables[colour].rect(y + height));
            let sums = above.iter().zip(below).zip(0_u32..).map(|((a, b), x)| (b.wrapping_sub(*a) + x * cell) as i32);
            filler.sums.clear();
            filler.sums.extend(sums);
            filler.window.reset((longest + 1).saturating_sub(problem.least).max(1), self.groups);
        }
    }

    #[inline(always)]
    fn fillers_to(&mut self, x: usize, least: usize, clear_from: usize) {
        let Some(from) = x.checked_sub(least) else { return };
        let groups = self.groups;
        let (before, at) = self.paths.split_at_mut(x * groups);
        let (before, at) = (&before[from * groups..][..groups], &mut at[..groups]);
        for filler in &mut self.fillers {
            let Some(start) = filler.start else { continue };
            let open = from >= clear_from;
            filler.window.step(before, filler.sums[from], open, at, start + filler.sums[x]);
        }
    }

    #[inline(always)]
    fn units_to(&mut self, x: usize, clear_from: usize) {
        let groups = self.groups;
        let (before, at) = self.paths.split_at_mut(x * groups);
        let at = &mut at[..groups];
        for (width, best) in &self.units {
            let Some(from) = x.checked_sub(*width).filter(|from| *from >= clear_from) else { continue };
            for (at, before) in at.iter_mut().zip(&before[from * groups..][..groups]) {
                *at = least_of(*at, plus(*before, best[from] as i32));
            }
        }
    }

    /// Sets the paths inside a wall and at its right edge.
    fn cross(&mut self, wall: Wall, x: usize) {
        let through = wall.cost.filter(|_| x == wall.to);
        for group in 0..self.groups {
            let blocked = [BLOCKED; ABREAST];
            let before = self.paths[wall.from * self.groups + group];
            self.paths[x * self.groups + group] = through.map_or(blocked, |cost| least_of(plus(before, cost), blocked));
        }
    }
}

/// The least of the last `block` rows pushed, for each start: the least from there to the end of the block
/// before, and the least of this block so far.
#[derive(Default)]
struct Window {
    block: usize,
    groups: usize,
    filled: usize,
    /// Rows of this block.
    rows: Vec<Paths>,
    /// Least from each row of the block before to its end, and a blocked row; none in the first block.
    tails: Vec<Paths>,
    blocked: Vec<Paths>,
    /// Least of this block so far.
    head: Vec<Paths>,
}

impl Window {
    fn reset(&mut self, block: usize, groups: usize) {
        (self.block, self.groups, self.filled) = (block, groups, 0);
        // Rows are written before they are read.
        self.rows.resize((block + 1) * groups, [BLOCKED; ABREAST]);
        self.tails.clear();
        self.blocked.resize(groups, [BLOCKED; ABREAST]);
        self.head.clear();
        self.head.resize(groups, [BLOCKED; ABREAST]);
    }

    /// Forgets all paths, though not their places.
    fn block(&mut self) {
        for held in [&mut self.rows, &mut self.tails, &mut self.head] {
            held.fill([BLOCKED; ABREAST]);
        }
    }

    /// Takes in the paths where a filler may start, and lowers `at`, where it ends, by the least in the window.
    #[inline(always)]
    fn step(&mut self, paths: &[Paths], sum: i32, open: bool, at: &mut [Paths], more: i32) {
        if self.filled == self.block {
            self.turn_over();
        }
        let groups = self.groups;
        let rows = &mut self.rows[self.filled * groups..][..groups];
        self.filled += 1;
        let tails = self.tails.get(self.filled * groups..).and_then(|tails| tails.get(..groups));
        let tails = tails.unwrap_or(&self.blocked);
        for ((((row, head), tail), path), at) in rows.iter_mut().zip(&mut self.head).zip(tails).zip(paths).zip(at) {
            let taken = if open { plus(*path, -sum) } else { [BLOCKED; ABREAST] };
            let least = least_of(*head, taken);
            (*row, *head) = (taken, least);
            *at = least_of(*at, plus(least_of(least, *tail), more));
        }
    }

    #[inline(always)]
    fn turn_over(&mut self) {
        let groups = self.groups;
        self.tails.resize((self.block + 1) * groups, [BLOCKED; ABREAST]);
        std::mem::swap(&mut self.rows, &mut self.tails);
        self.tails[self.block * groups..].fill([BLOCKED; ABREAST]);
        for at in (0..self.block * groups).rev() {
            self.tails[at] = least_of(self.tails[at], self.tails[at + groups]);
        }
        self.head.fill([BLOCKED; ABREAST]);
        self.filled = 0;
    }
}
