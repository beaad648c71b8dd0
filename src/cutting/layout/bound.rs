//! The least length that two stages can take, proven: whole strips, whose contents may be shared out.
//!
//! Relaxed problem: x patterns, each a strip of some height with pieces side by side, at least as many of each
//! piece as are asked for, at least length. Patterns are found as they are needed, by a bounded knapsack a
//! height. The number of strips at least as high as h must be whole for each h: where it is not, the problem is
//! split in two, at most so many and at least one more, and the node with the lower bound is solved next.
//!
//! Prices are rounded to whole ticks and each height's best strip is worked out exactly, so that a bound holds
//! whatever floating point did: no strip is worth more than its height and `over`, so that all pieces together
//! are worth at most the length and `over` for each strip there can be.

use super::build::{Builder, Next, Pattern};
use super::knapsack::Knapsack;
use super::order::{DEAREST, Order};
use super::search::{self, Dice};
use super::simplex::{Program, Sense};

/// Most times that one node asks for more patterns, and most pivots each time.
const ROUNDS: usize = 100;
const PIVOTS: usize = 400;

/// A node of the search: the problem with the strips of at least a height number at most or at least so many.
#[derive(Clone, Debug, Default)]
struct Node {
    limits: Vec<(usize, Sense, i64)>,
    bound: i64,
}

pub(super) struct Bounder<'a> {
    order: &'a Order,
    sack: Knapsack,
    pool: Vec<Pattern>,
    builder: Builder<'a>,
    dice: Dice,
    pub best: Vec<Pattern>,
    pub length: i64,
}

/// What solving a node gave.
struct Solved {
    bound: i64,
    prices: Vec<i64>,
    /// Strips of each height.
    strips: Vec<f64>,
}

impl<'a> Bounder<'a> {
    pub fn new(order: &'a Order, best: Vec<Pattern>) -> Self {
        let length = search::length(order, &best);
        let pool = best.clone();
        Self { order, sack: Knapsack::default(), pool, builder: Builder::new(order), dice: Dice::new(7), best, length }
    }

    /// A bound from at most `nodes` nodes; shorter layouts met on the way are kept.
    pub fn bound(&mut self, nodes: usize) -> i64 {
        let mut open = vec![Node::default()];
        let mut settled = i64::MAX;
        for _ in 0..nodes {
            let Some(at) = (0..open.len()).min_by_key(|&at| (open[at].bound, std::cmp::Reverse(at))) else { break };
            if open[at].bound >= self.length.min(settled) {
                break;
            }
            let node = open.swap_remove(at);
            let solved = self.solve(&node);
            let bound = solved.bound.max(node.bound);
            self.try_prices(&solved.prices);
            match self.split(&node, &solved, bound) {
                Some(both) => open.extend(both),
                None => settled = settled.min(bound),
            }
        }
        open.iter().map(|node| node.bound).chain([settled, self.length]).min().unwrap_or(0)
    }

    fn try_prices(&mut self, prices: &[i64]) {
        let prices: Vec<i64> = prices.iter().map(|&price| price.max(1)).collect();
        for next in [Next::Highest(0), Next::Worth] {
            let built = self.builder.build(&mut self.order.counts.clone(), &prices, next, i64::MAX);
            self.keep(built);
        }
        let mut best = self.best.clone();
        search::rebuild(&mut self.builder, &mut best, &prices, 6, &mut self.dice, 0);
        self.keep(best);
    }

    fn keep(&mut self, built: Vec<Pattern>) {
        let length = search::length(self.order, &built);
        if length <= self.length {
            (self.best, self.length) = (built, length);
        }
    }

    /// Splits where the number of strips of at least a height is furthest from whole; the higher first.
    fn split(&self, node: &Node, solved: &Solved, bound: i64) -> Option<[Node; 2]> {
        let mut count = 0.0;
        let mut most: Option<(f64, usize, f64)> = None;
        for (height, strips) in solved.strips.iter().enumerate().rev() {
            count += strips;
            let off = (count - count.round()).abs();
            if off > 1e-6 && most.is_none_or(|most| off > most.0 + 1e-9) {
                most = Some((off, height, count));
            }
        }
        let (_, height, count) = most?;
        let with = |sense, count| {
            let mut limits = node.limits.clone();
            limits.push((height, sense, count));
            Node { limits, bound }
        };
        Some([with(Sense::Most, count.floor() as i64), with(Sense::Least, count.ceil() as i64)])
    }

    /// Solves one node: columns are added until no strip is worth more than it costs.
    fn solve(&mut self, node: &Node) -> Solved {
        let (mut program, mut numbers) = self.program(node);
        let (mut bound, mut round) = (0, 0);
        loop {
            round += 1;
            program.solve(PIVOTS);
            let duals = self.whole(&program.duals(), node);
            let (found, over) = self.price(&duals, node);
            bound = bound.max(self.proven(&duals, node, over));
            let grown = found.into_iter().filter(|pattern| self.admit(pattern)).collect::<Vec<_>>();
            if grown.is_empty() || bound >= self.length || round == ROUNDS {
                let prices = duals.into_iter().take(self.order.kinds.len()).collect();
                return Solved { bound, prices, strips: self.strips(&program, &numbers) };
            }
            for pattern in grown {
                numbers.push(add(self.order, &mut program, node, &pattern));
            }
        }
    }

    fn program(&self, node: &Node) -> (Program, Vec<usize>) {
        let demands = self.order.counts.iter().map(|&count| (Sense::Least, count as f64));
        let limits = node.limits.iter().map(|&(_, sense, count)| (sense, count as f64));
        let highest = self.order.heights.last().copied().unwrap_or(1);
        let rows: Vec<_> = demands.chain(limits).collect();
        let mut program = Program::new(&rows, highest as f64 * 100.0);
        let numbers = self.pool.iter().map(|pattern| add(self.order, &mut program, node, pattern)).collect();
        (program, numbers)
    }

    /// Whether a pattern is new to the pool; adds it.
    fn admit(&mut self, pattern: &Pattern) -> bool {
        let new = !self.pool.contains(pattern);
        if new {
            self.pool.push(pattern.clone());
        }
        new
    }

    /// Prices and charges in whole ticks: never below nothing where a row asks for at least, never above for at most.
    fn whole(&self, duals: &[f64], node: &Node) -> Vec<i64> {
        let most =
            |row: usize| row.checked_sub(self.order.kinds.len()).is_some_and(|at| node.limits[at].1 == Sense::Most);
        let whole = |(row, &dual): (usize, &f64)| {
            let ticks = (dual.floor() as i64).clamp(-DEAREST, DEAREST);
            if most(row) { ticks.min(0) } else { ticks.max(0) }
        };
        duals.iter().enumerate().map(whole).collect()
    }

    /// The best strip of each height that is worth more than it costs, and by how much at most.
    fn price(&mut self, duals: &[i64], node: &Node) -> (Vec<Pattern>, i64) {
        let order = self.order;
        let (prices, charges) = duals.split_at(order.kinds.len());
        let (mut found, mut over) = (Vec::new(), 0);
        for (index, &height) in order.heights.iter().enumerate() {
            let credit: i64 =
                node.limits.iter().zip(charges).filter(|(limit, _)| limit.0 <= index).map(|at| at.1).sum();
            let room = order.capacity();
            self.sack.clear();
            for (kind, (&count, &price)) in order.counts.iter().zip(prices).enumerate() {
                if let Some((width, _)) = order.way(index, kind) {
                    self.sack.offer(kind, order.steps_down(width), price, count, room);
                }
            }
            let gain = self.sack.solve(room).saturating_add(credit) - height;
            if gain > 0 {
                over = over.max(gain);
                found.push(Pattern { height: index, cuts: self.sack.chosen() });
            }
        }
        (found, over)
    }

    /// The bound that these prices prove, up to the next length that strips can add up to.
    fn proven(&self, duals: &[i64], node: &Node, over: i64) -> i64 {
        let amounts = self.order.counts.iter().copied().chain(node.limits.iter().map(|limit| limit.2));
        let worth: i128 = duals.iter().zip(amounts).map(|(&dual, amount)| i128::from(dual) * i128::from(amount)).sum();
        let lowest = self.order.heights.first().copied().unwrap_or(1).max(1);
        let bound = worth - i128::from(over) * i128::from(self.length / lowest);
        let grain = i128::from(self.order.grain());
        let up = (bound + grain - 1).div_euclid(grain) * grain;
        i64::try_from(up.clamp(0, i128::from(self.length))).unwrap_or(0)
    }

    fn strips(&self, program: &Program, numbers: &[usize]) -> Vec<f64> {
        let mut strips = vec![0.0; self.order.heights.len()];
        for (column, level) in program.levels() {
            if let Ok(at) = numbers.binary_search(&column) {
                strips[self.pool[at].height] += level;
            }
        }
        strips
    }
}

/// A strip as a column; its number.
fn add(order: &Order, program: &mut Program, node: &Node, pattern: &Pattern) -> usize {
    let pieces = pattern.cuts.iter().map(|&(kind, count)| (kind, count as f64));
    let limits = node.limits.iter().enumerate().filter(|(_, limit)| limit.0 <= pattern.height);
    let limits = limits.map(|(at, _)| (order.kinds.len() + at, 1.0));
    program.add(order.height(pattern.height) as f64, pieces.chain(limits).collect())
}
