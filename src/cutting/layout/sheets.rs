//! Squares, fat quarters and oddments: all pieces out of the fewest sheets.

use std::cmp::Reverse;

use super::build::{Builder, Next};
use super::filler::{Answer, Filled, Filler, Stack, Way, usage};
use super::length::shortest;
use super::model::LayoutEffort;
use super::one_sheet::OneSheet;
use super::order::Kind;
use super::proven::proven;
use super::search::Dice;

/// Most rounds of trying other prices.
const TRIES: usize = 24;
/// Most rounds of refilling a few sheets.
const ROUNDS: usize = 160;
/// Most rounds of asking for a bound, and of filling sheets by the prices that prove it.
const PROOFS: usize = 100;
const PRICED: usize = 1200;

/// Least is best: area that found no room, sheets, their area, and the more unevenly they are filled the better.
type Score = (i128, usize, i128, Reverse<u128>);

/// The fewest sheets found, and what is left of each kind.
pub(super) fn fewest(kinds: &[Kind], counts: &[i64], stacks: &[Stack], effort: LayoutEffort) -> Vec<Filled> {
    let builders = stacks.iter().map(|stack| Builder::new(&stack.order)).collect();
    let widest = stacks.iter().map(|stack| stack.order.width).max().unwrap_or(1);
    let prices: Vec<i64> = kinds.iter().map(|kind| kind.share(widest)).collect();
    let work: usize = stacks.iter().map(|stack| stack.order.work()).sum();
    let looks = effort.steps() / work.max(1);
    let ways: &[Way] = if looks < 64 {
        &[Way::Strips(Next::Highest(0))]
    } else {
        &[Way::Strips(Next::Highest(0)), Way::Strips(Next::Worth)]
    };
    let mut filler = Filler { kinds, stacks, builders, ways, whole: OneSheet::default(), dice: Dice::new(3) };
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
    filler.by_proof(best, counts, looks).filled
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

    /// Where fewer sheets of one size might do, or all pieces might find room: sheets filled by the prices that prove it.
    fn by_proof(&mut self, mut best: Answer, counts: &[i64], looks: usize) -> Answer {
        let one_size = self.stacks.windows(2).all(|two| two[0].sheet == two[1].sheet);
        let rounds = (looks / 64).min(PRICED);
        if self.stacks.is_empty() || !one_size || rounds == 0 {
            return best;
        }
        let proven = proven(self.stacks, counts, &best.filled, (looks / 16).min(PROOFS));
        let there = u64::try_from(self.stacks[0].copies).unwrap_or(0);
        let done = |best: &Answer| match best.left.iter().all(|&left| left == 0) {
            true => best.filled.len() as u64 <= proven.sheets,
            false => proven.sheets > there,
        };
        let ways = std::mem::replace(&mut self.ways, &[Way::Whole]);
        for _ in 0..rounds {
            if done(&best) {
                break;
            }
            let other = self.refill(&best, &proven.prices);
            best = self.better(best, other);
        }
        self.ways = ways;
        best
    }

    /// The shortest strips of each stack, put into its sheets: highest first, each into the first with room.
    fn by_strips(&self, counts: &[i64], looks: usize, effort: LayoutEffort) -> Vec<Answer> {
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
