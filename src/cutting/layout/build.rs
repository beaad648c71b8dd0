//! Builds a whole set of strips, one after the other, each worth most by the prices of the pieces.

use super::knapsack::Knapsack;
use super::order::Order;

/// One strip: the index of its height, and what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Pattern {
    pub height: usize,
    pub cuts: Vec<(usize, i64)>,
}

/// How the next strip is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Next {
    /// The strip of most value for its height.
    Worth,
    /// A strip that holds the highest piece left, and is so many heights higher than it.
    Highest(usize),
}

pub(super) struct Builder<'a> {
    pub order: &'a Order,
    sack: Knapsack,
}

impl<'a> Builder<'a> {
    pub fn new(order: &'a Order) -> Self {
        Self { order, sack: Knapsack::default() }
    }

    /// Strips for all that is left and fits; each at most `limit` high.
    pub fn build(&mut self, left: &mut [i64], prices: &[i64], next: Next, limit: i64) -> Vec<Pattern> {
        let mut patterns = Vec::new();
        while let Some(pattern) = self.next(left, prices, next, limit) {
            let times = pattern.cuts.iter().map(|&(kind, count)| left[kind] / count.max(1)).min().unwrap_or(0);
            for &(kind, count) in &pattern.cuts {
                left[kind] -= count * times;
            }
            let Ok(times) = usize::try_from(times) else { break };
            patterns.extend(std::iter::repeat_n(pattern, times));
        }
        patterns
    }

    /// The lowest strip that holds all that is left at once.
    pub fn all_in_one(&self, left: &[i64]) -> Option<Pattern> {
        let fits = |&index: &usize| {
            let width = |(kind, &count): (usize, &i64)| match count {
                0 => Some(0),
                _ => self.order.way(index, kind)?.0.checked_mul(count),
            };
            let widths: Option<Vec<i64>> = left.iter().enumerate().map(width).collect();
            widths.is_some_and(|widths| {
                widths.iter().map(|&width| i128::from(width)).sum::<i128>() <= self.order.width.into()
            })
        };
        let index = (0..self.order.heights.len()).find(fits)?;
        let cuts = left.iter().copied().enumerate().filter(|cut| cut.1 > 0).collect();
        Some(Pattern { height: index, cuts })
    }

    /// One strip, as low as its pieces let it be; none where nothing more fits.
    pub fn next(&mut self, left: &[i64], prices: &[i64], next: Next, limit: i64) -> Option<Pattern> {
        match next {
            Next::Worth => self.worth(left, prices, limit),
            Next::Highest(over) => self.highest(left, prices, over, limit).or_else(|| self.worth(left, prices, limit)),
        }
    }

    fn worth(&mut self, left: &[i64], prices: &[i64], limit: i64) -> Option<Pattern> {
        let mut best = Best::default();
        for (index, &height) in self.order.heights.iter().enumerate().take_while(|(_, height)| **height <= limit) {
            let value = self.fill(index, left, prices);
            if best.improves(value, height) {
                best = Best { value, height, pattern: Some(self.pattern(index, None)) };
            }
        }
        best.pattern
    }

    fn highest(&mut self, left: &[i64], prices: &[i64], over: usize, limit: i64) -> Option<Pattern> {
        let order = self.order;
        let lowest = |kind: usize| order.kinds[kind].ways().filter(|way| way.0 <= order.width).map(|way| way.1).min();
        let open = (0..order.kinds.len()).filter(|&kind| left[kind] > 0 && order.fits(kind));
        let kind = open.filter(|&kind| lowest(kind).is_some_and(|h| h <= limit)).max_by_key(|&kind| lowest(kind))?;
        let mut best = Best::default();
        for (_, height) in order.kinds[kind].ways() {
            let Ok(index) = order.heights.binary_search(&height) else { continue };
            let (index, height) = (index + over, order.height(index + over));
            let Some((width, _)) = order.way(index, kind).filter(|_| height <= limit) else { continue };
            let mut rest = left.to_vec();
            rest[kind] -= 1;
            let room = order.capacity().saturating_sub(order.steps_up(width));
            let value = self.fill_room(index, &rest, prices, room) + prices[kind].max(1);
            if best.improves(value, height) {
                best = Best { value, height, pattern: Some(self.pattern(index, Some(kind))) };
            }
        }
        best.pattern
    }

    /// The value of the best strip of one height.
    pub fn fill(&mut self, index: usize, left: &[i64], prices: &[i64]) -> i64 {
        self.fill_room(index, left, prices, self.order.capacity())
    }

    fn fill_room(&mut self, index: usize, left: &[i64], prices: &[i64], room: usize) -> i64 {
        self.sack.clear();
        for (kind, (&left, &price)) in left.iter().zip(prices).enumerate() {
            if let Some((width, _)) = self.order.way(index, kind) {
                self.sack.offer(kind, self.order.steps_up(width), price, left, room);
            }
        }
        self.sack.solve(room)
    }

    /// The strip last filled, and one piece more.
    pub fn pattern(&self, index: usize, more: Option<usize>) -> Pattern {
        let mut cuts = self.sack.chosen();
        if let Some(more) = more {
            match cuts.iter_mut().find(|cut| cut.0 == more) {
                Some(cut) => cut.1 += 1,
                None => cuts.push((more, 1)),
            }
            cuts.sort_unstable();
        }
        Pattern { height: self.lowered(index, &cuts), cuts }
    }

    fn lowered(&self, index: usize, cuts: &[(usize, i64)]) -> usize {
        let heights = cuts.iter().filter_map(|&(kind, _)| self.order.way(index, kind)).map(|way| way.1);
        heights.max().and_then(|height| self.order.heights.binary_search(&height).ok()).unwrap_or(index)
    }
}

#[derive(Default)]
struct Best {
    value: i64,
    height: i64,
    pattern: Option<Pattern>,
}

impl Best {
    /// Whether a strip is worth more for its height; ties go to the first.
    fn improves(&self, value: i64, height: i64) -> bool {
        value > 0 && i128::from(value) * i128::from(self.height.max(1)) > i128::from(self.value) * i128::from(height)
    }
}
