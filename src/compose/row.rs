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

use super::units::{NEVER, Scratch};
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

/// Room for solving one row after another.
pub struct RowSolver {
    scratch: Scratch,
    /// Best unit at each x, by width.
    units: Vec<(usize, Vec<u32>)>,
    /// d(s, x) by x and then s.
    paths: Vec<i32>,
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
        Self {
            scratch: Scratch::new(problem.columns),
            units: Vec::new(),
            paths: Vec::new(),
            fillers: (0..problem.choices.len()).map(filler).collect(),
        }
    }

    /// Costs of the row of `height` at `y` between any two edges, in the order of `problem.pairs`, into `out`.
    #[inline(always)]
    pub fn solve(&mut self, problem: &Problem, y: usize, height: usize, out: &mut [i32], counts: &mut Counts) {
        let starts = problem.edges.len() - 1;
        self.prepare_units(problem, y, height, counts);
        self.prepare_fillers(problem, y, height, starts);
        self.paths.clear();
        self.paths.resize((problem.columns + 1) * starts, BLOCKED);
        let walls = problem.walls(y, height);
        let (mut passed, mut clear_from) = (0, 0);
        for x in 0..=problem.columns {
            self.fillers_to(x, problem.least, clear_from, starts);
            self.units_to(x, clear_from, starts);
            if let Some(wall) = walls.get(passed).filter(|wall| x > wall.from) {
                self.cross(*wall, x, starts);
            }
            if let Some(start) = problem.edges[..starts].iter().position(|&edge| edge == x) {
                let inside = walls.get(passed).is_some_and(|wall| wall.from < x && x < wall.to);
                self.paths[x * starts + start] = if inside { BLOCKED } else { 0 };
            }
            if walls.get(passed).is_some_and(|wall| x == wall.to) {
                (passed, clear_from) = (passed + 1, x);
                self.fillers.iter_mut().for_each(|filler| filler.window.block());
            }
        }
        counts.steps += (problem.columns * starts * (self.units.len() + self.fillers.len())) as u64;
        for (cost, &(from, to)) in out.iter_mut().zip(&problem.pairs) {
            *cost = self.paths[problem.edges[to] * starts + from];
        }
    }

    #[inline(always)]
    fn prepare_units(&mut self, problem: &Problem, y: usize, height: usize, counts: &mut Counts) {
        let shapes =
            problem.shapes.iter().filter(|s| s.height as usize == height && s.width as usize <= problem.columns);
        let mut used = 0;
        for &shape in shapes {
            if self.units.len() == used {
                self.units.push((0, vec![NEVER; problem.columns + 1]));
            }
            let (width, best) = &mut self.units[used];
            *width = shape.width as usize;
            problem.row(shape, y, &mut self.scratch, best);
            counts.sums += problem.sums_of(shape);
            used += 1;
        }
        self.units.truncate(used);
    }

    #[inline(always)]
    fn prepare_fillers(&mut self, problem: &Problem, y: usize, height: usize, starts: usize) {
        for (colour, filler) in self.fillers.iter_mut().enumerate() {
            let longest = problem.choices[colour].longest(height);
            filler.start = (longest >= problem.least).then_some(problem.labour.filler as i32);
            let cell = problem.labour.filler_cell * height as u32;
            let (above, below) = (problem.tables[colour].rect(y), problem.tables[colour].rect(y + height));
            let sums = above.iter().zip(below).zip(0_u32..).map(|((a, b), x)| (b.wrapping_sub(*a) + x * cell) as i32);
            filler.sums.clear();
            filler.sums.extend(sums);
            filler.window.reset((longest + 1).saturating_sub(problem.least).max(1), starts);
        }
    }

    #[inline(always)]
    fn fillers_to(&mut self, x: usize, least: usize, clear_from: usize, starts: usize) {
        let Some(from) = x.checked_sub(least) else { return };
        let (before, at) = self.paths.split_at_mut(x * starts);
        let (before, at) = (&before[from * starts..][..starts], &mut at[..starts]);
        for filler in &mut self.fillers {
            let Some(start) = filler.start else { continue };
            filler.window.push(before, filler.sums[from], from >= clear_from);
            filler.window.lower(at, start + filler.sums[x]);
        }
    }

    #[inline(always)]
    fn units_to(&mut self, x: usize, clear_from: usize, starts: usize) {
        let (before, at) = self.paths.split_at_mut(x * starts);
        let at = &mut at[..starts];
        for (width, best) in &self.units {
            let Some(from) = x.checked_sub(*width).filter(|from| *from >= clear_from) else { continue };
            let (cost, before) = (best[from] as i32, &before[from * starts..][..starts]);
            for (at, before) in at.iter_mut().zip(before) {
                *at = (*at).min(before + cost);
            }
        }
    }

    /// Sets the paths inside a wall and at its right edge.
    fn cross(&mut self, wall: Wall, x: usize, starts: usize) {
        for start in 0..starts {
            let through = wall.cost.filter(|_| x == wall.to).map(|cost| self.paths[wall.from * starts + start] + cost);
            self.paths[x * starts + start] = through.unwrap_or(BLOCKED).min(BLOCKED);
        }
    }
}

/// The least of the last `block` rows pushed, for each start: the least from there to the end of the block
/// before, and the least of this block so far.
#[derive(Default)]
struct Window {
    block: usize,
    starts: usize,
    filled: usize,
    /// Rows of this block.
    rows: Vec<i32>,
    /// Least from each row of the block before to its end.
    tails: Vec<i32>,
    /// Least of this block so far.
    head: Vec<i32>,
}

impl Window {
    fn reset(&mut self, block: usize, starts: usize) {
        (self.block, self.starts, self.filled) = (block, starts, 0);
        self.head.clear();
        self.head.resize(starts, BLOCKED);
        self.rows.clear();
        self.tails.clear();
    }

    /// Forgets all paths, though not their places.
    fn block(&mut self) {
        for held in [&mut self.rows, &mut self.tails, &mut self.head] {
            held.fill(BLOCKED);
        }
    }

    #[inline(always)]
    fn push(&mut self, paths: &[i32], sum: i32, open: bool) {
        if self.filled == self.block {
            self.turn_over();
        }
        self.filled += 1;
        let starts = self.starts;
        let at = self.rows.len();
        self.rows.extend(paths.iter().map(|path| if open { path - sum } else { BLOCKED }));
        for (head, row) in self.head[..starts].iter_mut().zip(&self.rows[at..]) {
            *head = (*head).min(*row);
        }
    }

    fn turn_over(&mut self) {
        std::mem::swap(&mut self.rows, &mut self.tails);
        self.rows.clear();
        for at in (0..self.tails.len() - self.starts).rev() {
            self.tails[at] = self.tails[at].min(self.tails[at + self.starts]);
        }
        self.head.fill(BLOCKED);
        self.filled = 0;
    }

    #[inline(always)]
    fn lower(&self, at: &mut [i32], more: i32) {
        for (at, head) in at.iter_mut().zip(&self.head) {
            *at = (*at).min(head + more);
        }
        if let Some(tail) = self.tails.get(self.filled * self.starts..).filter(|tail| !tail.is_empty()) {
            for (at, tail) in at.iter_mut().zip(tail) {
                *at = (*at).min(tail + more);
            }
        }
    }
}
