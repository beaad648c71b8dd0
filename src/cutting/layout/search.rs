//! Looks for shorter sets of strips: prices corrected by waste, then a few strips built anew at a time.

use rand_pcg::Pcg32;
use rand_pcg::rand_core::{RngCore, SeedableRng};

use super::build::{Builder, Next, Pattern};
use super::order::{DEAREST, Order};

/// A small seeded generator, so that the same order gives the same layout.
#[derive(Clone, Debug)]
pub(super) struct Dice(Pcg32);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(Pcg32::seed_from_u64(seed))
    }

    /// A number below `sides`.
    pub fn roll(&mut self, sides: usize) -> usize {
        self.0.next_u32() as usize % sides.max(1)
    }

    /// Every price changed a little.
    pub fn shaken(&mut self, prices: &[i64]) -> Vec<i64> {
        prices.iter().map(|&price| self.shake(price)).collect()
    }

    /// A price changed by up to an eighth either way.
    fn shake(&mut self, price: i64) -> i64 {
        let eighths = i64::try_from(self.roll(33)).unwrap_or(16) - 16;
        (price + price / 128 * eighths).max(1)
    }
}

/// Price of each piece: the length of full width that has its area.
pub(super) fn prices(order: &Order) -> Vec<i64> {
    order.kinds.iter().map(|kind| kind.share(order.width)).collect()
}

/// Length of all strips together.
pub(super) fn length(order: &Order, patterns: &[Pattern]) -> i64 {
    patterns.iter().map(|pattern| order.height(pattern.height)).sum()
}

/// The shortest of several builds; pieces of wasteful strips cost more in the next.
pub(super) fn by_prices(
    builder: &mut Builder,
    start: &[i64],
    rounds: usize,
    dice: &mut Dice,
    goal: i64,
) -> Vec<Pattern> {
    let order = builder.order;
    let (mut prices, mut best, mut shortest) = (start.to_vec(), Vec::new(), i64::MAX);
    for round in 0..rounds.max(1) {
        let next = if round % 2 == 0 { Next::Highest(0) } else { Next::Worth };
        let patterns = builder.build(&mut order.counts.clone(), &prices, next, i64::MAX);
        let total = length(order, &patterns);
        for pattern in &patterns {
            correct(order, pattern, &mut prices, dice);
        }
        if total < shortest {
            (best, shortest) = (patterns, total);
        }
        if shortest <= goal {
            break;
        }
    }
    best
}

/// Moves the prices of a strip's pieces a third of the way to what the strip really cost.
fn correct(order: &Order, pattern: &Pattern, prices: &mut [i64], dice: &mut Dice) {
    let worth: i128 = pattern.cuts.iter().map(|&(kind, count)| i128::from(prices[kind]) * i128::from(count)).sum();
    let cost = i128::from(order.height(pattern.height));
    for &(kind, _) in &pattern.cuts {
        let due = i64::try_from(i128::from(prices[kind]) * cost / worth.max(1)).unwrap_or(DEAREST);
        let old = prices[kind];
        prices[kind] = dice.shake(old - old / 3 + due / 3).min(DEAREST);
    }
}

/// Takes a few strips apart and builds them anew, as often as `rounds` says; keeps what is no longer.
pub(super) fn rebuild(
    builder: &mut Builder,
    patterns: &mut Vec<Pattern>,
    prices: &[i64],
    rounds: usize,
    dice: &mut Dice,
    goal: i64,
) {
    let order = builder.order;
    let mut total = length(order, patterns);
    for _ in 0..rounds {
        if total <= goal || patterns.len() < 2 {
            return;
        }
        let taken = take_out(patterns, 2 + dice.roll(4), dice);
        let mut left = vec![0; order.kinds.len()];
        for &(kind, count) in taken.iter().flat_map(|pattern| &pattern.cuts) {
            left[kind] += count;
        }
        let shaken = dice.shaken(prices);
        let next = match dice.roll(6) {
            0 | 1 => Next::Worth,
            roll => Next::Highest(roll.saturating_sub(3)),
        };
        let one = builder.all_in_one(&left);
        let mut built = builder.build(&mut left, &shaken, next, i64::MAX);
        if let Some(one) = one.filter(|one| order.height(one.height) < length(order, &built)) {
            built = vec![one];
        }
        let (before, after) = (length(order, &taken), length(order, &built));
        patterns.extend(if after <= before { built } else { taken });
        total += after.min(before) - before;
    }
}

fn take_out(patterns: &mut Vec<Pattern>, count: usize, dice: &mut Dice) -> Vec<Pattern> {
    let take = count.min(patterns.len());
    (0..take).map(|_| patterns.swap_remove(dice.roll(patterns.len()))).collect()
}
