//! Fills sheets one after the other, each with what it takes most of.

use std::cmp::Reverse;

use super::build::{Builder, Next, Pattern};
use super::one_sheet::{OneSheet, Rounding};
use super::order::{Kind, Order};
use super::search::Dice;

/// Sheets of one size as they lie.
#[derive(Debug)]
pub(super) struct Stack {
    pub sheet: usize,
    pub copies: i64,
    pub turned: bool,
    pub height: i64,
    pub order: Order,
}

/// Equal sheets cut alike.
#[derive(Clone, Debug)]
pub(super) struct Filled {
    /// Which stack, by index.
    pub stack: usize,
    pub patterns: Vec<Pattern>,
}

/// Sheets in use, and how good they are.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    pub filled: Vec<Filled>,
    pub left: Vec<i64>,
}

/// How a sheet is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// Strip after strip.
    Strips(Next),
    /// The strips that are worth most together.
    Whole,
}

pub(super) struct Filler<'a> {
    pub kinds: &'a [Kind],
    pub stacks: &'a [Stack],
    pub builders: Vec<Builder<'a>>,
    pub ways: &'static [Way],
    pub whole: OneSheet,
    pub dice: Dice,
}

impl Filler<'_> {
    pub fn area(&self, stack: usize) -> i128 {
        i128::from(self.stacks[stack].order.width) * i128::from(self.stacks[stack].height)
    }

    /// Area of a strip's pieces.
    pub fn worth(&self, pattern: &Pattern) -> i128 {
        pattern.cuts.iter().map(|&(kind, count)| self.kinds[kind].area() * i128::from(count)).sum()
    }

    /// Copies of a sheet that are not in use; a sheet lies one way in one stack and the other in the next.
    fn free(&self, stack: usize, filled: &[Filled]) -> i64 {
        let sheet = self.stacks[stack].sheet;
        let used = filled.iter().filter(|filled| self.stacks[filled.stack].sheet == sheet).count();
        self.stacks[stack].copies - i64::try_from(used).unwrap_or(i64::MAX)
    }

    /// Fills one sheet after the other: the one that takes most, the smaller where they take the same.
    pub fn fill(&mut self, mut filled: Vec<Filled>, counts: &[i64], prices: &[i64]) -> Answer {
        let mut left = counts.to_vec();
        while let Some(next) = self.best_sheet(&filled, &left, prices) {
            let used = usage(&next.patterns, left.len());
            let fits = left.iter().zip(&used).filter(|at| *at.1 > 0).map(|(left, used)| left / used).min();
            let times = fits.unwrap_or(0).min(self.free(next.stack, &filled));
            if times < 1 {
                break;
            }
            left.iter_mut().zip(&used).for_each(|(left, used)| *left -= used * times);
            filled.extend(std::iter::repeat_n(next, usize::try_from(times).unwrap_or(0)));
        }
        Answer { filled, left }
    }

    fn best_sheet(&mut self, filled: &[Filled], left: &[i64], prices: &[i64]) -> Option<Filled> {
        let mut best: Option<((Reverse<i128>, i128), Filled)> = None;
        for stack in 0..self.stacks.len() {
            if self.free(stack, filled) < 1 {
                continue;
            }
            for &next in self.ways {
                let patterns = self.one_sheet(stack, left, prices, next);
                let value = |pattern| if next == Way::Whole { value(pattern, prices) } else { self.worth(pattern) };
                let worth: i128 = patterns.iter().map(value).sum();
                let key = (Reverse(worth), self.area(stack));
                if worth > 0 && best.as_ref().is_none_or(|best| key < best.0) {
                    best = Some((key, Filled { stack, patterns }));
                }
            }
        }
        best.map(|best| best.1)
    }

    fn one_sheet(&mut self, stack: usize, left: &[i64], prices: &[i64], way: Way) -> Vec<Pattern> {
        let (mut left, mut room, mut patterns) = (left.to_vec(), self.stacks[stack].height, Vec::new());
        while let Some(pattern) = self.next(stack, &left, prices, room, way) {
            pattern.cuts.iter().for_each(|&(kind, count)| left[kind] -= count);
            room -= self.stacks[stack].order.height(pattern.height);
            patterns.push(pattern);
        }
        patterns
    }

    fn next(&mut self, stack: usize, left: &[i64], prices: &[i64], room: i64, way: Way) -> Option<Pattern> {
        let order = &self.stacks[stack].order;
        match way {
            Way::Strips(next) => self.builders[stack].next(left, prices, next, room),
            Way::Whole => {
                let strips = self.whole.fill(order, room, left, prices, Rounding::Up).1;
                strips.into_iter().max_by_key(|pattern| pattern.height)
            }
        }
    }
}

fn value(pattern: &Pattern, prices: &[i64]) -> i128 {
    pattern.cuts.iter().map(|&(kind, count)| i128::from(prices[kind]) * i128::from(count)).sum()
}

/// How many of each kind some strips take.
pub(super) fn usage(patterns: &[Pattern], kinds: usize) -> Vec<i64> {
    let mut used = vec![0; kinds];
    for &(kind, count) in patterns.iter().flat_map(|pattern| &pattern.cuts) {
        used[kind] += count;
    }
    used
}
