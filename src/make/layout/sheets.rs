//! Squares, fat quarters and oddments: all pieces out of the fewest sheets.

use std::cmp::Reverse;

use super::build::{Builder, Next, Pattern};
use super::length::shortest;
use super::model::Effort;
use super::order::{Kind, Order};
use super::search::Dice;

/// Most rounds of trying other prices.
const TRIES: usize = 24;
/// Most rounds of refilling a few sheets.
const ROUNDS: usize = 160;

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
struct Answer {
    filled: Vec<Filled>,
    left: Vec<i64>,
}

/// Least is best: area that found no room, sheets, their area, and the more unevenly they are filled the better.
type Score = (i128, usize, i128, Reverse<u128>);

struct Filler<'a> {
    kinds: &'a [Kind],
    stacks: &'a [Stack],
    builders: Vec<Builder<'a>>,
    ways: &'static [Next],
    dice: Dice,
}

/// The fewest sheets found, and what is left of each kind.
pub(super) fn fewest(kinds: &[Kind], counts: &[i64], stacks: &[Stack], effort: Effort) -> Vec<Filled> {
    let builders = stacks.iter().map(|stack| Builder::new(&stack.order)).collect();
    let widest = stacks.iter().map(|stack| stack.order.width).max().unwrap_or(1);
    let prices: Vec<i64> = kinds.iter().map(|kind| kind.share(widest)).collect();
    let work: usize = stacks.iter().map(|stack| stack.order.work()).sum();
    let looks = effort.steps() / work.max(1);
    let ways: &[Next] = if looks < 64 { &[Next::Highest(0)] } else { &[Next::Highest(0), Next::Worth] };
    let mut filler = Filler { kinds, stacks, builders, ways, dice: Dice::new(3) };
    let mut best = filler.fill(Vec::new(), counts, &prices);
    if filler.cannot_be_better(&best) {
        return best.filled;
    }
    for _ in 1..(looks / 128).min(TRIES) {
        let shaken = filler.dice.shaken(&prices);
        let other = filler.fill(Vec::new(), counts, &shaken);
        best = filler.better(best, other);
    }
    for answer in filler.by_strips(counts, looks, effort) {
        best = filler.better(best, answer);
    }
    for _ in 0..(looks / 64).min(ROUNDS) {
        let other = filler.refill(&best, &prices);
        best = filler.better(best, other);
    }
    best.filled
}

impl Filler<'_> {
    fn better(&self, one: Answer, other: Answer) -> Answer {
        if self.score(&other) <= self.score(&one) { other } else { one }
    }

    fn score(&self, answer: &Answer) -> Score {
        let lost = self.kinds.iter().zip(&answer.left).map(|(kind, &left)| kind.area() * i128::from(left)).sum();
        let sheets = answer.filled.iter().map(|filled| self.area(filled.stack)).sum();
        let fill = |filled: &Filled| {
            let used: i128 = filled.patterns.iter().map(|pattern| self.worth(pattern)).sum();
            let share = (used << 20) / self.area(filled.stack).max(1);
            share.unsigned_abs().pow(2)
        };
        (lost, answer.filled.len(), sheets, Reverse(answer.filled.iter().map(fill).sum()))
    }

    /// Whether all pieces are placed on the only sheet there is.
    fn cannot_be_better(&self, answer: &Answer) -> bool {
        answer.left.iter().all(|&left| left == 0) && answer.filled.len() <= 1 && self.stacks.len() == 1
    }

    fn area(&self, stack: usize) -> i128 {
        i128::from(self.stacks[stack].order.width) * i128::from(self.stacks[stack].height)
    }

    /// Area of a strip's pieces.
    fn worth(&self, pattern: &Pattern) -> i128 {
        pattern.cuts.iter().map(|&(kind, count)| self.kinds[kind].area() * i128::from(count)).sum()
    }

    /// Copies of a sheet that are not in use; a sheet lies one way in one stack and the other in the next.
    fn free(&self, stack: usize, filled: &[Filled]) -> i64 {
        let sheet = self.stacks[stack].sheet;
        let used = filled.iter().filter(|filled| self.stacks[filled.stack].sheet == sheet).count();
        self.stacks[stack].copies - i64::try_from(used).unwrap_or(i64::MAX)
    }

    /// Fills one sheet after the other: the one that takes most, the smaller where they take the same.
    fn fill(&mut self, mut filled: Vec<Filled>, counts: &[i64], prices: &[i64]) -> Answer {
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
                let worth: i128 = patterns.iter().map(|pattern| self.worth(pattern)).sum();
                let key = (Reverse(worth), self.area(stack));
                if worth > 0 && best.as_ref().is_none_or(|best| key < best.0) {
                    best = Some((key, Filled { stack, patterns }));
                }
            }
        }
        best.map(|best| best.1)
    }

    fn one_sheet(&mut self, stack: usize, left: &[i64], prices: &[i64], next: Next) -> Vec<Pattern> {
        let (mut left, mut room, mut patterns) = (left.to_vec(), self.stacks[stack].height, Vec::new());
        while let Some(pattern) = self.builders[stack].next(&left, prices, next, room) {
            pattern.cuts.iter().for_each(|&(kind, count)| left[kind] -= count);
            room -= self.stacks[stack].order.height(pattern.height);
            patterns.push(pattern);
        }
        patterns
    }

    /// The shortest strips of each stack, put into its sheets: highest first, each into the first with room.
    fn by_strips(&self, counts: &[i64], looks: usize, effort: Effort) -> Vec<Answer> {
        let few = if looks > 1000 { 4 } else { 0 };
        let fitted = |(stack, at): (usize, &Stack)| {
            let mut strips = shortest(&at.order, effort).patterns;
            strips.sort_by_key(|pattern| Reverse(pattern.height));
            let mut sheets: Vec<(i64, Filled)> = Vec::new();
            for pattern in strips {
                let height = at.order.height(pattern.height);
                match sheets.iter_mut().find(|sheet| sheet.0 >= height) {
                    Some(sheet) => {
                        sheet.0 -= height;
                        sheet.1.patterns.push(pattern);
                    }
                    None => sheets.push((at.height - height, Filled { stack, patterns: vec![pattern] })),
                }
            }
            sheets.truncate(usize::try_from(at.copies).unwrap_or(0));
            let filled: Vec<Filled> = sheets.into_iter().map(|sheet| sheet.1).collect();
            let used = filled.iter().map(|filled| usage(&filled.patterns, counts.len()));
            let left = used.fold(counts.to_vec(), |left, used| left.iter().zip(used).map(|(l, u)| l - u).collect());
            Answer { filled, left }
        };
        self.stacks.iter().enumerate().take(few).map(fitted).collect()
    }

    /// Empties a few sheets and fills them anew.
    fn refill(&mut self, answer: &Answer, prices: &[i64]) -> Answer {
        let (mut filled, mut left) = (answer.filled.clone(), answer.left.clone());
        for _ in 0..(1 + self.dice.roll(3)).min(filled.len()) {
            let out = filled.swap_remove(self.dice.roll(filled.len()));
            left.iter_mut().zip(usage(&out.patterns, answer.left.len())).for_each(|(left, used)| *left += used);
        }
        let shaken = self.dice.shaken(prices);
        self.fill(filled, &left, &shaken)
    }
}

/// How many of each kind some strips take.
pub(super) fn usage(patterns: &[Pattern], kinds: usize) -> Vec<i64> {
    let mut used = vec![0; kinds];
    for &(kind, count) in patterns.iter().flat_map(|pattern| &pattern.cuts) {
        used[kind] += count;
    }
    used
}
